//! Lithography: resist on the wafer.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::bench::OperationSchema;
use crate::error::RequestError;
use crate::report::Report;

/// Results of a spin coating.
#[derive(Clone, Debug, Serialize)]
pub struct SpinCoatingResults {
    /// Thickness after the soft bake in nm.
    pub thickness_nm: f64,
    /// Thickness at the end of the spin, before the bake, in nm.
    pub wet_thickness_nm: f64,
    /// Volume fraction of solids at the end of the spin.
    pub solids_fraction: f64,
    /// Time at which draining falls below drying in s; null if it never does.
    pub transition_s: Option<f64>,
    /// Time at which the film is dry in s; null if it is not dry at the end.
    pub dry_s: Option<f64>,
    /// Film height against time.
    pub curve: SpinTrace,
    /// Baked thickness against speed, all else as set.
    pub spin_curve: SpinCurve,
}

/// Film height and solids against time; all lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct SpinTrace {
    /// Times in s.
    pub time_s: Vec<f64>,
    /// Film height in nm.
    pub thickness_nm: Vec<f64>,
    /// Volume fraction of solids.
    pub solids_fraction: Vec<f64>,
    /// Speed in rpm.
    pub speed_rpm: Vec<f64>,
}

/// Thickness against speed; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct SpinCurve {
    /// Final speeds in rpm.
    pub speed_rpm: Vec<f64>,
    /// Thickness after the soft bake in nm.
    pub thickness_nm: Vec<f64>,
}

/// Runs a spin coating.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run_spin_coating(_request: Map<String, Value>) -> Result<Report, RequestError> {
    Err(RequestError::new(
        "not_built",
        "operation",
        "",
        "",
        "this operation is not built yet",
        "wait for it",
    ))
}

/// The form of spin coating.
#[must_use]
pub fn spin_coating_schema() -> OperationSchema {
    OperationSchema {
        operation: "spin_coating",
        numbers: Vec::new(),
        choices: Vec::new(),
    }
}
