//! One collision of two atoms: the angle by which they part, from the classical integral.
//!
//! Lengths are in screening lengths, energies in the reduced unit in which the atoms would come
//! to a screening length from each other if nothing were screened.

use super::potential::screening;
use crate::num::{cos, sin, tan};

/// Points of the quadrature.
const POINTS: usize = 24;
/// Smallest angle told apart from none: below it the quadrature's own rounding shows.
const SMALLEST_ANGLE: f64 = 1e-9;

/// Points and weights of the quadrature, made once for a table.
#[derive(Clone, Debug)]
pub(super) struct Quadrature {
    /// Cosine and sine of each angle.
    points: [[f64; 2]; POINTS],
}

impl Quadrature {
    pub(super) fn new() -> Self {
        let step = core::f64::consts::FRAC_PI_2 / count(POINTS);
        Self {
            points: core::array::from_fn(|i| {
                let angle = (count(i) + 0.5) * step;
                [cos(angle), sin(angle)]
            }),
        }
    }

    /// Tangent squared of half the scattering angle, in the frame of the center of mass.
    ///
    /// # Model
    /// `theta = pi - 2 b Int dr / (r^2 sqrt(1 - phi(r)/(eps r) - b^2/r^2))` from the closest
    /// approach outward, with the universal potential. In `r = r0/cos(x)` the integrand is smooth
    /// and even in `x`, so that equal steps converge exponentially (Gauss and Mehler).
    ///
    /// # Source
    /// H. Goldstein, Classical Mechanics, ch. 3 (integral; memory); quadrature derived, held
    /// against adaptive quadrature in `tests/reference/scattering_angles.csv`.
    pub(super) fn half_angle_tangent_squared(&self, energy: f64, impact: f64) -> f64 {
        let nearest = closest_approach(energy, impact);
        let (b, e) = (impact / nearest, energy * nearest);
        let sum: f64 = self
            .points
            .iter()
            .map(|&[c, s]| {
                let [phi, _] = screening(nearest / c);
                let left = 1.0 - phi * c / e - b * b * c * c;
                s / left.max(1e-300).sqrt()
            })
            .sum();
        let angle = core::f64::consts::PI * (1.0 - b * sum / count(POINTS));
        let tangent = tan(0.5 * angle.max(SMALLEST_ANGLE));
        tangent * tangent
    }
}

/// Distance at which the atoms are closest: `r^2 - r phi(r)/eps - b^2 = 0`.
///
/// Newton's method inside a bracket: between the impact parameter, as if there were no force,
/// and the distance without screening.
fn closest_approach(energy: f64, impact: f64) -> f64 {
    // The published screening begins a little above one.
    let [bare, _] = screening(0.0);
    let half = 0.5 * bare / energy;
    let (mut low, mut high) = (impact, half + (half * half + impact * impact).sqrt());
    let mut distance = high.min(impact + 10.0);
    for _ in 0..100 {
        let [phi, slope] = screening(distance);
        let value = distance * distance - distance * phi / energy - impact * impact;
        if value < 0.0 {
            low = distance;
        } else {
            high = distance;
        }
        let rise = 2.0 * distance - (phi + distance * slope) / energy;
        let newton = distance - value / rise;
        // Before the bracket is asked: at the root Newton's step may round to one of its ends.
        if (newton - distance).abs() <= 1e-15 * distance {
            return newton;
        }
        distance =
            if low < newton && newton < high { newton } else { 0.5 * (low + high) };
    }
    distance
}

/// Sine squared of half the scattering angle for a reduced energy and a reduced impact
/// parameter; the collision hands over `4 M1 M2/(M1 + M2)^2` of the energy times this.
///
/// For reduced energies up to 1e4; those of the lab end at about 100. Above, the few points of
/// the quadrature miss the edge of the screening.
#[must_use]
pub fn half_angle_sine_squared(reduced_energy: f64, reduced_impact: f64) -> f64 {
    let tangent =
        Quadrature::new().half_angle_tangent_squared(reduced_energy, reduced_impact);
    tangent / (1.0 + tangent)
}

#[expect(clippy::cast_precision_loss, reason = "a small count")]
fn count(n: usize) -> f64 {
    n as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn at_the_closest_approach_the_radial_energy_is_used_up() {
        for energy in [1e-6, 1e-4, 1e-2, 1.0, 100.0] {
            for impact in [1e-3, 0.1, 1.0, 5.0, 15.0] {
                let r = closest_approach(energy, impact);
                let [phi, _] = screening(r);
                let left = 1.0 - phi / (energy * r) - impact * impact / (r * r);
                assert!(left.abs() < 1e-11, "{energy} {impact}: {left}");
                assert!(impact <= r);
            }
        }
    }

    #[test]
    fn a_fast_close_collision_is_rutherfords() {
        // Unscreened: tan(theta/2) = 1/(2 eps b). A near collision sees the potential of the far
        // electrons as a constant, phi'(0) = -1.18 in these units: the limit comes as 1.18/eps.
        // Reduced energies of the lab end at about 100; beyond 1e4 the quadrature would need
        // points where the screening ends.
        let [bare, _] = screening(0.0);
        for (energy, impact) in [(1e2, 1e-2), (1e3, 1e-3), (1e4, 1e-4)] {
            let tangent = Quadrature::new().half_angle_tangent_squared(energy, impact);
            let unscreened = bare / (2.0 * energy * impact);
            let rutherford = unscreened * unscreened;
            assert!(
                (tangent / rutherford - 1.0).abs() < 5.0 / energy,
                "{energy}: {tangent} and {rutherford}"
            );
        }
    }
}
