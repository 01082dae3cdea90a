//! One operation in, one report out: the only door through which requests come.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::bound::{Bound, Choice};
use crate::error::RequestError;
use crate::report::Report;
use crate::request::{nearest, parse};
use crate::{
    KERNEL_VERSION, diffusion, electrical, etching, hazards, implantation, lithography,
    oxidation,
};

/// What a form needs to know to offer an operation.
#[derive(Clone, Debug, Serialize)]
pub struct OperationSchema {
    /// The operation's name in requests.
    pub operation: &'static str,
    /// Its number fields.
    pub numbers: Vec<Bound>,
    /// Its word fields.
    pub choices: Vec<Choice>,
}

/// The operations that can be asked for, in the order of the trade.
pub const OPERATIONS: &[&str] = &[
    "oxidation",
    "predeposition",
    "drive_in",
    "implantation",
    "spin_coating",
    "wet_etch",
    "sheet",
];

/// Runs one request given as JSON text.
///
/// # Errors
/// [`RequestError`] for anything that is not a good request; never a panic.
pub fn run_text(text: &[u8]) -> Result<Report, RequestError> {
    run(parse(text)?)
}

/// Runs one request given as a JSON object with the field `operation`.
///
/// # Errors
/// [`RequestError`] for anything that is not a good request; never a panic.
pub fn run(mut request: Map<String, Value>) -> Result<Report, RequestError> {
    let operation = match request.remove("operation") {
        Some(Value::String(name)) => name,
        Some(other) => return Err(unknown_operation(&other.to_string())),
        None => {
            return Err(RequestError::missing(
                "operation",
                &OPERATIONS.join(", "),
                "add \"operation\" with one of these names",
            ));
        }
    };
    let mut report = match operation.as_str() {
        "oxidation" => oxidation::run(request),
        "predeposition" => diffusion::run_predeposition(request),
        "drive_in" => diffusion::run_drive_in(request),
        "implantation" => implantation::run(request),
        "spin_coating" => lithography::run_spin_coating(request),
        "wet_etch" => etching::run_wet_etch(request),
        "sheet" => electrical::run_sheet(request),
        other => Err(unknown_operation(other)),
    }?;
    hazards::sort_worst_first(&mut report.hazards);
    report.kernel_version = KERNEL_VERSION;
    Ok(report)
}

/// The form of every operation.
#[must_use]
pub fn schema() -> Vec<OperationSchema> {
    vec![
        oxidation::schema(),
        diffusion::predeposition_schema(),
        diffusion::drive_in_schema(),
        implantation::schema(),
        lithography::spin_coating_schema(),
        etching::wet_etch_schema(),
        electrical::sheet_schema(),
    ]
}

fn unknown_operation(given: &str) -> RequestError {
    let shown = crate::error::one_line(given);
    let hint = nearest(given, OPERATIONS).map_or_else(
        || "use one of the allowed names".to_owned(),
        |near| format!("did you mean {near}"),
    );
    RequestError::new(
        "unknown_operation",
        "operation",
        given,
        &OPERATIONS.join(", "),
        &format!(
            "operation: {shown} is not known here (allowed: {})",
            OPERATIONS.join(", ")
        ),
        &hint,
    )
}
