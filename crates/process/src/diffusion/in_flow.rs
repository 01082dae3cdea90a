//! What a flow needs to know of a predeposition, a drive-in or an anneal: its checked fields.

use serde_json::{Map, Value, json};

use super::drive_in::{Kind, capped, checked_ambient};
use super::furnace::Recipe;
use super::request::{
    DONOR_SEGREGATION, DriveInFields, EVAPORATION, PredepositionFields, TEMPERATURE, TIME,
};
use super::simulated::Conditions;
use super::source::{Supply, supply};
use crate::bound::Bound;
use crate::error::RequestError;
use crate::hazards;
use crate::request::read_fields;
use crate::units::Length;
use crate::vocabulary::{
    Ambient, AnnealAmbient, BoronSegregation, DiffusivitySet, Dopant, Material,
};

/// Temperature of a hot step on a wafer. Below the diffusivities' range nothing in silicon
/// moves, so that a sinter is a step like another.
pub(crate) const ON_A_WAFER: Bound = Bound { min: 20.0, ..TEMPERATURE };

/// How dopants behave, as one step says it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct FlowDoping {
    /// The published set of diffusivities.
    pub(crate) set: DiffusivitySet,
    /// Whether only the active part moves.
    pub(crate) active_limit: bool,
    /// Whether a growing oxide speeds diffusion up.
    pub(crate) enhanced: bool,
    /// Boron between silicon and oxide.
    pub(crate) boron: BoronSegregation,
    /// Donors in silicon over donors in oxide.
    pub(crate) donors: f64,
}

/// A predeposition as a step of a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlowPredeposition {
    /// The dopant.
    pub(crate) dopant: Dopant,
    /// What it goes into.
    pub(crate) target: Material,
    /// Temperature in C.
    pub(crate) temperature_c: f64,
    /// Time in min.
    pub(crate) time_min: f64,
    /// Concentration per cm3 that the source holds at the surface.
    pub(crate) surface_cm3: f64,
    /// How dopants behave.
    pub(crate) doping: FlowDoping,
    supply: Supply,
}

impl FlowPredeposition {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: Map<String, Value>) -> Result<Self, RequestError> {
        let fields: PredepositionFields = read_fields(fields)?;
        let target = fields.target.unwrap_or(Material::Silicon);
        if !matches!(target, Material::Silicon | Material::Polysilicon) {
            let allowed = "silicon, polysilicon";
            return Err(RequestError::new(
                "unknown_value",
                "target",
                target.word(),
                allowed,
                &format!(
                    "target: {} takes up no dopant here (allowed: {allowed})",
                    target.word()
                ),
                "name silicon or polysilicon",
            ));
        }
        // An oxide grows under no source, but the flow's settings may speak of all steps.
        fields.check_segregation()?;
        let conditions = Conditions::check(
            fields.temperature_c,
            fields.time_min,
            fields.diffusivity,
            fields.active_limit,
        )?;
        conditions.species(fields.dopant)?;
        let root_dt_um = conditions.root_dt_um(fields.dopant)?;
        let supply = supply(&fields, &conditions, root_dt_um, conditions.limited)?;
        Ok(Self {
            dopant: fields.dopant,
            target,
            temperature_c: fields.temperature_c,
            time_min: fields.time_min,
            surface_cm3: supply.surface_cm3,
            doping: FlowDoping {
                set: conditions.set,
                active_limit: conditions.limited,
                enhanced: false,
                boron: fields
                    .boron_segregation
                    .unwrap_or(BoronSegregation::Antoniadis1979),
                donors: DONOR_SEGREGATION.check_or_default(fields.donor_segregation)?,
            },
            supply,
        })
    }

    /// Where the surface concentration comes from.
    pub(crate) const fn source_of_surface(&self) -> &'static str {
        self.supply.from
    }

    /// Whether the source leaves phosphorus glass on the wafer: a liquid or gas that reacts with
    /// oxygen does, a dilute vapor does not (common practice). Boron glass is no material here.
    pub(crate) fn leaves_glass(&self) -> bool {
        use crate::vocabulary::DopantSource as S;
        self.dopant == Dopant::Phosphorus
            && matches!(self.supply.source, S::Pocl3 | S::Phosphine)
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self) -> Vec<&'static str> {
        self.supply.hazards(self.dopant)
    }
}

/// A drive-in or an anneal as a step of a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlowHeat {
    /// The gas.
    pub(crate) ambient: AnnealAmbient,
    /// Temperature in C.
    pub(crate) temperature_c: f64,
    /// Time in min.
    pub(crate) time_min: f64,
    /// Temperature in C at both ends, and how fast it goes up and down in C/s.
    pub(crate) ramp: Option<(f64, f64, f64)>,
    /// Speed at which dopant leaves a bare surface in cm/s.
    pub(crate) evaporation_cm_s: f64,
    /// How dopants behave.
    pub(crate) doping: FlowDoping,
}

impl FlowHeat {
    /// Reads and checks the fields of a drive-in, or of an anneal.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(
        mut fields: Map<String, Value>,
        is_anneal: bool,
    ) -> Result<Self, RequestError> {
        fields.insert("start".to_owned(), json!({}));
        let fields: DriveInFields = read_fields(fields)?;
        let kind = if is_anneal { Kind::Anneal } else { Kind::DriveIn };
        let temperature_c = ON_A_WAFER.check(fields.temperature_c)?;
        let time_min = TIME.check(fields.time_min)?;
        let evaporation_cm_s = EVAPORATION.check_or_default(fields.evaporation_cm_s)?;
        let ambient = checked_ambient(fields.ambient, kind)?;
        let recipe: Recipe = fields.recipe(Length::um(0.0))?;
        if 0.0 < evaporation_cm_s && recipe.ambient != Ambient::Inert {
            return Err(capped(evaporation_cm_s));
        }
        Ok(Self {
            ambient,
            temperature_c,
            time_min,
            ramp: recipe.ramp.map(|ramp| (ramp.start_c, ramp.up_c_s, ramp.down_c_s)),
            evaporation_cm_s,
            doping: FlowDoping {
                set: fields.diffusivity.unwrap_or(DiffusivitySet::Plummer2000),
                active_limit: fields.active_limit.unwrap_or(true),
                enhanced: recipe.enhanced,
                boron: recipe.boron,
                donors: recipe.donors,
            },
        })
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self, is_anneal: bool) -> Vec<&'static str> {
        let operation = if is_anneal { "anneal" } else { "drive_in" };
        hazards::for_step(operation, &[self.ambient.word()])
    }
}
