//! What an exposure answers.

use serde::Serialize;

use super::film::BleachTable;
use super::latent::{Latent, float};
use super::request::{Exposure, Tool};
use crate::error::RequestError;
use crate::lithography::imaging::{
    contrast, depth_of_focus_um, log_slope_per_um, proximity_resolution_um, resolution_um,
};
use crate::num::{linspace, to_count};

/// Points of an image that is drawn.
const IMAGE_POINTS: usize = 241;

/// Columns and rows of a latent image that is drawn, at most.
const SHOWN: [usize; 2] = [121, 81];

/// Points of a swing curve.
const SWING_POINTS: usize = 31;

/// Results of an exposure.
#[derive(Clone, Debug, Serialize)]
pub struct ExposureResults {
    /// The aerial image, at the top of the resist.
    pub image: AerialImage,
    /// Contrast of the image.
    pub contrast: f64,
    /// Logarithmic slope of the image at the drawn edge, in units of the drawn width.
    pub nils: f64,
    /// Photoactive compound left after exposure and bake.
    pub latent: LatentImage,
    /// Smallest line by the tool's rule in um.
    pub resolution_um: f64,
    /// Depth of focus to each side by its rule in um; null without a lens.
    pub depth_of_focus_um: Option<f64>,
    /// Dose that clears an open frame in 60 s in mJ/cm2; null for a negative resist or if none does.
    pub dose_to_clear_mj_cm2: Option<f64>,
    /// Share of the light that resist and stack send back before the exposure.
    pub reflectance: f64,
    /// Distance between two maxima of a standing wave in nm.
    pub standing_wave_nm: f64,
    /// Darkest over brightest light in the lowest standing wave, before the exposure.
    pub standing_wave_ratio: f64,
    /// How far the bake spreads the compound in nm; 0 without a bake.
    pub diffusion_length_nm: f64,
    /// Dose to clear against thickness; null unless asked for.
    pub swing: Option<SwingCurve>,
}

/// Intensity along the section; both lists have the same length.
#[derive(Clone, Debug, Serialize)]
pub struct AerialImage {
    /// Places in um.
    pub x_um: Vec<f64>,
    /// Intensity; 1 in an open frame.
    pub intensity: Vec<f64>,
}

/// A latent image on a coarse grid for drawing.
#[derive(Clone, Debug, Serialize)]
pub struct LatentImage {
    /// Middles of the columns in um.
    pub x_um: Vec<f64>,
    /// Depths in nm.
    pub z_nm: Vec<f64>,
    /// Share of photoactive compound left, one list a depth.
    pub pac: Vec<Vec<f64>>,
}

/// Dose to clear against resist thickness; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct SwingCurve {
    /// Thickness in nm.
    pub thickness_nm: Vec<f64>,
    /// Dose to clear in mJ/cm2; null where none does.
    pub dose_to_clear_mj_cm2: Vec<Option<f64>>,
}

impl Exposure {
    pub(super) fn results(
        &self,
        mut latent: Latent,
    ) -> Result<ExposureResults, RequestError> {
        let [left, right] = latent.window.section_um;
        let step_um = 1e-3 * (right - left).min(1.0);
        let edge = self.mask.edge_um();
        let mut x_um = linspace(left, right, IMAGE_POINTS);
        x_um.extend([edge - step_um, edge, edge + step_um]);
        let mut intensity = self.top_image(&latent, &x_um);
        let around = intensity.split_off(IMAGE_POINTS);
        x_um.truncate(IMAGE_POINTS);
        let slope = log_slope_per_um([around[0], around[1], around[2]], step_um);
        let fresh = latent.table.film().light(&vec![1.0; latent.section.rows]);
        let wavelength_um = self.optics.wavelength_um;
        let aperture = self.optics.numerical_aperture;
        let period_nm = self.line.wavelength_nm() / (2.0 * self.bleaching.index);
        let lowest =
            to_count(period_nm / latent.section.dz_nm + 1.0).min(fresh.intensity.len());
        let bottom = &fresh.intensity[fresh.intensity.len() - lowest..];
        let dark = bottom.iter().copied().fold(f64::INFINITY, f64::min);
        let bright = bottom.iter().copied().fold(0.0, f64::max);
        Ok(ExposureResults {
            contrast: contrast(&intensity),
            nils: slope * self.mask.nominal_um(),
            latent: latent.shown(),
            resolution_um: match self.tool {
                Tool::Projection => resolution_um(self.k1, wavelength_um, aperture),
                Tool::Contact | Tool::Proximity => proximity_resolution_um(
                    wavelength_um,
                    self.gap_um,
                    1e-3 * self.thickness_nm,
                ),
            },
            depth_of_focus_um: (self.tool == Tool::Projection)
                .then(|| depth_of_focus_um(self.k2, wavelength_um, aperture)),
            dose_to_clear_mj_cm2: self.dose_to_clear(&mut latent.table),
            reflectance: fresh.reflectance,
            standing_wave_nm: period_nm,
            standing_wave_ratio: dark / bright,
            diffusion_length_nm: self.spread_nm(),
            swing: self.swing()?,
            image: AerialImage { x_um, intensity },
        })
    }

    fn swing(&self) -> Result<Option<SwingCurve>, RequestError> {
        if self.swing_span_nm == 0.0 {
            return Ok(None);
        }
        let half = 0.5 * self.swing_span_nm;
        let first = (self.thickness_nm - half).max(50.0);
        let mut swing = SwingCurve::default();
        for thickness_nm in linspace(first, self.thickness_nm + half, SWING_POINTS) {
            let mut table = BleachTable::new(self.film(1e-3 * thickness_nm)?);
            swing.thickness_nm.push(thickness_nm);
            swing.dose_to_clear_mj_cm2.push(self.dose_to_clear(&mut table));
        }
        Ok(Some(swing))
    }

    fn top_image(&self, latent: &Latent, x_um: &[f64]) -> Vec<f64> {
        match self.tool {
            Tool::Projection => self.optics.image(&latent.window, x_um),
            Tool::Contact | Tool::Proximity => {
                let nearest = self.optics.wavelength_um / self.bleaching.index;
                self.shadow.image(&latent.window, x_um, self.gap_um.max(nearest))
            }
        }
    }
}

impl Latent {
    fn shown(&self) -> LatentImage {
        let (columns, rows) = (self.section.columns, self.section.rows);
        let mirrored: Vec<(f64, usize)> = if self.window.symmetric {
            let right = self.x_um.iter().copied().enumerate();
            let left = right.clone().rev().map(|(i, x)| (-x, i));
            left.chain(right.map(|(i, x)| (x, i))).collect()
        } else {
            self.x_um.iter().copied().enumerate().map(|(i, x)| (x, i)).collect()
        };
        debug_assert!(columns <= mirrored.len(), "every column is shown");
        let places = thinned(mirrored.len(), SHOWN[0]);
        let depths = thinned(rows, SHOWN[1]);
        let row = |depth: &usize| {
            let value = |place: &usize| {
                let pac = self.pac[mirrored[*place].1 * rows + depth];
                // Four digits are more than a picture shows.
                (pac * 1e4).round() * 1e-4
            };
            places.iter().map(value).collect()
        };
        LatentImage {
            x_um: places.iter().map(|&place| mirrored[place].0).collect(),
            z_nm: depths
                .iter()
                .map(|&depth| self.section.dz_nm * (float(depth) + 0.5))
                .collect(),
            pac: depths.iter().map(row).collect(),
        }
    }
}

/// At most `most` of `count` places, the first and the last among them.
fn thinned(count: usize, most: usize) -> Vec<usize> {
    let shown = count.min(most);
    (0..shown).map(|i| i * (count - 1) / (shown - 1).max(1)).collect()
}
