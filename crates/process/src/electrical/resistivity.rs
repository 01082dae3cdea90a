//! Resistivity of uniformly doped wafers.

use crate::num::{bisect, exp, ln, log10, pow};
use crate::vocabulary::DopingType;

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
            1.305e16 / n + 1.133e17 / (n * (1.0 + pow(2.58e-19 * n, -0.737)))
        }
        DopingType::N => {
            let y = log10(n) - 16.0;
            let above = -3.0769 + y * (2.2108 + y * (-0.62272 + y * 0.057_501));
            let below = 1.0 + y * (-0.68157 + y * (0.19833 - y * 0.018_376));
            6.242e18 / n * pow(10.0, above / below)
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
