//! Chemical-mechanical planarization: Preston's law, a step that levels out, a stop layer.

mod in_flow;
mod listed;
mod preston;
mod request;
mod working;

pub(crate) use in_flow::{FlowPolish, PolishEnd};
pub(crate) use listed::list;
pub use preston::{Leveled, Leveling, preston_nm_min};
pub use request::{
    DENSE_FRACTION, OXIDE_PER_PA, OXIDE_PER_PA_RANGE, OXIDE_TO_NITRIDE, PRESSURE_KPA,
    PRESTON_PER_PA, SELECTIVITY, SPEED_M_S, STEP_HEIGHT_NM, TARGET_NM, THICKNESS_NM,
    TIME_S,
};

use serde::Serialize;
use serde_json::{Map, Value};

use crate::bench::OperationSchema;
use crate::bound::Bound;
use crate::error::RequestError;
use crate::hazards;
use crate::num::{linspace, sort_increasing};
use crate::report::{Accuracy, Report};
use crate::request::read_fields;
use crate::vocabulary::Material;
use request::{Planarization, PlanarizationRequest};

/// Points of the curve, without the present time and the events.
const CURVE_POINTS: usize = 60;

/// Results of a planarization.
#[derive(Clone, Debug, Serialize)]
pub struct PlanarizationResults {
    /// The film that is polished.
    pub material: Material,
    /// The stop layer on the high places; null without.
    pub stop: Option<Material>,
    /// Film at the start in nm, the same on high and low places.
    pub thickness_nm: f64,
    /// Film taken from the high places in nm.
    pub removed_nm: f64,
    /// Film left on the high places in nm.
    pub remaining_nm: f64,
    /// Film left on the low places in nm.
    pub low_remaining_nm: f64,
    /// Film left, mean over the area, in nm.
    pub mean_thickness_nm: f64,
    /// Rate on a flat wafer in nm/min.
    pub rate_nm_min: f64,
    /// Low end of its usual range in nm/min.
    pub rate_low_nm_min: f64,
    /// High end of it in nm/min.
    pub rate_high_nm_min: f64,
    /// Rate on the high places while there is a step in nm/min.
    pub high_rate_nm_min: f64,
    /// Step at the start in nm.
    pub initial_step_height_nm: f64,
    /// Step left in nm.
    pub step_height_nm: f64,
    /// Share of the area that is high.
    pub dense_fraction: f64,
    /// Time given or needed in s.
    pub time_s: f64,
    /// Time until the step is gone in s; null if the film goes first.
    pub time_to_level_s: Option<f64>,
    /// Time until the film over the high places is gone in s.
    pub time_to_clear_s: f64,
    /// Stop layer taken in nm; null without a stop layer.
    pub stop_layer_loss_nm: Option<f64>,
    /// Film over stop layer; null without.
    pub selectivity: Option<f64>,
    /// Everything against time.
    pub curve: PolishCurve,
}

/// A planarization against time; all lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct PolishCurve {
    /// Times in s.
    pub time_s: Vec<f64>,
    /// Step left in nm.
    pub step_height_nm: Vec<f64>,
    /// Mean film left in nm.
    pub mean_thickness_nm: Vec<f64>,
    /// Film left on the high places in nm.
    pub remaining_nm: Vec<f64>,
}

/// Runs a planarization.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(
    fields: Map<String, Value>,
) -> Result<Report<PlanarizationResults>, RequestError> {
    let request: PlanarizationRequest = read_fields(fields)?;
    let polish = request.check()?;
    let results = polish.results();
    let working = working::working(&polish, &results);
    let warnings = working::warnings(&polish, &results);
    let up = results.rate_high_nm_min / results.rate_nm_min - 1.0;
    Ok(Report {
        operation: "planarization",
        published: Vec::new(),
        accuracy: (!polish.preston_given).then_some(Accuracy {
            relative: up,
            meaning: "pad, slurry and age of the pad change the rate that much, mostly upward; measure it on a test wafer",
            source: "100 to 300 nm/min of oxide in common practice",
        }),
        results,
        working,
        warnings,
        hazards: hazards::for_step("planarization", &[polish.material.word()]),
        kernel_version: "",
    })
}

/// The form of planarization.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "planarization",
        numbers: vec![
            THICKNESS_NM,
            STEP_HEIGHT_NM,
            DENSE_FRACTION,
            TIME_S,
            TARGET_NM,
            PRESSURE_KPA,
            SPEED_M_S,
            Bound { default: Some(OXIDE_PER_PA), ..PRESTON_PER_PA },
            SELECTIVITY,
        ],
        choices: vec![
            Material::choice("material", "Film", None),
            Material::choice("stop.material", "Stop layer on the high places", None),
        ],
    }
}

impl Planarization {
    fn results(&self) -> PlanarizationResults {
        let leveling = &self.leveling;
        let after = leveling.after(self.time_s);
        let rate = leveling.rate_nm_min;
        let ends = if self.preston_given {
            [rate; 2]
        } else {
            OXIDE_PER_PA_RANGE.map(|end| rate * end / OXIDE_PER_PA)
        };
        PlanarizationResults {
            material: self.material,
            stop: self.stop,
            thickness_nm: leveling.thickness_nm,
            removed_nm: after.removed_nm,
            remaining_nm: after.remaining_nm,
            low_remaining_nm: after.low_remaining_nm,
            mean_thickness_nm: after.mean_nm(leveling.dense_fraction),
            rate_nm_min: rate,
            rate_low_nm_min: ends[0],
            rate_high_nm_min: ends[1],
            high_rate_nm_min: rate / leveling.dense_fraction,
            initial_step_height_nm: leveling.step_nm,
            step_height_nm: after.step_nm,
            dense_fraction: leveling.dense_fraction,
            time_s: self.time_s,
            time_to_level_s: leveling.time_to_level_s(),
            time_to_clear_s: leveling.time_to_clear_s(),
            stop_layer_loss_nm: self.stop.map(|_| after.stop_loss_nm),
            selectivity: leveling.selectivity,
            curve: self.curve(),
        }
    }

    /// From the start to somewhat beyond the present time and the end of the film.
    fn curve(&self) -> PolishCurve {
        let leveling = &self.leveling;
        let clear_s = leveling.time_to_clear_s();
        let end_s = (1.3 * self.time_s).max(1.05 * clear_s);
        let mut time_s = linspace(0.0, end_s, CURVE_POINTS);
        time_s.extend([self.time_s, clear_s]);
        time_s.extend(leveling.time_to_level_s());
        sort_increasing(&mut time_s);
        time_s.dedup_by(|b, a| *b - *a < 1e-9 * end_s);
        let mut curve = PolishCurve::default();
        for &time in &time_s {
            let after = leveling.after(time);
            curve.step_height_nm.push(after.step_nm);
            curve.mean_thickness_nm.push(after.mean_nm(leveling.dense_fraction));
            curve.remaining_nm.push(after.remaining_nm);
        }
        curve.time_s = time_s;
        curve
    }
}
