//! Dopant profiles in depth, as they travel in requests and answers.

use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::{Map, Value};

use crate::error::RequestError;
use crate::vocabulary::Dopant;

/// The most points a profile in a request may have.
pub const MAX_POINTS: usize = 2000;
/// The deepest point of a profile in a request in um: a wafer.
pub const MAX_DEPTH_UM: f64 = 1000.0;
/// The largest concentration in a request per cm3: the atoms of the silicon crystal itself
/// (8 atoms in a cube of 0.5431 nm; computed).
pub const MAX_CONCENTRATION_CM3: f64 = 5e22;

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

impl Profile {
    /// Reads a profile from a request: `depth_um` and one or more `<dopant>_cm3`. The lists
    /// `net_cm3` and `active_net_cm3` of an answer may stand in it and are not used.
    ///
    /// # Errors
    /// [`RequestError`] for unknown fields, lists of different length, depths that do not
    /// increase, and values that are negative or too large.
    pub fn from_fields(fields: Map<String, Value>) -> Result<Self, RequestError> {
        let mut profile = Self::default();
        let known = known_fields();
        for (name, value) in fields {
            if !known.contains(&name) {
                let allowed = known.join(", ");
                return Err(RequestError::new(
                    "unknown_field",
                    &name,
                    &value.to_string(),
                    &allowed,
                    &format!("{name} is not a field of a profile (allowed: {allowed})"),
                    "name the lists depth_um and, for example, boron_cm3",
                ));
            }
            let list = numbers(&name, &value)?;
            if name == "depth_um" {
                profile.depth_um = list;
            } else if let Some(dopant) = dopant_of(&name) {
                check_each(&name, &list, MAX_CONCENTRATION_CM3, "cm⁻³")?;
                profile.dopants.push((dopant, list));
            }
        }
        let count = profile.depth_um.len();
        if count < 2 {
            return Err(RequestError::missing(
                "depth_um",
                "2 to 2000 depths in um that increase",
                "add the list depth_um",
            ));
        }
        check_each("depth_um", &profile.depth_um, MAX_DEPTH_UM, "um")?;
        if let Some(i) = profile.depth_um.windows(2).position(|w| w[1] <= w[0]) {
            return Err(RequestError::new(
                "not_increasing",
                &format!("depth_um[{}]", i + 1),
                &profile.depth_um[i + 1].to_string(),
                "more than the depth before",
                &format!(
                    "depth_um[{}]: {} um is not more than the {} um before it (allowed: depths that increase)",
                    i + 1,
                    profile.depth_um[i + 1],
                    profile.depth_um[i]
                ),
                "sort the points from the surface down and drop doubles",
            ));
        }
        if profile.dopants.is_empty() {
            return Err(RequestError::missing(
                "boron_cm3",
                "a list for at least one dopant, such as boron_cm3",
                "add the concentrations of a dopant",
            ));
        }
        for (dopant, list) in &profile.dopants {
            if list.len() != count {
                let name = format!("{}_cm3", dopant.word());
                return Err(RequestError::new(
                    "wrong_length",
                    &name,
                    &format!("{} values", list.len()),
                    &format!("{count} values"),
                    &format!(
                        "{name}: {} values do not match the {count} depths (allowed: {count} values)",
                        list.len()
                    ),
                    "give one concentration for each depth",
                ));
            }
        }
        Ok(profile)
    }
}

fn known_fields() -> Vec<String> {
    let mut known = vec!["depth_um".to_owned()];
    known.extend(Dopant::ALL.iter().map(|dopant| format!("{}_cm3", dopant.word())));
    known.extend(["net_cm3".to_owned(), "active_net_cm3".to_owned()]);
    known
}

fn dopant_of(field: &str) -> Option<Dopant> {
    let word = field.strip_suffix("_cm3")?;
    Dopant::ALL.iter().copied().find(|dopant| dopant.word() == word)
}

fn numbers(field: &str, value: &Value) -> Result<Vec<f64>, RequestError> {
    let allowed = "a list of at most 2000 finite numbers";
    let wrong = |shown: String| {
        RequestError::new(
            "wrong_type",
            field,
            &shown,
            allowed,
            &format!(
                "{field}: {} is not allowed here (allowed: {allowed})",
                crate::error::one_line(&shown)
            ),
            &format!("give {allowed}"),
        )
    };
    let Value::Array(list) = value else { return Err(wrong(value.to_string())) };
    if MAX_POINTS < list.len() {
        return Err(wrong(format!("a list of {} values", list.len())));
    }
    list.iter().map(|v| v.as_f64().ok_or_else(|| wrong(v.to_string()))).collect()
}

fn check_each(
    field: &str,
    list: &[f64],
    most: f64,
    unit: &str,
) -> Result<(), RequestError> {
    let bad = list.iter().position(|&v| !(0.0..=most).contains(&v));
    let Some(i) = bad else { return Ok(()) };
    let allowed = format!("0 to {most:e} {unit}");
    Err(RequestError::new(
        "out_of_range",
        &format!("{field}[{i}]"),
        &list[i].to_string(),
        &allowed,
        &format!("{field}[{i}]: {} {unit} is outside {allowed}", list[i]),
        &format!("give values within {allowed}"),
    ))
}
