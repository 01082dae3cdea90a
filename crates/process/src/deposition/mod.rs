//! Deposition of films: how fast they grow, how they cover a trench, what they are like.
//!
//! One recipe stands for one way of making one film ([`recipe`]); the rate law of its surface
//! reaction gives the thickness (`rate`); the way its atoms arrive gives the shape over a
//! trench ([`coverage`]).

mod cautions;
pub mod coverage;
mod derivation;
pub mod evaporation;
mod in_flow;
mod listed;
mod polysilicon;
mod rate;
pub mod recipe;
mod reflow;
mod request;
mod results;

pub(crate) use in_flow::{FlowDeposition, reflow_length_nm};
pub(crate) use listed::list;
pub use polysilicon::{Structure, resistivity_ohm_cm};
pub use recipe::{DepositedFilm, Method, RECIPES, Recipe};
pub use request::{
    ACTIVATION_ENERGY_EV, CONCENTRATION_CM3, OXIDE_BELOW_NM, PHOSPHORUS_PERCENT,
    PRESSURE_PA, REFLOW_TEMPERATURE_C, REFLOW_TIME_MIN, SOURCE_HEIGHT_MM, TARGET_NM,
    TEMPERATURE_C, TIME_MIN, TRENCH_DEPTH_UM, TRENCH_WIDTH_UM, WAFER_DIAMETER_MM,
};
pub use results::{DepositionResults, run, schema};
