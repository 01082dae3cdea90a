//! The exports that every module has, in the page's spelling.

use barewafer_figures::chart::Chart;
use barewafer_figures::svg;
use barewafer_process::{KERNEL_VERSION, RequestError};
use serde::Serialize;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::HtmlCanvasElement;

use crate::canvas::{Options, draw_on, refuse};
use crate::cautions;
use crate::incoming::{handed_back, to_object};
use crate::outgoing::{small_to_js, thrown, to_js};

/// The version of the kernel.
#[wasm_bindgen(js_name = kernelVersion)]
#[must_use]
pub fn kernel_version() -> String {
    KERNEL_VERSION.to_owned()
}

/// The form of every operation: `[{operation, numbers, choices}]`.
///
/// # Errors
/// An `Error` if it cannot be written.
#[wasm_bindgen]
pub fn schema() -> Result<JsValue, JsValue> {
    small_to_js(&barewafer_process::schema())
}

/// Draws a chart of an answer on a canvas, with the main curve of a pinned chart under it.
///
/// `options` is `{theme, width, height, pixelRatio, textSize, title}` in CSS pixels; all but
/// width and height may be left out. The page sets the size of the canvas in its style sheet;
/// the backing store is sized here, at two pixels per CSS pixel or more. Gives
/// `{left, top, right, bottom, x, y}`: where the axes lie in CSS pixels, for a cursor.
///
/// # Errors
/// Throws `{code, field, value, allowed, message, hint}` for a chart or options that are none.
#[wasm_bindgen(js_name = drawChart)]
pub fn draw_chart(
    canvas: HtmlCanvasElement,
    chart: &JsValue,
    ghost: &JsValue,
    options: &JsValue,
) -> Result<JsValue, JsValue> {
    give(read_drawing(chart, ghost, options).and_then(|(chart, ghost, options)| {
        draw_on(canvas, &chart, ghost.as_ref(), &options)
    }))
}

/// A chart of an answer as SVG text; parameters as in [`draw_chart`].
///
/// # Errors
/// As [`draw_chart`].
#[wasm_bindgen(js_name = chartSvg)]
pub fn chart_svg(
    chart: &JsValue,
    ghost: &JsValue,
    options: &JsValue,
) -> Result<String, JsValue> {
    read_drawing(chart, ghost, options)
        .and_then(|(chart, ghost, options)| {
            svg::chart_svg(&chart, ghost.as_ref(), &options.style())
                .map_err(|error| refuse("not_drawn", &error.to_string()))
        })
        .map_err(|error| thrown(&error))
}

/// The forms of the steps of a flow: `[{operation, numbers, choices}]`.
///
/// # Errors
/// An `Error` if they cannot be written.
#[cfg(feature = "wafer")]
#[wasm_bindgen(js_name = stepSchema)]
pub fn step_schema() -> Result<JsValue, JsValue> {
    small_to_js(&barewafer_process::flow::step_schemas())
}

/// The cautions of a request, worst first: also of one that would be refused.
///
/// # Errors
/// As `bench()`, for what is no object.
#[wasm_bindgen]
pub fn cautions(request: &JsValue) -> Result<JsValue, JsValue> {
    let request = to_object(request).map_err(|error| thrown(&error))?;
    small_to_js(&cautions::of(&request))
}

/// The known mistakes of a request's settings, those that stop first: also of one that would be
/// refused. No bench of the lithography family can make one by its settings alone.
///
/// # Errors
/// As `bench()`, for what is no object.
#[cfg(any(feature = "films", feature = "doping", feature = "etching"))]
#[wasm_bindgen]
pub fn findings(request: &JsValue) -> Result<JsValue, JsValue> {
    let request = to_object(request).map_err(|error| thrown(&error))?;
    small_to_js(&cautions::findings(&request))
}

/// The cautions of rows of the hazard table by their ids, in this order.
///
/// # Errors
/// As [`draw_chart`], for ids that are no list of texts.
#[cfg(feature = "wafer")]
#[wasm_bindgen(js_name = cautionsOf)]
pub fn cautions_of(ids: &JsValue) -> Result<JsValue, JsValue> {
    let ids: Vec<String> = handed_back(ids, "ids").map_err(|error| thrown(&error))?;
    small_to_js(&cautions::of_rows(&ids))
}

/// The safety sheet of a flow, a list of steps or one request as JSON text:
/// `{title, steps, hazards, findings}`.
///
/// One family is enough for it: the Safety place loads that one when a run sheet is opened.
///
/// # Errors
/// As `bench()`, for a text that is no run sheet.
#[cfg(feature = "etching")]
#[wasm_bindgen(js_name = safetySheet)]
pub fn safety_sheet(text: &str) -> Result<JsValue, JsValue> {
    give(cautions::sheet_of(text))
}

/// A value of the page, or an error thrown.
pub(crate) fn give<T: Serialize>(
    result: Result<T, RequestError>,
) -> Result<JsValue, JsValue> {
    match result {
        Ok(value) => to_js(&value),
        Err(error) => Err(thrown(&error)),
    }
}

fn read_drawing(
    chart: &JsValue,
    ghost: &JsValue,
    options: &JsValue,
) -> Result<(Chart, Option<Chart>, Options), RequestError> {
    let ghost = if ghost.is_undefined() || ghost.is_null() {
        None
    } else {
        Some(handed_back(ghost, "ghost")?)
    };
    Ok((handed_back(chart, "chart")?, ghost, handed_back(options, "options")?))
}
