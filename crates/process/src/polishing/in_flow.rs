//! What a flow needs to know of a planarization: its checked fields and the rate of each
//! material under the whole load.

use serde_json::{Map, Value, json};

use super::preston::preston_nm_min;
use super::request::{PlanarizationRequest, THICKNESS_NM, is_oxide};
use crate::error::RequestError;
use crate::hazards;
use crate::request::read_fields;
use crate::vocabulary::Material;

/// When polishing ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum PolishEnd {
    /// After a time in s.
    Time(f64),
    /// When this much film is left on the high places, in nm.
    Left(f64),
}

/// A planarization as a step of a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlowPolish {
    /// The film that is polished.
    pub(crate) material: Material,
    /// Its rate on a flat wafer in nm/min.
    pub(crate) rate_nm_min: f64,
    /// When it ends.
    pub(crate) end: PolishEnd,
    stop: Option<(Material, f64)>,
}

impl FlowPolish {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(mut fields: Map<String, Value>) -> Result<Self, RequestError> {
        // The wafer has the film; its thickness stands in for a target to be checked against.
        fields.insert(THICKNESS_NM.field.to_owned(), json!(THICKNESS_NM.max));
        let polish = read_fields::<PlanarizationRequest>(fields)?.check()?;
        let leveling = &polish.leveling;
        Ok(Self {
            material: polish.material,
            rate_nm_min: preston_nm_min(
                polish.preston_per_pa,
                polish.pressure_kpa,
                polish.speed_m_s,
            ),
            end: match polish.target_nm {
                Some(target_nm) => PolishEnd::Left(target_nm),
                None => PolishEnd::Time(polish.time_s),
            },
            stop: polish.stop.zip(leveling.selectivity),
        })
    }

    /// Rate of a material in nm/min under the whole load. Oxides go alike; what is neither the
    /// film nor the stop layer goes like the film (model choice: the pad takes what stands out).
    pub(crate) fn rate_of(&self, material: Material) -> f64 {
        match self.stop {
            Some((stop, selectivity))
                if stop == material || is_oxide(stop) && is_oxide(material) =>
            {
                self.rate_nm_min / selectivity
            }
            _ => self.rate_nm_min,
        }
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self) -> Vec<&'static str> {
        hazards::for_step("planarization", &[self.material.word()])
    }
}
