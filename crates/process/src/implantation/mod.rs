//! Ion implantation.
//!
//! Ions of one energy come to rest at depths that follow from many small chances: a bell curve
//! whose mean (projected range) and width (straggle) stand in tables. Layers above the silicon
//! take their part of the dose first.

mod bounds;
mod calculation;
mod computed_ranges;
mod damage;
mod distribution;
mod pearson;
mod published_ranges;
mod ranges;
mod request;
mod stack;
mod warnings;
mod working;

use serde::Serialize;
use serde_json::{Map, Value};

use crate::bench::OperationSchema;
use crate::constants::ELEMENTARY_CHARGE_C;
use crate::error::RequestError;
use crate::num::{erfc, show};
use crate::profile::{MAX_CONCENTRATION_CM3, Profile};
use crate::report::{Accuracy, Report};
use crate::request::read_fields;
use crate::vocabulary::{Ion, Material};

use calculation::Calculation;
use ranges::{Species, TargetKind};
use request::{ImplantationRequest, Settings};

pub use bounds::{
    BEAM_CURRENT, CHARGE_STATE, DOSE, ENERGY, GIVEN_KURTOSIS, GIVEN_LATERAL, GIVEN_RANGE,
    GIVEN_SKEWNESS, GIVEN_STRAGGLE, LAYER_THICKNESS, ROTATION, SUBSTRATE, TILT,
    WAFER_DIAMETER,
};
pub use ranges::RangeTable;
pub use request::ImplantationModel;

/// Results of an implantation.
#[derive(Clone, Debug, Serialize)]
pub struct ImplantationResults {
    /// Projected range in silicon in nm (without layers above), along the beam.
    pub projected_range_nm: f64,
    /// Straggle in silicon in nm, along the beam.
    pub straggle_nm: f64,
    /// Lateral straggle in silicon in nm, across the beam.
    pub lateral_straggle_nm: f64,
    /// Skewness of the range distribution.
    pub skewness: f64,
    /// Kurtosis of the range distribution (Gaussian 3).
    pub kurtosis: f64,
    /// Mean depth below the surface in nm with the tilt, without layers above.
    pub range_depth_nm: f64,
    /// Standard deviation of the depth in nm with the tilt.
    pub depth_straggle_nm: f64,
    /// Largest concentration in the silicon per cm3.
    pub peak_cm3: f64,
    /// Its depth below the silicon surface in nm.
    pub peak_depth_nm: f64,
    /// Share of the dose that passes the layers above the silicon (1 without layers).
    pub transmitted_fraction: f64,
    /// Dose that stays in the silicon per cm2.
    pub retained_dose_cm2: f64,
    /// Share of the dose that leaves through the surface.
    pub lost_fraction: f64,
    /// Thickness in nm with which the thickest layer would make the layers stop 99.99 % of the
    /// dose; null without layers.
    pub mask_thickness_nm: Option<f64>,
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

/// Concentration from the very top of the stack; both lists have the same length. At each
/// interface the depth stands twice, with the concentration above and below it.
#[derive(Clone, Debug, Default, Serialize)]
pub struct StackProfile {
    /// Depth below the top of the stack in um.
    pub depth_um: Vec<f64>,
    /// Concentration per cm3.
    pub concentration_cm3: Vec<f64>,
}

/// Share of the concentration below an opening that is found at a lateral distance in nm from
/// its vertical, opaque edge: positive inside the opening, negative under the mask.
///
/// # Model
/// `(1/2) erfc(-y / (sqrt2 dRl))`: exactly half at the edge.
///
/// # Source
/// S. Furukawa, H. Matsumura, H. Ishiwara, Jpn. J. Appl. Phys. 11, 134 (1972) (memory).
#[must_use]
pub fn share_at_mask_edge(inside_nm: f64, lateral_straggle_nm: f64) -> f64 {
    0.5 * erfc(-inside_nm / (core::f64::consts::SQRT_2 * lateral_straggle_nm))
}

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
    let calculation = Calculation::new(settings);
    let damage = damage::estimate(&calculation);
    let results = results(&calculation, damage);
    check_peak(&calculation.settings, results.peak_cm3)?;
    Ok(Report {
        operation: "implantation",
        working: working::lines(&calculation, damage, &results),
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

fn results(
    calculation: &Calculation,
    damage: Option<damage::Damage>,
) -> ImplantationResults {
    let settings = &calculation.settings;
    let (peak_cm3, peak_depth_nm) = calculation.peak();
    let target = calculation.target();
    let junctions_um = calculation.junctions_um();
    let (depths_nm, values) = calculation.profile();
    let (stack_depth_um, stack_cm3) = calculation.stack_profile();
    let layers = settings
        .layers
        .iter()
        .zip(&calculation.passage.shares)
        .map(|(layer, share)| LayerDose {
            material: layer.material,
            thickness_nm: layer.thickness_nm,
            dose_cm2: settings.dose_cm2 * share.stopped,
        })
        .collect::<Vec<_>>();
    ImplantationResults {
        projected_range_nm: calculation.beam_moments.mean_nm,
        straggle_nm: calculation.beam_moments.sigma_nm,
        lateral_straggle_nm: calculation.beam_moments.lateral_nm,
        skewness: calculation.beam_moments.skewness,
        kurtosis: calculation.beam_moments.kurtosis,
        range_depth_nm: calculation.moments.mean_nm,
        depth_straggle_nm: calculation.moments.sigma_nm,
        peak_cm3,
        peak_depth_nm,
        transmitted_fraction: if layers.is_empty() { 1.0 } else { target.arriving },
        retained_dose_cm2: settings.dose_cm2 * target.stopped,
        lost_fraction: calculation.passage.lost,
        mask_thickness_nm: calculation.mask.map(|(_, thickness_nm)| thickness_nm),
        junction_depth_um: junctions_um.last().copied(),
        junctions_um,
        profile: Profile {
            depth_um: depths_nm.iter().map(|depth_nm| 1e-3 * depth_nm).collect(),
            dopants: vec![(settings.species.dopant(), values)],
            net_cm3: Vec::new(),
            active_net_cm3: Vec::new(),
        },
        layers,
        stack_profile: StackProfile {
            depth_um: stack_depth_um,
            concentration_cm3: stack_cm3,
        },
        beam_time_s: settings.beam.map(|beam| beam_time_s(settings.dose_cm2, beam)),
        amorphous_depth_nm: damage.and_then(|damage| damage.amorphous_depth_nm),
    }
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
        Ion::Antimony => vec!["HV_XRAY", "VACUUM", "HEAT"],
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
                Species::Arsenic | Species::Antimony => 0.20,
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
