//! The interference color of thin films on silicon.

use serde::Serialize;

/// A color as a person sees it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct FilmColor {
    /// sRGB as `#rrggbb`, adapted to bare silicon.
    pub srgb_hex: String,
    /// The name in the published chart of the nearest thickness.
    pub name: String,
}
