//! Coating over a step: surface tension levels the liquid, then it shrinks where it stands.
//!
//! # Model
//! At a solids fraction `c_g` the film stops to flow. Until then surface tension levels it over
//! a length `w_c = (h gamma / (rho omega^2 r))^(1/3)`: its surface is that of the ground, seen
//! through a Gaussian window of standard deviation `w_c / 3`, raised so far that the solids are
//! those of a flat wafer. Afterwards each place shrinks by itself to `c_g d / (1 - phi)`.
//!
//! # Source
//! Leveling length: L. E. Stillwagon, R. G. Larson, J. Appl. Phys. 63, 5251 (1988) (memory).
//! Window, `c_g` and the local shrinking: model choice. That films follow features wider than
//! some 50 um and level narrower ones: L. E. Stillwagon, R. G. Larson, G. N. Taylor, Proc. SPIE
//! 771 (1987) (read: abstract).

use serde::Serialize;

use super::laws::DENSITY_KG_M3;
use super::puddle::SURFACE_TENSION_N_M;
use super::request::Step;
use super::{BAKED_SOLVENT_FRACTION, angular_rad_s};
use crate::num::{self, cbrt, linspace};

/// Solids fraction at which the film stops to flow over a step (model choice).
pub const STOPPED_SOLIDS_FRACTION: f64 = 0.5;

/// Standard deviation of the window, in leveling lengths (model choice).
const WINDOW: f64 = 1.0 / 3.0;

/// Points of the section.
const POINTS: usize = 161;

/// A film over a step.
#[derive(Clone, Debug, Serialize)]
pub struct StepCoverage {
    /// Height of the step in nm; negative for a trench.
    pub height_nm: f64,
    /// Its width in um.
    pub width_um: f64,
    /// Length over which surface tension levels the liquid, in um.
    pub leveling_um: f64,
    /// Film over the middle of the step in nm.
    pub top_nm: f64,
    /// Film far from it in nm.
    pub field_nm: f64,
    /// Step that is left in the surface of the film in nm.
    pub surface_step_nm: f64,
    /// Share of the step that the film has leveled: 1 = flat.
    pub planarization: f64,
    /// Whether the film covers the step everywhere.
    pub covered: bool,
    /// Places along the section in um, 0 in the middle of the step.
    pub x_um: Vec<f64>,
    /// Height of the ground in nm.
    pub ground_nm: Vec<f64>,
    /// Height of the film's surface in nm.
    pub surface_nm: Vec<f64>,
}

/// Length in um over which surface tension levels a liquid on a spinning wafer.
#[must_use]
pub fn leveling_length_um(liquid_um: f64, speed_rpm: f64, radius_mm: f64) -> f64 {
    let omega = angular_rad_s(speed_rpm);
    let drive = DENSITY_KG_M3 * omega * omega * radius_mm * 1e-3;
    1e6 * cbrt(liquid_um * 1e-6 * SURFACE_TENSION_N_M / drive)
}

/// A film of so much solids over a step.
pub(super) fn coverage(step: Step, solids_um: f64, speed_rpm: f64) -> StepCoverage {
    let liquid_um = solids_um / STOPPED_SOLIDS_FRACTION;
    let leveling_um = leveling_length_um(liquid_um, speed_rpm, step.radius_mm);
    let spread_um = WINDOW * leveling_um;
    let height_um = 1e-3 * step.height_nm;
    let half_um = 0.5 * step.width_um;
    let shrink = STOPPED_SOLIDS_FRACTION / (1.0 - BAKED_SOLVENT_FRACTION);
    let below = |x: f64| num::erf(x / (spread_um * core::f64::consts::SQRT_2));
    // The ground through the window: the step times the share of the Gaussian that sees it.
    let seen = |x: f64| 0.5 * height_um * (below(x + half_um) - below(x - half_um));
    let film = |x: f64, ground_um: f64| shrink * (liquid_um + seen(x) - ground_um);
    let reach_um = half_um + (3.0 * spread_um).min(3.0 * step.width_um).max(1.0);
    // Both sides of each wall are points of their own.
    let mut x_um = linspace(-reach_um, reach_um, POINTS);
    x_um.retain(|x| 1e-9 < (x.abs() - half_um).abs());
    let mut points: Vec<(f64, f64)> = x_um
        .into_iter()
        .map(|x| (x, if x.abs() < half_um { height_um } else { 0.0 }))
        .collect();
    let first = points.partition_point(|point| point.0 < -half_um);
    points.splice(first..first, [(-half_um, 0.0), (-half_um, height_um)]);
    let last = points.partition_point(|point| point.0 < half_um);
    points.splice(last..last, [(half_um, height_um), (half_um, 0.0)]);
    let covered = points.iter().all(|&(x, ground)| 0.0 < film(x, ground));
    let field_um = shrink * liquid_um;
    let top_um = film(0.0, height_um).max(0.0);
    let left_um = height_um + top_um - field_um;
    StepCoverage {
        height_nm: step.height_nm,
        width_um: step.width_um,
        leveling_um,
        top_nm: 1e3 * top_um,
        field_nm: 1e3 * field_um,
        surface_step_nm: 1e3 * left_um,
        planarization: if height_um == 0.0 { 1.0 } else { 1.0 - left_um / height_um },
        covered,
        ground_nm: points.iter().map(|point| 1e3 * point.1).collect(),
        surface_nm: points
            .iter()
            .map(|&(x, ground)| 1e3 * (ground + film(x, ground).max(0.0)))
            .collect(),
        x_um: points.into_iter().map(|point| point.0).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn over(height_nm: f64, width_um: f64) -> StepCoverage {
        coverage(Step { height_nm, width_um, radius_mm: 25.0 }, 1.105, 4000.0)
    }

    #[test]
    fn the_leveling_length_is_that_of_a_hand_calculation() {
        // (2e-6 * 0.03 / (1000 * 418.88^2 * 0.025))^(1/3) = 23.9 um.
        let um = leveling_length_um(2.0, 4000.0, 25.0);
        assert!((um - 23.94).abs() < 0.05, "{um}");
    }

    #[test]
    fn a_narrow_line_is_leveled_by_the_share_that_stays_of_the_liquid() {
        let narrow = over(500.0, 0.5);
        // c_g / (1 - phi) = 0.5208; the window sees a little of the line.
        assert!((narrow.planarization - 0.5208).abs() < 0.02, "{narrow:?}");
        let thinner = narrow.field_nm - narrow.top_nm;
        assert!((thinner - 0.5208 * 500.0).abs() < 8.0, "{thinner}");
    }

    #[test]
    fn a_wide_plateau_is_followed() {
        let wide = over(500.0, 200.0);
        assert!(wide.planarization.abs() < 1e-3, "{wide:?}");
        assert!((wide.top_nm - wide.field_nm).abs() < 1.0);
    }

    #[test]
    fn the_solids_are_those_of_a_flat_wafer() {
        for (height_nm, width_um) in [(500.0, 12.0), (-800.0, 30.0), (0.0, 10.0)] {
            let film = over(height_nm, width_um);
            let mut extra = 0.0;
            for i in 1..film.x_um.len() {
                let thick = |i: usize| film.surface_nm[i] - film.ground_nm[i];
                let mean = 0.5 * (thick(i) + thick(i - 1)) - film.field_nm;
                extra += mean * (film.x_um[i] - film.x_um[i - 1]);
            }
            // Less than the window sees beyond three of its deviations.
            let step = height_nm.abs() * width_um;
            assert!(film.covered && extra.abs() <= 0.005 * step, "{extra}");
        }
    }

    #[test]
    fn a_high_line_sticks_out() {
        let high = over(4000.0, 1.0);
        assert!(!high.covered && high.top_nm == 0.0);
    }
}
