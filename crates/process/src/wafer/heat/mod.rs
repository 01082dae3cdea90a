//! Heat: oxidation, drive-in, anneal and predeposition of a whole cross-section.
//!
//! [`heat`] takes the section through the segments of a furnace recipe. Oxide grows on every
//! face that the gas reaches (`oxide`); dopants move in silicon by line splitting: along the
//! depth (`depth`), then along x (`lateral`), eight lines at a time (`lines`), with the
//! coefficients of the one-dimensional solver (`moment`).
//!
//! Steps in time are fixed by the kind of segment, never by what the section holds: the same
//! flow gives the same bits everywhere.

mod boost;
mod carriers;
mod depth;
mod ends;
mod lateral;
mod lines;
mod listed;
mod moment;
mod moving;
mod owed;
mod oxide;
mod predeposit;
mod schedule;
mod solve;
mod stepping;
mod stretches;
#[cfg(test)]
mod tests;

pub(super) use listed::list;
pub use moment::DopingModel;
pub use predeposit::{PredepositStep, PredepositTarget, Predeposited, predeposit};
pub use schedule::HeatSegment;

use crate::vocabulary::{Ambient, Dopant, Orientation, OxidationModel, WetParameterSet};

use super::section::Section;

/// What the wafer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WaferFacts {
    /// The face of the crystal.
    pub orientation: Orientation,
}

impl Default for WaferFacts {
    fn default() -> Self {
        Self { orientation: Orientation::Face100 }
    }
}

/// How oxide grows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrowthModel {
    /// The law of thin dry oxide.
    pub model: OxidationModel,
    /// The constants of wet oxygen.
    pub parameter_set: WetParameterSet,
    /// Pressure in atm.
    pub pressure_atm: f64,
    /// Hydrogen chloride in percent of the gas.
    pub hcl_percent: f64,
    /// Heavy doping at the surface speeds the growth.
    pub doping_enhanced: bool,
    /// How fast oxide grows under nitride over how fast the oxidant there would let it: 1 leaves
    /// the stiffness of the nitride out, less shortens the beak.
    pub under_nitride: f64,
}

impl Default for GrowthModel {
    fn default() -> Self {
        Self {
            model: OxidationModel::Auto,
            parameter_set: WetParameterSet::Deal1988Steam,
            pressure_atm: 1.0,
            hcl_percent: 0.0,
            doping_enhanced: true,
            under_nitride: 1.0,
        }
    }
}

/// A furnace step.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatStep {
    /// One after the other.
    pub segments: Vec<HeatSegment>,
    /// The wafer.
    pub wafer: WaferFacts,
    /// How dopants move.
    pub doping: DopingModel,
    /// How oxide grows.
    pub growth: GrowthModel,
}

/// What a furnace step did.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Heated {
    /// The most oxide that grew on silicon anywhere, in nm,
    pub grown_nm: f64,
    /// and where.
    pub grown_at_x_nm: f64,
    /// The most silicon that went, in nm.
    pub consumed_nm: f64,
    /// The most oxide that grew on polysilicon, in nm.
    pub grown_on_polysilicon_nm: f64,
    /// How far oxide above a tenth of the open growth reaches under a mask, in nm; 0 without one.
    pub beak_nm: f64,
    /// Dopants that stayed where they are because the set of diffusivities lacks them.
    pub unmoved: Vec<Dopant>,
    /// A mask's surface is steeper than 45 degrees somewhere: the oxide there is too thick.
    pub steep_at_x_nm: Option<f64>,
}

/// Heats the section.
pub fn heat(section: &mut Section, step: &HeatStep) -> Heated {
    let dopants = section.dopants();
    let unmoved = dopants
        .iter()
        .copied()
        .filter(|&d| step.doping.diffusivity.diffusivity(d).is_none());
    let mut heated = Heated { unmoved: unmoved.collect(), ..Heated::default() };
    let mut polysilicon = oxide::Polysilicon::new(section, step);
    for segment in &step.segments {
        if segment.time_min <= 0.0 {
            continue;
        }
        if segment.ambient == Ambient::Inert {
            stepping::anneal(section, step, &dopants, segment);
        } else {
            stepping::oxidize(section, step, &dopants, segment, &mut heated);
            polysilicon.oxidize(segment);
        }
    }
    heated.grown_on_polysilicon_nm = polysilicon.finish(section);
    heated
}
