//! Ion implantation.
//!
//! Ions of one energy come to rest at depths that follow from many small chances: a bell curve
//! whose mean (projected range) and width (straggle) stand in tables. Layers above the silicon
//! take their part of the dose first.

mod activation;
mod beam;
mod bounds;
mod calculation;
mod computed_ranges;
mod damage;
mod damage_curves;
mod distribution;
mod in_flow;
pub mod lateral;
mod listed;
mod masks;
pub mod monte_carlo;
mod pearson;
mod published_ranges;
mod ranges;
mod request;
mod results;
mod spread;
mod stack;
mod tabulated;
mod transient;
mod warnings;
mod working;

use serde_json::{Map, Value};

use crate::bench::OperationSchema;
use crate::constants::ELEMENTARY_CHARGE_C;
use crate::error::RequestError;
use crate::num::show;
use crate::profile::MAX_CONCENTRATION_CM3;
use crate::report::{Accuracy, Report};
use crate::request::read_fields;
use crate::vocabulary::Ion;

use calculation::Calculation;
use monte_carlo::TrackRun;
use ranges::{Species, TargetKind};
use request::{ImplantationRequest, Settings};

pub use beam::{Beam, Stopped};
pub use bounds::{
    BEAM_CURRENT, CHARGE_STATE, DOSE, ENERGY, GIVEN_KURTOSIS, GIVEN_LATERAL, GIVEN_RANGE,
    GIVEN_SKEWNESS, GIVEN_STRAGGLE, IONS, LAYER_THICKNESS, MASK_LEAK, ROTATION, SEED,
    SUBSTRATE, TILT, WAFER_DIAMETER,
};
pub(crate) use in_flow::FlowImplant;
pub use lateral::share_at_mask_edge;
pub(crate) use listed::list;
pub use ranges::RangeTable;
pub use request::ImplantationModel;
pub use results::{
    Activation, DamageProfile, Fluorine, ImplantationResults, LayerDose, MaskThickness,
    StackProfile, TableSpread, TransientDiffusion,
};

/// Runs an implantation.
///
/// # Model
/// Range and straggle by table (see [`RangeTable`]), tilt as a rotation of the ion cloud, layers
/// by dose matching, profile by [`ImplantationModel`]. Amorphous targets: no channeling except
/// in the illustrative model; atoms knocked on from layers are neglected.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(
    request: Map<String, Value>,
) -> Result<Report<ImplantationResults>, RequestError> {
    let settings = read_fields::<ImplantationRequest>(request)?.check()?;
    if settings.model == ImplantationModel::MonteCarlo {
        let mut ions = TrackRun::of(settings);
        ions.advance(u32::MAX);
        return Ok(ions.own_report());
    }
    let calculation = Calculation::new(settings);
    let results = results::of(&calculation);
    check_peak(&calculation.settings, results.peak_cm3)?;
    Ok(Report {
        operation: "implantation",
        working: working::lines(&calculation, &results),
        warnings: warnings::all(&calculation, &results),
        // Range and straggle are the table's own: a published point would check nothing.
        published: Vec::new(),
        accuracy: accuracy(&calculation),
        hazards: hazards(calculation.settings.ion),
        results,
        kernel_version: "",
    })
}

/// The form of this operation.
#[must_use]
pub fn schema() -> OperationSchema {
    request::schema()
}

/// Given moments may squeeze a dose into less than the atoms of silicon can hold.
fn check_peak(settings: &Settings, peak_cm3: f64) -> Result<(), RequestError> {
    if peak_cm3 <= MAX_CONCENTRATION_CM3 {
        return Ok(());
    }
    let most = settings.dose_cm2 * MAX_CONCENTRATION_CM3 / peak_cm3;
    let allowed = format!("at most {} cm⁻² for this straggle", show(most));
    Err(RequestError::conflict(
        "dose_cm2",
        &settings.dose_cm2.to_string(),
        &allowed,
        &format!(
            "dose_cm2: the peak would be {} per cm3, more atoms than silicon has (allowed: {allowed})",
            show(peak_cm3)
        ),
        "lower the dose or widen the straggle",
    ))
}

/// Time in s for a dose on the whole wafer: `t = Q n q A / I`, the definition of a current.
fn beam_time_s(dose_cm2: f64, beam: request::Beam) -> f64 {
    let charge_c = dose_cm2
        * beam.charge_state
        * ELEMENTARY_CHARGE_C
        * wafer_area(beam.wafer_diameter_mm);
    charge_c / (1e-6 * beam.current_ua)
}

/// Area of a wafer in square centimeters.
fn wafer_area(diameter_mm: f64) -> f64 {
    let radius_cm = 0.05 * diameter_mm;
    core::f64::consts::PI * radius_cm * radius_cm
}

/// Feed gases of the usual sources, and the dangers of every implanter (common practice).
fn hazards(ion: Ion) -> Vec<&'static str> {
    match ion {
        Ion::Boron | Ion::Bf2 => vec!["BF3", "HV_XRAY", "VACUUM", "CRYO"],
        Ion::Phosphorus => vec!["PH3", "HV_XRAY", "VACUUM"],
        Ion::Arsenic => vec!["ASH3", "HV_XRAY", "VACUUM"],
        Ion::Antimony | Ion::Indium => vec!["HV_XRAY", "VACUUM", "HEAT"],
    }
}

/// How far ranges can be trusted; `None` for given moments.
fn accuracy(calculation: &Calculation) -> Option<Accuracy> {
    calculation.statistics.as_ref()?;
    let species = calculation.settings.species;
    let light = species == Species::Boron;
    let (relative, meaning, source) = match TargetKind::of(calculation.settings.target) {
        TargetKind::Silicon => (
            match species {
                Species::Boron => 0.05,
                Species::Phosphorus => 0.10,
                Species::Arsenic | Species::Antimony | Species::Indium => 0.20,
            },
            "projected range and straggle against measured profiles",
            "spread of the range theories against measured profiles, 30 to 200 keV (textbook figures; memory)",
        ),
        kind => (
            match kind {
                TargetKind::Oxide
                    if matches!(species, Species::Phosphorus | Species::Arsenic) =>
                {
                    0.35
                }
                TargetKind::Resist => 0.25,
                _ if light => 0.15,
                _ => 0.20,
            },
            "projected range and straggle, an estimate of the model's error",
            "spread between range theories (estimate, no measured profiles compared)",
        ),
    };
    Some(Accuracy { relative, meaning, source })
}
