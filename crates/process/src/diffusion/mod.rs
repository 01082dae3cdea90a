//! Dopant diffusion in silicon.

mod answer;
mod cautions;
pub mod closed_form;
mod compare;
pub mod diffusivity;
mod drive_in;
mod furnace;
pub mod glass;
mod in_flow;
pub mod layer;
mod listed;
pub mod mask;
mod numerical;
pub mod phosphorus_tail;
pub mod plan;
pub mod point_defects;
mod predeposition;
pub mod request;
pub mod segregation;
pub(crate) mod silicon;
mod simulated;
mod snapshots;
pub mod solubility;
pub mod solver;
mod source;
mod start;
mod unmodeled;
mod working;
mod working_furnace;

use serde::Serialize;

use crate::profile::Profile;
use crate::vocabulary::Dopant;

pub use compare::{Compared, ComparisonResults};
pub use drive_in::{run as run_drive_in, run_anneal};
pub(crate) use in_flow::{FlowDoping, FlowHeat, FlowPredeposition, ON_A_WAFER};
pub(crate) use listed::list;
pub use predeposition::run as run_predeposition;
pub use request::{anneal_schema, drive_in_schema, predeposition_schema};
pub use snapshots::ProfileInTime;
pub(crate) use source::carries;

/// Results of a predeposition, a drive-in or an anneal.
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
    /// Where the atoms of each dopant are.
    pub doses: Vec<DopantDose>,
    /// Oxide at the end in nm.
    pub oxide_nm: f64,
    /// Silicon that the oxide has eaten in this step in nm: the profile begins so far below the
    /// surface of the start.
    pub silicon_consumed_nm: f64,
    /// Dopants in the oxide, from its outer surface down; empty if none grew.
    pub oxide_profile: Profile,
    /// Dose in, minus dose lost, minus dose found, relative to the largest of them.
    pub dose_balance: f64,
    /// sqrt(D t) with the intrinsic diffusivity of the first dopant in um.
    pub root_dt_um: f64,
    /// The first dopant at a few times on the way, about equally spaced in the root of time.
    pub snapshots: Vec<ProfileInTime>,
    /// Oxide in nm that keeps a predeposition out of the silicon below, without margin; null if
    /// oxide does not, if nothing is known, and for a drive-in.
    pub mask_oxide_min_nm: Option<f64>,
    /// The same recipe with other diffusivities or dopants; null if not asked for.
    pub comparison: Option<ComparisonResults>,
}

/// Where the atoms of one dopant are after a step.
#[derive(Clone, Debug, Serialize)]
pub struct DopantDose {
    /// The dopant.
    pub dopant: Dopant,
    /// Dose in the silicon per cm2.
    pub silicon_cm2: f64,
    /// Dose in the oxide per cm2.
    pub oxide_cm2: f64,
    /// Dose that left into the gas per cm2.
    pub lost_cm2: f64,
    /// Electrically active dose over the dose in the silicon.
    pub active_fraction: f64,
    /// Largest active concentration per cm3; null = all counted as active.
    pub active_limit_cm3: Option<f64>,
    /// Chemical solubility at the temperature per cm3; null = no published value at hand.
    pub solubility_cm3: Option<f64>,
}
