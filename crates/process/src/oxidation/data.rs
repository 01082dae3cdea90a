//! Rate constants of oxidation, each with its source.

use crate::num;
use crate::vocabulary::{Ambient, Orientation, WetParameterSet};

/// A rate constant that follows Arrhenius's law: `prefactor exp(-energy / kT)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrhenius {
    /// Value at infinite temperature, in the unit of the constant.
    pub prefactor: f64,
    /// Activation energy in eV.
    pub energy_ev: f64,
}

impl Arrhenius {
    const fn new(prefactor: f64, energy_ev: f64) -> Self {
        Self { prefactor, energy_ev }
    }

    /// The value at a thermal energy kT in eV.
    #[must_use]
    pub fn at(self, kt_ev: f64) -> f64 {
        self.prefactor * num::exp(-self.energy_ev / kt_ev)
    }
}

/// A rate constant and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct SourcedRate {
    /// The constant.
    pub(super) rate: Arrhenius,
    /// Author, publication, year.
    pub(super) source: &'static str,
}

/// (B/A) of <111> over (B/A) of <100>.
///
/// J. D. Plummer, M. D. Deal, P. B. Griffin, Silicon VLSI Technology (2000) (memory).
pub(super) const FACE_111_OVER_100: f64 = 1.68;

/// (B/A) of <110> over (B/A) of <100>.
///
/// J. D. Plummer, M. D. Deal, P. B. Griffin, Silicon VLSI Technology (2000) (memory); measured
/// values run from 1.2 to 1.6 with ambient and temperature.
pub(super) const FACE_110_OVER_100: f64 = 1.45;

/// (B/A) of polysilicon over (B/A) of <100>: the mean of <100> and <111>.
///
/// T. I. Kamins, Polycrystalline Silicon for Integrated Circuits (1988) (memory); undoped thick
/// wet oxide on polysilicon lies within 10 to 15 % of it (common practice).
pub(super) const POLYSILICON_OVER_100: f64 = 1.34;

/// Oxide that a bare wafer carries when it enters the furnace, in um (common practice: 0.5 to
/// 1.5 nm grow in air).
pub const NATIVE_OXIDE_UM: f64 = 0.001;

/// Effective start of the linear-parabolic law in dry oxygen on bare silicon, in um.
///
/// B. E. Deal, A. S. Grove, J. Appl. Phys. 36, 3770 (1965) (memory; 250 A read in a university
/// course solution for dry <100>, 1060 C). Not real oxide: it stands for the fast first stage.
pub const DRY_EFFECTIVE_START_UM: f64 = 0.025;

/// The source shown beside the linear-parabolic law.
pub(super) const DEAL_GROVE_SOURCE: &str =
    "B. E. Deal, A. S. Grove, J. Appl. Phys. 36, 3770 (1965)";

const DEAL_1988: &str = "B. E. Deal (1988), as tabulated in J. D. Plummer, M. D. Deal, P. B. Griffin, Silicon VLSI Technology (2000), table 6-2";
const DEAL_1978: &str = "B. E. Deal, J. Electrochem. Soc. 125, 576 (1978)";

/// Below this temperature (C) steam follows its low-temperature branch of B.
///
/// B. E. Deal, J. Electrochem. Soc. 125, 576 (1978) (memory); the branches meet within 0.5 %.
pub(super) const STEAM_PARABOLIC_BREAK_C: f64 = 950.0;

/// Below this temperature (C) steam follows its low-temperature branch of B/A (same source).
pub(super) const STEAM_LINEAR_BREAK_C: f64 = 900.0;

/// Parabolic constant B in um2/h at 1 atm; `None` in an inert gas.
///
/// # Source
/// `dry`, `wet`: B. E. Deal (1988) as tabulated by Plummer, Deal and Griffin (2000), table 6-2
/// (read: a course question that quotes the table; memory for the book). The wet default is the
/// row for water vapor, since Deal and Grove's own wet data agree with it: 1.27 um/h at 1000 C
/// against 1.25 from this row and 0.69 from the row for wet oxygen. `steam`: B. E. Deal, J.
/// Electrochem. Soc. 125, 576 (1978) (memory).
#[must_use]
pub(super) fn parabolic(
    ambient: Ambient,
    set: WetParameterSet,
    temperature_c: f64,
) -> Option<SourcedRate> {
    let (prefactor, energy_ev, source) = match ambient {
        Ambient::Inert => return None,
        Ambient::Dry => (7.72e2, 1.23, DEAL_1988),
        Ambient::Wet => match set {
            WetParameterSet::Deal1988Steam => (3.86e2, 0.78, DEAL_1988),
            WetParameterSet::Wet1988 => (2.14e2, 0.71, DEAL_1988),
        },
        Ambient::Steam if temperature_c < STEAM_PARABOLIC_BREAK_C => {
            (1.69e4, 1.17, DEAL_1978)
        }
        Ambient::Steam => (4.20e2, 0.78, DEAL_1978),
    };
    Some(SourcedRate { rate: Arrhenius::new(prefactor, energy_ev), source })
}

/// Linear constant B/A of <100> in um/h at 1 atm; `None` in an inert gas.
///
/// # Source
/// As [`parabolic`]. The prefactors of <100> in dry and wet oxygen: R. C. Jaeger, Introduction
/// to Microelectronic Fabrication, table 3.1 (memory; confirmed through solved problems).
#[must_use]
pub(super) fn linear_100(
    ambient: Ambient,
    set: WetParameterSet,
    temperature_c: f64,
) -> Option<SourcedRate> {
    let (prefactor, energy_ev, source) = match ambient {
        Ambient::Inert => return None,
        Ambient::Dry => (3.71e6, 2.00, DEAL_1988),
        Ambient::Wet => match set {
            WetParameterSet::Deal1988Steam => (9.70e7, 2.05, DEAL_1988),
            WetParameterSet::Wet1988 => (8.95e7 / FACE_111_OVER_100, 2.05, DEAL_1988),
        },
        Ambient::Steam if temperature_c < STEAM_LINEAR_BREAK_C => {
            (2.07e6 / FACE_111_OVER_100, 1.60, DEAL_1978)
        }
        Ambient::Steam => (1.77e8 / FACE_111_OVER_100, 2.05, DEAL_1978),
    };
    Some(SourcedRate { rate: Arrhenius::new(prefactor, energy_ev), source })
}

/// Linear constant B/A of <111> in um/h where the source tabulates it by itself.
#[must_use]
pub(super) fn linear_111(
    ambient: Ambient,
    set: WetParameterSet,
    temperature_c: f64,
) -> Option<SourcedRate> {
    let mut row = linear_100(ambient, set, temperature_c)?;
    row.rate.prefactor = match (ambient, set) {
        (Ambient::Dry, _) => 6.23e6,
        (Ambient::Wet, WetParameterSet::Deal1988Steam) => 1.63e8,
        _ => row.rate.prefactor * FACE_111_OVER_100,
    };
    Some(row)
}

/// The constants of thin dry oxide on one face.
///
/// H. Z. Massoud, J. D. Plummer, E. A. Irene, J. Electrochem. Soc. 132, 2685 and 2693 (1985),
/// 800 to 1000 C, dry oxygen, lightly doped (memory for all numbers).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ThinOxide {
    /// Extra rate at zero thickness in um/h.
    pub(super) extra_um_h: Arrhenius,
    /// Length over which it fades in um.
    pub(super) decay_um: f64,
    /// Their own parabolic constant below 1000 C in um2/h.
    pub(super) parabolic_below: Arrhenius,
    /// Their own linear constant below 1000 C in um/h.
    pub(super) linear_below: Arrhenius,
    /// The same from 1000 C up, where they give it.
    pub(super) above: Option<(Arrhenius, Arrhenius)>,
}

/// From this temperature (C) on the second set of [`ThinOxide`] holds.
pub(super) const MASSOUD_BREAK_C: f64 = 1000.0;

/// The source shown beside thin dry oxide.
pub(super) const MASSOUD_SOURCE: &str = "H. Z. Massoud, J. D. Plummer, E. A. Irene, J. Electrochem. Soc. 132, 2685 and 2693 (1985)";

/// nm2/min to um2/h.
const NM2_MIN_TO_UM2_H: f64 = 6e-5;
/// nm/min to um/h.
const NM_MIN_TO_UM_H: f64 = 0.06;

const fn massoud_parabolic(nm2_min: f64, energy_ev: f64) -> Arrhenius {
    Arrhenius::new(nm2_min * NM2_MIN_TO_UM2_H, energy_ev)
}

const fn massoud_linear(nm_min: f64, energy_ev: f64) -> Arrhenius {
    Arrhenius::new(nm_min * NM_MIN_TO_UM_H, energy_ev)
}

/// Thin dry oxide on one face of the crystal.
pub(super) const fn thin_oxide(orientation: Orientation) -> ThinOxide {
    match orientation {
        Orientation::Face100 => ThinOxide {
            extra_um_h: Arrhenius::new(3.94e8, 2.37),
            decay_um: 0.0069,
            parabolic_below: massoud_parabolic(1.70e11, 2.22),
            linear_below: massoud_linear(7.35e6, 1.76),
            above: Some((massoud_parabolic(1.31e5, 0.68), massoud_linear(3.53e12, 3.20))),
        },
        Orientation::Face111 => ThinOxide {
            extra_um_h: Arrhenius::new(3.52e8, 2.32),
            decay_um: 0.0078,
            parabolic_below: massoud_parabolic(1.34e9, 1.71),
            linear_below: massoud_linear(1.32e7, 1.74),
            above: Some((massoud_parabolic(2.56e5, 0.76), massoud_linear(6.50e11, 2.95))),
        },
        Orientation::Face110 => ThinOxide {
            extra_um_h: Arrhenius::new(3.22e6, 1.80),
            decay_um: 0.0060,
            parabolic_below: massoud_parabolic(3.73e8, 1.63),
            linear_below: massoud_linear(4.73e8, 2.10),
            above: None,
        },
    }
}

/// The extra rate of thin dry oxide for any face, in um/h, and its length in um.
///
/// J. D. Plummer, M. D. Deal, P. B. Griffin, Silicon VLSI Technology (2000), eq. 6.37 (memory).
pub(super) const ANY_FACE_EXTRA_UM_H: Arrhenius = Arrhenius::new(3.6e8, 2.35);
/// See [`ANY_FACE_EXTRA_UM_H`].
pub(super) const ANY_FACE_DECAY_UM: f64 = 0.007;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Temperature;

    #[track_caller]
    fn meets(value: fn(Ambient, WetParameterSet, f64) -> Option<SourcedRate>, at_c: f64) {
        let kt_ev = Temperature::celsius(at_c).to_kt_ev();
        let side = |c: f64| {
            value(Ambient::Steam, WetParameterSet::Deal1988Steam, c)
                .unwrap()
                .rate
                .at(kt_ev)
        };
        assert!((side(at_c - 0.01) / side(at_c + 0.01) - 1.0).abs() < 0.006);
    }

    #[test]
    fn the_two_branches_of_steam_meet() {
        meets(parabolic, STEAM_PARABOLIC_BREAK_C);
        meets(linear_100, STEAM_LINEAR_BREAK_C);
    }

    #[test]
    fn an_inert_gas_has_no_constants() {
        let set = WetParameterSet::Deal1988Steam;
        assert_eq!(parabolic(Ambient::Inert, set, 1000.0), None);
        assert_eq!(linear_111(Ambient::Inert, set, 1000.0), None);
    }
}
