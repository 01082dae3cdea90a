//! What speeds oxidation up or slows it down: heavy doping, chlorine, pressure.

use crate::num;
use crate::units::Temperature;
use crate::vocabulary::{Ambient, Dopant, DopingType};

/// Electrically active dopant at the silicon surface during oxidation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurfaceDoping {
    /// Which dopant.
    pub dopant: Dopant,
    /// Concentration per cm3.
    pub concentration_cm3: f64,
}

/// Above this concentration (per cm3) the vacancy model is not carried on (model choice: the
/// active concentrations of C. P. Ho and J. D. Plummer (1979) end there).
pub const DOPING_LIMIT_CM3: f64 = 3e20;

/// The source shown beside the enhancement by doping.
pub(super) const DOPING_SOURCE: &str =
    "C. P. Ho, J. D. Plummer, J. Electrochem. Soc. 126, 1516 and 1523 (1979)";

/// The enhancement of the linear constant by heavy doping, with its intermediate values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DopingEnhancement {
    /// Weight of the vacancies in the reaction (dimensionless).
    pub gamma: f64,
    /// Band gap at the furnace temperature in eV.
    pub gap_ev: f64,
    /// Intrinsic level above the valence band in eV.
    pub middle_ev: f64,
    /// Positive vacancies over neutral ones in intrinsic silicon (C+).
    pub plus: f64,
    /// Negative vacancies over neutral ones in intrinsic silicon (C-).
    pub minus: f64,
    /// Doubly negative vacancies over neutral ones in intrinsic silicon (C=).
    pub double_minus: f64,
    /// Intrinsic carriers at the furnace temperature per cm3.
    pub intrinsic_cm3: f64,
    /// Electrons over intrinsic carriers.
    pub electron_ratio: f64,
    /// Vacancies over those of lightly doped silicon.
    pub vacancy_ratio: f64,
    /// Factor on B/A, at least 1.
    pub factor: f64,
}

/// The factor by which heavy doping multiplies B/A.
///
/// # Model
/// `1 + gamma (Cv - 1)`, `gamma = 2.62e3 exp(-1.10/kT)`; Cv is the vacancy concentration over
/// that of lightly doped silicon, from the charge states `+`, `-`, `=` with levels 0.35 eV above
/// the valence band, 0.57 and 0.11 eV below the conduction band.
///
/// # Source
/// C. P. Ho, J. D. Plummer, J. Electrochem. Soc. 126, 1516 and 1523 (1979) (memory).
///
/// # Validity
/// Concentrations are cut at 3e20 per cm3 and factors below 1 are set to 1 (model choice). B is
/// left unchanged: the published term for it gives implausible factors below 1000 C. The
/// increment is good to about 50 %.
#[must_use]
pub fn doping_enhancement(
    doping: SurfaceDoping,
    temperature: Temperature,
) -> DopingEnhancement {
    let (kt_ev, t_k) = (temperature.to_kt_ev(), temperature.to_kelvin());
    // Gap and intrinsic carriers of silicon at furnace temperature: F. J. Morin, J. P. Maita,
    // Phys. Rev. 96, 28 (1954) and the gap of Y. P. Varshni, Physica 34, 149 (1967) (memory).
    let gap_ev = 1.17 - 4.73e-4 * t_k * t_k / (t_k + 636.0);
    let middle_ev = 0.5 * gap_ev - 0.25 * kt_ev;
    let intrinsic_cm3 = 3.87e16 * t_k * t_k.sqrt() * num::exp(-0.605 / kt_ev);
    let half_cm3 = 0.5 * doping.concentration_cm3.min(DOPING_LIMIT_CM3);
    let majority_cm3 =
        half_cm3 + (half_cm3 * half_cm3 + intrinsic_cm3 * intrinsic_cm3).sqrt();
    let electron_ratio = match doping.dopant.doping_type() {
        DopingType::N => majority_cm3 / intrinsic_cm3,
        DopingType::P => intrinsic_cm3 / majority_cm3,
    };
    let (minus_ev, double_minus_ev) = (gap_ev - 0.57, gap_ev - 0.11);
    let plus = num::exp((0.35 - middle_ev) / kt_ev);
    let minus = num::exp((middle_ev - minus_ev) / kt_ev);
    let double_minus = num::exp((2.0 * middle_ev - minus_ev - double_minus_ev) / kt_ev);
    let vacancy_ratio = (1.0
        + plus / electron_ratio
        + minus * electron_ratio
        + double_minus * electron_ratio * electron_ratio)
        / (1.0 + plus + minus + double_minus);
    let gamma = 2.62e3 * num::exp(-1.10 / kt_ev);
    let factor = (1.0 + gamma * (vacancy_ratio - 1.0)).max(1.0);
    DopingEnhancement {
        gamma,
        gap_ev,
        middle_ev,
        plus,
        minus,
        double_minus,
        intrinsic_cm3,
        electron_ratio,
        vacancy_ratio,
        factor,
    }
}

/// Above this share of hydrogen chloride (percent of the gas) its effect stays constant.
pub(super) const HCL_SATURATION_PERCENT: f64 = 3.0;

/// The source shown beside the effect of hydrogen chloride.
pub(super) const HCL_SOURCE: &str =
    "trend of D. W. Hess, B. E. Deal, J. Electrochem. Soc. 124, 735 (1977), simplified";

/// Factors on B and B/A by hydrogen chloride in dry oxygen.
///
/// # Source
/// D. W. Hess, B. E. Deal, J. Electrochem. Soc. 124, 735 (1977) (memory, trend only): 1 to 5 %
/// thicken the oxide by 10 to 30 % at 900 to 1100 C. The straight lines are ours (model
/// choice); the increment is good to about 50 %.
#[must_use]
pub fn hcl_factors(hcl_percent: f64) -> (f64, f64) {
    let share = hcl_percent.clamp(0.0, HCL_SATURATION_PERCENT);
    (1.0 + 0.08 * share, 1.0 + 0.10 * share)
}

/// The source shown beside the effect of pressure.
pub(super) const PRESSURE_SOURCE: &str = "L. N. Lie, R. R. Razouk, B. E. Deal, J. Electrochem. Soc. 129, 2828 (1982) (dry); R. R. Razouk, L. N. Lie, B. E. Deal, J. Electrochem. Soc. 128, 2214 (1981) (steam)";

/// Exponent of the oxidant's pressure in B/A.
///
/// # Source
/// Steam: 1 (R. R. Razouk, L. N. Lie, B. E. Deal, J. Electrochem. Soc. 128, 2214 (1981);
/// memory). Dry: 0.7 to 0.8 (L. N. Lie, R. R. Razouk, B. E. Deal, J. Electrochem. Soc. 129, 2828
/// (1982); memory), 1 at 1200 C in diluted oxygen (D. W. Hess, B. E. Deal, J. Electrochem. Soc.
/// 122, 579 (1975); read: abstract). 0.75 up to 1100 C, 1 from 1200 C, a straight line between
/// (model choice).
#[must_use]
pub fn linear_pressure_exponent(ambient: Ambient, temperature: Temperature) -> f64 {
    match ambient {
        Ambient::Dry => {
            0.75 + 0.25 * ((temperature.to_celsius() - 1100.0) / 100.0).clamp(0.0, 1.0)
        }
        Ambient::Inert | Ambient::Wet | Ambient::Steam => 1.0,
    }
}

/// Exponent of the oxygen pressure in the extra rate of thin dry oxide (model choice, taken as
/// that of B/A below 1100 C).
pub(super) const THIN_PRESSURE_EXPONENT: f64 = 0.75;

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(dopant: Dopant, concentration_cm3: f64, at_c: f64, expected: f64) {
        let doping = SurfaceDoping { dopant, concentration_cm3 };
        let factor = doping_enhancement(doping, Temperature::celsius(at_c)).factor;
        assert!(
            (factor / expected - 1.0).abs() < 0.03,
            "{dopant:?} {concentration_cm3:e} {at_c}: {factor}"
        );
    }

    #[test]
    fn heavy_doping_speeds_the_reaction_up() {
        // Computed apart from this code with the same constants.
        check(Dopant::Phosphorus, 1e19, 800.0, 1.06);
        check(Dopant::Phosphorus, 1e20, 800.0, 2.4);
        check(Dopant::Arsenic, 1e20, 900.0, 2.7);
        check(Dopant::Phosphorus, 1e20, 1000.0, 3.0);
        check(Dopant::Phosphorus, 3e20, 1100.0, 14.0);
        check(Dopant::Boron, 1e20, 1000.0, 1.15);
        check(Dopant::Boron, 3e20, 1000.0, 1.6);
    }

    #[test]
    fn light_doping_changes_nothing_and_the_factor_never_falls_below_one() {
        check(Dopant::Phosphorus, 1e15, 1000.0, 1.0);
        // The formula alone would give 0.98 here.
        check(Dopant::Boron, 1e19, 1000.0, 1.0);
        let doping = SurfaceDoping { dopant: Dopant::Boron, concentration_cm3: 1e19 };
        assert!(1.0 <= doping_enhancement(doping, Temperature::celsius(1000.0)).factor);
    }

    #[test]
    fn the_pressure_exponent_of_dry_oxygen_rises_to_one() {
        let at = |c| linear_pressure_exponent(Ambient::Dry, Temperature::celsius(c));
        for (c, expected) in
            [(900.0, 0.75), (1100.0, 0.75), (1150.0, 0.875), (1200.0, 1.0)]
        {
            assert!((at(c) - expected).abs() < 1e-9);
        }
    }
}
