//! What a flow needs to know of an implantation: its checked fields.

use serde_json::{Map, Value};

use super::hazards;
use super::request::{ImplantationModel, ImplantationRequest, Settings};
use crate::error::RequestError;
use crate::request::read_fields;
use crate::vocabulary::Dopant;
use crate::wafer::implant::ImplantStep;

/// An implantation as a step of a flow.
#[derive(Clone, Debug)]
pub(crate) struct FlowImplant {
    settings: Settings,
}

impl FlowImplant {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation; single ions are not followed through a whole wafer.
    pub(crate) fn read(fields: Map<String, Value>) -> Result<Self, RequestError> {
        let settings = read_fields::<ImplantationRequest>(fields)?.check()?;
        if settings.model == ImplantationModel::MonteCarlo {
            let allowed = "pearson, gaussian, dual_pearson";
            return Err(RequestError::conflict(
                "model",
                settings.model.word(),
                allowed,
                &format!(
                    "model: single ions are not followed on a whole wafer (allowed: {allowed})"
                ),
                "choose pearson, and follow single ions on the bench",
            ));
        }
        Ok(Self { settings })
    }

    /// The dopant that the ion brings.
    pub(crate) const fn dopant(&self) -> Dopant {
        self.settings.species.dopant()
    }

    /// The implantation as the wafer takes it.
    pub(crate) const fn step(&self) -> ImplantStep {
        let settings = &self.settings;
        ImplantStep {
            ion: settings.ion,
            energy_kev: settings.energy_kev,
            dose_cm2: settings.dose_cm2,
            tilt_deg: settings.tilt_deg,
            rotation_deg: settings.rotation_deg,
            model: settings.model,
            range_table: settings.range_table,
        }
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self) -> Vec<&'static str> {
        hazards(self.settings.ion)
    }
}
