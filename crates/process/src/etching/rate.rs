//! The etch rate at the reader's temperature and strength.

use super::bath::{Etchant, Law};
use super::film::Film;
use super::rate_table::{Basis, HF_STRENGTH, TableRate, table_rate};
use crate::num::{exp, ln, pow};
use crate::units::Temperature;
use crate::vocabulary::Material;

pub(super) const OXIDE_IN_HF: &str =
    "0.36 eV: range of published 6.5-9 kcal/mol for oxide in HF (memory)";
const PHOSPHORIC: &str =
    "W. van Gelder, V. E. Hauser, J. Electrochem. Soc. 114, 869 (1967) (memory)";
pub(super) const SEIDEL: &str = "H. Seidel et al., J. Electrochem. Soc. 137, 3612 (1990) (read: a cleanroom's KOH page)";
const SEIDEL_OXIDE: &str =
    "H. Seidel et al., J. Electrochem. Soc. 137, 3612 (1990) (memory)";
const DOUBLING: &str = "doubles per 10 °C (common practice, ±40 %)";

/// Activation energy of oxide in HF in eV: the middle of 6.5 to 9 kcal/mol (memory).
pub(super) const OXIDE_IN_HF_EV: f64 = 0.36;

/// Activation energy of silicon (100) in KOH in eV (Seidel 1990).
pub(super) const SILICON_KOH_EV: f64 = 0.595;

/// A bath as it is run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bath {
    /// Which bath.
    pub etchant: Etchant,
    /// Its temperature in C.
    pub temperature_c: f64,
    /// Its strength in percent where it can be chosen; none for the usual one.
    pub concentration_percent: Option<f64>,
}

/// A rate and how it came about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RateAt {
    /// Rate of the table, at its temperature and at the strength of this bath.
    pub table: TableRate,
    /// Temperature of the table in C.
    pub table_temperature_c: f64,
    /// Factor of the temperature.
    pub temperature_factor: f64,
    /// The law behind the factor.
    pub law: Law,
    /// Rate with its spread at this bath's temperature.
    pub here: TableRate,
}

impl Bath {
    /// A bath at its usual temperature and strength.
    #[must_use]
    pub fn usual(etchant: Etchant) -> Self {
        Self {
            etchant,
            temperature_c: etchant.table_temperature_c(),
            concentration_percent: etchant
                .concentration_bound()
                .and_then(|bound| bound.default),
        }
    }
}

/// The rate of a film in a bath; none if nothing is published or estimated for the pair.
#[must_use]
pub fn rate_at(bath: Bath, film: Film) -> Option<RateAt> {
    let etchant = bath.etchant;
    let table = match (etchant, film.material, bath.concentration_percent) {
        (Etchant::HfDilute, _, Some(percent)) => dilute_hf(percent, film)?,
        (Etchant::Koh30 | Etchant::Koh33, Material::Silicon, Some(percent)) => {
            let rate_nm_min =
                silicon_in_koh_nm_min(percent, etchant.table_temperature_c());
            // The spread of the tables about the law: 1000-1500 nm/min at 33 %.
            TableRate {
                rate_nm_min,
                low_nm_min: 0.75 * rate_nm_min,
                high_nm_min: 1.15 * rate_nm_min,
                basis: Basis::Measured,
                source: SEIDEL,
            }
        }
        (Etchant::Koh30 | Etchant::Koh33, _, Some(percent)) if film.is_oxide() => {
            table_rate(etchant, film)?.times(oxide_in_koh_factor(percent))
        }
        _ => table_rate(etchant, film)?,
    };
    let law = law(etchant, film);
    let temperature_factor = factor(law, etchant, bath.temperature_c);
    Some(RateAt {
        table,
        table_temperature_c: etchant.table_temperature_c(),
        temperature_factor,
        law,
        here: table.times(temperature_factor),
    })
}

/// Rate of silicon (100) in KOH in nm/min.
///
/// # Model
/// `R = 2480 [H2O]^4 [KOH]^(1/4) exp(-0.595 eV / kT)` in um/h, concentrations in mol/l.
///
/// # Source
/// H. Seidel et al., J. Electrochem. Soc. 137, 3612 (1990) (formula read: a cleanroom's KOH
/// page; valid for 10-60 % by weight).
///
/// # Example
/// ```
/// use barewafer_process::etching::silicon_in_koh_nm_min;
///
/// // 30 % at 80 C: about 81 um/h.
/// let rate_um_h = silicon_in_koh_nm_min(30.0, 80.0) * 60.0 / 1000.0;
/// assert!((80.0..83.0).contains(&rate_um_h));
/// ```
#[must_use]
pub fn silicon_in_koh_nm_min(weight_percent: f64, temperature_c: f64) -> f64 {
    let (koh_mol_l, water_mol_l) = koh_mol_l(weight_percent);
    let kt_ev = Temperature::celsius(temperature_c).to_kt_ev();
    let water2 = water_mol_l * water_mol_l;
    let rate_um_h =
        2480.0 * water2 * water2 * pow(koh_mol_l, 0.25) * exp(-SILICON_KOH_EV / kt_ev);
    rate_um_h * 1000.0 / 60.0
}

/// Boron at which a strong alkaline bath is half as fast, per cm3: from a factor of 20 at 1e20
/// in KOH (K. E. Petersen, Proc. IEEE 70, 420 (1982), memory; derived). In KOH of 10 % it is
/// about 3e19 (Seidel 1990, memory).
pub(super) const BORON_STOP_CM3: f64 = 4.8e19;

/// Rate of silicon with much boron over that of silicon with little.
///
/// # Model
/// `R / R0 = 1 / [1 + (C / C0)^4]`: the four electrons that one atom of silicon needs are lost
/// to the holes of the degenerate layer, and the rate falls with the fourth power of boron.
///
/// # Source
/// H. Seidel et al., J. Electrochem. Soc. 137, 3626 (1990) (memory); for KOH, borrowed for
/// TMAH.
#[must_use]
pub fn boron_stop_factor(boron_cm3: f64) -> f64 {
    let ratio = boron_cm3 / BORON_STOP_CM3;
    1.0 / (1.0 + ratio * ratio * ratio * ratio)
}

/// Moles of KOH and of water per liter of solution.
///
/// Densities at 20 C in g/ml (CRC Handbook of Chemistry and Physics, aqueous solutions;
/// memory): 10 % 1.090, 20 % 1.186, 30 % 1.288, 40 % 1.396, 50 % 1.511, 60 % 1.63.
fn koh_mol_l(weight_percent: f64) -> (f64, f64) {
    const DENSITY: [(f64, f64); 6] = [
        (10.0, 1.090),
        (20.0, 1.186),
        (30.0, 1.288),
        (40.0, 1.396),
        (50.0, 1.511),
        (60.0, 1.63),
    ];
    let density_g_ml = straight(&DENSITY, weight_percent);
    let part = weight_percent / 100.0;
    // Molar masses: KOH 56.11, H2O 18.015 g/mol.
    (part * density_g_ml * 1e3 / 56.11, (1.0 - part) * density_g_ml * 1e3 / 18.015)
}

/// Oxide in KOH against strength: proportional to KOH up to about 35 %, then level.
///
/// Seidel et al. (1990) (memory): rising up to 35 %, falling beyond; the fall is left out.
fn oxide_in_koh_factor(weight_percent: f64) -> f64 {
    koh_mol_l(weight_percent.min(35.0)).0 / koh_mol_l(33.0).0
}

/// HF of any strength: thermal oxide by log-log interpolation between measured strengths;
/// other films by their ratio to thermal oxide in the three baths of the table.
fn dilute_hf(percent: f64, film: Film) -> Option<TableRate> {
    let log = ln(percent);
    let anchors = HF_STRENGTH.map(|(v, rate)| (ln(v), ln(rate)));
    let thermal_nm_min = exp(straight(&anchors, log));
    let thermal = Film::usual(Material::ThermalOxide);
    let ratio_in = |etchant: Etchant| {
        let other = table_rate(etchant, film)?.rate_nm_min;
        Some(other / table_rate(etchant, thermal)?.rate_nm_min)
    };
    let ratios = [
        (ln(3.85), ratio_in(Etchant::Hf25)?),
        (ln(9.1), ratio_in(Etchant::Hf10)?),
        (ln(100.0), ratio_in(Etchant::Hf49)?),
    ];
    let (first, last) = (ratios[0].0, ratios[2].0);
    let ratio = straight(&ratios, log.clamp(first, last)).max(0.0);
    let cell = table_rate(Etchant::Hf10, film)?;
    // The two sources of the strength law differ by 1.4 times (see its table).
    let rate_nm_min = thermal_nm_min * ratio;
    Some(TableRate {
        rate_nm_min,
        low_nm_min: rate_nm_min / 1.4,
        high_nm_min: rate_nm_min * 1.4,
        basis: if film.material == Material::ThermalOxide {
            Basis::Measured
        } else {
            Basis::Estimated
        },
        source: if film.material == Material::ThermalOxide {
            "between strengths measured by K. R. Williams, R. S. Muller (1996) (memory) and W. R. Runyan, K. E. Bean, p. 265 (read)"
        } else if cell.rate_nm_min == 0.0 {
            cell.source
        } else {
            "thermal oxide at this strength times the ratio of the two films in HF (estimate)"
        },
    })
}

/// Straight lines between points of rising abscissa, and on beyond the ends.
fn straight(points: &[(f64, f64)], x: f64) -> f64 {
    let last = points.len().saturating_sub(1);
    let idx = points.partition_point(|&(at, _)| at <= x).clamp(1, last.max(1));
    match (points.get(idx - 1), points.get(idx)) {
        (Some(&(x0, y0)), Some(&(x1, y1))) => y0 + (y1 - y0) * (x - x0) / (x1 - x0),
        (Some(&(_, y0)), None) => y0,
        _ => 0.0,
    }
}

/// The law that a bath's rate on a film follows.
fn law(etchant: Etchant, film: Film) -> Law {
    let arrhenius = |activation_ev: f64, borrowed: bool, source: &'static str| {
        Law::Arrhenius { activation_ev, borrowed, source }
    };
    let nitride = film.material == Material::Nitride;
    match etchant {
        _ if etchant.is_hf() => arrhenius(OXIDE_IN_HF_EV, !film.is_oxide(), OXIDE_IN_HF),
        Etchant::Phosphoric if film.is_oxide() => arrhenius(1.2, false, PHOSPHORIC),
        Etchant::Phosphoric => arrhenius(0.99, !nitride, PHOSPHORIC),
        Etchant::AluminumEtch => Law::Doubling { source: DOUBLING },
        Etchant::Koh30 | Etchant::Koh33 if film.is_silicon() => {
            arrhenius(SILICON_KOH_EV, film.material != Material::Silicon, SEIDEL)
        }
        Etchant::Koh30 | Etchant::Koh33 if film.is_oxide() => {
            arrhenius(0.85, false, SEIDEL_OXIDE)
        }
        // Both alkaline baths attack silicon by the same step, the oxidation by water.
        Etchant::Tmah if film.is_silicon() => arrhenius(SILICON_KOH_EV, true, SEIDEL),
        _ => Law::Unknown,
    }
}

fn factor(law: Law, etchant: Etchant, temperature_c: f64) -> f64 {
    let table_c = etchant.table_temperature_c();
    match law {
        Law::Arrhenius { activation_ev, .. } => {
            let here = 1.0 / Temperature::celsius(temperature_c).to_kt_ev();
            let table = 1.0 / Temperature::celsius(table_c).to_kt_ev();
            exp(-activation_ev * (here - table))
        }
        Law::Doubling { .. } => pow(2.0, (temperature_c - table_c) / 10.0),
        Law::Unknown => 1.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_factor(etchant: Etchant, material: Material, temperature_c: f64, want: f64) {
        let bath = Bath { temperature_c, ..Bath::usual(etchant) };
        let got = rate_at(bath, Film::usual(material)).unwrap().temperature_factor;
        assert!((got / want - 1.0).abs() < 0.01, "{got} against {want}");
    }

    #[test]
    fn temperature_factors_by_hand() {
        // exp[-(0.36 / 8.617e-5)(1/303.15 - 1/294.15)] = exp(0.4217) = 1.52
        check_factor(Etchant::Bhf5, Material::ThermalOxide, 30.0, 1.525);
        check_factor(Etchant::Hf10, Material::ThermalOxide, 25.0, 1.21);
        check_factor(Etchant::Hf10, Material::ThermalOxide, 20.0, 0.953);
        check_factor(Etchant::AluminumEtch, Material::Aluminum, 40.0, 0.5);
        // exp[-(0.99 / 8.617e-5)(1/453.15 - 1/433.15)] = 3.22
        check_factor(Etchant::Phosphoric, Material::Nitride, 180.0, 3.22);
        check_factor(Etchant::Acetone, Material::Resist, 30.0, 1.0);
    }

    #[test]
    fn much_boron_stops_the_alkaline_baths() {
        assert!((boron_stop_factor(1e18) - 1.0).abs() < 1e-6);
        assert!((boron_stop_factor(4.8e19) - 0.5).abs() < 1e-12);
        // (1e20 / 4.8e19)^4 = 18.84
        assert!((1.0 / boron_stop_factor(1e20) - 19.84).abs() < 0.01);
    }

    #[test]
    fn every_bath_knows_or_admits_every_film() {
        for &etchant in Etchant::ALL {
            for &material in Material::ALL {
                let variants = Film::variants(material);
                let films = variants
                    .iter()
                    .map(|&variant| Film { material, variant: Some(variant) })
                    .chain(variants.is_empty().then_some(Film::usual(material)));
                for film in films {
                    let Some(rate) = rate_at(Bath::usual(etchant), film) else {
                        continue;
                    };
                    let here = rate.here;
                    assert!(
                        here.low_nm_min <= here.rate_nm_min
                            && here.rate_nm_min <= here.high_nm_min,
                        "{etchant:?} {film:?}: {here:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn strength_of_hf_passes_through_the_named_baths() {
        let thermal = Film::usual(Material::ThermalOxide);
        for (percent, etchant) in
            [(3.85, Etchant::Hf25), (9.1, Etchant::Hf10), (100.0, Etchant::Hf49)]
        {
            for material in [Material::ThermalOxide, Material::Nitride] {
                let film = Film::usual(material);
                let bath = Bath {
                    concentration_percent: Some(percent),
                    ..Bath::usual(Etchant::HfDilute)
                };
                let ours = rate_at(bath, film).unwrap().here.rate_nm_min;
                let named = rate_at(Bath::usual(etchant), film).unwrap().here.rate_nm_min;
                assert!((ours / named - 1.0).abs() < 1e-9, "{percent} % {material:?}");
            }
        }
        assert!(rate_at(Bath::usual(Etchant::HfDilute), thermal).is_some());
    }
}
