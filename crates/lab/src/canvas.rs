//! Charts on a canvas of the page.

use barewafer_figures::chart::Chart;
use barewafer_figures::draw::{Frame, draw};
use barewafer_figures::style::{Style, Theme};
use barewafer_process::RequestError;
use plotters::prelude::IntoDrawingArea;
use plotters_canvas::CanvasBackend;
use serde::Deserialize;
use wasm_bindgen::JsCast;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

/// Least and most pixels of the canvas per CSS pixel. Back ends draw on whole pixels: with two
/// a CSS pixel curves are smooth on plain screens too.
const LEAST_PIXELS: f64 = 2.0;
const MOST_PIXELS: f64 = 4.0;

/// How the page wants a chart drawn; sizes in CSS pixels.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub(crate) struct Options {
    #[serde(default)]
    theme: Theme,
    width: f64,
    height: f64,
    #[serde(default = "one")]
    pixel_ratio: f64,
    /// Size of the text; the figure chooses without it.
    #[serde(default)]
    text_size: Option<f64>,
    /// Whether the title stands over the chart (in files it does).
    #[serde(default)]
    title: bool,
}

fn one() -> f64 {
    1.0
}

impl Options {
    /// The style of a figure.
    pub(crate) fn style(&self) -> Style {
        let mut style = Style::new(self.theme, self.width, self.height, self.pixel_ratio);
        if let Some(size) = self.text_size.filter(|size| size.is_finite()) {
            style.text_size = size.clamp(8.0, 60.0);
        }
        style.title = self.title;
        style
    }
}

/// Draws a chart; sets the size of the canvas's backing store, not its size on the page.
pub(crate) fn draw_on(
    canvas: HtmlCanvasElement,
    chart: &Chart,
    ghost: Option<&Chart>,
    options: &Options,
) -> Result<Frame, RequestError> {
    let mut style = options.style();
    style.pixel_ratio = style.pixel_ratio.clamp(LEAST_PIXELS, MOST_PIXELS);
    let (width, height) = style.backing_size();
    canvas.set_width(width);
    canvas.set_height(height);
    let no_context = || refuse("no_canvas", "the canvas gives no 2d context");
    let context: CanvasRenderingContext2d = canvas
        .get_context("2d")
        .ok()
        .flatten()
        .and_then(|context| context.dyn_into().ok())
        .ok_or_else(no_context)?;
    // Long thin corners of a steep curve would stick out as spikes.
    context.set_line_join("round");
    let area = CanvasBackend::with_canvas_object(canvas)
        .ok_or_else(no_context)?
        .into_drawing_area();
    draw(&area, chart, ghost, &style)
        .map_err(|error| refuse("not_drawn", &error.to_string()))
}

/// A figure that cannot be drawn.
pub(crate) fn refuse(code: &'static str, message: &str) -> RequestError {
    RequestError::new(
        code,
        "chart",
        "",
        "a chart of an answer",
        message,
        "run the request again",
    )
}
