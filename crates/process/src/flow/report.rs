//! What a flow answers: a report per step, and measurements of the finished wafer.

use serde::Serialize;
use serde_json::{Map, Value};

/// Something to know about a step, at a place of the section.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FlowWarning {
    /// What is wrong, as a name in snake case.
    pub code: &'static str,
    /// The field of the step that causes it, or empty.
    pub field: String,
    /// What is wrong, in words; the place stands in them.
    pub message: String,
    /// What to do about it.
    pub hint: String,
    /// Where, from the beginning of the section line, in um; null for the whole section.
    pub x_um: Option<f64>,
}

/// What one step did.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StepReport {
    /// The step's id.
    pub id: String,
    /// Its number from 1.
    pub number: usize,
    /// Its operation.
    pub operation: &'static str,
    /// What it did, as numbers and words whose names carry the unit.
    pub results: Map<String, Value>,
    /// What is to be known about it.
    pub warnings: Vec<FlowWarning>,
    /// Rows of the hazard table, worst first.
    pub hazards: Vec<String>,
}

/// A number measured on the wafer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Measurement {
    /// Its name.
    pub id: String,
    /// What is measured, in words.
    pub quantity: String,
    /// The value; a text or true or false where it is no number.
    pub value: Value,
    /// Its unit.
    pub unit: &'static str,
    /// Where: a label of the layout, or a place of the section.
    #[serde(rename = "where")]
    pub place: String,
}

/// The answer to a flow.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FlowReport {
    /// The flow's name.
    pub flow: String,
    /// What every step did.
    pub steps: Vec<StepReport>,
    /// What the wafer measures in the end.
    pub measurements: Vec<Measurement>,
    /// Where the layout breaks its rules.
    pub rule_breaks: Vec<super::layout::RuleBreak>,
    /// Version of the kernel that computed it.
    pub kernel_version: &'static str,
}

impl FlowWarning {
    /// Builds a warning.
    pub(super) fn new(
        code: &'static str,
        field: &str,
        message: String,
        hint: &str,
        x_um: Option<f64>,
    ) -> Self {
        Self { code, field: field.to_owned(), message, hint: hint.to_owned(), x_um }
    }

    /// A warning of a single operation, for the whole section.
    pub(super) fn of(warning: crate::report::Warning) -> Self {
        let crate::report::Warning { code, field, message, hint } = warning;
        Self { code, field, message, hint, x_um: None }
    }
}
