//! The derivation of a process window, and its cautions.

use super::request::Plan;
use super::results::ProcessWindowResults;
use crate::num::show;
use crate::report::{Warning, WorkingLine};

const BOSSUNG: &str = "J. W. Bossung, Proc. SPIE 100, 80 (1977) (memory)";

pub(super) fn working(plan: &Plan, results: &ProcessWindowResults) -> Vec<WorkingLine> {
    let mut lines = Vec::new();
    let [low, high] = results.good_um;
    lines.push(WorkingLine::new(
        "w(1 − p) ≤ width ≤ w(1 + p), narrowest good width",
        format!("{} · (1 − {})", show(results.nominal_um), show(plan.tolerance)),
        low,
        "µm",
        "a tenth of the width is the usual rule (common practice)",
    ));
    lines.push(WorkingLine::new(
        "widest good width",
        format!("{} · (1 + {})", show(results.nominal_um), show(plan.tolerance)),
        high,
        "µm",
        "as above",
    ));
    if let Some(dose) = results.dose_to_size_mj_cm2 {
        lines.push(WorkingLine::new(
            "width(E) = w in the middle of the focus, straight between the doses",
            format!("w = {} µm", show(results.nominal_um)),
            dose,
            "mJ/cm²",
            BOSSUNG,
        ));
    }
    if let Some(percent) = results.exposure_latitude_percent {
        lines.push(WorkingLine::new(
            "EL = 2 (E₂ − E₁)/(E₂ + E₁), of the doses with a good width",
            "in the middle of the focus".to_owned(),
            percent,
            "%",
            "definition",
        ));
    }
    if let (Some(range), Some([first, last])) =
        (results.focus_range_um, results.dose_window_mj_cm2)
    {
        lines.push(WorkingLine::new(
            "longest range of focus with one range of dose that is good throughout",
            format!(
                "{} to {} mJ/cm², at least {} % wide",
                show(first),
                show(last),
                show(results.latitude_percent)
            ),
            range,
            "µm",
            "definition; only the focuses that were computed are ends",
        ));
    }
    lines
}

pub(super) fn warnings(results: &ProcessWindowResults) -> Vec<Warning> {
    let mut list = Vec::new();
    if results.points_done < results.points {
        return list;
    }
    if results.focus_range_um.is_none() {
        list.push(Warning::new(
            "no_window",
            "exposure.dose_mj_cm2",
            &format!(
                "no dose of this range keeps the width within {} to {} µm over {} % of dose",
                show(results.good_um[0]),
                show(results.good_um[1]),
                show(results.latitude_percent)
            ),
            "move the dose, widen the drawing, or ask for less",
        ));
    } else if let (Some([first, last]), [low, .., high]) =
        (results.focus_window_um, results.focus_um.as_slice())
        && first <= *low
        && *high <= last
    {
        list.push(Warning::new(
            "window_beyond_range",
            "focus_span_um",
            "the window reaches both ends of the focus that was tried: it may be wider",
            "widen the range of focus",
        ));
    }
    list
}
