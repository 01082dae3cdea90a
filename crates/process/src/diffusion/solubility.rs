//! How much dopant silicon takes, and how much of it is electrically active.

use crate::num::{exp, ln};
use crate::units::Temperature;
use crate::vocabulary::Dopant;

/// A limit with its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Concentration per cm3.
    pub concentration_cm3: f64,
    /// Where it was published.
    pub source: &'static str,
}

/// Returns the largest electrically active concentration in equilibrium per cm3; `None` for
/// indium, gallium and aluminum, for which no Arrhenius form is at hand.
///
/// # Model
/// `A exp(-E/kT)`.
///
/// # Source
/// Boron: S. Solmi, E. Landi, F. Baruffaldi, J. Appl. Phys. 68, 3250, 1990 (memory, 25 %).
/// Phosphorus: S. Solmi et al., 1996 (memory, 30 %). Arsenic: D. Nobili, S. Solmi et al., 1983
/// to 1994 (memory, 25 %). Antimony: D. Nobili et al., 1989 (memory, 40 %).
///
/// # Validity
/// 800 to 1150 C.
#[must_use]
pub fn active_limit(dopant: Dopant, temperature: Temperature) -> Option<Limit> {
    let (prefactor, energy_ev, source) = active_law(dopant)?;
    let concentration_cm3 = prefactor * exp(-energy_ev / temperature.to_kt_ev());
    Some(Limit { concentration_cm3, source })
}

/// Prefactor per cm3, energy in eV and source of [`active_limit`].
pub(super) const fn active_law(dopant: Dopant) -> Option<(f64, f64, &'static str)> {
    Some(match dopant {
        Dopant::Boron => (9.25e22, 0.73, "Solmi et al., J. Appl. Phys. 68, 3250, 1990"),
        Dopant::Phosphorus => (1.8e22, 0.40, "Solmi et al., 1996"),
        Dopant::Arsenic => (2.2e22, 0.47, "Nobili, Solmi et al., 1983-1994"),
        Dopant::Antimony => (3.81e21, 0.56, "Nobili et al., 1989"),
        Dopant::Indium | Dopant::Gallium | Dopant::Aluminum => return None,
    })
}

const MAXIMUM: &str =
    "largest solubility at any temperature: Trumbore, Bell Syst. Tech. J. 39, 205, 1960";

/// Returns the chemical solubility per cm3; `None` for indium.
///
/// # Model
/// A straight line of `ln C` against `1/T` through the points of the solubility figure, capped
/// at the retrograde maximum. Of gallium and aluminum only the maximum is at hand: it stands for
/// every temperature, as an upper limit.
///
/// # Source
/// Points: solubility figure as printed in R. C. Jaeger, Introduction to Microelectronic
/// Fabrication, fig. 4.6 (memory, 30 %); maxima: F. A. Trumbore, Bell Syst. Tech. J. 39, 205,
/// 1960 (memory, 30 %).
///
/// # Validity
/// 900 to 1200 C.
#[must_use]
pub fn solubility(dopant: Dopant, temperature: Temperature) -> Option<Limit> {
    let (points, maximum) = solubility_points(dopant)?;
    if points.is_empty() {
        return Some(Limit { concentration_cm3: maximum, source: MAXIMUM });
    }
    let per_k = |celsius: f64| 1.0 / Temperature::celsius(celsius).to_kelvin();
    let here = 1.0 / temperature.to_kelvin();
    let last_pair = points.len() - 2;
    let pair =
        (0..last_pair).find(|&i| per_k(points[i + 1].0) <= here).unwrap_or(last_pair);
    let ((t0, c0), (t1, c1)) = (points[pair], points[pair + 1]);
    let share = (here - per_k(t0)) / (per_k(t1) - per_k(t0));
    let concentration_cm3 = exp(ln(c0) + share * (ln(c1) - ln(c0))).min(maximum);
    Some(Limit {
        concentration_cm3,
        source: "solubility figure in Jaeger, Introduction to Microelectronic Fabrication; maxima of Trumbore, Bell Syst. Tech. J. 39, 205, 1960",
    })
}

/// Points (C, per cm3) and retrograde maximum of [`solubility`]; no points where only the
/// maximum is known.
pub(super) const fn solubility_points(
    dopant: Dopant,
) -> Option<(&'static [(f64, f64)], f64)> {
    Some(match dopant {
        Dopant::Boron => (&[(900.0, 1.1e20), (1000.0, 2e20), (1100.0, 3.3e20)], 6e20),
        Dopant::Phosphorus => {
            (&[(900.0, 6e20), (1000.0, 1e21), (1100.0, 1.2e21)], 1.3e21)
        }
        Dopant::Arsenic => (&[(1000.0, 1.5e21), (1100.0, 1.8e21)], 1.8e21),
        Dopant::Antimony => (&[(1000.0, 3e19), (1100.0, 5e19)], 7e19),
        Dopant::Gallium => (&[], 4e19),
        Dopant::Aluminum => (&[], 2e19),
        Dopant::Indium => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_those_of_the_tables() {
        let at = |dopant, celsius| {
            active_limit(dopant, Temperature::celsius(celsius)).unwrap().concentration_cm3
        };
        for (dopant, celsius, expected) in [
            (Dopant::Boron, 900.0, 6.8e19),
            (Dopant::Boron, 1000.0, 1.2e20),
            (Dopant::Phosphorus, 1000.0, 4.7e20),
            (Dopant::Arsenic, 1000.0, 3.0e20),
            (Dopant::Antimony, 1000.0, 2.3e19),
        ] {
            assert!((at(dopant, celsius) / expected - 1.0).abs() < 0.03);
        }
        let dissolved = |dopant, celsius| {
            solubility(dopant, Temperature::celsius(celsius)).unwrap().concentration_cm3
        };
        assert!((dissolved(Dopant::Boron, 1000.0) / 2e20 - 1.0).abs() < 1e-12);
        assert!((dissolved(Dopant::Boron, 900.0) / 1.1e20 - 1.0).abs() < 1e-12);
        assert!((dissolved(Dopant::Arsenic, 1200.0) / 1.8e21 - 1.0).abs() < 1e-12);
        let between = dissolved(Dopant::Boron, 950.0);
        assert!((1.4e20..1.6e20).contains(&between));
    }
}
