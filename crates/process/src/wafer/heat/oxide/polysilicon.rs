//! Oxide on polysilicon: on top and on side walls, in one shot a step.

use super::super::HeatStep;
use super::super::schedule::HeatSegment;
use crate::wafer::section::Section;

/// Oxide on polysilicon through all segments of a step.
#[derive(Clone, Debug)]
pub(in crate::wafer::heat) struct Polysilicon {}

impl Polysilicon {
    pub(in crate::wafer::heat) fn new(_section: &Section, _step: &HeatStep) -> Self {
        Self {}
    }

    pub(in crate::wafer::heat) fn oxidize(&mut self, _segment: &HeatSegment) {}

    pub(in crate::wafer::heat) fn finish(self, _section: &mut Section) -> f64 {
        0.0
    }
}
