//! The contrast curve of the resist, and what it asks of an image.

use serde::Serialize;

use super::blur::Kernel;
use super::film::BleachTable;
use super::latent::{CLEAR_TIME_S, float};
use super::request::{Exposure, Tool};
use crate::lithography::Tone;
use crate::lithography::development::{RateLaw, critical_modulation};
use crate::lithography::imaging::{Mask, Optics, Pattern};
use crate::num::{log10, logspace, pow};

/// Points of the curve.
const POINTS: usize = 49;

/// Rings of source points where only the contrast of an image is asked for: within 0.006 of the
/// intensity.
const FEW_RINGS: u32 = 8;

/// Shares of resist left between which the curve is taken as straight.
const STRAIGHT: [f64; 2] = [0.8, 0.2];

/// Resist left in an open frame after 60 s against dose; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct ContrastCurve {
    /// Dose in mJ/cm2, from low to high.
    pub dose_mj_cm2: Vec<f64>,
    /// Share of the thickness that is left.
    pub left: Vec<f64>,
}

/// The contrast of a resist, from its curve between 80 and 20 % of resist left.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ResistContrast {
    /// Slope against the logarithm of the dose, `gamma`.
    pub gamma: f64,
    /// Dose at which the straight part starts: full thickness of positive resist, none of
    /// negative resist.
    pub onset_mj_cm2: f64,
    /// Dose at which the straight part ends.
    pub end_mj_cm2: f64,
    /// Contrast that an image must have for this resist.
    pub critical_modulation: f64,
}

impl ContrastCurve {
    /// Dose at which the curve first passes a share, along the logarithm of the dose.
    fn passes(&self, share: f64) -> Option<f64> {
        let i = self
            .left
            .windows(2)
            .position(|pair| (pair[0] - share) * (pair[1] - share) <= 0.0)?;
        let span = self.left[i + 1] - self.left[i];
        let part = if span == 0.0 { 0.0 } else { (share - self.left[i]) / span };
        let ratio = self.dose_mj_cm2[i + 1] / self.dose_mj_cm2[i];
        Some(self.dose_mj_cm2[i] * pow(ratio, part))
    }

    /// The contrast; none if the curve has no such part or is a step.
    #[must_use]
    pub fn contrast(&self) -> Option<ResistContrast> {
        let [high, low] = STRAIGHT.map(|share| self.passes(share));
        let (a, b) = (high?, low?);
        // Positive resist loses with dose, negative resist gains.
        let [first, second] = if a < b { [a, b] } else { [b, a] };
        let decades = log10(second / first);
        if decades < 1e-6 {
            return None;
        }
        let gamma = (STRAIGHT[0] - STRAIGHT[1]) / decades;
        let beyond = pow(10.0, (1.0 - STRAIGHT[0]) / gamma);
        Some(ResistContrast {
            gamma,
            onset_mj_cm2: first / beyond,
            end_mj_cm2: second * beyond,
            critical_modulation: critical_modulation(gamma),
        })
    }
}

impl Exposure {
    /// The contrast curve on the present stack about the dose to clear.
    pub(super) fn contrast_curve(
        &self,
        table: &mut BleachTable,
        clear_mj_cm2: Option<f64>,
    ) -> ContrastCurve {
        let rate = self.bleaching.bleach_rate_cm2_mj;
        let [first, last] = match clear_mj_cm2 {
            Some(clear) if 0.0 < clear => [0.1 * clear, 2.0 * clear],
            _ => [0.05 / rate, 5.0 / rate],
        };
        table.reach(last);
        let cell_nm = 1e3 * table.film().cell_um();
        let kernel = Kernel::new(self.spread_nm(), cell_nm);
        let mut column = vec![1.0; table.film().cells];
        let mut scratch = Vec::new();
        let doses = logspace(first, last, POINTS);
        let left = doses
            .iter()
            .map(|&dose| {
                table.pac(dose, &mut column);
                kernel.spread(&mut column, &mut scratch);
                if self.tone() == Tone::Negative {
                    column.iter_mut().for_each(|pac| *pac = 1.0 - *pac);
                }
                left_after(&RateLaw::DEMO.all_nm_s(&column), cell_nm)
            })
            .collect();
        ContrastCurve { dose_mj_cm2: doses, left }
    }

    /// Contrast of lines and spaces of one width in um, halfway down in the resist.
    fn lines_contrast(&self, line_um: f64, defocus_um: f64) -> f64 {
        let mask = Mask {
            pattern: Pattern::LineSpace,
            pitch_um: 2.0 * line_um,
            opening_um: line_um,
            ..Mask::default()
        };
        let window = mask.window(self.spread_um());
        let places = [0.0, line_um];
        let light = match self.tool {
            Tool::Projection => {
                let source_rings = self.optics.source_rings.min(FEW_RINGS);
                Optics { defocus_um, source_rings, ..self.optics }.image(&window, &places)
            }
            Tool::Contact | Tool::Proximity => {
                let nearest = self.optics.wavelength_um / self.bleaching.index;
                let distance = self.distance_um(0.5e-3 * self.thickness_nm).max(nearest);
                self.shadow.image(&window, &places, distance)
            }
        };
        let sum = light[0] + light[1];
        if 0.0 < sum { (light[0] - light[1]) / sum } else { 0.0 }
    }

    /// Width in um of the finest lines and spaces whose image, in the present focus or gap, has
    /// the contrast that the resist needs; none if not even four times the rule's width has.
    pub(super) fn finest_um(&self, modulation: f64, rule_um: f64) -> Option<f64> {
        let good =
            |um: f64| modulation <= self.lines_contrast(um, self.optics.defocus_um);
        let mut fine = 4.0 * rule_um;
        if !good(fine) {
            return None;
        }
        let mut coarse = fine;
        while good(fine) {
            if fine < 0.02 * rule_um {
                return Some(fine);
            }
            (coarse, fine) = (fine, 0.85 * fine);
        }
        for _ in 0..12 {
            let middle = 0.5 * (coarse + fine);
            if good(middle) {
                coarse = middle;
            } else {
                fine = middle;
            }
        }
        Some(coarse)
    }

    /// Defocus to each side in um at which lines of this width have just the contrast that the
    /// resist needs; none if they never have it.
    pub(super) fn deepest_um(&self, modulation: f64, line_um: f64) -> Option<f64> {
        let good = |um: f64| modulation <= self.lines_contrast(line_um, um);
        if !good(0.0) {
            return None;
        }
        let aperture = self.optics.numerical_aperture;
        let step = 0.1 * self.optics.wavelength_um / (aperture * aperture);
        let (mut near, mut far) = (0.0, step);
        while good(far) {
            if 100.0 * step < far {
                return Some(far);
            }
            (near, far) = (far, far + step);
        }
        for _ in 0..12 {
            let middle = 0.5 * (near + far);
            if good(middle) {
                near = middle;
            } else {
                far = middle;
            }
        }
        Some(near)
    }
}

/// Share of a film of equal cells that is left after [`CLEAR_TIME_S`].
fn left_after(rates_nm_s: &[f64], cell_nm: f64) -> f64 {
    let mut time_s = 0.0;
    for (i, rate) in rates_nm_s.iter().enumerate() {
        let through_s = cell_nm / rate;
        if CLEAR_TIME_S < time_s + through_s {
            let gone = float(i) + (CLEAR_TIME_S - time_s) / through_s;
            return 1.0 - gone / float(rates_nm_s.len());
        }
        time_s += through_s;
    }
    0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lithography::development::resist_contrast;

    #[test]
    fn a_straight_curve_has_the_contrast_of_its_ends() {
        // Full at 100, gone at 200 mJ/cm2: gamma = 1 / log10 2 = 3.322.
        let dose_mj_cm2 = logspace(50.0, 400.0, 200);
        let left = dose_mj_cm2
            .iter()
            .map(|&dose| (1.0 - log10(dose / 100.0) / log10(2.0)).clamp(0.0, 1.0))
            .collect();
        let found = ContrastCurve { dose_mj_cm2, left }.contrast().unwrap();
        assert!((found.gamma - resist_contrast(100.0, 200.0)).abs() < 1e-6, "{found:?}");
        assert!((found.onset_mj_cm2 - 100.0).abs() < 1e-3, "{found:?}");
        assert!((found.end_mj_cm2 - 200.0).abs() < 1e-3, "{found:?}");
    }

    #[test]
    fn half_a_film_at_half_the_rate_is_left_half() {
        assert!((left_after(&[5.0; 100], 6.0) - 0.5).abs() < 1e-12);
        assert!(left_after(&[5.0; 10], 1.0) <= 0.0);
    }
}
