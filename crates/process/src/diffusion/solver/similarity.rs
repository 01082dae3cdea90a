//! Constant source into clean silicon: the exact profile, without any time step.
//!
//! With the surface held and nothing in the silicon before, the profile depends on
//! `xi = x/sqrt(t)` alone (L. Boltzmann, Ann. Phys. 53, 959, 1894; J. Crank, The Mathematics of
//! Diffusion, 2nd ed. 1975, ch. 7; memory). With `M(xi)` the dose below `xi` over `sqrt(t)`,
//! Fick's second law is `M + xi C = -2 D dC/dxi`. We follow `xi` and `mu = M/C` as functions of
//! `l = ln(C/Cs)` from the tail up to the surface, the direction in which errors die out:
//! `dxi/dl = -2D/(xi + mu)`, `dmu/dl = -mu + 2D/(xi + mu)`.

use super::flux::{Crystal, Species, active_part, electrons};
use crate::num::{bisect, exp};

/// Profile of a constant source at the points where it was computed, from the surface down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SourceProfile {
    /// Depths in cm.
    pub depth_cm: Vec<f64>,
    /// Concentration per cm3 at each depth.
    pub concentration_cm3: Vec<f64>,
    /// Dose per cm2 between the surface and each depth.
    pub dose_above_cm2: Vec<f64>,
    /// Dose per cm2 that has passed the surface: `2 t` times the surface flux at the end.
    pub gained_cm2: f64,
}

/// `ln(C/Cs)` where the integration starts and where the answer ends.
const TAIL: f64 = -30.0;
const END: f64 = -24.0;

/// The profile after `time_s` with the surface held at `surface_cm3`; `None` for values
/// that are not positive.
///
/// # Model
/// One species of any diffusivity in a uniformly doped crystal, integrated to fourth order.
#[must_use]
pub fn constant_source(
    species: &Species,
    crystal: Crystal,
    surface_cm3: f64,
    time_s: f64,
) -> Option<SourceProfile> {
    let diffusivity = |c_cm3: f64| chemical_diffusivity(species, crystal, c_cm3);
    constant_source_with(&diffusivity, surface_cm3, time_s)
}

/// The same with any diffusivity `D(C)` of `J = -D dC/dx` in cm2/s.
#[must_use]
pub fn constant_source_with(
    diffusivity_cm2_s: &dyn Fn(f64) -> f64,
    surface_cm3: f64,
    time_s: f64,
) -> Option<SourceProfile> {
    let shot = Shot::new(diffusivity_cm2_s, surface_cm3);
    let reach = 2.0 * shot.largest_cm2_s.sqrt();
    if !(0.0 < surface_cm3 && 0.0 < time_s && 0.0 < reach && reach.is_finite()) {
        return None;
    }
    let tail =
        bisect(|xi| shot.follow(xi, |_, _, _| ()), 1e-6 * reach, 8.0 * reach).ok()?;
    let mut points = Vec::with_capacity(shot.levels.len());
    shot.follow(tail, |level, xi, mu| points.push((level, xi, mu)));
    points.reverse();
    let root_t = time_s.sqrt();
    let &(_, xi_surface, mu_surface) = points.first()?;
    let found_cm2 = root_t * surface_cm3 * mu_surface;
    let mut profile = SourceProfile {
        gained_cm2: root_t * surface_cm3 * (xi_surface + mu_surface),
        ..SourceProfile::default()
    };
    for (level, xi, mu) in points {
        if level < END {
            break;
        }
        let c = surface_cm3 * exp(level);
        let first = profile.depth_cm.is_empty();
        profile.depth_cm.push(if first { 0.0 } else { root_t * xi });
        profile.concentration_cm3.push(c);
        profile.dose_above_cm2.push(if first {
            0.0
        } else {
            found_cm2 - root_t * c * mu
        });
    }
    Some(profile)
}

/// One integration from tail to surface, ready to be tried with different tails.
struct Shot {
    levels: Vec<f64>,
    /// Diffusivity at every level and in the middle of every step.
    d_cm2_s: Vec<f64>,
    largest_cm2_s: f64,
}

impl Shot {
    fn new(diffusivity_cm2_s: &dyn Fn(f64) -> f64, surface_cm3: f64) -> Self {
        let levels = levels();
        let mut d_cm2_s = Vec::with_capacity(2 * levels.len());
        for (i, &level) in levels.iter().enumerate() {
            d_cm2_s.push(diffusivity_cm2_s(surface_cm3 * exp(level)));
            if let Some(&next) = levels.get(i + 1) {
                let middle = surface_cm3 * exp(0.5 * (level + next));
                d_cm2_s.push(diffusivity_cm2_s(middle));
            }
        }
        let largest_cm2_s = d_cm2_s.iter().copied().fold(0.0, f64::max);
        Self { levels, d_cm2_s, largest_cm2_s }
    }

    /// Classical Runge-Kutta from `xi` at the tail; gives `xi` at the surface, which is 0 for
    /// the right tail and grows with it. `visit` sees level, xi and mu at each point.
    fn follow(&self, xi_tail: f64, mut visit: impl FnMut(f64, f64, f64)) -> f64 {
        let (mut xi, mut mu) = (xi_tail, 0.0);
        for _ in 0..3 {
            mu = 2.0 * self.d_cm2_s[0] / (xi + mu);
        }
        let smallest = 1e-9 * self.largest_cm2_s.sqrt();
        let slope = |d: f64, xi: f64, mu: f64| {
            let pull = 2.0 * d / (xi + mu).max(smallest);
            (-pull, pull - mu)
        };
        visit(self.levels[0], xi, mu);
        for (i, w) in self.levels.windows(2).enumerate() {
            let h = w[1] - w[0];
            let (da, dm, db) =
                (self.d_cm2_s[2 * i], self.d_cm2_s[2 * i + 1], self.d_cm2_s[2 * i + 2]);
            let (x1, m1) = slope(da, xi, mu);
            let (x2, m2) = slope(dm, xi + 0.5 * h * x1, mu + 0.5 * h * m1);
            let (x3, m3) = slope(dm, xi + 0.5 * h * x2, mu + 0.5 * h * m2);
            let (x4, m4) = slope(db, xi + h * x3, mu + h * m3);
            xi += h / 6.0 * (x1 + 2.0 * (x2 + x3) + x4);
            mu += h / 6.0 * (m1 + 2.0 * (m2 + m3) + m4);
            if xi + mu <= smallest {
                return -self.largest_cm2_s.sqrt();
            }
            visit(w[1], xi, mu);
        }
        xi
    }
}

/// The levels `ln(C/Cs)`: dense near the surface, where most of the depth is.
fn levels() -> Vec<f64> {
    let mut levels = Vec::with_capacity(200);
    for (from, count, step) in [(TAIL, 96_u32, 0.25), (-6.0, 30, 0.1), (-3.0, 60, 0.05)] {
        levels.extend((0..count).map(|i| from + f64::from(i) * step));
    }
    levels.push(0.0);
    levels
}

/// `D` in `J = -D dC/dx` of one dopant alone: diffusivity, field and active part in one.
fn chemical_diffusivity(species: &Species, crystal: Crystal, c_cm3: f64) -> f64 {
    let (active, slope) = active_part(c_cm3, species.active_limit_cm3);
    let z = species.charge;
    let net = crystal.background_cm3 + z * active;
    let (ratio, sensitivity) = electrons(net, crystal.intrinsic_cm3);
    let carrier = if 0.0 < z {
        ratio
    } else if z < 0.0 {
        1.0 / ratio
    } else {
        1.0
    };
    species.diffusivity.at(carrier) * slope * (1.0 + z * z * active * sensitivity)
}

#[cfg(test)]
mod tests {
    use super::super::flux::ChargeComponents;
    use super::*;
    use crate::num::erfc;

    #[test]
    fn constant_diffusivity_gives_the_error_function() {
        let d_cm2_s = 1e-14;
        let species = Species {
            charge: 0.0,
            diffusivity: ChargeComponents {
                neutral_cm2_s: d_cm2_s,
                ..Default::default()
            },
            active_limit_cm3: None,
        };
        let crystal = Crystal { intrinsic_cm3: 7e18, background_cm3: 0.0 };
        let profile = constant_source(&species, crystal, 1e20, 3600.0).unwrap();
        let length_cm = (d_cm2_s * 3600.0).sqrt();
        for (&x, &c) in profile.depth_cm.iter().zip(&profile.concentration_cm3) {
            let exact = 1e20 * erfc(x / (2.0 * length_cm));
            assert!((c / exact - 1.0).abs() < 2e-5, "{x} {c} {exact}");
        }
        let dose = 2e20 * length_cm / core::f64::consts::PI.sqrt();
        assert!((profile.gained_cm2 / dose - 1.0).abs() < 1e-6);
        let total = profile.dose_above_cm2[profile.dose_above_cm2.len() - 1];
        assert!((total / profile.gained_cm2 - 1.0).abs() < 1e-9);
        assert!(constant_source(&species, crystal, 0.0, 3600.0).is_none());
    }
}
