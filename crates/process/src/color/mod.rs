//! The interference color of thin films on silicon.
//!
//! A spectrum reflected by the stack ([`Stack`]), seen by the CIE 1931 observer under daylight
//! ([`Tristimulus`]), adapted to the gray of a bare wafer, and shown in sRGB; beside it the
//! name that the published chart gives to the thickness.

mod chart;
mod colorimetry;
mod complex;
mod data;
mod optical;
mod reflectance;

use serde::Serialize;

pub use chart::{CHART, chart_name};
pub use colorimetry::{Illuminant, Tristimulus};
pub use optical::OpticalMaterial;
pub use reflectance::{Film, Stack};

use crate::units::Length;

/// A color as a person sees it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct FilmColor {
    /// sRGB as `#rrggbb`, adapted to bare silicon.
    pub srgb_hex: String,
    /// The name in the published chart of the nearest thickness.
    pub name: String,
}

impl FilmColor {
    /// The color that an eye adapted to bare silicon sees on a stack, under D65, with a name.
    #[must_use]
    pub fn of_stack(stack: &Stack<'_>, name: &str) -> Self {
        let silicon = Tristimulus::of_bare_silicon(Illuminant::D65);
        let [r, g, b] = Tristimulus::of_stack(stack, Illuminant::D65)
            .adapted_to_silicon(silicon)
            .to_srgb();
        Self { srgb_hex: format!("#{r:02x}{g:02x}{b:02x}"), name: name.to_owned() }
    }
}

/// Color of thermal oxide on silicon, seen vertically in daylight by an eye adapted to bare
/// silicon, and the name of the nearest entry of the published chart.
///
/// # Model
/// Transfer matrix of one film, CIE 1931 observer, D65, Bradford adaptation to bare silicon.
///
/// # Validity
/// Smooth films up to about 3 um. The names were given under daylight fluorescent lamps: above
/// 0.6 um they need not describe the color under D65.
#[must_use]
pub fn oxide_on_silicon(thickness: Length) -> FilmColor {
    let films = [Film { material: OpticalMaterial::ThermalOxide, thickness }];
    let stack =
        Stack { films: &films, substrate: OpticalMaterial::Silicon, angle_rad: 0.0 };
    FilmColor::of_stack(&stack, chart_name(thickness))
}
