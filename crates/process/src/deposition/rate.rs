//! The growth rate of a recipe against temperature and pressure.

use super::recipe::Recipe;
use crate::constants::BOLTZMANN_EV_K;
use crate::num::{exp, pow};
use crate::units::Temperature;

/// How fast a film grows at given settings, and how well that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rate {
    pub(super) nm_min: f64,
    /// The ends of all published energies and of the spread between tools.
    pub(super) low_nm_min: f64,
    pub(super) high_nm_min: f64,
    pub(super) pressure_factor: f64,
}

/// Where a rate is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Conditions {
    pub(super) temperature_c: f64,
    pub(super) activation_ev: f64,
    pub(super) pressure_pa: Option<f64>,
    /// Change of the rate by a dopant gas.
    pub(super) doping_factor: f64,
}

/// `exp[-(E/k)(1/T - 1/T0)]`.
pub(super) fn thermal_factor(
    activation_ev: f64,
    temperature_c: f64,
    reference_c: f64,
) -> f64 {
    let (t, t0) =
        (Temperature::celsius(temperature_c), Temperature::celsius(reference_c));
    exp(-activation_ev / BOLTZMANN_EV_K * (1.0 / t.to_kelvin() - 1.0 / t0.to_kelvin()))
}

impl Recipe {
    /// Growth rate.
    ///
    /// # Model
    /// `R = R0 (P/P0)^m exp[-(E/k)(1/T - 1/T0)]`: the surface reaction limits. The supply of
    /// gas, which takes over when the tube is too hot, is neglected.
    pub(super) fn rate(&self, at: &Conditions) -> Rate {
        let pressure_factor = match (self.pressure, at.pressure_pa) {
            (Some((reference_pa, order)), Some(pressure_pa)) => {
                pow(pressure_pa / reference_pa, order)
            }
            _ => 1.0,
        };
        let others = pressure_factor * at.doping_factor;
        let factor =
            |energy_ev| thermal_factor(energy_ev, at.temperature_c, self.reference_c);
        let own = factor(at.activation_ev);
        let (a, b) = (factor(self.activation_spread.0), factor(self.activation_spread.1));
        let (low, high) = (own.min(a).min(b), own.max(a).max(b));
        Rate {
            nm_min: self.rate_nm_min * own * others,
            low_nm_min: self.rate_spread.0 * low * others,
            high_nm_min: self.rate_spread.1 * high * others,
            pressure_factor,
        }
    }
}
