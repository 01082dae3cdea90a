//! Resistivity of uniformly doped wafers.

use crate::num::{bisect, exp, ln, log10, pow};
use crate::vocabulary::DopingType;

/// Constants of the boron formula of [`f723_ohm_cm`], in the order of the formula.
pub(super) const F723_BORON: [f64; 4] = [1.305e16, 1.133e17, 2.58e-19, -0.737];
/// Constants of its phosphorus formula: the factor, `A0` to `A3` above, `B1` to `B3` below.
pub(super) const F723_PHOSPHORUS: [f64; 8] =
    [6.242e18, -3.0769, 2.2108, -0.62272, 0.057_501, -0.68157, 0.19833, 0.018_376];

/// Returns the resistivity in ohm cm at 23 C of a wafer doped with boron (p) or phosphorus (n).
///
/// # Model
/// Boron: `1.305e16/N + 1.133e17/(N (1 + (2.58e-19 N)^-0.737))`. Phosphorus:
/// `(6.242e18/N) 10^Z` with a rational `Z` of `log10 N - 16`.
///
/// # Source
/// ASTM F723 after W. R. Thurber et al., NBS Special Publication 400-64, 1981 (memory; boron
/// and the shape for phosphorus checked against a public conversion table).
///
/// # Validity
/// 1e13 to 1e20 per cm3 (phosphorus to 5e20).
#[must_use]
pub fn f723_ohm_cm(doping: DopingType, concentration_cm3: f64) -> f64 {
    let n = concentration_cm3;
    match doping {
        DopingType::P => {
            let [a, b, c, d] = F723_BORON;
            a / n + b / (n * (1.0 + pow(c * n, d)))
        }
        DopingType::N => {
            let y = log10(n) - 16.0;
            let [scale, a0, a1, a2, a3, b1, b2, b3] = F723_PHOSPHORUS;
            let above = a0 + y * (a1 + y * (a2 + y * a3));
            let below = 1.0 + y * (b1 + y * (b2 - y * b3));
            scale / n * pow(10.0, above / below)
        }
    }
}

/// Returns the concentration per cm3 whose [`f723_ohm_cm`] is `resistivity_ohm_cm`; `None`
/// outside 1e13 to 1e20 per cm3.
///
/// # Model
/// The forward formula inverted by bisection: the standard's own inverse formulas differ from
/// it by up to 7 % near 2e18 (computed).
#[must_use]
pub fn f723_concentration_cm3(
    doping: DopingType,
    resistivity_ohm_cm: f64,
) -> Option<f64> {
    bisect(|log| f723_ohm_cm(doping, exp(log)) - resistivity_ohm_cm, ln(1e13), ln(1e20))
        .ok()
        .map(exp)
}
