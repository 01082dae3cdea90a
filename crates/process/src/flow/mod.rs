//! A whole process: from a flow file to snapshots of the wafer.
//!
//! A [`Flow`] is a wafer, a layout, a section line and an ordered list of steps; each step is
//! the request of a single operation. A [`Runner`] takes a [`Section`](crate::wafer::Section)
//! through the steps and keeps a [`Snapshot`] of each, so that after a change only the steps
//! from there on run again. What a snapshot is asked for stands in [`questions`].
//!
//! Nothing here knows a rate or a diffusivity: the rooms of the operations are asked, and the
//! rooms of the wafer change it.

pub mod bounds;
mod drawing;
mod electrical;
mod fault;
mod file;
pub mod layout;
mod listed;
pub mod questions;
mod report;
mod run;
mod schema;
mod settings;
mod task;
mod words;

pub use crate::vocabulary::step_name;
pub use drawing::{Drawing, Print};
pub use electrical::{CircuitKind, Electrical, GateKind};
pub use layout::{Label, Layout, Line, Mask, Polarity, Polygon};
pub(crate) use listed::list;
pub use report::{FlowReport, FlowWarning, Measurement, StepReport};
pub use run::{Begun, Progress, Runner, Snapshot, Stopped};
pub use schema::{json_schema, step_schemas};
pub use settings::{ImageKind, MeshKind, Settings};
pub use task::{CleanRecipe, STEP_OPERATIONS};
pub use words::step_parameters;

use serde_json::{Map, Value};

use crate::error::RequestError;
use crate::request::nearest;
use crate::vocabulary::{Orientation, Substrate};
use layout::Rule;
use task::Task;

/// `format` of every flow file.
pub const FORMAT: &str = "barewafer-flow";

/// `version` of the flow files that are read and written.
pub const VERSION: u32 = 1;

/// A process from the bare wafer to the finished chip.
#[derive(Clone, Debug)]
pub struct Flow {
    /// Its name.
    pub name: String,
    /// What it makes, in a line.
    pub title: String,
    /// What is to be learned from it.
    pub aim: String,
    /// Where it plays.
    pub setting: String,
    /// The wafer at the start.
    pub substrate: WaferStart,
    /// The drawing of the chip.
    pub layout: Layout,
    /// Where the wafer is cut.
    pub section: Line,
    /// Design rules in words.
    pub design_rules: Vec<String>,
    /// Design rules that are checked; the built-in ones hold beside them.
    pub rules: Vec<Rule>,
    /// Model choices for all steps.
    pub settings: Settings,
    /// The steps in order.
    pub steps: Vec<FlowStep>,
    /// What the finished wafer is asked as a circuit.
    pub electrical: Electrical,
}

/// The wafer at the start.
#[derive(Clone, Debug, PartialEq)]
pub struct WaferStart {
    /// Type and doping.
    pub doping: Substrate,
    /// Crystal face.
    pub orientation: Orientation,
    /// Resistivity in ohm cm, if the wafer was ordered by it.
    pub resistivity_ohm_cm: Option<f64>,
    /// Diameter in mm.
    pub diameter_mm: f64,
    /// Thickness in um.
    pub thickness_um: f64,
    /// Whether its back is a contact.
    pub back_contact: bool,
}

/// One step of a flow.
#[derive(Clone, Debug)]
pub struct FlowStep {
    /// Its name in the flow.
    pub id: String,
    /// What it is for.
    pub purpose: String,
    /// Rows of the hazard table that its traveller names, beside those that its operation has.
    pub hazards: Vec<String>,
    /// What somebody has noted on it; it changes nothing.
    pub note: String,
    /// Its operation.
    pub operation: &'static str,
    /// Its object as it was given.
    pub object: Map<String, Value>,
    /// The same without the operation, with the flow's settings where it leaves a field out.
    filled: Map<String, Value>,
    task: Task,
}

impl Flow {
    /// The place of a step, by its id or by its number from 1.
    ///
    /// # Errors
    /// [`RequestError`] `unknown_step` for a step that is not there.
    pub fn find_step(&self, step: &str) -> Result<usize, RequestError> {
        let by_id = self.steps.iter().position(|known| known.id == step);
        let by_number = || {
            let number: usize = step.parse().ok()?;
            (1..=self.steps.len()).contains(&number).then(|| number - 1)
        };
        by_id.or_else(by_number).ok_or_else(|| {
            let ids: Vec<&str> = self.steps.iter().map(|step| step.id.as_str()).collect();
            let hint = nearest(step, &ids).map_or_else(
                || "give the id of a step or its number from 1".to_owned(),
                |near| format!("did you mean {near}"),
            );
            let allowed = format!("1 to {}, or a step's id", self.steps.len());
            RequestError::new(
                "unknown_step",
                "step",
                step,
                &allowed,
                &format!(
                    "step: {} is no step of this flow (allowed: {allowed})",
                    crate::error::one_line(step)
                ),
                &hint,
            )
        })
    }

    /// Length of the section in um.
    #[must_use]
    pub fn width_um(&self) -> f64 {
        self.section.length_um()
    }

    /// Where the layout breaks its rules: those of the file and the built-in ones.
    #[must_use]
    pub fn rule_breaks(&self) -> Vec<layout::RuleBreak> {
        layout::breaks(&self.layout, &self.rules)
    }
}

/// The error of a level that the layout does not have.
fn unknown_level(field: &str, level: &str, layout: &Layout) -> RequestError {
    let known: Vec<&str> = layout.masks.iter().map(|mask| mask.level.as_str()).collect();
    let allowed = known.join(", ");
    let hint = nearest(level, &known).map_or_else(
        || "name one of the layout's levels".to_owned(),
        |near| format!("did you mean {near}"),
    );
    RequestError::new(
        "unknown_value",
        field,
        level,
        &allowed,
        &format!(
            "{field}: the layout has no level {} (allowed: {allowed})",
            crate::error::one_line(level)
        ),
        &hint,
    )
}

/// The levels that the first steps of a flow print, in order, each with the overlay error of its
/// last print in um.
#[must_use]
pub fn printed_levels(flow: &Flow, steps: usize) -> Vec<(String, [f64; 2])> {
    let mut printed: Vec<(String, [f64; 2])> = Vec::new();
    for step in flow.steps.iter().take(steps) {
        if let Task::Exposure(printing) = &step.task {
            printed.retain(|(level, _)| *level != printing.level);
            printed.push((printing.level.clone(), printing.overlay_um));
        }
    }
    printed
}
