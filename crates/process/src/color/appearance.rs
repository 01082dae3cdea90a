//! How a film on a wafer looks: in what light, from where, and beside thinner and thicker ones.

use serde::Serialize;

use super::chart::CHART;
use super::colorimetry::{Illuminant, Tristimulus};
use super::data::COUNT;
use super::optical::{OpticalMaterial, wavelength_nm};
use super::reflectance::{Film, Stack};
use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::num::linspace;
use crate::units::Length;

/// Angle of view against the normal of the wafer.
pub const VIEW_ANGLE: Bound = Bound {
    field: "view_angle_deg",
    label: "Viewing angle",
    unit: "°",
    min: 0.0,
    max: 80.0,
    published: None,
    default: Some(0.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Thickness to which the strip of colors goes at least, in nm: as far as the published chart
/// is read (model choice).
const STRIP_NM: f64 = 1200.0;

/// Steps of the strip.
const STRIP_STEPS: u32 = 120;

/// How a wafer is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// The light.
    pub lamp: Illuminant,
    /// Angle of view against the normal in rad; the light comes from the mirror direction.
    pub angle_rad: f64,
}

impl View {
    /// From above in daylight.
    pub const STRAIGHT: Self = Self { lamp: Illuminant::D65, angle_rad: 0.0 };

    /// Checks the fields of a request.
    ///
    /// # Errors
    /// [`RequestError`] for an angle outside its range.
    pub fn check(
        lamp: Option<Illuminant>,
        view_angle_deg: Option<f64>,
    ) -> Result<Self, RequestError> {
        Ok(Self {
            lamp: lamp.unwrap_or(Illuminant::D65),
            angle_rad: VIEW_ANGLE.check_or_default(view_angle_deg)?.to_radians(),
        })
    }
}

/// What a film looks like.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Appearance {
    /// Share of the light that comes back, against the wavelength.
    pub spectrum: Spectrum,
    /// The colors that the same film has when it is thinner or thicker.
    pub strip: ColorStrip,
}

/// Reflectance against wavelength; both lists have the same length.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Spectrum {
    /// Wavelengths in nm.
    pub wavelength_nm: Vec<f64>,
    /// Reflectance of unpolarized light, 0 to 1.
    pub reflectance: Vec<f64>,
}

/// Colors against the thickness of a film; the first two lists have the same length.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct ColorStrip {
    /// Thicknesses in nm.
    pub thickness_nm: Vec<f64>,
    /// sRGB as `#rrggbb`.
    pub srgb_hex: Vec<String>,
    /// What the published chart calls them; empty for films that it does not know.
    pub names: Vec<NamedThickness>,
}

/// An entry of the published chart.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct NamedThickness {
    /// Thickness in nm.
    pub thickness_nm: f64,
    /// The name.
    pub name: &'static str,
}

impl Appearance {
    /// The look of a film on what lies below it.
    ///
    /// # Model
    /// As [`super::oxide_on_silicon`], in any of the lights and from any angle.
    #[must_use]
    pub fn of_film(
        film: Film,
        below: &[Film],
        substrate: OpticalMaterial,
        view: View,
    ) -> Self {
        let films: Vec<Film> =
            std::iter::once(film).chain(below.iter().copied()).collect();
        let whole = Stack { films: &films, substrate, angle_rad: view.angle_rad };
        let base = Stack { films: below, substrate, angle_rad: view.angle_rad };
        let is_oxide_on_silicon = film.material == OpticalMaterial::ThermalOxide
            && below.is_empty()
            && substrate == OpticalMaterial::Silicon;
        Self {
            spectrum: Spectrum {
                wavelength_nm: (0..COUNT).map(wavelength_nm).collect(),
                reflectance: (0..COUNT).map(|idx| whole.reflectance(idx)).collect(),
            },
            strip: ColorStrip::new(film, &base, view.lamp, is_oxide_on_silicon),
        }
    }
}

impl ColorStrip {
    fn new(film: Film, below: &Stack<'_>, lamp: Illuminant, is_named: bool) -> Self {
        let longest_nm =
            STRIP_NM.max((1.25 * film.thickness.to_nm() / 100.0).ceil() * 100.0);
        let step = Length::nm(longest_nm / f64::from(STRIP_STEPS));
        let thickness_nm = linspace(0.0, longest_nm, STRIP_STEPS as usize + 1);
        let silicon = Tristimulus::of_bare_silicon(lamp);
        let colors = Tristimulus::under_a_film(
            below,
            film.material,
            step,
            thickness_nm.len(),
            lamp,
        );
        let srgb_hex =
            colors.iter().map(|c| c.adapted_to_silicon(silicon).to_hex()).collect();
        let names = CHART
            .iter()
            .map(|&(um, name)| NamedThickness { thickness_nm: 1e3 * um, name })
            .filter(|entry| is_named && entry.thickness_nm <= longest_nm)
            .collect();
        Self { thickness_nm, srgb_hex, names }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_strip_has_the_colors_of_the_stacks_one_by_one() {
        let below = [Film {
            material: OpticalMaterial::ThermalOxide,
            thickness: Length::nm(20.0),
        }];
        for angle_deg in [0.0_f64, 35.0, 70.0] {
            for material in [
                OpticalMaterial::Nitride,
                OpticalMaterial::ThermalOxide,
                OpticalMaterial::Silicon,
                OpticalMaterial::Aluminum,
            ] {
                let angle_rad = angle_deg.to_radians();
                let base = Stack {
                    films: &below,
                    substrate: OpticalMaterial::Silicon,
                    angle_rad,
                };
                for idx in [0, 33, 80] {
                    let all = base.under_a_film(material, Length::nm(10.0), 61, idx);
                    for (nm, found) in linspace(0.0, 600.0, 61).iter().zip(all) {
                        let films =
                            [Film { material, thickness: Length::nm(*nm) }, below[0]];
                        let stack = Stack { films: &films, ..base };
                        let error = found - stack.reflectance(idx);
                        assert!(
                            error.abs() < 1e-11,
                            "{material:?} {nm} nm, {angle_deg}: {error}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn a_tilted_oxide_looks_like_a_thinner_one() {
        // d cos(angle in the film): 500 nm seen at 30 degrees like 470 nm from above.
        let look = |nm: f64, deg: f64| {
            let film = Film {
                material: OpticalMaterial::ThermalOxide,
                thickness: Length::nm(nm),
            };
            let view = View { lamp: Illuminant::D65, angle_rad: deg.to_radians() };
            Appearance::of_film(film, &[], OpticalMaterial::Silicon, view).spectrum
        };
        let (tilted, thinner) = (look(500.0, 30.0), look(469.7, 0.0));
        for (a, b) in tilted.reflectance.iter().zip(&thinner.reflectance) {
            assert!((a - b).abs() < 0.03, "{a} {b}");
        }
    }
}
