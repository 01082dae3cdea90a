//! What heat does to a resist film: solvent leaves, the sensitizer decays.

use crate::constants::BOLTZMANN_EV_K;
use crate::num;
use crate::units::Temperature;

/// Solvent in a spun film as a volume fraction (model choice, as at the end of the spin).
pub const START_SOLVENT: f64 = 0.15;

/// Solvent that no bake drives out as a volume fraction (model choice).
pub const LEAST_SOLVENT: f64 = 0.04;

/// Time constant of drying at 100 C in s (model choice).
pub const DRYING_S: f64 = 15.0;

/// Activation energy of drying in eV (model choice).
pub const DRYING_EV: f64 = 0.5;

/// Decay rate of the sensitizer at 120 C per s (model choice).
pub const DECAY_PER_S: f64 = 1e-3;

/// Activation energy of its decay in eV (model choice).
pub const DECAY_EV: f64 = 1.3;

/// `exp(-Ea/k (1/T - 1/T0))`.
fn speed_up(energy_ev: f64, temperature: Temperature, reference_c: f64) -> f64 {
    let reference_k = Temperature::celsius(reference_c).to_kelvin();
    num::exp(
        -energy_ev / BOLTZMANN_EV_K * (1.0 / temperature.to_kelvin() - 1.0 / reference_k),
    )
}

/// Time constant of drying in s.
#[must_use]
pub fn drying_constant_s(temperature: Temperature) -> f64 {
    DRYING_S / speed_up(DRYING_EV, temperature, 100.0)
}

/// Solvent left after a bake as a volume fraction: `phi = phi_inf + (phi_0 - phi_inf) e^(-t/tau)`.
#[must_use]
pub fn solvent_left(start: f64, temperature: Temperature, time_s: f64) -> f64 {
    let left = num::exp(-time_s / drying_constant_s(temperature));
    LEAST_SOLVENT + (start - LEAST_SOLVENT) * left
}

/// Time in s until a film that starts with more holds only so much solvent; the target lies
/// above [`LEAST_SOLVENT`].
#[must_use]
pub fn drying_time_s(temperature: Temperature, start: f64, target: f64) -> f64 {
    let ratio = (start - LEAST_SOLVENT) / (target - LEAST_SOLVENT);
    drying_constant_s(temperature) * num::ln(ratio)
}

/// Thickness after the solvent fraction fell from `start` to `end`: the solids stay.
#[must_use]
pub fn shrunk(thickness_nm: f64, start: f64, end: f64) -> f64 {
    thickness_nm * (1.0 - start) / (1.0 - end)
}

/// Share of the sensitizer that a bake leaves.
#[must_use]
pub fn sensitizer_left(temperature: Temperature, time_s: f64) -> f64 {
    num::exp(-DECAY_PER_S * speed_up(DECAY_EV, temperature, 120.0) * time_s)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_and_solvent_are_each_other_s_inverse() {
        let hot = Temperature::celsius(95.0);
        let time_s = drying_time_s(hot, START_SOLVENT, 0.05);
        assert!((solvent_left(START_SOLVENT, hot, time_s) - 0.05).abs() < 1e-12);
        // A long bake shrinks a spun film by 11.46 %.
        let thin = shrunk(1000.0, START_SOLVENT, solvent_left(START_SOLVENT, hot, 1e5));
        assert!((thin - 885.4).abs() < 0.1, "{thin}");
    }
}
