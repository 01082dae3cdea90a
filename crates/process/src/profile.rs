//! Dopant profiles in depth, as they travel in requests and answers.

use serde::ser::{Serialize, SerializeMap, Serializer};

use crate::vocabulary::Dopant;

/// Concentrations against depth below the silicon surface.
///
/// In JSON: `{"depth_um":[..], "boron_cm3":[..], "net_cm3":[..], "active_net_cm3":[..]}`; every
/// list has the length of `depth_um`; an empty list is left out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Profile {
    /// Depths in um, from the surface down, increasing.
    pub depth_um: Vec<f64>,
    /// Chemical concentration per cm3 of each dopant at each depth.
    pub dopants: Vec<(Dopant, Vec<f64>)>,
    /// Donors minus acceptors per cm3, substrate included; negative is p-type.
    pub net_cm3: Vec<f64>,
    /// The same of the electrically active part only.
    pub active_net_cm3: Vec<f64>,
}

impl Serialize for Profile {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("depth_um", &self.depth_um)?;
        for (dopant, values) in &self.dopants {
            map.serialize_entry(&format!("{}_cm3", dopant.word()), values)?;
        }
        if !self.net_cm3.is_empty() {
            map.serialize_entry("net_cm3", &self.net_cm3)?;
        }
        if !self.active_net_cm3.is_empty() {
            map.serialize_entry("active_net_cm3", &self.active_net_cm3)?;
        }
        map.end()
    }
}
