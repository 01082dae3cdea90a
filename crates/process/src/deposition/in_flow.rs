//! What a flow needs to know of a deposition: its checked fields, and how glass flows later.

use serde_json::{Map, Value};

use super::recipe::{DepositedFilm, Recipe};
use super::reflow::{flow_temperature_c, smoothing_um};
use super::request::{Deposition, DepositionRequest};
use super::results::CURE_SHRINK;
use crate::error::RequestError;
use crate::etching::{Film, Variant};
use crate::hazards;
use crate::request::read_fields;
use crate::vocabulary::Dopant;

/// Atomic mass of phosphorus in g/mol (CODATA; memory).
const PHOSPHORUS_G_MOL: f64 = 30.974;
/// Atoms in a mole (SI, exact).
const AVOGADRO: f64 = 6.022_140_76e23;

/// A deposition as a step of a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlowDeposition {
    checked: Deposition,
}

impl FlowDeposition {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: Map<String, Value>) -> Result<Self, RequestError> {
        Ok(Self { checked: read_fields::<DepositionRequest>(fields)?.check()? })
    }

    /// How the film is made.
    pub(crate) const fn recipe(&self) -> &'static Recipe {
        self.checked.recipe
    }

    /// The film as the etch rates tell it apart.
    pub(crate) fn film(&self) -> Film {
        let material = self.checked.recipe.film.material();
        let variant = self.checked.variant.or_else(|| {
            // Spun glass and whatever has no variant of its own counts as the usual film.
            Film::usual(material).variant
        });
        Film { material, variant }
    }

    /// Film on flat ground in nm, a spun film after its cure.
    pub(crate) fn thickness_nm(&self) -> f64 {
        if self.checked.rate.is_none() {
            (1.0 - CURE_SHRINK) * self.checked.thickness_nm
        } else {
            self.checked.thickness_nm
        }
    }

    /// How long it takes in min; none for a spun film.
    pub(crate) const fn time_min(&self) -> Option<f64> {
        self.checked.time_min
    }

    /// Growth rate in nm/min; none for a spun film.
    pub(crate) fn rate_nm_min(&self) -> Option<f64> {
        self.checked.rate.map(|rate| rate.nm_min)
    }

    /// Temperature of the wafer in C.
    pub(crate) const fn temperature_c(&self) -> f64 {
        self.checked.conditions.temperature_c
    }

    /// Dopant in the film per cm3: given for polysilicon, by weight for glass.
    pub(crate) fn doping(&self) -> Option<(Dopant, f64)> {
        let checked = &self.checked;
        checked.doping.or_else(|| {
            let percent = checked.phosphorus_percent?;
            let (low, high) = checked.recipe.density_g_cm3;
            let grams = 0.01 * percent * 0.5 * (low + high);
            Some((Dopant::Phosphorus, grams / PHOSPHORUS_G_MOL * AVOGADRO))
        })
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self) -> Vec<&'static str> {
        let recipe = self.checked.recipe;
        let mut words = vec![recipe.film.word(), recipe.method.word()];
        if self.checked.variant == Some(Variant::Teos) {
            words.push(Variant::Teos.word());
        }
        if let Some((dopant, _)) = self.checked.doping
            && recipe.film == DepositedFilm::Polysilicon
        {
            words.push(dopant.word());
        }
        hazards::for_step("deposition", &words)
    }
}

/// Phosphorus in glass in percent by weight, from its concentration per cm3 (the density of the
/// usual recipe, 2.15 g/cm3).
fn phosphorus_percent(concentration_cm3: f64) -> f64 {
    100.0 * concentration_cm3 / AVOGADRO * PHOSPHORUS_G_MOL / 2.15
}

/// Length in nm over which hot glass evens out its surface; none while it is too cold to flow
/// within the range of the law.
pub(crate) fn reflow_length_nm(
    phosphorus_cm3: f64,
    temperature_c: f64,
    time_min: f64,
) -> Option<f64> {
    // The law knows glass of 2 to 12 % and temperatures within 300 C of its flow.
    let percent = phosphorus_percent(phosphorus_cm3).clamp(0.0, 12.0);
    if percent < 1.0 || temperature_c < flow_temperature_c(percent) - 300.0 {
        return None;
    }
    Some(1e3 * smoothing_um(percent, temperature_c, time_min))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn glass_knows_its_phosphorus_by_weight() {
        // 8 % of 2.15 g/cm3: 0.172 g/cm3 of P, 3.34e21 atoms.
        assert!((phosphorus_percent(3.344e21) - 8.0).abs() < 0.01);
        // Half an hour at the flow temperature: 1 um / 2 pi.
        let length_nm = reflow_length_nm(3.344e21, 1000.0, 30.0).unwrap();
        assert!((length_nm - 159.0).abs() < 1.0, "{length_nm}");
        assert!(reflow_length_nm(3.3e21, 425.0, 30.0).is_none());
        assert!(reflow_length_nm(1e19, 1000.0, 30.0).is_none());
    }
}
