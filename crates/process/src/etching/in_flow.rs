//! What a flow needs to know of an etch or a strip: its checked fields and the rate of every
//! material it reaches.

use serde_json::{Map, Value, json};

use super::dry::{Chemistry, DryEtchRequest, DryEtchRow};
use super::film::Film;
use super::rate::{Bath, boron_stop_factor, rate_at};
use super::request::{OVER_ETCH_PERCENT, THICKNESS_NM, WetEtchRequest};
use super::strip::{StripMethod, StripRequest};
use super::time_to_clear_s;
use crate::error::RequestError;
use crate::hazards;
use crate::request::read_fields;
use crate::vocabulary::Material;

/// How long an etch lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum EtchTime {
    /// Given in s.
    Given(f64),
    /// The clear time of the thickest film, and this share of it more.
    Over(f64),
}

impl EtchTime {
    fn of(fields: &Map<String, Value>, time_s: f64) -> Result<Self, RequestError> {
        if fields.contains_key("time_s") {
            return Ok(Self::Given(time_s));
        }
        let percent = fields.get("over_etch_percent").and_then(Value::as_f64);
        Ok(Self::Over(OVER_ETCH_PERCENT.check(percent.unwrap_or(0.0))? / 100.0))
    }

    /// The time in s for a film of a thickness.
    pub(crate) fn of_film_s(self, thickness_nm: f64, rate_nm_min: f64) -> f64 {
        match self {
            Self::Given(time_s) => time_s,
            Self::Over(_) if rate_nm_min <= 0.0 => 0.0,
            Self::Over(share) => {
                (1.0 + share) * time_to_clear_s(thickness_nm, rate_nm_min)
            }
        }
    }
}

/// The fields with a film's thickness, which a flow takes from the wafer.
fn with_thickness(fields: &Map<String, Value>) -> Map<String, Value> {
    let mut fields = fields.clone();
    fields.insert(THICKNESS_NM.field.to_owned(), json!(100.0));
    fields
}

/// A wet etch as a step of a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlowWetEtch {
    /// The bath.
    pub(crate) bath: Bath,
    /// The film that is to go.
    pub(crate) target: Film,
    /// Its rate in nm/min.
    pub(crate) rate_nm_min: f64,
    /// Whether the reader gave it.
    pub(crate) rate_given: bool,
    /// How long.
    pub(crate) time: EtchTime,
}

impl FlowWetEtch {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: &Map<String, Value>) -> Result<Self, RequestError> {
        let etch = read_fields::<WetEtchRequest>(with_thickness(fields))?.check()?;
        Ok(Self {
            bath: etch.bath,
            target: etch.film,
            rate_nm_min: etch.rate.rate_nm_min,
            rate_given: etch.rate_at.is_none(),
            time: EtchTime::of(fields, etch.time_s)?,
        })
    }

    /// Rate of a film in nm/min; none if it is not known. Boron in silicon slows alkaline baths.
    pub(crate) fn rate_of(&self, film: Film, boron_cm3: f64) -> Option<f64> {
        if self.rate_given && film.material == self.target.material {
            return Some(self.rate_nm_min);
        }
        let rate_nm_min = rate_at(self.bath, film)?.here.rate_nm_min;
        let slowed =
            self.bath.etchant.is_anisotropic() && film.material == Material::Silicon;
        Some(if slowed {
            rate_nm_min * boron_stop_factor(boron_cm3)
        } else {
            rate_nm_min
        })
    }

    /// Silicon in nm that it takes if it lies bare from the start.
    pub(crate) fn silicon_nm(&self) -> f64 {
        let rate = self.rate_of(Film::usual(Material::Silicon), 0.0).unwrap_or(0.0);
        rate * self.time.of_film_s(0.0, self.rate_nm_min) / 60.0
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self) -> Vec<&'static str> {
        hazards::for_step(
            "wet_etch",
            &[self.bath.etchant.word(), self.target.material.word()],
        )
    }
}

/// A dry etch as a step of a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlowDryEtch {
    /// The plasma.
    pub(crate) chemistry: Chemistry,
    /// The film that is to go.
    pub(crate) target: Material,
    row: &'static DryEtchRow,
    /// The layer below and how much faster the film goes than it, if the reader gave it.
    stop: (Material, Option<f64>),
    /// How long.
    pub(crate) time: EtchTime,
}

impl FlowDryEtch {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: &Map<String, Value>) -> Result<Self, RequestError> {
        let etch = read_fields::<DryEtchRequest>(with_thickness(fields))?.check()?;
        Ok(Self {
            chemistry: etch.chemistry,
            target: etch.film.material,
            row: etch.row,
            stop: (etch.stop, etch.selectivity_given.then_some(etch.selectivity.value)),
            time: EtchTime::of(fields, etch.time_s)?,
        })
    }

    /// Vertical rate of the film that is to go in nm/min.
    pub(crate) const fn rate_nm_min(&self) -> f64 {
        self.row.rate_nm_min.value
    }

    /// Lateral over vertical rate.
    pub(crate) const fn lateral_share(&self) -> f64 {
        1.0 - self.row.anisotropy.value
    }

    /// Vertical rate of a material in nm/min; none if it is not known.
    pub(crate) fn rate_of(&self, material: Material) -> Option<f64> {
        if material == self.target {
            return Some(self.rate_nm_min());
        }
        if let (stop, Some(selectivity)) = self.stop
            && stop == material
        {
            return Some(self.rate_nm_min() / selectivity);
        }
        if let Some(row) = self.chemistry.row(material) {
            return Some(row.rate_nm_min.value);
        }
        self.row.selectivity_to(material).map(|s| self.rate_nm_min() / s.value)
    }

    /// Silicon in nm that it takes if it lies bare from the start.
    pub(crate) fn silicon_nm(&self) -> f64 {
        let rate = self.rate_of(Material::Silicon).unwrap_or(0.0);
        rate * self.time.of_film_s(0.0, self.rate_nm_min()) / 60.0
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self) -> Vec<&'static str> {
        hazards::for_step("dry_etch", &[self.chemistry.word(), self.target.word()])
    }
}

/// A resist strip as a step of a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlowStrip {
    /// How.
    pub(crate) method: StripMethod,
    /// How long in min.
    pub(crate) time_min: f64,
}

impl FlowStrip {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: Map<String, Value>) -> Result<Self, RequestError> {
        let request: StripRequest = read_fields(fields)?;
        let (method, time_min) = request.check()?;
        Ok(Self { method, time_min })
    }

    /// Rate of a film in nm/min. An oxygen plasma is reckoned to take nothing but resist.
    pub(crate) fn rate_of(&self, film: Film) -> f64 {
        if film.material == Material::Resist {
            return self.method.resist_nm_min();
        }
        let bath = self.method.etchant().map(Bath::usual);
        bath.and_then(|bath| rate_at(bath, film))
            .map_or(0.0, |rate| rate.here.rate_nm_min)
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self) -> Vec<&'static str> {
        hazards::for_step("resist_strip", &[self.method.word()])
    }
}
