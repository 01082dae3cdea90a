//! The process window: the width of a line for every dose and focus.

mod derivation;
mod request;
mod results;

use serde_json::{Map, Value};

pub use request::{
    DOSE_SPAN_PERCENT, DOSES, FOCUS_SPAN_UM, FOCUSES, GRID_NM, LATITUDE_PERCENT,
    TOLERANCE_PERCENT,
};
pub use results::ProcessWindowResults;

use crate::bench::OperationSchema;
use crate::error::RequestError;
use crate::hazards;
use crate::lithography::exposure::{BleachTable, Exposing};
use crate::report::Report;
#[cfg(feature = "lithography")]
use crate::report::Results;
use crate::request::read_fields;
use request::{Plan, WindowRequest};

/// A process window that is computed point by point, so that a page can look in between: row by
/// row of the focus, in each from the lowest dose to the highest.
#[derive(Debug)]
pub struct WindowRun {
    plan: Plan,
    /// `[focus][dose]`; what is not computed yet is none.
    width_um: Vec<Vec<Option<f64>>>,
    done: usize,
    /// The light in the focus of the present row.
    light: Option<Exposing>,
    /// The resist at any dose that was needed so far.
    resist: Option<BleachTable>,
}

impl WindowRun {
    /// Prepares the window of a request.
    ///
    /// # Errors
    /// [`RequestError`] for bad fields.
    pub fn start(mut request: Map<String, Value>) -> Result<Self, RequestError> {
        request.remove("operation");
        let request: WindowRequest = read_fields(request)?;
        let plan = request.check()?;
        let row = vec![None; plan.doses_mj_cm2.len()];
        let width_um = vec![row; plan.focuses_um.len()];
        let resist = Some(plan.middle.exposure.fresh()?);
        Ok(Self { plan, width_um, done: 0, light: None, resist })
    }

    fn points(&self) -> usize {
        self.plan.doses_mj_cm2.len() * self.plan.focuses_um.len()
    }

    /// Points asked for.
    #[must_use]
    pub fn total(&self) -> u32 {
        u32::try_from(self.points()).unwrap_or(u32::MAX)
    }

    /// Computes up to so many points; gives back how many are computed in all.
    pub fn advance(&mut self, points: u32) -> u32 {
        for _ in 0..points {
            if self.done == self.points() {
                break;
            }
            self.point();
        }
        u32::try_from(self.done).unwrap_or(u32::MAX)
    }

    /// One more point.
    fn point(&mut self) {
        let doses = self.plan.doses_mj_cm2.len();
        let (row, column) = (self.done / doses, self.done % doses);
        let dose = self.plan.doses_mj_cm2[column];
        let exposure = self.plan.middle.exposure.at(dose, self.plan.focuses_um[row]);
        if column == 0 {
            self.light = None;
        }
        let light = self.light.get_or_insert_with(|| exposure.light());
        let Some(resist) = self.resist.take() else { return };
        let latent = exposure.expose(light, resist);
        let mut step = self.plan.middle.clone();
        step.exposure = exposure;
        self.width_um[row][column] = step.clear_middle_um(&latent);
        self.resist = Some(latent.table);
        self.done += 1;
    }

    fn results(&self) -> ProcessWindowResults {
        let done = u32::try_from(self.done).unwrap_or(u32::MAX);
        results::judge(&self.plan, &self.width_um, done, self.total())
    }

    fn own_report(&self) -> Report<ProcessWindowResults> {
        let results = self.results();
        let exposure = &self.plan.middle.exposure;
        let developer = self.plan.middle.developer.word();
        let mut hazards = hazards::for_step(
            "exposure",
            &[exposure.tool.word(), exposure.resist.word()],
        );
        for id in hazards::for_step("development", &[developer]) {
            if !hazards.contains(&id) {
                hazards.push(id);
            }
        }
        Report {
            operation: "process_window",
            working: derivation::working(&self.plan, &results),
            warnings: derivation::warnings(&results),
            published: Vec::new(),
            accuracy: None,
            hazards,
            results,
            kernel_version: "",
        }
    }

    /// The report of what is computed so far.
    #[cfg(feature = "lithography")]
    #[must_use]
    pub fn report(&self) -> Report {
        let report =
            self.own_report().map(|results| Results::ProcessWindow(Box::new(results)));
        crate::bench::finished(report)
    }
}

/// Runs a whole process window.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(
    fields: Map<String, Value>,
) -> Result<Report<ProcessWindowResults>, RequestError> {
    let mut run = WindowRun::start(fields)?;
    run.advance(run.total());
    Ok(run.own_report())
}

/// The form of a process window; that of its exposure and its developer is theirs.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "process_window",
        numbers: vec![
            DOSE_SPAN_PERCENT,
            FOCUS_SPAN_UM,
            DOSES,
            FOCUSES,
            TOLERANCE_PERCENT,
            LATITUDE_PERCENT,
            super::development::TIME_S,
            super::development::TEMPERATURE_C,
        ],
        choices: vec![super::development::Developer::choice(
            "developer",
            "Developer",
            Some(super::development::Developer::Tmah),
        )],
    }
}
