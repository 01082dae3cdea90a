//! A run of a whole flow that the page can watch, stop, change and ask.

use barewafer_figures::wafer::{
    LayoutView, View, across, changed_section, layout, profile, section_frame, thumbnail,
};
use barewafer_process::RequestError;
use barewafer_process::flow::questions::{
    compare, describe, junctions_at_um, layers_at, measurements, profile_across,
    profile_down, sheet_at,
};
use barewafer_process::flow::{
    Flow, Runner, Snapshot, printed_levels, step_name, step_parameters,
};
use serde::Serialize;
use serde_json::{Value, json};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::flow_compare::{Kept, Track, same_steps};
use crate::incoming::to_object;
use crate::outgoing::{thrown, to_js};

/// Places at which the deepest junction of a snapshot is looked for.
const PLACES: u32 = 60;

/// A flow on its way: one step at a time, so that the page can show each one, and change its mind
/// between two.
#[wasm_bindgen]
#[derive(Debug, Default)]
pub struct FlowRun {
    pub(crate) flow: Option<Flow>,
    pub(crate) runner: Runner,
    /// Highest face and deepest junction of each snapshot in nm.
    pub(crate) reach_nm: Vec<[f64; 2]>,
    /// Steps that the page knows: those that another run has done already are only told.
    pub(crate) told: usize,
    /// The last whole run of the same flow before it was changed.
    pub(crate) earlier: Option<Track>,
    /// The run that this one is compared with.
    pub(crate) pinned: Option<Track>,
}

#[wasm_bindgen]
impl FlowRun {
    /// A run without a flow.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes a flow file's text: `{name, title, aim, setting, widthUm, extentUm, levels, labels,
    /// kept, steps: [{id, name, words, purpose, note, operation, object}]}`. `kept` steps need not
    /// run again.
    ///
    /// # Errors
    /// Throws `{code, field, value, allowed, message, hint}` for anything that is not a good flow;
    /// the flow of before then stays.
    pub fn load(&mut self, text: &str) -> Result<JsValue, JsValue> {
        let flow = Flow::from_text(text.as_bytes()).map_err(|error| thrown(&error))?;
        let whole = self
            .flow
            .as_ref()
            .filter(|old| {
                old.name == flow.name && self.runner.snapshots().len() == old.steps.len()
            })
            .map(|old| self.track(old));
        let mut runner = std::mem::take(&mut self.runner);
        let begun = self.begin(&mut runner, &flow);
        self.runner = runner;
        let Kept { steps: kept, own, reach_nm } =
            begun.map_err(|error| thrown(&error))?;
        // Steps that came from another run are the runner's own from then on, but they may not
        // have been told before this flow came in between.
        let own = own.min(self.told);
        self.reach_nm = reach_nm;
        self.told = own;
        if self.flow.as_ref().is_some_and(|old| old.name != flow.name) {
            self.earlier = None;
        } else if let Some(whole) = whole
            && kept < whole.flow.steps.len().max(flow.steps.len())
        {
            self.earlier = Some(whole);
        } else if self.earlier.as_ref().is_some_and(|old| same_steps(&old.flow, &flow)) {
            // The run before the last change has come back: there is nothing to tell.
            self.earlier = None;
        }
        // Beside a pinned run another one is kept only as long as the two in use are the same.
        if self.pinned.as_ref().is_some_and(|pinned| !same_steps(&pinned.flow, &flow)) {
            self.earlier = None;
        }
        let facts = facts(&flow, own);
        self.flow = Some(flow);
        to_js(&facts)
    }

    /// Whether every step has run.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn done(&self) -> bool {
        self.flow.as_ref().is_none_or(|flow| flow.steps.len() <= self.told)
    }

    /// Runs the next step: `{step, report, topNm, deepNm, thumbnail}`.
    ///
    /// # Errors
    /// As [`Self::load`], if the step cannot be done on this wafer.
    pub fn step(&mut self) -> Result<JsValue, JsValue> {
        let step = self.told;
        let Some(flow) = &self.flow else { return Err(thrown(&no_flow())) };
        if self.runner.snapshots().len() <= step {
            self.runner.advance(flow).map_err(|error| thrown(&error))?;
            let snapshot = snapshot_of(&self.runner, step)?;
            self.reach_nm.push(reach_nm(flow, &self.runner, &self.reach_nm, snapshot));
        }
        self.told = step + 1;
        self.tell(step)
    }

    /// The section after a step: `{scene, frame, x_nm, z_nm}`, with where in the scene which part
    /// of the wafer lies. `view` is `{x_nm, z_nm, doping, plumb_nm, width, height, changes,
    /// against, both}`; the two ranges may be left out. What changed is outlined since the step
    /// before, or against a step of the pinned run; with `both` the frame holds the two runs.
    ///
    /// # Errors
    /// Throws `{code, field, value, allowed, message, hint}` for a step that has not run and for a
    /// view that is none.
    pub fn section(&self, step: usize, view: &JsValue) -> Result<JsValue, JsValue> {
        let wanted = Value::Object(to_object(view).map_err(|error| thrown(&error))?);
        let snapshot = self.snapshot(step)?;
        let view = self.view(snapshot, &wanted);
        let before = self.compared_against(step, &wanted);
        let words = format!("Section after step {}.", step + 1);
        let scene =
            changed_section(&snapshot.section, before.map(|b| &b.section), &view, words);
        to_js(&json!({
            "scene": scene,
            "frame": section_frame(&view),
            "x_nm": view.x_nm,
            "z_nm": view.z_nm,
        }))
    }

    /// The layout from above, with the levels that are printed after a step.
    ///
    /// # Errors
    /// As [`Self::section`].
    pub fn layout(&self, step: usize, width: f64, x_um: f64) -> Result<JsValue, JsValue> {
        let flow = self.flow()?;
        let view = LayoutView {
            width: if width.is_finite() { width.clamp(200.0, 4000.0) } else { 800.0 },
            printed: printed_levels(flow, step + 1),
            planned: printed_levels(flow, flow.steps.len()),
            hidden: Vec::new(),
            plumb_um: Some(x_um).filter(|x| (0.0..=flow.width_um()).contains(x)),
        };
        to_js(&layout(&flow.layout, &flow.section, &view))
    }

    /// Everything at a place of the section, in um: `{layers, junctions_um, sheet,
    /// polysilicon_ohm_sq, chart}`.
    ///
    /// # Errors
    /// As [`Self::section`].
    pub fn at(&self, step: usize, x_um: f64) -> Result<JsValue, JsValue> {
        let (flow, snapshot) = (self.flow()?, self.snapshot(step)?);
        to_js(&place(flow, snapshot, x_um))
    }

    /// The chart of the doping along the section, at a depth in um.
    ///
    /// # Errors
    /// As [`Self::section`].
    pub fn across(&self, step: usize, depth_um: f64) -> Result<JsValue, JsValue> {
        let (flow, snapshot) = (self.flow()?, self.snapshot(step)?);
        to_js(&across(&profile_across(flow, snapshot, inside(depth_um, 1000.0))))
    }

    /// The section after a step in sentences.
    ///
    /// # Errors
    /// As [`Self::section`].
    pub fn sentences(&self, step: usize) -> Result<JsValue, JsValue> {
        to_js(&describe(self.flow()?, self.snapshot(step)?))
    }

    /// What differs from the step of that id in the last whole run before the flow was changed;
    /// null if there is none.
    ///
    /// # Errors
    /// As [`Self::section`].
    #[wasm_bindgen(js_name = comparedWithEarlier)]
    pub fn compared_with_earlier(&self, step: usize) -> Result<JsValue, JsValue> {
        let (flow, snapshot) = (self.flow()?, self.snapshot(step)?);
        let differences = self.earlier.as_ref().and_then(|earlier| {
            let mut old = earlier.runner.snapshots().iter();
            let twin = old.find(|old| old.report.id == snapshot.report.id)?;
            Some(compare(flow, twin, snapshot))
        });
        to_js(&differences)
    }

    /// What differs between two steps of this run.
    ///
    /// # Errors
    /// As [`Self::section`].
    pub fn compared(&self, step: usize, other: usize) -> Result<JsValue, JsValue> {
        let flow = self.flow()?;
        to_js(&compare(flow, self.snapshot(other)?, self.snapshot(step)?))
    }

    /// What the last wafer measures, and where the layout breaks its rules:
    /// `{measurements, rule_breaks}`.
    ///
    /// # Errors
    /// As [`Self::section`], if there is no flow.
    pub fn summary(&self) -> Result<JsValue, JsValue> {
        let flow = self.flow()?;
        to_js(&json!({
            "measurements": measurements(flow, self.runner.snapshots()),
            "rule_breaks": flow.rule_breaks(),
        }))
    }
}

impl FlowRun {
    pub(crate) fn flow(&self) -> Result<&Flow, JsValue> {
        self.flow.as_ref().ok_or_else(|| thrown(&no_flow()))
    }

    pub(crate) fn snapshot(&self, step: usize) -> Result<&Snapshot, JsValue> {
        snapshot_of(&self.runner, step)
    }

    /// What is told of a step that has run.
    fn tell(&self, step: usize) -> Result<JsValue, JsValue> {
        let snapshot = self.snapshot(step)?;
        let [top_nm, deep_nm] = self.reach_nm.get(step).copied().unwrap_or_default();
        to_js(&json!({
            "step": step,
            "report": snapshot.report,
            "topNm": top_nm,
            "deepNm": deep_nm,
            "thumbnail": self.small(snapshot),
        }))
    }

    /// A view with the ranges that are wanted, or else with the frame of all that has run.
    pub(crate) fn view(&self, snapshot: &Snapshot, wanted: &Value) -> View {
        let mut whole = View::whole(&snapshot.section, None);
        let both = wanted.get("both").and_then(Value::as_bool) == Some(true);
        if both {
            whole.x_nm[1] = whole.x_nm[1].max(self.pinned_width_nm());
            whole.x_nm[1] = whole.x_nm[1].max(self.width_nm());
        }
        let number = |field: &str| wanted.get(field).and_then(Value::as_f64);
        let range = |field: &str| {
            let list = wanted.get(field)?.as_array()?;
            let [from, to] = [list.first()?.as_f64()?, list.get(1)?.as_f64()?];
            (from < to).then_some([from, to])
        };
        View {
            x_nm: range("x_nm").map_or(whole.x_nm, |[from, to]| {
                let [least, most] = whole.x_nm;
                [from.clamp(least, most - 1.0), to.clamp(least + 1.0, most)]
            }),
            z_nm: range("z_nm").unwrap_or_else(|| self.frame_nm(both)),
            doping: wanted.get("doping").and_then(Value::as_bool) != Some(false),
            plumb_nm: number("plumb_nm"),
            width: number("width").unwrap_or(whole.width).clamp(200.0, 4000.0),
            height: number("height").unwrap_or(whole.height).clamp(40.0, 2000.0),
        }
    }

    /// Heights that hold every film and every junction of the run so far.
    fn frame_nm(&self, both: bool) -> [f64; 2] {
        let pinned = self.pinned.iter().filter(|_| both).flat_map(|p| &p.reach_nm);
        let [top_nm, junction_nm] = self
            .reach_nm
            .iter()
            .chain(pinned)
            .fold([0.0_f64; 2], |[top, deep], [t, d]| [top.max(*t), deep.max(*d)]);
        let deep_nm = (1.2 * junction_nm).max(1000.0);
        [-deep_nm, top_nm + 0.06 * (top_nm + deep_nm)]
    }

    fn small(&self, snapshot: &Snapshot) -> impl Serialize + use<> {
        let view = View {
            z_nm: self.frame_nm(false),
            width: 300.0,
            height: 76.0,
            ..View::whole(&snapshot.section, None)
        };
        thumbnail(&snapshot.section, &view, String::new())
    }
}

/// A snapshot of a run.
pub(crate) fn snapshot_of(runner: &Runner, step: usize) -> Result<&Snapshot, JsValue> {
    runner.snapshots().get(step).ok_or_else(|| {
        let allowed = format!("1 to {}", runner.snapshots().len());
        thrown(&RequestError::new(
            "unknown_step",
            "step",
            &(step + 1).to_string(),
            &allowed,
            &format!("step {} has not run (allowed: {allowed})", step + 1),
            "wait until the step has run",
        ))
    })
}

/// Everything at a place of a section.
pub(crate) fn place(flow: &Flow, snapshot: &Snapshot, x_um: f64) -> Value {
    let x_um = inside(x_um, flow.width_um());
    let sheet = sheet_at(flow, snapshot, x_um);
    let junctions_um = junctions_at_um(flow, snapshot, x_um);
    let chart = profile(&profile_down(flow, snapshot, x_um), &junctions_um, x_um);
    json!({
        "x_um": x_um,
        "layers": layers_at(snapshot, x_um),
        "junctions_um": junctions_um,
        "sheet": sheet.layers,
        "polysilicon_ohm_sq": sheet.polysilicon_ohm_sq,
        "chart": chart,
    })
}

/// What the page shows of a flow before it has run.
pub(crate) fn facts(flow: &Flow, kept: usize) -> Value {
    let steps: Vec<Value> = flow
        .steps
        .iter()
        .map(|step| {
            json!({
                "id": step.id,
                "name": step_name(step.operation),
                "words": step_parameters(step),
                "purpose": step.purpose,
                "note": step.note,
                "operation": step.operation,
                "object": step.object,
            })
        })
        .collect();
    json!({
        "name": flow.name,
        "title": flow.title,
        "aim": flow.aim,
        "setting": flow.setting,
        "widthUm": flow.width_um(),
        "extentUm": flow.layout.extent_um,
        "levels": flow.layout.masks.iter().map(|mask| json!([mask.level, mask.name])).collect::<Vec<_>>(),
        "labels": flow.layout.labels.iter().map(|label| label.name.as_str()).collect::<Vec<_>>(),
        "designRules": flow.design_rules,
        "kept": kept,
        "steps": steps,
    })
}

/// Highest face and deepest junction in nm of the next snapshot after those whose reach is known.
pub(crate) fn reach_nm(
    flow: &Flow,
    runner: &Runner,
    known_nm: &[[f64; 2]],
    snapshot: &Snapshot,
) -> [f64; 2] {
    let section = &snapshot.section;
    let top_nm = (0..section.columns()).map(|i| section.top_nm(i)).fold(0.0, f64::max);
    // Most steps leave the silicon as it is.
    let before = known_nm.len().checked_sub(1);
    let earlier = before.and_then(|k| runner.snapshots().get(k)).zip(known_nm.last());
    if let Some((earlier, &[_, deep_nm])) = earlier
        && section.has_silicon_of(&earlier.section)
    {
        return [top_nm, deep_nm];
    }
    let step_um = flow.width_um() / f64::from(PLACES);
    let deep_um = (0..PLACES)
        .filter_map(|k| {
            junctions_at_um(flow, snapshot, (f64::from(k) + 0.5) * step_um)
                .last()
                .copied()
        })
        .fold(0.0, f64::max);
    [top_nm, 1e3 * deep_um]
}

pub(crate) fn inside(value: f64, most: f64) -> f64 {
    if value.is_finite() { value.clamp(0.0, most) } else { 0.0 }
}

pub(crate) fn no_flow() -> RequestError {
    RequestError::new(
        "no_flow",
        "flow",
        "",
        "a flow file",
        "there is no flow yet",
        "load one first",
    )
}
