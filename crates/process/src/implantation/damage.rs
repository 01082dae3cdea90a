//! Damage of the crystal: from which dose on, and how deep, it turns amorphous.

use super::calculation::Calculation;
use super::ranges::silicon_extras;
use crate::vocabulary::{Ion, Material};

/// Energy given to nuclei per volume that turns silicon amorphous at room temperature, in
/// eV/cm3: 12 eV per atom (F. F. Morehead, B. L. Crowder, Radiat. Eff. 6, 27, 1970, type of
/// criterion; memory; within a factor 2).
pub(super) const AMORPHIZING_EV_CM3: f64 = 6e23;

/// Dose from which on silicon turns amorphous at room temperature, per cm2 (F. F. Morehead,
/// B. L. Crowder, Radiat. Eff. 6, 27, 1970, type of criterion; memory; within a factor 3).
pub(super) const fn amorphizing_dose_cm2(ion: Ion) -> f64 {
    match ion {
        Ion::Boron => 8e16,
        Ion::Phosphorus => 6e14,
        Ion::Arsenic => 2e14,
        Ion::Antimony => 1e14,
        Ion::Bf2 => 1e15,
    }
}

/// The damage of one implantation.
#[derive(Clone, Copy, Debug)]
pub(super) struct Damage {
    /// Energy given to nuclei per dopant atom, in eV.
    pub(super) nuclear_ev: f64,
    /// Concentration above which the crystal is amorphous, per cm3.
    pub(super) critical_cm3: f64,
    /// Depth in nm down to which it is; `None` if it is not.
    pub(super) amorphous_depth_nm: Option<f64>,
}

/// Estimates the damage; `None` for a target that is no crystal.
///
/// # Model
/// The energy given to nuclei is spread over depth as the ions are: the crystal is amorphous
/// where `C E f_n > 6e23 eV/cm3`, provided the dose is above the amorphizing dose (light ions
/// heal their own damage). `f_n` is the share of the energy that a binary-collision calculation
/// gives to nuclei. With layers above, the energy they take is not subtracted. For BF2 the whole
/// molecule's energy counts, with boron's share (model choice).
pub(super) fn estimate(calculation: &Calculation) -> Option<Damage> {
    let settings = &calculation.settings;
    if settings.target != Material::Silicon {
        return None;
    }
    let extras = silicon_extras(settings.species, calculation.atom_energy_kev);
    let nuclear_ev = 1e3 * settings.energy_kev * extras.nuclear_share;
    let critical_cm3 = AMORPHIZING_EV_CM3 / nuclear_ev;
    let retained_cm2 = settings.dose_cm2 * calculation.target().stopped;
    let amorphous_depth_nm = if amorphizing_dose_cm2(settings.ion) <= retained_cm2 {
        calculation.crossings_nm(critical_cm3).last().copied()
    } else {
        None
    };
    Some(Damage { nuclear_ev, critical_cm3, amorphous_depth_nm })
}
