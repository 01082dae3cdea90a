//! Exposure: an image becomes a latent image in the resist.

mod alignment;
mod blur;
mod bounds;
mod cautions;
mod contrast;
mod derivation;
mod film;
mod lamp;
mod latent;
mod line;
mod listed;
mod mask_request;
mod request;
mod results;
mod swing;

use serde_json::{Map, Value};

pub use alignment::{
    Overlay, PLACE_MM, RANDOM_UM, ROTATION_URAD, SCALE_PPM, SHIFT_UM, SKEW_URAD,
};
pub use blur::{Kernel, SPREAD_EV, SPREAD_NM, spread_nm};
pub use bounds::*;
pub use contrast::{ContrastCurve, ResistContrast};
pub use film::{BleachTable, Light, ResistFilm};
pub use lamp::{EXPOSURE_S, IRRADIANCE_MW_CM2, usual_irradiance_mw_cm2};
pub use line::{Bleaching, MercuryLine};
pub use request::{PROXIMITY_GAP_UM, ResistFocus, Tool};
pub use results::{AerialImage, ExposureResults, FilmBelow, LatentImage, MaskShown};
pub use swing::SwingCurve;

pub(super) use latent::{Exposing, Latent, float};
pub(super) use listed::list;
pub(super) use request::{Exposure, ExposureRequest};

use crate::bench::OperationSchema;
use crate::bound::{Bound, Choice};
use crate::error::RequestError;
use crate::hazards;
use crate::lithography::Resist;
use crate::lithography::imaging::{Pattern, Polarity};
use crate::report::Report;
use crate::request::read_fields;
use crate::vocabulary::Material;

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
        IRRADIANCE_MW_CM2,
        EXPOSURE_S,
        inside(SHIFT_UM, "overlay_um.x"),
        Bound { label: "Mask shifted to the back", ..inside(SHIFT_UM, "overlay_um.y") },
        inside(SCALE_PPM, "alignment.scale_ppm"),
        inside(ROTATION_URAD, "alignment.rotation_urad"),
        inside(SKEW_URAD, "alignment.skew_urad"),
        inside(PLACE_MM, "alignment.place_mm.x"),
        Bound { label: "Place, to the back", ..inside(PLACE_MM, "alignment.place_mm.y") },
        inside(RANDOM_UM, "alignment.random_um[]"),
        inside(PITCH_UM, "mask.pitch_um"),
        inside(OPENING_UM, "mask.opening_um"),
        Bound { label: "Left end", ..inside(END_UM, "mask.openings_um[][0]") },
        Bound { label: "Right end", ..inside(END_UM, "mask.openings_um[][1]") },
        THICKNESS_NM,
        inside(FILM_NM, "stack_below[].thickness_nm"),
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
        OXIDE_SWING_NM,
    ]
}

/// The word fields of an exposure.
pub(super) fn choices() -> Vec<Choice> {
    vec![
        Tool::choice("tool", "Printing", Some(Tool::Projection)),
        Pattern::choice("mask.pattern", "Mask", Some(Pattern::LineSpace)),
        Polarity::choice("mask.polarity", "Field", Some(Polarity::DarkField)),
        ResistFocus::choice(
            "focus_in_resist",
            "Focus in the resist",
            Some(ResistFocus::Same),
        ),
        Choice {
            field: "stack_below[].material",
            label: "Film",
            values: Material::ALL
                .iter()
                .filter(|film| **film != Material::Resist)
                .map(|film| (film.word(), film.label()))
                .collect(),
            default: None,
        },
        Resist::choice("resist", "Resist", Some(Resist::P12)),
    ]
}
