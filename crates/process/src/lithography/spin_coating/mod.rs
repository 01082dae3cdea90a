//! Spin coating: a puddle of resist becomes a film.

mod cautions;
mod derivation;
mod laws;
mod puddle;
mod request;
mod rim;
mod speed;
mod step;
mod thinning;

use serde::Serialize;
use serde_json::{Map, Value};

use crate::bench::OperationSchema;
use crate::error::RequestError;
use crate::hazards;
use crate::lithography::Resist;
use crate::num::{linspace, logspace};
use crate::report::{Accuracy, Report};
use crate::request::read_fields;

pub use laws::{
    DENSITY_KG_M3, DRY_SOLIDS_FRACTION, EVAPORATION_UM_S, LAMINAR_EXPONENT,
    REFERENCE_SPEED_RPM, SKIN_SOLIDS_FRACTION, SOLVENT_VISCOSITY_MPA_S, angular_rad_s,
    forgetting_time_s, height_without_evaporation_um, transition_height_um,
};
pub use puddle::{
    LEAST_REACH, PUDDLE_ANGLE_DEG, SURFACE_TENSION_N_M, puddle_height_mm,
    puddle_radius_mm, volume_ml,
};
pub use request::{
    ACCELERATION_RPM_S, BEAD_REMOVAL_MM, DISPENSE_ML, DISPENSE_UM, SPEED_RPM,
    SPREAD_SPEED_RPM, SPREAD_TIME_S, STEP_HEIGHT_NM, STEP_RADIUS_MM, STEP_WIDTH_UM,
    TIME_S, WAFER_DIAMETER_MM,
};
pub use rim::{
    AcrossWafer, BEAD_LENGTH_MM, BEAD_PER_UM, EDGE_EXCLUSION_MM, TURBULENT_DRYING,
    bead_ratio, turbulent_radius_mm,
};
pub use speed::{SpeedPiece, SpeedProgram};
pub use step::{STOPPED_SOLIDS_FRACTION, StepCoverage, leveling_length_um};
pub use thinning::{Film, NotConverged, STEP_TOLERANCE, Thinned, Thinning};

pub(super) use request::{Spin, SpinRequest};

/// Solvent left after the soft bake as a volume fraction (model choice; 3-5 % is common
/// practice after 60 s at 100 C on a hot plate).
pub const BAKED_SOLVENT_FRACTION: f64 = 0.04;

/// Kinematic viscosity of air at 20 C in m2/s (memory: 1.5e-5 in every table of air).
pub const AIR_VISCOSITY_M2_S: f64 = 1.5e-5;

/// Reynolds number of the rim at which spiral vortices appear: sqrt(Re) about 297.
///
/// N. Gregory, J. T. Stuart, W. S. Walker, Phil. Trans. R. Soc. A 248, 155 (1955) (memory,
/// 10 %).
pub const SPIRAL_REYNOLDS: f64 = 8.8e4;

/// Reynolds number of the rim at which the air flow turns turbulent: sqrt(Re) about 510.
///
/// R. J. Lingwood, J. Fluid Mech. 299, 17 (1995) (memory, 10 %).
pub const TURBULENT_REYNOLDS: f64 = 2.6e5;

/// Speeds of the spin curve in rpm.
const CURVE_RPM: (f64, f64) = (1000.0, 8000.0);

/// Points of the spin curve.
const CURVE_POINTS: usize = 30;

/// Results of a spin coating.
#[derive(Clone, Debug, Serialize)]
pub struct SpinCoatingResults {
    /// Thickness after the soft bake in nm.
    pub thickness_nm: f64,
    /// Thickness at the end of the spin, before the bake, in nm.
    pub wet_thickness_nm: f64,
    /// Solids left on the wafer, as a height in nm.
    pub solids_nm: f64,
    /// Volume fraction of solids at the end of the spin.
    pub solids_fraction: f64,
    /// Baked thickness by the closed two-stage estimate in nm, to compare.
    pub two_stage_nm: f64,
    /// Share of the dispensed solids that stays on the wafer.
    pub kept_fraction: f64,
    /// Time at which draining falls below drying in s; null if it never does.
    pub transition_s: Option<f64>,
    /// Time at which the film is dry in s; null if it is not dry at the end.
    pub dry_s: Option<f64>,
    /// Reynolds number of the air at the wafer's rim.
    pub rim_reynolds: f64,
    /// Speed at which spiral vortices reach the rim in rpm.
    pub spiral_speed_rpm: f64,
    /// Speed at which the flow at the rim turns turbulent in rpm.
    pub turbulent_speed_rpm: f64,
    /// Dispensed volume in ml.
    pub dispense_ml: f64,
    /// Radius in mm that a dispensed volume reaches before the wafer turns, at most that of the
    /// wafer; null if the liquid starts at an even height.
    pub puddle_radius_mm: Option<f64>,
    /// Volume of solids that stays on the wafer in ul.
    pub solids_ul: f64,
    /// Whether the wafer was primed for adhesion.
    pub primed: bool,
    /// The film from the center to the edge.
    pub across: AcrossWafer,
    /// The film over a step; null without one.
    pub step: Option<StepCoverage>,
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

/// Baked thickness in um of a height of solids in um: `h = S / (1 - phi)`.
#[must_use]
pub fn baked_um(solids_um: f64) -> f64 {
    solids_um / (1.0 - BAKED_SOLVENT_FRACTION)
}

/// Reynolds number of the air at the rim: `omega R^2 / nu`.
#[must_use]
pub fn rim_reynolds(speed_rpm: f64, wafer_diameter_mm: f64) -> f64 {
    let radius_m = 0.5e-3 * wafer_diameter_mm;
    angular_rad_s(speed_rpm) * radius_m * radius_m / AIR_VISCOSITY_M2_S
}

/// Speed in rpm at which the rim reaches a Reynolds number.
#[must_use]
pub fn rim_speed_rpm(reynolds: f64, wafer_diameter_mm: f64) -> f64 {
    reynolds / rim_reynolds(1.0, wafer_diameter_mm)
}

/// Runs a spin coating.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(
    fields: Map<String, Value>,
) -> Result<Report<SpinCoatingResults>, RequestError> {
    let request: SpinRequest = read_fields(fields)?;
    let spin = request.check()?;
    let thinned = spin.thin(spin.speed_rpm)?;
    let film = thinned.end();
    let solids_um = film.solids_um();
    let two_stage_um = spin.two_stage_solids_um();
    let dispense_ml = volume_ml(spin.dispense_um, spin.wafer_diameter_mm);
    let results = SpinCoatingResults {
        thickness_nm: 1e3 * baked_um(solids_um),
        wet_thickness_nm: 1e3 * film.height_um,
        solids_nm: 1e3 * solids_um,
        solids_fraction: film.solids_fraction,
        two_stage_nm: 1e3 * baked_um(two_stage_um),
        kept_fraction: solids_um
            / (spin.dispense_um * spin.resist.formulation().solids_fraction),
        transition_s: thinned.transition_s(),
        dry_s: thinned.dry_s(),
        rim_reynolds: rim_reynolds(spin.speed_rpm, spin.wafer_diameter_mm),
        spiral_speed_rpm: rim_speed_rpm(SPIRAL_REYNOLDS, spin.wafer_diameter_mm),
        turbulent_speed_rpm: rim_speed_rpm(TURBULENT_REYNOLDS, spin.wafer_diameter_mm),
        dispense_ml,
        puddle_radius_mm: spin
            .is_puddle
            .then(|| puddle_radius_mm(dispense_ml).min(0.5 * spin.wafer_diameter_mm)),
        solids_ul: 1e3 * volume_ml(solids_um, spin.wafer_diameter_mm),
        primed: spin.primed,
        across: spin.across(baked_um(solids_um))?,
        step: spin.step.map(|step| step::coverage(step, solids_um, spin.speed_rpm)),
        curve: trace(&thinned, spin.program(spin.speed_rpm).end_s()),
        spin_curve: spin_curve(&spin)?,
    };
    let working = derivation::working(&spin, &results);
    let warnings = cautions::warnings(&spin, &results);
    let mut chemicals = vec![spin.resist.word()];
    chemicals.extend(spin.primed.then_some("primed"));
    chemicals.extend((0.0 < spin.bead_removal_mm).then_some("edge_bead_removal"));
    Ok(Report {
        operation: "spin_coating",
        results,
        working,
        warnings,
        published: Vec::new(),
        accuracy: Some(Accuracy {
            relative: 0.02,
            meaning: "the demo resists are invented: within 2 % of their own table; measure the spin curve of a real resist",
            source: "model choice",
        }),
        hazards: hazards::for_step("spin_coating", &chemicals),
        kernel_version: "",
    })
}

/// The form of spin coating.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "spin_coating",
        numbers: vec![
            SPEED_RPM,
            TIME_S,
            ACCELERATION_RPM_S,
            DISPENSE_UM,
            DISPENSE_ML,
            WAFER_DIAMETER_MM,
            BEAD_REMOVAL_MM,
            STEP_HEIGHT_NM,
            STEP_WIDTH_UM,
            STEP_RADIUS_MM,
            SPREAD_SPEED_RPM,
            SPREAD_TIME_S,
        ],
        choices: vec![Resist::choice("resist", "Resist", None)],
    }
}

/// The film at about 120 times: dense in the first second, and even to the end.
fn trace(thinned: &Thinned, end_s: f64) -> SpinTrace {
    let mut time_s = linspace(0.0, end_s, 56);
    time_s.extend(logspace((end_s * 1e-3).min(0.02), end_s, 62));
    time_s.extend(thinned.transition_s());
    time_s.extend(thinned.dry_s());
    crate::num::sort_increasing(&mut time_s);
    time_s.dedup_by(|b, a| *b - *a < 1e-6 * end_s);
    let films: Vec<Film> = time_s.iter().map(|&t| thinned.film(t)).collect();
    SpinTrace {
        thickness_nm: films.iter().map(|film| 1e3 * film.height_um).collect(),
        solids_fraction: films.iter().map(|film| film.solids_fraction).collect(),
        speed_rpm: time_s.iter().map(|&t| thinned.speed_rpm(t)).collect(),
        time_s,
    }
}

fn spin_curve(spin: &Spin) -> Result<SpinCurve, RequestError> {
    let speed_rpm = logspace(CURVE_RPM.0, CURVE_RPM.1, CURVE_POINTS);
    let thickness_nm = speed_rpm
        .iter()
        .map(|&rpm| Ok(1e3 * baked_um(spin.thin(rpm)?.end().solids_um())))
        .collect::<Result<Vec<f64>, RequestError>>()?;
    Ok(SpinCurve { speed_rpm, thickness_nm })
}
