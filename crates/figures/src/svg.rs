//! A chart as an SVG file: the same drawing as on the canvas, with text as text.

use plotters::prelude::{IntoDrawingArea, SVGBackend};

use crate::chart::Chart;
use crate::draw::{DrawError, draw};
use crate::style::Style;

/// Steps per CSS pixel: the back end writes whole numbers, and curves need finer steps.
const STEPS: f64 = 8.0;

/// The chart as one SVG element with title and description.
///
/// # Errors
/// [`DrawError`] if the chart's axes have no length.
pub fn chart_svg(
    chart: &Chart,
    ghost: Option<&Chart>,
    style: &Style,
) -> Result<String, DrawError> {
    let style = Style { pixel_ratio: STEPS, font_factor: 1.24, ..style.clone() };
    let (width, height) = style.backing_size();
    let mut drawn = String::new();
    {
        let area =
            SVGBackend::with_string(&mut drawn, (width, height)).into_drawing_area();
        draw(&area, chart, ghost, &style)?;
    }
    // The back end knows no title and gives its steps as size: the opening tag is ours.
    let body = drawn.split_once(">\n").map_or("", |(_, body)| body);
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\" viewBox=\"0 0 {width} {height}\" role=\"img\" stroke-linejoin=\"round\">\n<title>{}</title>\n<desc>{}</desc>\n{body}",
        style.width,
        style.height,
        escape(&chart.title),
        escape(&chart.summary),
    ))
}

/// A text as it may stand in XML.
#[must_use]
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&apos;"),
            // XML 1.0 has no other control characters.
            c if c.is_control() && !matches!(c, '\n' | '\t') => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
