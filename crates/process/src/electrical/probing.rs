//! From a voltage over a current to a sheet resistance, and back: four probes in line, four
//! contacts at an edge, a line.

use core::f64::consts::PI;

use crate::num::{exp, expm1, ln};

/// Squares that a right-angled corner of a line counts (textbook standard, from conformal
/// mapping: 0.559; memory).
pub const CORNER_SQUARES: f64 = 0.56;

/// Returns the sheet resistance in ohm per square of a large thin sheet from the voltage over
/// the current of an in-line four-point probe in ohm: `(pi/ln 2) V/I`.
///
/// # Source
/// F. M. Smits, Bell Syst. Tech. J. 37, 711, 1958 (memory).
#[must_use]
pub fn four_point_ohm_sq(voltage_over_current_ohm: f64) -> f64 {
    PI / ln(2.0) * voltage_over_current_ohm
}

/// Returns the factor (1 for a thin sheet) that corrects [`four_point_ohm_sq`] for a slab as
/// thick as the probe spacing or so, on an insulating ground.
///
/// # Model
/// A point current on a slab of thickness `t` and its mirror images give the potential
/// `rho I/(2 pi) S(r)` with `S(r) = Sum 1/sqrt(r^2 + (2 n t)^2)`, so that
/// `V/I = (rho/pi) (S(s) - S(2 s))`; the factor is `ln 2/(t (S(s) - S(2 s)))` (derived).
///
/// # Source
/// Method of L. B. Valdes, Proc. IRE 42, 420, 1954 (memory).
#[must_use]
pub fn thickness_factor(thickness_over_spacing: f64) -> f64 {
    let t = thickness_over_spacing;
    if t < 0.2 {
        // Thinner slabs differ from a sheet by less than 1e-6.
        return 1.0;
    }
    let difference = |n: f64| {
        let height = 4.0 * n * n * t * t;
        1.0 / (1.0 + height).sqrt() - 1.0 / (4.0 + height).sqrt()
    };
    let images = 200;
    let mut sum = difference(0.0);
    for n in 1..=images {
        sum += 2.0 * difference(f64::from(n));
    }
    // The rest falls as 3/(16 n^3 t^3) each; its sum is half the inverse square of the end.
    let end = f64::from(images) + 0.5;
    sum += 3.0 / (16.0 * t * t * t * end * end);
    ln(2.0) / (t * sum)
}

/// Returns the factor (1 for a large sheet) that corrects [`four_point_ohm_sq`] at the middle
/// of a round wafer.
///
/// # Model
/// `ln 2/(ln 2 + ln(((d/s)^2 + 3)/((d/s)^2 - 3)))`.
///
/// # Source
/// F. M. Smits, Bell Syst. Tech. J. 37, 711, 1958 (memory; gives the rows of his table).
///
/// # Validity
/// The four probes must lie on the wafer: `d/s` above 3.
#[must_use]
pub fn wafer_factor(diameter_over_spacing: f64) -> f64 {
    let square = diameter_over_spacing * diameter_over_spacing;
    ln(2.0) / (ln(2.0) + ln((square + 3.0) / (square - 3.0)))
}

/// The steps of Newton's method to a sheet resistance.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct VanDerPauw {
    /// The values in ohm per square, the start first, the result last.
    pub steps_ohm_sq: Vec<f64>,
}

/// Returns the sheet resistance in ohm per square from two resistances measured at four
/// contacts on the edge of a sheet without holes; `None` if either is not above zero or the
/// steps do not come to rest.
///
/// # Model
/// `exp(-pi Ra/Rs) + exp(-pi Rb/Rs) = 1`. In `u = 1/Rs` the left side is convex and falls;
/// Newton from `u = 2 ln 2/(pi (Ra + Rb))`, where it is at least 1, climbs to the root without
/// overshooting.
///
/// # Source
/// L. J. van der Pauw, Philips Res. Rep. 13, 1, 1958 (memory).
#[must_use]
pub fn van_der_pauw(resistance_a_ohm: f64, resistance_b_ohm: f64) -> Option<VanDerPauw> {
    let large = resistance_a_ohm.max(resistance_b_ohm);
    let (a, b) = (PI * large, PI * resistance_a_ohm.min(resistance_b_ohm));
    if !(0.0 < a && a.is_finite() && 0.0 < b && b.is_finite()) {
        return None;
    }
    let mut u = 2.0 * ln(2.0) / (a + b);
    let mut steps_ohm_sq = vec![1.0 / u];
    for _ in 0..60 {
        // The small resistance's term is close to 1: its difference from 1 keeps the digits.
        let (ea, short_of_one) = (exp(-a * u), expm1(-b * u));
        let step = (ea + short_of_one) / (a * ea + b * (short_of_one + 1.0));
        u += step;
        steps_ohm_sq.push(1.0 / u);
        if step.abs() <= 1e-12 * u {
            return Some(VanDerPauw { steps_ohm_sq });
        }
    }
    None
}

impl VanDerPauw {
    /// The result in ohm per square.
    #[must_use]
    pub fn sheet_resistance_ohm_sq(&self) -> f64 {
        self.steps_ohm_sq.last().copied().unwrap_or(f64::NAN)
    }
}

/// Returns the squares of a line: length over width, and [`CORNER_SQUARES`] for each corner.
#[must_use]
pub fn squares(length_um: f64, width_um: f64, corners: f64) -> f64 {
    length_um / width_um + CORNER_SQUARES * corners
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_resistances_give_the_factor_of_four_probes() {
        let found = van_der_pauw(10.0, 10.0).unwrap();
        assert!((found.sheet_resistance_ohm_sq() - 45.3236).abs() < 1e-3);
        assert_eq!(van_der_pauw(0.0, 1.0), None);
        assert_eq!(van_der_pauw(f64::INFINITY, 1.0), None);
    }

    #[test]
    fn every_pair_of_resistances_comes_to_rest_at_the_root() {
        for ratio in [1.0, 1.5, 10.0, 1e3, 1e6, 1e12] {
            let rs = van_der_pauw(ratio, 1.0).unwrap().sheet_resistance_ohm_sq();
            let left = exp(-PI * ratio / rs) + exp(-PI / rs);
            assert!((left - 1.0).abs() < 1e-9, "{ratio}: {left}");
            let turned = van_der_pauw(1.0, ratio).unwrap().sheet_resistance_ohm_sq();
            assert!((rs / turned - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn a_thin_slab_is_a_sheet_and_a_thick_one_a_half_space() {
        assert!((thickness_factor(0.2) - 1.0).abs() < 1e-5);
        assert!((thickness_factor(0.1) - 1.0).abs() < 1e-12);
        // Thick: V/I = rho/(2 pi s), so Rs = rho/t = (pi/ln 2) (V/I) F gives F = 2 ln 2/(t/s).
        let thick = thickness_factor(30.0);
        assert!((thick / (2.0 * ln(2.0) / 30.0) - 1.0).abs() < 1e-3, "{thick}");
    }
}
