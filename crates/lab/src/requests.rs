//! The exports that answer single requests.

use barewafer_figures::pictures::Frame;
use barewafer_figures::scene_svg;
use barewafer_figures::style::Theme;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::exports::give;
use crate::incoming::to_object;
use crate::outgoing::thrown;

/// Runs a request: `{report, charts, picture}`; the picture is 640 wide, or 312 for a narrow
/// page.
///
/// # Errors
/// Throws `{code, field, value, allowed, message, hint}` for anything that is not a good
/// request.
#[wasm_bindgen]
pub fn bench(request: &JsValue, narrow: bool) -> Result<JsValue, JsValue> {
    let frame = if narrow { Frame::Narrow } else { Frame::Wide };
    give(to_object(request).and_then(|request| crate::answer(request, frame)))
}

/// Runs a request given as JSON text and gives the report as JSON text.
///
/// # Errors
/// As [`bench()`].
#[wasm_bindgen(js_name = benchText)]
pub fn bench_text(text: &str) -> Result<String, JsValue> {
    crate::answer_text(text).map_err(|error| thrown(&error))
}

/// Asks for one published value, a check as JSON text, and gives the outcome as JSON text.
///
/// # Errors
/// As [`bench()`], for a text that is no check.
#[wasm_bindgen(js_name = checkText)]
pub fn check_text(text: &str) -> Result<String, JsValue> {
    barewafer_checks::run_text(text).map_err(|error| thrown(&error))
}

/// The picture of a request as SVG text, empty if it has none; the theme is `light`, `dark` or
/// `print`.
///
/// It takes the request, not the picture: to read a picture back would be more code to load
/// than to make it again.
///
/// # Errors
/// As [`bench()`].
#[wasm_bindgen(js_name = pictureSvg)]
pub fn picture_svg(request: &JsValue, theme: &str) -> Result<String, JsValue> {
    let theme = match theme {
        "dark" => Theme::Dark,
        "print" => Theme::Print,
        _ => Theme::Light,
    };
    to_object(request)
        .and_then(|request| crate::answer(request, Frame::Wide))
        .map(|answer| {
            answer
                .picture
                .map_or_else(String::new, |scene| scene_svg::scene_svg(&scene, theme))
        })
        .map_err(|error| thrown(&error))
}
