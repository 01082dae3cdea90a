//! What a flow needs to know of an oxidation: its checked fields, not a run of it.

use serde_json::{Map, Value};

use super::request::{Checked, OxidationRequest, Question};
use super::{Conditions, Segment, cautions, time_to};
use crate::error::RequestError;
use crate::report::Warning;
use crate::request::read_fields;
use crate::units::Length;

/// An oxidation as a step of a flow.
#[derive(Clone, Debug)]
pub(crate) struct FlowOxidation {
    checked: Checked,
}

impl FlowOxidation {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: Map<String, Value>) -> Result<Self, RequestError> {
        Ok(Self { checked: read_fields::<OxidationRequest>(fields)?.check()? })
    }

    /// What oxidizes, in which models.
    pub(crate) const fn conditions(&self) -> &Conditions {
        &self.checked.conditions
    }

    /// The furnace recipe; a target thickness is turned into a time, from the oxide that is
    /// there.
    ///
    /// # Errors
    /// For a target that lies below the oxide at the start or beyond the longest time.
    pub(crate) fn segments(&self, oxide: Length) -> Result<Vec<Segment>, RequestError> {
        match &self.checked.question {
            Question::Thickness(segment) => Ok(vec![*segment]),
            Question::Recipe(segments) => Ok(segments.clone()),
            &Question::Time { ambient, temperature, target } => {
                let start = Checked { initial: oxide, ..self.checked.clone() };
                let time = time_to(&start, ambient, temperature, target)?;
                Ok(vec![Segment::hold(ambient, temperature, time)])
            }
        }
    }

    /// What is to be said about the models, for an oxide of this thickness.
    pub(crate) fn warnings(&self, segments: &[Segment], oxide: Length) -> Vec<Warning> {
        cautions::warnings(&self.checked, segments, oxide)
    }

    /// The gases and the heat.
    pub(crate) fn hazards(&self, segments: &[Segment]) -> Vec<&'static str> {
        cautions::hazards(segments, self.checked.conditions.hcl_percent)
    }
}
