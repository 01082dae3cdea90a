//! Grains and doping of polysilicon.

use serde::Serialize;

use crate::constants::ELEMENTARY_CHARGE_C;
use crate::vocabulary::{Dopant, DopingType};

/// How the grains stand.
///
/// T. I. Kamins, Polycrystalline Silicon for Integrated Circuit Applications; A. C. Adams
/// (memory); transition region 580 to 620 C read in a tool vendor's process note.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Structure {
    /// `amorphous`, `mixed`, `columnar` or `rough`.
    pub kind: &'static str,
    /// In words.
    pub meaning: &'static str,
    /// Smallest usual grain in nm; null without grains.
    pub grain_low_nm: Option<f64>,
    /// Largest usual grain in nm; null without grains.
    pub grain_high_nm: Option<f64>,
    /// Low end of the usual roughness in nm rms.
    pub roughness_low_nm: f64,
    /// High end of it in nm rms.
    pub roughness_high_nm: f64,
}

impl Structure {
    /// The structure of a film as deposited.
    pub(super) fn at(temperature_c: f64) -> Self {
        let (kind, meaning, grains, roughness) = if temperature_c < 575.0 {
            (
                "amorphous",
                "amorphous and smooth; crystallizes above 600 °C into large grains",
                None,
                (0.0, 1.0),
            )
        } else if temperature_c < 600.0 {
            (
                "mixed",
                "amorphous with grains in it: small changes of temperature change it much",
                Some((10.0, 100.0)),
                (1.0, 5.0),
            )
        } else if temperature_c <= 675.0 {
            (
                "columnar",
                "columns of grains through the film, {110} texture",
                Some((30.0, 300.0)),
                (3.0, 10.0),
            )
        } else {
            (
                "rough",
                "large grains with a rough surface",
                Some((100.0, 500.0)),
                (10.0, 30.0),
            )
        };
        Self {
            kind,
            meaning,
            grain_low_nm: grains.map(|g| g.0),
            grain_high_nm: grains.map(|g| g.1),
            roughness_low_nm: roughness.0,
            roughness_high_nm: roughness.1,
        }
    }
}

/// Largest active concentration per cm3 after an anneal at 1000 C: what `diffusion::solubility`
/// gives there (a test holds both together).
pub(super) const fn active_limit_cm3(dopant: Dopant) -> f64 {
    match dopant {
        Dopant::Boron => 1.2e20,
        Dopant::Arsenic => 3.0e20,
        _ => 4.7e20,
    }
}

/// Mobility in heavily doped polysilicon in cm2/(V s).
///
/// 30 to 40 n-type above 1e20, 10 to 25 p-type (J. Y. W. Seto, J. Appl. Phys. 46, 5247 (1975);
/// Kamins: memory). 17 gives the 2.6 mohm cm at 1.4e20 that is quoted of a boron-doped film.
pub(super) const fn mobility_cm2_v_s(dopant: Dopant) -> f64 {
    match dopant.doping_type() {
        DopingType::N => 30.0,
        DopingType::P => 17.0,
    }
}

/// Resistivity in ohm cm of polysilicon with a dopant, after an anneal at 900 to 1000 C.
///
/// # Model
/// `rho = 1/(q N mu)`.
///
/// # Validity
/// Above 1e19 per cm3. Below, the grain boundaries trap the carriers and the resistivity rises
/// by many orders of magnitude (Seto), which is not modeled.
#[must_use]
pub fn resistivity_ohm_cm(dopant: Dopant, concentration_cm3: f64) -> f64 {
    let active_cm3 = concentration_cm3.min(active_limit_cm3(dopant));
    1.0 / (ELEMENTARY_CHARGE_C * active_cm3 * mobility_cm2_v_s(dopant))
}

/// Change of the growth rate by the dopant's hydride in the gas.
///
/// Phosphine and arsine take the sites of silane and slow it strongly, diborane speeds it up;
/// boron-doped films grow about ten times faster than phosphorus-doped ones (read: DTU Nanolab,
/// polysilicon page). The split into 2.5 and 0.25 is a model choice.
pub(super) const fn doping_factor(dopant: Dopant) -> f64 {
    match dopant.doping_type() {
        DopingType::N => 0.25,
        DopingType::P => 2.5,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn resistivities_are_those_of_the_textbook() {
        for (dopant, cm3, ohm_cm) in [
            (Dopant::Phosphorus, 1e20, 2.08e-3),
            (Dopant::Phosphorus, 2e20, 1.04e-3),
            (Dopant::Boron, 1e20, 3.67e-3),
        ] {
            assert!((resistivity_ohm_cm(dopant, cm3) / ohm_cm - 1.0).abs() < 3e-3);
        }
    }

    #[test]
    fn the_active_limits_are_those_of_the_diffusion_module() {
        let hot = crate::units::Temperature::celsius(1000.0);
        for dopant in [Dopant::Boron, Dopant::Phosphorus, Dopant::Arsenic] {
            let limit = crate::diffusion::solubility::active_limit(dopant, hot).unwrap();
            let ratio = active_limit_cm3(dopant) / limit.concentration_cm3;
            assert!((ratio - 1.0).abs() < 0.03, "{dopant:?} {ratio}");
        }
    }

    #[test]
    fn hotter_tubes_give_columns() {
        let kinds: Vec<&str> =
            [560.0, 590.0, 620.0, 690.0].map(|t| Structure::at(t).kind).to_vec();
        assert_eq!(kinds, ["amorphous", "mixed", "columnar", "rough"]);
    }
}
