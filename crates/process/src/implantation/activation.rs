//! What a furnace makes of the implanted atoms: how many become electrically active.

use super::calculation::Calculation;
use super::results::{Activation, DamageProfile};
use crate::diffusion::solubility::active_limit;
use crate::diffusion::solver::active_part;
use crate::num::{exp, linspace, log10};
use crate::units::Temperature;
use crate::vocabulary::Material;

/// Time in the furnace in min that the rule is about.
const FURNACE_MIN: f64 = 30.0;

/// Points over depth.
const POINTS: usize = 121;

/// The active share over the furnace's temperature; `None` outside silicon and for indium, for
/// which no active limit is at hand.
///
/// # Model
/// Three limits. (1) Where the crystal was left, boron after 30 min follows
/// `f = 1/(1 + exp(-(T - Th)/60))`, `Th = 500 + 100 clamp(log10(Q/1e13), 0, 3)` C (model choice
/// after T. E. Seidel, A. U. `MacRae`, 1971; memory, 0.15); other dopants count as boron (model
/// choice). (2) An amorphous layer grows back from its lower face (and its upper one, if it is
/// buried) and takes its dopant in. (3) What is in the crystal is active up to the active limit
/// of the temperature, and softly beyond. The profile is the one just implanted: an anneal that
/// spreads it activates more.
pub(super) fn of(
    calculation: &Calculation,
    damage: Option<&DamageProfile>,
) -> Option<Activation> {
    let settings = &calculation.settings;
    if settings.target != Material::Silicon {
        return None;
    }
    let dopant = settings.species.dopant();
    active_limit(dopant, Temperature::celsius(1000.0))?;
    let dose_cm2 = settings.dose_cm2 * calculation.target().stopped;
    let (peak_cm3, _) = calculation.peak();
    let depths_nm = linspace(0.0, calculation.reach_nm(1e-4 * peak_cm3), POINTS);
    let values: Vec<f64> =
        depths_nm.iter().map(|&nm| calculation.in_target_cm3(nm)).collect();
    let amorphous = damage.and_then(|d| Some([d.amorphous_from_nm?, d.amorphous_to_nm?]));
    let temperature_c = linspace(500.0, 1100.0, 13);
    let active_fraction = temperature_c
        .iter()
        .map(|&celsius| {
            let temperature = Temperature::celsius(celsius);
            let limit =
                active_limit(dopant, temperature).map(|found| found.concentration_cm3);
            let healed = furnace_fraction(celsius, dose_cm2);
            let grown_nm = regrowth_nm_min(temperature) * FURNACE_MIN;
            let (mut all, mut active) = (0.0, 0.0);
            for (&depth_nm, &cm3) in depths_nm.iter().zip(&values) {
                all += cm3;
                let share = match amorphous {
                    Some([from_nm, to_nm])
                        if from_nm <= depth_nm && depth_nm <= to_nm =>
                    {
                        let from_below = to_nm - depth_nm <= grown_nm;
                        let from_above = 0.0 < from_nm && depth_nm - from_nm <= grown_nm;
                        if from_below || from_above { 1.0 } else { 0.0 }
                    }
                    _ => healed,
                };
                active += share * active_part(cm3, limit).0;
            }
            if 0.0 < all { active / all } else { 0.0 }
        })
        .collect();
    let regrowth_600c_min = amorphous.map(|[from_nm, to_nm]| {
        let faces = if 0.0 < from_nm { 2.0 } else { 1.0 };
        (to_nm - from_nm) / (faces * regrowth_nm_min(Temperature::celsius(600.0)))
    });
    Some(Activation {
        time_min: FURNACE_MIN,
        temperature_c,
        active_fraction,
        regrowth_600c_min,
    })
}

/// Share of boron that is active after 30 min at a temperature in C in a crystal that was not
/// amorphous (model choice after T. E. Seidel, A. U. `MacRae`, 1971; memory, 0.15).
pub(super) fn furnace_fraction(celsius: f64, dose_cm2: f64) -> f64 {
    let half_c = 500.0 + 100.0 * log10(dose_cm2.max(1.0) / 1e13).clamp(0.0, 3.0);
    1.0 / (1.0 + exp(-(celsius - half_c) / 60.0))
}

/// Speed in nm/min at which amorphous silicon grows back on a <100> crystal:
/// `3.1e8 exp(-2.68/kT)` cm/s (G. L. Olson, J. A. Roth, Mater. Sci. Rep. 3, 1, 1988; memory;
/// within a factor 1.5; <111> is about 25 times slower, heavy doping 2 to 10 times faster).
pub(super) fn regrowth_nm_min(temperature: Temperature) -> f64 {
    let cm_s = 3.1e8 * exp(-2.68 / temperature.to_kt_ev());
    1e7 * 60.0 * cm_s
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regrowth_is_as_fast_as_measured() {
        // 7 nm/min at 550 C, 62 nm/min at 600 C.
        assert!((regrowth_nm_min(Temperature::celsius(550.0)) / 7.2 - 1.0).abs() < 0.02);
        assert!((regrowth_nm_min(Temperature::celsius(600.0)) / 62.0 - 1.0).abs() < 0.05);
    }

    #[test]
    fn high_doses_need_higher_temperatures() {
        assert!((furnace_fraction(500.0, 1e12) - 0.5).abs() < 1e-12);
        assert!((furnace_fraction(800.0, 1e16) - 0.5).abs() < 1e-12);
        assert!(0.9 < furnace_fraction(950.0, 1e15));
        assert!(furnace_fraction(600.0, 1e15) < furnace_fraction(600.0, 1e14));
    }
}
