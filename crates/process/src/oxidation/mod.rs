//! Thermal oxidation of silicon.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::bench::OperationSchema;
use crate::color::FilmColor;
use crate::error::RequestError;
use crate::report::Report;

/// Results of an oxidation.
#[derive(Clone, Debug, Serialize)]
pub struct OxidationResults {
    /// Oxide at the end in nm.
    pub oxide_nm: f64,
    /// Oxide at the start in nm (the native nanometer included where the model starts from it).
    pub initial_oxide_nm: f64,
    /// Oxide grown in nm.
    pub grown_nm: f64,
    /// Silicon consumed in nm.
    pub silicon_consumed_nm: f64,
    /// Time needed or given in min.
    pub time_min: f64,
    /// Growth rate at the end in nm/min.
    pub rate_nm_min: f64,
    /// Parabolic constant B of the last segment in um2/h.
    pub parabolic_um2_h: f64,
    /// Linear constant B/A of the last segment in um/h.
    pub linear_um_h: f64,
    /// Color of the oxide on silicon.
    pub color: FilmColor,
    /// Oxide against time.
    pub curve: OxideCurve,
}

/// Oxide against time; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct OxideCurve {
    /// Times in min, from 0.
    pub time_min: Vec<f64>,
    /// Oxide in nm at each time.
    pub oxide_nm: Vec<f64>,
}

/// Runs an oxidation.
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
    OperationSchema { operation: "oxidation", numbers: Vec::new(), choices: Vec::new() }
}
