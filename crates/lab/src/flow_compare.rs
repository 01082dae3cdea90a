//! A second run beside the one in view: pinned, carried on in the background, compared.

use barewafer_figures::wafer::{across, changed_section, section_frame};
use barewafer_process::RequestError;
use barewafer_process::flow::questions::{compare_runs, measurements, profile_across};
use barewafer_process::flow::{Begun, Flow, Runner, Snapshot};
use barewafer_process::num::to_count;
use serde_json::{Value, json};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::flow_run::{FlowRun, facts, inside, place, reach_nm, snapshot_of};
use crate::incoming::to_object;
use crate::outgoing::{thrown, to_js};

/// A flow with what has run of it. Snapshots share their lists: to keep those of a run costs next
/// to nothing until another one differs.
#[derive(Clone, Debug)]
pub(crate) struct Track {
    pub(crate) flow: Flow,
    pub(crate) runner: Runner,
    /// Highest face and deepest junction of each snapshot in nm.
    pub(crate) reach_nm: Vec<[f64; 2]>,
}

/// What need not run again.
pub(crate) struct Kept {
    /// How many steps.
    pub(crate) steps: usize,
    /// How many of them the page knows.
    pub(crate) own: usize,
    /// Their highest faces and deepest junctions in nm.
    pub(crate) reach_nm: Vec<[f64; 2]>,
}

/// Whether two flows have the same steps with the same settings.
pub(crate) fn same_steps(one: &Flow, other: &Flow) -> bool {
    let alike =
        |(a, b): (
            &barewafer_process::flow::FlowStep,
            &barewafer_process::flow::FlowStep,
        )| { a.id == b.id && a.operation == b.operation && a.object == b.object };
    one.steps.len() == other.steps.len() && one.steps.iter().zip(&other.steps).all(alike)
}

#[wasm_bindgen]
impl FlowRun {
    /// Takes a flow file's text as the run that the one in view is compared with:
    /// `{facts, told: [{step, report}]}`. What another run has in common with it need not run
    /// again.
    ///
    /// # Errors
    /// As `load()`; the run that was pinned before then stays.
    pub fn pin(&mut self, text: &str) -> Result<JsValue, JsValue> {
        let flow = Flow::from_text(text.as_bytes()).map_err(|error| thrown(&error))?;
        let mut runner = self.runner.clone();
        let kept = self.begin(&mut runner, &flow).map_err(|error| thrown(&error))?;
        let reach_nm = kept.reach_nm;
        let kept = kept.steps;
        let told: Vec<Value> = runner
            .snapshots()
            .iter()
            .enumerate()
            .map(|(step, snapshot)| json!({"step": step, "report": snapshot.report}))
            .collect();
        let answer = json!({"facts": facts(&flow, kept), "told": told});
        self.pinned = Some(Track { flow, runner, reach_nm });
        // What changed is told against the pinned run now; two whole runs are enough to keep.
        self.earlier = None;
        to_js(&answer)
    }

    /// Lets the pinned run go.
    pub fn unpin(&mut self) {
        self.pinned = None;
    }

    /// Whether every step of the pinned run has run, or there is none.
    #[wasm_bindgen(getter, js_name = pinnedDone)]
    #[must_use]
    pub fn pinned_done(&self) -> bool {
        self.pinned
            .as_ref()
            .is_none_or(|pinned| pinned.flow.steps.len() <= pinned.reach_nm.len())
    }

    /// Runs the next step of the pinned run: `{step, report}`.
    ///
    /// # Errors
    /// As `step()`.
    #[wasm_bindgen(js_name = stepPinned)]
    pub fn step_pinned(&mut self) -> Result<JsValue, JsValue> {
        let pinned = self.pinned.as_mut().ok_or_else(|| thrown(&nothing_pinned()))?;
        let step = pinned.reach_nm.len();
        pinned.runner.advance(&pinned.flow).map_err(|error| thrown(&error))?;
        let snapshot = snapshot_of(&pinned.runner, step)?;
        pinned.reach_nm.push(reach_nm(
            &pinned.flow,
            &pinned.runner,
            &pinned.reach_nm,
            snapshot,
        ));
        to_js(&json!({"step": step, "report": snapshot.report}))
    }

    /// The section of the pinned run after one of its steps, as `section()` gives it; `against`
    /// is a step of the run in view.
    ///
    /// # Errors
    /// As `section()`, and if nothing is pinned.
    #[wasm_bindgen(js_name = pinnedSection)]
    pub fn pinned_section(
        &self,
        step: usize,
        view: &JsValue,
    ) -> Result<JsValue, JsValue> {
        let wanted = Value::Object(to_object(view).map_err(|error| thrown(&error))?);
        let snapshot = snapshot_of(&self.pinned()?.runner, step)?;
        let view = self.view(snapshot, &wanted);
        let other = step_in(&wanted, "against")
            .filter(|_| is_on(&wanted, "changes"))
            .and_then(|other| self.runner.snapshots().get(other));
        let words = format!("Section of the pinned run after its step {}.", step + 1);
        let scene =
            changed_section(&snapshot.section, other.map(|o| &o.section), &view, words);
        to_js(&json!({
            "scene": scene,
            "frame": section_frame(&view),
            "x_nm": view.x_nm,
            "z_nm": view.z_nm,
        }))
    }

    /// Everything at a place of the pinned run's section, as `at()` gives it.
    ///
    /// # Errors
    /// As [`Self::pinned_section`].
    #[wasm_bindgen(js_name = pinnedAt)]
    pub fn pinned_at(&self, step: usize, x_um: f64) -> Result<JsValue, JsValue> {
        let pinned = self.pinned()?;
        to_js(&place(&pinned.flow, snapshot_of(&pinned.runner, step)?, x_um))
    }

    /// The chart of the doping along the pinned run's section, at a depth in um.
    ///
    /// # Errors
    /// As [`Self::pinned_section`].
    #[wasm_bindgen(js_name = pinnedAcross)]
    pub fn pinned_across(&self, step: usize, depth_um: f64) -> Result<JsValue, JsValue> {
        let pinned = self.pinned()?;
        let snapshot = snapshot_of(&pinned.runner, step)?;
        to_js(&across(&profile_across(&pinned.flow, snapshot, inside(depth_um, 1000.0))))
    }

    /// What differs between a step of this run and one of the pinned run.
    ///
    /// # Errors
    /// As [`Self::pinned_section`].
    #[wasm_bindgen(js_name = comparedWithPinned)]
    pub fn compared_with_pinned(
        &self,
        step: usize,
        other: usize,
    ) -> Result<JsValue, JsValue> {
        let pinned = self.pinned()?;
        let before = snapshot_of(&pinned.runner, other)?;
        let flows = [&pinned.flow, self.flow()?];
        to_js(&compare_runs(flows, before, self.snapshot(step)?))
    }

    /// What the last wafer of the pinned run measures, as `summary()` gives it.
    ///
    /// # Errors
    /// If nothing is pinned.
    #[wasm_bindgen(js_name = pinnedSummary)]
    pub fn pinned_summary(&self) -> Result<JsValue, JsValue> {
        let pinned = self.pinned()?;
        to_js(&json!({
            "measurements": measurements(&pinned.flow, pinned.runner.snapshots()),
            "rule_breaks": pinned.flow.rule_breaks(),
        }))
    }
}

impl FlowRun {
    fn pinned(&self) -> Result<&Track, JsValue> {
        self.pinned.as_ref().ok_or_else(|| thrown(&nothing_pinned()))
    }

    /// The run in view as it is now.
    pub(crate) fn track(&self, flow: &Flow) -> Track {
        Track {
            flow: flow.clone(),
            runner: self.runner.clone(),
            reach_nm: self.reach_nm.clone(),
        }
    }

    /// Has a runner begin with a flow from whichever run has most in common with it: to come
    /// back to one of them costs no time.
    pub(crate) fn begin(
        &self,
        runner: &mut Runner,
        flow: &Flow,
    ) -> Result<Kept, RequestError> {
        let others: Vec<&Track> = self.pinned.iter().chain(&self.earlier).collect();
        let runners: Vec<&Runner> = others.iter().map(|other| &other.runner).collect();
        let Begun { kept: steps, own, from } = runner.begin_beside(flow, &runners)?;
        let from = from.and_then(|place| others.get(place));
        let mut reach_nm =
            from.map_or_else(|| self.reach_nm.clone(), |track| track.reach_nm.clone());
        reach_nm.truncate(steps);
        Ok(Kept { steps, own, reach_nm })
    }

    /// What a section of the run in view is compared with.
    pub(crate) fn compared_against(
        &self,
        step: usize,
        wanted: &Value,
    ) -> Option<&Snapshot> {
        if !is_on(wanted, "changes") {
            return None;
        }
        if wanted.get("against").is_some() {
            let snapshots = self.pinned.as_ref()?.runner.snapshots();
            return snapshots.get(step_in(wanted, "against")?);
        }
        self.runner.snapshots().get(step.checked_sub(1)?)
    }

    /// Length of the pinned run's section in nm; 0 without one.
    pub(crate) fn pinned_width_nm(&self) -> f64 {
        self.pinned.as_ref().map_or(0.0, |pinned| 1e3 * pinned.flow.width_um())
    }

    /// Length of the section in view in nm.
    pub(crate) fn width_nm(&self) -> f64 {
        self.flow.as_ref().map_or(0.0, |flow| 1e3 * flow.width_um())
    }
}

fn is_on(wanted: &Value, field: &str) -> bool {
    wanted.get(field).and_then(Value::as_bool) == Some(true)
}

/// A step that the page names by its place from 0.
fn step_in(wanted: &Value, field: &str) -> Option<usize> {
    let number = wanted.get(field)?.as_f64()?;
    (0.0..1e6).contains(&number).then(|| to_count(number))
}

fn nothing_pinned() -> RequestError {
    RequestError::new(
        "nothing_pinned",
        "pin",
        "",
        "a flow file",
        "no run is pinned",
        "pin one first",
    )
}
