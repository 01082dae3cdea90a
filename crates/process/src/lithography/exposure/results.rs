//! What an exposure answers.

use serde::Serialize;

use super::alignment::Overlay;
use super::contrast::{ContrastCurve, ResistContrast};
use super::latent::{Latent, float};
use super::request::{Exposure, Tool};
use super::swing::SwingCurve;
use crate::error::RequestError;
use crate::lithography::imaging::{
    Pattern, contrast, depth_of_focus_um, log_slope_per_um, proximity_resolution_um,
    resolution_um,
};
use crate::lithography::{Resist, Tone};
use crate::num::{linspace, to_count};
use crate::vocabulary::Material;

/// Points of an image that is drawn.
const IMAGE_POINTS: usize = 241;

/// Columns and rows of a latent image that is drawn, at most.
const SHOWN: [usize; 2] = [121, 81];

/// Results of an exposure.
#[derive(Clone, Debug, Serialize)]
pub struct ExposureResults {
    /// How the mask is printed.
    pub tool: Tool,
    /// Wavelength in nm.
    pub wavelength_nm: f64,
    /// Dose in an open frame in mJ/cm2.
    pub dose_mj_cm2: f64,
    /// Irradiance on the wafer in mW/cm2.
    pub irradiance_mw_cm2: f64,
    /// Time of the open shutter in s: dose over irradiance.
    pub time_s: f64,
    /// Distance of the wafer from the focus in um; null without a lens.
    pub defocus_um: Option<f64>,
    /// Gap between mask and resist in um; null with a lens.
    pub gap_um: Option<f64>,
    /// The mask above the section.
    pub mask: MaskShown,
    /// Where the mask lies against where it should.
    pub overlay: Overlay,
    /// The resist.
    pub resist: Resist,
    /// Whether exposed resist goes or stays.
    pub tone: Tone,
    /// Its thickness in nm.
    pub thickness_nm: f64,
    /// Films between it and the silicon, the uppermost first.
    pub stack: Vec<FilmBelow>,
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
    /// Intensity that just clears at this dose, `E0 / E`; of negative resist the one that keeps
    /// half of the film. Null if none does.
    pub threshold_intensity: Option<f64>,
    /// Width of the measured part where the image passes that intensity, in um: a first guess at
    /// what the developer leaves. Null if it does not.
    pub threshold_width_um: Option<f64>,
    /// Range of dose in percent that keeps that width within 10 % to each side, by the slope of
    /// the image alone: `10 NILS`.
    pub image_latitude_percent: f64,
    /// Resist left in an open frame against dose.
    pub contrast_curve: ContrastCurve,
    /// Contrast of the resist; null if its curve has no straight part.
    pub resist_contrast: Option<ResistContrast>,
    /// Finest lines and spaces whose image has the contrast that the resist needs, in um, in the
    /// present focus or gap; null if none.
    pub finest_um: Option<f64>,
    /// Defocus to each side at which lines of the rule's width have just that contrast, in um; null
    /// without a lens or if they never have it.
    pub computed_focus_um: Option<f64>,
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
    /// Dose to clear against oxide right below the resist; null unless asked for.
    pub oxide_swing: Option<SwingCurve>,
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

/// What of the mask lies above the section.
#[derive(Clone, Debug, Serialize)]
pub struct MaskShown {
    /// What is drawn.
    pub pattern: Pattern,
    /// Ends of the section in um; the mask of a repeating pattern goes on beyond.
    pub section_um: [f64; 2],
    /// Whether the drawing repeats with the section.
    pub repeats: bool,
    /// Clear intervals in um, where they lie on the wafer.
    pub clear_um: Vec<[f64; 2]>,
    /// Width that is measured, as drawn, in um; null for an edge.
    pub nominal_um: Option<f64>,
    /// Whether it is dark on the mask.
    pub is_dark: bool,
}

/// A film below the resist.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct FilmBelow {
    /// What it is.
    pub material: Material,
    /// Its thickness in nm.
    pub thickness_nm: f64,
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
        let period_nm = self.standing_wave_nm();
        let lowest =
            to_count(period_nm / latent.section.dz_nm + 1.0).min(fresh.intensity.len());
        let bottom = &fresh.intensity[fresh.intensity.len() - lowest..];
        let dark = bottom.iter().copied().fold(f64::INFINITY, f64::min);
        let bright = bottom.iter().copied().fold(0.0, f64::max);
        let rule_um = match self.tool {
            Tool::Projection => resolution_um(self.k1, wavelength_um, aperture),
            Tool::Contact | Tool::Proximity => proximity_resolution_um(
                wavelength_um,
                self.gap_um,
                1e-3 * self.thickness_nm,
            ),
        };
        let has_lens = self.tool == Tool::Projection;
        let clear = self.dose_to_clear(&mut latent.table);
        let contrast_curve = self.contrast_curve(&mut latent.table, clear);
        let resist_contrast = contrast_curve.contrast();
        let modulation = resist_contrast.map(|resist| resist.critical_modulation);
        let passes_mj_cm2 = match (self.tone(), resist_contrast) {
            (Tone::Positive, _) => clear,
            (Tone::Negative, resist) => {
                resist.map(|r| (r.onset_mj_cm2 * r.end_mj_cm2).sqrt())
            }
        };
        let threshold = passes_mj_cm2.map(|dose| dose / self.dose_mj_cm2);
        let threshold_width_um = threshold
            .and_then(|level| threshold_width(&x_um, &intensity, level, self.place_um()))
            .map(|um| match self.mask.pattern {
                Pattern::LineSpace => self.mask.pitch_um - um,
                _ => um,
            });
        let overlay = self.alignment.overlay();
        let shift_um = overlay.x_um;
        let is_edge = self.mask.pattern == Pattern::Edge;
        let nils = slope * self.mask.nominal_um();
        Ok(ExposureResults {
            tool: self.tool,
            wavelength_nm: self.line.wavelength_nm(),
            dose_mj_cm2: self.dose_mj_cm2,
            irradiance_mw_cm2: self.irradiance_mw_cm2,
            time_s: self.dose_mj_cm2 / self.irradiance_mw_cm2,
            defocus_um: has_lens.then_some(self.optics.defocus_um),
            gap_um: (!has_lens).then_some(self.gap_um),
            mask: MaskShown {
                pattern: self.mask.pattern,
                repeats: latent.window.repeats,
                section_um: [left + shift_um, right + shift_um],
                clear_um: latent
                    .window
                    .clear_in_section()
                    .into_iter()
                    .map(|[a, b]| [a + shift_um, b + shift_um])
                    .collect(),
                nominal_um: (!is_edge).then(|| self.mask.nominal_um()),
                is_dark: self.mask.is_dark() || self.mask.pattern == Pattern::LineSpace,
            },
            overlay,
            resist: self.resist,
            tone: self.tone(),
            thickness_nm: self.thickness_nm,
            stack: self
                .stack
                .iter()
                .map(|&(material, thickness_nm)| FilmBelow { material, thickness_nm })
                .collect(),
            contrast: contrast(&intensity),
            nils,
            latent: latent.shown(shift_um),
            resolution_um: rule_um,
            depth_of_focus_um: has_lens
                .then(|| depth_of_focus_um(self.k2, wavelength_um, aperture)),
            dose_to_clear_mj_cm2: clear,
            threshold_intensity: threshold,
            threshold_width_um: if is_edge { None } else { threshold_width_um },
            image_latitude_percent: 10.0 * nils,
            finest_um: modulation.and_then(|c| self.finest_um(c, rule_um)),
            computed_focus_um: modulation
                .filter(|_| has_lens)
                .and_then(|c| self.deepest_um(c, rule_um)),
            contrast_curve,
            resist_contrast,
            reflectance: fresh.reflectance,
            standing_wave_nm: period_nm,
            standing_wave_ratio: dark / bright,
            diffusion_length_nm: self.spread_nm(),
            swing: self.swing()?,
            oxide_swing: self.oxide_swing()?,
            image: AerialImage {
                x_um: x_um.into_iter().map(|x| x + shift_um).collect(),
                intensity,
            },
        })
    }

    /// Middle of the feature that is measured, on the mask, in um.
    pub(in crate::lithography) fn place_um(&self) -> f64 {
        match self.mask.pattern {
            Pattern::Openings => {
                self.mask.openings_um.first().map_or(0.0, |[a, b]| 0.5 * (a + b))
            }
            _ => 0.0,
        }
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
    fn shown(&self, shift_um: f64) -> LatentImage {
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
            x_um: places.iter().map(|&place| mirrored[place].0 + shift_um).collect(),
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

/// Width of the part about a place where the image stays on one side of a level; none if it has
/// no end there.
fn threshold_width(
    x_um: &[f64],
    intensity: &[f64],
    level: f64,
    place_um: f64,
) -> Option<f64> {
    let start = x_um.partition_point(|&x| x < place_um).min(x_um.len() - 1);
    let above = level <= intensity[start];
    let other = |i: &usize| (level <= intensity[*i]) != above;
    let crossing = |a: usize, b: usize| {
        let part = (level - intensity[a]) / (intensity[b] - intensity[a]);
        x_um[a] + (x_um[b] - x_um[a]) * part
    };
    let right = (start..x_um.len()).find(other).map(|i| crossing(i - 1, i))?;
    let left = (0..start).rev().find(other).map(|i| crossing(i, i + 1))?;
    Some(right - left)
}
