//! Development: the front eats its way through exposed resist.

mod cautions;
mod derivation;
mod front;
mod open_frame;
mod outline;
mod rate;
mod request;
mod results;

use serde_json::{Map, Value};

pub use front::Section;
pub use rate::{
    Inhibition, RATE_EV, RateLaw, STRENGTH_POWER, USUAL_NORMALITY, critical_modulation,
    resist_contrast,
};
pub use request::{
    Developer, FASTEST_NM_S, INHIBITION_DEPTH_NM, NORMALITY, ORDER, OVER_DEVELOP_PERCENT,
    SLOWEST_NM_S, SURFACE_RATIO, TEMPERATURE_C, THRESHOLD_PAC, TIME_S,
};
pub use results::{Contour, DevelopmentCurve, DevelopmentResults, RateCurve, Wall};

use crate::bench::OperationSchema;
use crate::bound::Bound;
use crate::error::RequestError;
use crate::hazards;
use crate::report::Report;
use crate::request::read_fields;
pub(super) use request::{Development, DevelopmentRequest, RateRequest};

/// Runs a development.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(
    fields: Map<String, Value>,
) -> Result<Report<DevelopmentResults>, RequestError> {
    let request: DevelopmentRequest = read_fields(fields)?;
    let development = request.check()?;
    let results = development.results()?;
    let working = derivation::working(&development, &results);
    let warnings = cautions::warnings(&development, &results);
    Ok(Report {
        operation: "development",
        working,
        warnings,
        published: Vec::new(),
        accuracy: None,
        hazards: hazards::for_step("development", &[development.developer.word()]),
        results,
        kernel_version: "",
    })
}

/// The form of a development; the fields of `exposure` have their own.
#[must_use]
pub fn schema() -> OperationSchema {
    let rate = |bound: Bound, field: &'static str| Bound { field, ..bound };
    OperationSchema {
        operation: "development",
        numbers: vec![
            TIME_S,
            OVER_DEVELOP_PERCENT,
            TEMPERATURE_C,
            NORMALITY,
            rate(FASTEST_NM_S, "rate_parameters.fastest_nm_s"),
            rate(SLOWEST_NM_S, "rate_parameters.slowest_nm_s"),
            rate(THRESHOLD_PAC, "rate_parameters.threshold_pac"),
            rate(ORDER, "rate_parameters.order"),
            rate(SURFACE_RATIO, "rate_parameters.surface_ratio"),
            rate(INHIBITION_DEPTH_NM, "rate_parameters.inhibition_depth_nm"),
        ],
        choices: vec![Developer::choice("developer", "Developer", Some(Developer::Tmah))],
    }
}
