//! Ion implantation.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::bench::OperationSchema;
use crate::error::RequestError;
use crate::profile::Profile;
use crate::report::Report;
use crate::vocabulary::Material;

/// Results of an implantation.
#[derive(Clone, Debug, Serialize)]
pub struct ImplantationResults {
    /// Projected range in silicon in nm (without layers above).
    pub projected_range_nm: f64,
    /// Straggle in silicon in nm.
    pub straggle_nm: f64,
    /// Lateral straggle in silicon in nm.
    pub lateral_straggle_nm: f64,
    /// Skewness of the range distribution.
    pub skewness: f64,
    /// Kurtosis of the range distribution (Gaussian 3).
    pub kurtosis: f64,
    /// Largest concentration in the silicon per cm3.
    pub peak_cm3: f64,
    /// Its depth below the silicon surface in nm.
    pub peak_depth_nm: f64,
    /// Share of the dose that passes the layers above the silicon (1 without layers).
    pub transmitted_fraction: f64,
    /// Dose that stays in the silicon per cm2.
    pub retained_dose_cm2: f64,
    /// The deepest junction in um; null = none.
    pub junction_depth_um: Option<f64>,
    /// All junctions in um.
    pub junctions_um: Vec<f64>,
    /// Profile in the silicon, depth from the silicon surface.
    pub profile: Profile,
    /// The layers above with the part of the dose that stops in each, from the top.
    pub layers: Vec<LayerDose>,
    /// Concentration through layers and silicon, depth from the very top.
    pub stack_profile: StackProfile,
    /// Beam time in s; null without a beam current.
    pub beam_time_s: Option<f64>,
    /// Depth to which the crystal is amorphized in nm; null = not.
    pub amorphous_depth_nm: Option<f64>,
}

/// A layer above the silicon.
#[derive(Clone, Debug, Serialize)]
pub struct LayerDose {
    /// The material.
    pub material: Material,
    /// Thickness in nm.
    pub thickness_nm: f64,
    /// Dose that stops in it per cm2.
    pub dose_cm2: f64,
}

/// Concentration from the very top of the stack; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct StackProfile {
    /// Depth below the top of the stack in um.
    pub depth_um: Vec<f64>,
    /// Concentration per cm3.
    pub concentration_cm3: Vec<f64>,
}

/// Runs an implantation.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(_request: Map<String, Value>) -> Result<Report, RequestError> {
    Err(RequestError::new(
        "not_built",
        "operation",
        "",
        "",
        "this operation is not built yet",
        "wait for it",
    ))
}

/// The form of this operation.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "implantation",
        numbers: Vec::new(),
        choices: Vec::new(),
    }
}
