//! Etching of films.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::bench::OperationSchema;
use crate::error::RequestError;
use crate::report::Report;
use crate::vocabulary::Material;

/// Results of a wet etch.
#[derive(Clone, Debug, Serialize)]
pub struct WetEtchResults {
    /// The film that is etched.
    pub material: Material,
    /// Film at the start in nm.
    pub thickness_nm: f64,
    /// Film removed in nm (nominal film and rate).
    pub etched_nm: f64,
    /// Film left in nm.
    pub remaining_nm: f64,
    /// Etch time given or needed in s.
    pub time_s: f64,
    /// Rate at the bath temperature in nm/min.
    pub rate_nm_min: f64,
    /// Time to clear the nominal film in s; null if the bath does not etch it.
    pub time_to_clear_s: Option<f64>,
    /// Time to clear the thickest film at the slowest rate in s; null as above.
    pub time_to_clear_everywhere_s: Option<f64>,
    /// Over-etch beyond the nominal clear time in percent; null while not cleared.
    pub over_etch_percent: Option<f64>,
    /// How far the film is gone sideways under the mask edge in nm.
    pub undercut_nm: f64,
    /// Width of the mask opening in um, if a mask with an opening was given.
    pub mask_opening_um: Option<f64>,
    /// Width of the mask line in um, if a mask with a line was given.
    pub mask_line_um: Option<f64>,
    /// Opening at the top of the film in um.
    pub opening_um: Option<f64>,
    /// Line left at the top of the film in um; 0 = gone.
    pub line_um: Option<f64>,
    /// How many times faster the film etches than each other material.
    pub selectivity: Vec<Selectivity>,
    /// Film left against time.
    pub curve: EtchCurve,
}

/// Ratio of two etch rates.
#[derive(Clone, Debug, Serialize)]
pub struct Selectivity {
    /// The other material.
    pub material: Material,
    /// Rate of the film over rate of the other material; null if the other one is not etched.
    pub ratio: Option<f64>,
    /// Rate of the other material in nm/min.
    pub rate_nm_min: f64,
}

/// Film left against time; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct EtchCurve {
    /// Times in s.
    pub time_s: Vec<f64>,
    /// Film left in nm.
    pub remaining_nm: Vec<f64>,
    /// Film left in the worst place (thickest film, slowest rate) in nm.
    pub worst_remaining_nm: Vec<f64>,
    /// Undercut at each time in nm.
    pub undercut_nm: Vec<f64>,
}

/// Runs a wet etch.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run_wet_etch(_request: Map<String, Value>) -> Result<Report, RequestError> {
    Err(RequestError::new(
        "not_built",
        "operation",
        "",
        "",
        "this operation is not built yet",
        "wait for it",
    ))
}

/// The form of wet etching.
#[must_use]
pub fn wet_etch_schema() -> OperationSchema {
    OperationSchema { operation: "wet_etch", numbers: Vec::new(), choices: Vec::new() }
}
