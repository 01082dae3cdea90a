//! Draws a chart on any plotters back end: canvas in the page, SVG in files.
//!
//! All lengths are CSS pixels times `Style::pixel_ratio`; dashes and hatches are cut here,
//! because plotters' back ends have none, so that every back end shows the same figure.

mod axes;
mod content;
mod labels;
mod layout;
mod path;
mod pen;

use plotters::coord::Shift;
use plotters::prelude::{DrawingArea, DrawingBackend};

use crate::chart::Chart;
use crate::palette::Palette;
use crate::style::Style;

pub(crate) use labels::spread;
pub use layout::Frame;
use layout::Layout;
use pen::Pen;

/// A back end refused a stroke.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the chart could not be drawn: {0}")]
pub struct DrawError(pub String);

/// Draws the chart, and the pinned chart of before under it, and gives back where the axes
/// lie, for a cursor.
///
/// # Errors
/// [`DrawError`] if the chart's axes have no length or the back end fails.
pub fn draw<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    chart: &Chart,
    ghost: Option<&Chart>,
    style: &Style,
) -> Result<Frame, DrawError> {
    let layout = Layout::of(chart, ghost, style)?;
    let pen = Pen::new(area, style);
    let palette = Palette::of(style.theme);
    let sheet =
        path::Rect { left: 0.0, top: 0.0, right: style.width, bottom: style.height };
    pen.fill_rect(&sheet, palette.sheet, 1.0)?;
    axes::draw_grid(&pen, &layout, &palette)?;
    content::draw(&pen, chart, ghost, &layout, style)?;
    axes::draw_frame(&pen, chart, &layout, style)?;
    area.present().map_err(|error| DrawError(error.to_string()))?;
    Ok(layout.frame())
}
