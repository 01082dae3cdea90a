//! Warnings of a step, collected in words.

use super::super::report::FlowWarning;
use crate::num::show;
use crate::report::Warning;

/// The warnings of a step in the order in which they were found.
#[derive(Debug, Default)]
pub(super) struct Notes {
    list: Vec<FlowWarning>,
}

impl Notes {
    /// A warning at a place in um; the place is added to the words.
    pub(super) fn at(
        &mut self,
        code: &'static str,
        field: &str,
        message: String,
        hint: &str,
        x_um: f64,
    ) {
        let message = format!("{message} at x = {} µm", show(x_um));
        self.list.push(FlowWarning::new(code, field, message, hint, Some(x_um)));
    }

    /// A warning about the whole section.
    pub(super) fn all(
        &mut self,
        code: &'static str,
        field: &str,
        message: String,
        hint: &str,
    ) {
        self.list.push(FlowWarning::new(code, field, message, hint, None));
    }

    /// Warnings of a single operation.
    pub(super) fn add(&mut self, warnings: Vec<Warning>) {
        self.list.extend(warnings.into_iter().map(FlowWarning::of));
    }

    pub(super) fn into_list(self) -> Vec<FlowWarning> {
        self.list
    }
}
