//! The layout of a flow from above, drawn and judged without running anything: fast enough to
//! follow a pointer.

use barewafer_figures::wafer::{LayoutView, layout, layout_frame};
use barewafer_process::RequestError;
use barewafer_process::flow::Drawing;
use barewafer_process::flow::bounds::{OVERLAY_UM, USUAL_OVERLAY_UM};
use serde_json::{Value, json};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::incoming::to_object;
use crate::outgoing::{thrown, to_js};

/// The layout of a flow file's text: `{scene, frame, levels: [{level, name, polarity, prints}],
/// overlay: {usual, min, max}, ruleBreaks}`. `frame` is where in the scene the extent lies;
/// `prints` are the steps that print a level, from 0. `view` is `{width, steps, hidden, plumb}`:
/// how many steps have been done, which levels are not drawn, and a place on the section line.
///
/// # Errors
/// Throws `{code, field, value, allowed, message, hint}` for a drawing that is none.
#[wasm_bindgen(js_name = flowLayout)]
pub fn flow_layout(text: &str, view: &JsValue) -> Result<JsValue, JsValue> {
    drawn(text, view).map_err(|error| thrown(&error)).and_then(|value| to_js(&value))
}

fn drawn(text: &str, view: &JsValue) -> Result<Value, RequestError> {
    let wanted = to_object(view)?;
    let drawing = Drawing::from_text(text.as_bytes())?;
    let number = |field: &str| wanted.get(field).and_then(Value::as_f64);
    let steps = wanted.get("steps").and_then(Value::as_u64).unwrap_or(0);
    let hidden = wanted.get("hidden").and_then(Value::as_array);
    let width = number("width").unwrap_or(800.0).clamp(200.0, 4000.0);
    let view = LayoutView {
        width,
        printed: drawing.printed(usize::try_from(steps).unwrap_or(0)),
        planned: drawing.printed(usize::MAX),
        hidden: hidden
            .into_iter()
            .flatten()
            .filter_map(|level| level.as_str().map(str::to_owned))
            .collect(),
        plumb_um: number("plumb")
            .filter(|x| (0.0..=drawing.section.length_um()).contains(x)),
    };
    let levels: Vec<Value> = drawing
        .layout
        .masks
        .iter()
        .map(|mask| {
            let prints = drawing.prints.iter().filter(|print| print.level == mask.level);
            json!({
                "level": mask.level,
                "name": mask.name,
                "polarity": mask.polarity.label(),
                "prints": prints.map(|print| print.step).collect::<Vec<_>>(),
            })
        })
        .collect();
    Ok(json!({
        "scene": layout(&drawing.layout, &drawing.section, &view),
        "frame": layout_frame(&drawing.layout, width),
        "levels": levels,
        "overlay": {
            "usual": USUAL_OVERLAY_UM,
            "min": OVERLAY_UM.min,
            "max": OVERLAY_UM.max,
        },
        "ruleBreaks": drawing.rule_breaks(),
    }))
}
