//! Implantation into whatever the beam meets.

use super::super::Flow;
use super::{Done, Wafer};
use crate::error::RequestError;
use crate::implantation::FlowImplant;

impl Wafer {
    pub(super) fn implant(
        &mut self,
        _flow: &Flow,
        implant: &FlowImplant,
    ) -> Result<Done, RequestError> {
        let done = Done { hazards: implant.hazards(), ..Done::default() };
        Ok(done)
    }
}
