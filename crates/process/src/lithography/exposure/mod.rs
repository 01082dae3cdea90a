//! Exposure: an image becomes a latent image in the resist.

mod blur;
mod bounds;
mod cautions;
mod derivation;
mod film;
mod latent;
mod line;
mod request;
mod results;

use serde_json::{Map, Value};

pub use blur::{Kernel, SPREAD_EV, SPREAD_NM, spread_nm};
pub use bounds::*;
pub use film::{BleachTable, Light, ResistFilm};
pub use line::{Bleaching, MercuryLine};
pub use request::{PROXIMITY_GAP_UM, Tool};
pub use results::{AerialImage, ExposureResults, LatentImage, SwingCurve};

pub(super) use latent::{Latent, float};
pub(super) use request::{Exposure, ExposureRequest};

use crate::bench::OperationSchema;
use crate::bound::{Bound, Choice};
use crate::error::RequestError;
use crate::hazards;
use crate::lithography::Resist;
use crate::lithography::imaging::Pattern;
use crate::report::Report;
use crate::request::read_fields;

/// Runs an exposure.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(fields: Map<String, Value>) -> Result<Report<ExposureResults>, RequestError> {
    let request: ExposureRequest = read_fields(fields)?;
    let exposure = request.check()?;
    let latent = exposure.latent()?;
    let results = exposure.results(latent)?;
    let working = derivation::working(&exposure, &results);
    let warnings = cautions::warnings(&exposure, &results);
    Ok(Report {
        operation: "exposure",
        working,
        warnings,
        published: Vec::new(),
        accuracy: None,
        hazards: hazards::for_step(
            "exposure",
            &[exposure.tool.word(), exposure.resist.word()],
        ),
        results,
        kernel_version: "",
    })
}

/// The form of an exposure.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema { operation: "exposure", numbers: numbers(), choices: choices() }
}

/// The number fields of an exposure.
pub(super) fn numbers() -> Vec<Bound> {
    let usual = MercuryLine::I.demo_resist();
    let inside = |bound: Bound, field: &'static str| Bound { field, ..bound };
    let parameter = |bound: Bound, field: &'static str, usual: f64| Bound {
        field,
        default: Some(usual),
        ..bound
    };
    vec![
        WAVELENGTH_NM,
        NUMERICAL_APERTURE,
        PARTIAL_COHERENCE,
        DEFOCUS_UM,
        GAP_UM,
        COLLIMATION_DEG,
        DOSE_MJ_CM2,
        inside(PITCH_UM, "mask.pitch_um"),
        inside(OPENING_UM, "mask.opening_um"),
        THICKNESS_NM,
        inside(FILM_NM, "stack_below.thickness_nm"),
        parameter(
            BLEACHABLE_PER_UM,
            "resist_parameters.bleachable_per_um",
            usual.bleachable_per_um,
        ),
        parameter(
            RESIDUAL_PER_UM,
            "resist_parameters.residual_per_um",
            usual.residual_per_um,
        ),
        parameter(
            BLEACH_RATE_CM2_MJ,
            "resist_parameters.bleach_rate_cm2_mj",
            usual.bleach_rate_cm2_mj,
        ),
        parameter(INDEX, "resist_parameters.index", usual.index),
        inside(BAKE_TEMPERATURE_C, "post_exposure_bake.temperature_c"),
        inside(BAKE_TIME_S, "post_exposure_bake.time_s"),
        K1,
        K2,
        SOURCE_RINGS,
        GRID_NM,
        SWING_SPAN_NM,
    ]
}

/// The word fields of an exposure.
pub(super) fn choices() -> Vec<Choice> {
    vec![
        Tool::choice("tool", "Printing", Some(Tool::Projection)),
        Pattern::choice("mask.pattern", "Mask", Some(Pattern::LineSpace)),
        Resist::choice("resist", "Resist", Some(Resist::P12)),
    ]
}
