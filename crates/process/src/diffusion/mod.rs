//! Dopant diffusion in silicon.

mod answer;
mod cautions;
pub mod closed_form;
pub mod diffusivity;
mod drive_in;
pub mod layer;
pub mod plan;
mod predeposition;
pub mod request;
pub(crate) mod silicon;
mod simulated;
pub mod solubility;
pub mod solver;
mod start;
mod unmodeled;
mod working;

use serde::Serialize;

use crate::profile::Profile;

pub use drive_in::run as run_drive_in;
pub use predeposition::run as run_predeposition;
pub use request::{drive_in_schema, predeposition_schema};

/// Results of a predeposition or a drive-in.
#[derive(Clone, Debug, Serialize)]
pub struct DiffusionResults {
    /// Dose in the silicon in per cm2 (of the first dopant).
    pub dose_cm2: f64,
    /// Concentration at the surface per cm3 (of the first dopant).
    pub surface_concentration_cm3: f64,
    /// The deepest junction in um; null = none.
    pub junction_depth_um: Option<f64>,
    /// All junctions in um, from the surface down.
    pub junctions_um: Vec<f64>,
    /// Sheet resistance of the layer above the first junction (or of all of it) in ohm per square.
    pub sheet_resistance_ohm_sq: Option<f64>,
    /// Profile at the end.
    pub profile: Profile,
    /// Profile at the start (empty for a predeposition).
    pub start_profile: Profile,
    /// The same with constant diffusivity in closed form, to compare; empty if there is none.
    pub closed_form_profile: Profile,
    /// Oxide at the end in nm.
    pub oxide_nm: f64,
    /// Dose in, minus dose lost, minus dose found, relative to the largest of them.
    pub dose_balance: f64,
    /// sqrt(D t) with the intrinsic diffusivity of the first dopant in um.
    pub root_dt_um: f64,
}
