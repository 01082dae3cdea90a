//! How a figure is to be drawn: theme, size, sharpness.

use serde::{Deserialize, Serialize};

/// The paper a figure is drawn on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Theme {
    /// Ink on white.
    #[default]
    Light,
    /// The yellow room: warm near-black, amber light.
    Dark,
    /// Light, for paper: no tinted ground.
    Print,
}

/// Everything about the drawing that is not in the chart. Sizes are in CSS pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct Style {
    /// Theme.
    pub theme: Theme,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// Pixels of the back end per CSS pixel.
    pub pixel_ratio: f64,
    /// Font family list, as in a style sheet.
    pub font: String,
    /// Size of the text on the axes.
    pub text_size: f64,
    /// Whether the chart's title is written over it.
    pub title: bool,
    /// Factor by which a font size is multiplied before it is handed to the back end:
    /// plotters' SVG back end writes 1/1.24 of the size it is given, the canvas all of it.
    pub(crate) font_factor: f64,
}

/// The font of all figures.
pub const FONT: &str = "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, sans-serif";

impl Style {
    /// A style for a canvas: no title, since the page has it as a heading.
    #[must_use]
    pub fn new(theme: Theme, width: f64, height: f64, pixel_ratio: f64) -> Self {
        let width = finite_or(width, 640.0).clamp(200.0, 4000.0);
        let height = finite_or(height, 400.0).clamp(150.0, 4000.0);
        Self {
            theme,
            width,
            height,
            pixel_ratio: finite_or(pixel_ratio, 1.0).clamp(0.5, 8.0),
            font: FONT.to_owned(),
            text_size: if width < 480.0 { 13.0 } else { 14.0 },
            title: false,
            font_factor: 1.0,
        }
    }

    /// The size in pixels of the back end.
    #[must_use]
    pub fn backing_size(&self) -> (u32, u32) {
        let whole = |css: f64| {
            u32::try_from(crate::numbers::floor_to_i32(css * self.pixel_ratio + 0.5))
                .unwrap_or(1)
                .max(1)
        };
        (whole(self.width), whole(self.height))
    }
}

fn finite_or(value: f64, other: f64) -> f64 {
    if value.is_finite() { value } else { other }
}
