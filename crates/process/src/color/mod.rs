//! The interference color of thin films on silicon.
//!
//! A spectrum reflected by the stack ([`Stack`]), seen by the CIE 1931 observer in some light
//! ([`Tristimulus`]), adapted to the gray of a bare wafer, and shown in sRGB; beside it the
//! name that the published chart gives to the thickness.

mod appearance;
mod chart;
mod colorimetry;
mod data;
mod listed;
mod optical;
mod reflectance;

use serde::Serialize;

pub use appearance::{
    Appearance, ColorStrip, NamedThickness, Spectrum, VIEW_ANGLE, View,
};
pub use chart::{CHART, chart_name};
pub use colorimetry::{Illuminant, Tristimulus};
pub(crate) use listed::list;
pub use optical::OpticalMaterial;
pub(crate) use optical::{fused_silica, nitride};
pub use reflectance::{Film, Stack};

use crate::num;
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
    /// The color that an eye adapted to bare silicon sees on a stack, with a name.
    #[must_use]
    pub fn of_stack(stack: &Stack<'_>, lamp: Illuminant, name: &str) -> Self {
        let silicon = Tristimulus::of_bare_silicon(lamp);
        let seen = Tristimulus::of_stack(stack, lamp).adapted_to_silicon(silicon);
        Self { srgb_hex: seen.to_hex(), name: name.to_owned() }
    }
}

/// Color of thermal oxide on silicon, seen by an eye adapted to bare silicon, and the name of
/// the nearest entry of the published chart.
///
/// Seen from the side a film has the color of one thinner by the cosine of the angle in the
/// film, which is what is looked up.
///
/// # Model
/// Transfer matrix of one film, CIE 1931 observer, Bradford adaptation to bare silicon.
///
/// # Validity
/// Smooth films up to about 3 um. The names were given under daylight fluorescent lamps: above
/// 0.6 um they need not describe the color under D65.
#[must_use]
pub fn oxide_on_silicon(thickness: Length, view: View) -> FilmColor {
    let films = [Film { material: OpticalMaterial::ThermalOxide, thickness }];
    let stack = Stack {
        films: &films,
        substrate: OpticalMaterial::Silicon,
        angle_rad: view.angle_rad,
    };
    let within = num::sin(view.angle_rad) / OXIDE_INDEX;
    let as_if = thickness * (1.0 - within * within).sqrt();
    FilmColor::of_stack(&stack, view.lamp, chart_name(as_if))
}

/// Index of thermal oxide in the green, for the look from the side: I. H. Malitson, J. Opt.
/// Soc. Am. 55, 1205 (1965), 550 nm (read: refractiveindex.info database).
const OXIDE_INDEX: f64 = 1.4599;
