//! The fields of an oxidation request and what is allowed in them.

use serde::Deserialize;

use super::enhancement::{DOPING_LIMIT_CM3, SurfaceDoping};
use super::growth::Segment;
use super::law::{Conditions, Surface};
use crate::bench::OperationSchema;
use crate::bound::{Bound, Choice, Scale};
use crate::color::{Illuminant, VIEW_ANGLE, View};
use crate::error::RequestError;
use crate::units::{Length, Temperature, Time};
use crate::vocabulary::{Ambient, Dopant, Orientation, OxidationModel, WetParameterSet};

/// Furnace temperature.
pub const TEMPERATURE: Bound = Bound {
    field: "temperature_c",
    label: "Furnace temperature",
    unit: "°C",
    min: 600.0,
    max: 1250.0,
    published: Some((700.0, 1200.0)),
    default: None,
    step: 1.0,
    scale: Scale::Linear,
};

/// Furnace temperature at the end of a ramp.
pub const END_TEMPERATURE: Bound = Bound {
    field: "end_temperature_c",
    label: "Furnace temperature at the end",
    ..TEMPERATURE
};

/// Furnace temperature while no oxide grows: loading and ramps in nitrogen.
pub const INERT_TEMPERATURE: Bound = Bound {
    field: "temperature_c",
    label: "Furnace temperature in an inert gas",
    min: 20.0,
    published: None,
    ..TEMPERATURE
};

/// Time at temperature.
pub const TIME: Bound = Bound {
    field: "time_min",
    label: "Time",
    unit: "min",
    min: 0.1,
    max: 10_000.0,
    published: None,
    default: None,
    step: 0.1,
    scale: Scale::Log,
};

/// Oxide to be reached, instead of a time.
pub const TARGET: Bound = Bound {
    field: "target_oxide_nm",
    label: "Target oxide",
    unit: "nm",
    min: 1.0,
    max: 5000.0,
    published: None,
    default: None,
    step: 1.0,
    scale: Scale::Log,
};

/// Oxide on the wafer at the start.
pub const INITIAL_OXIDE: Bound = Bound {
    field: "initial_oxide_nm",
    label: "Starting oxide",
    unit: "nm",
    min: 0.0,
    max: 5000.0,
    published: None,
    default: Some(0.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Gas pressure.
pub const PRESSURE: Bound = Bound {
    field: "pressure_atm",
    label: "Pressure",
    unit: "atm",
    min: 0.01,
    max: 25.0,
    published: Some((0.02, 20.0)),
    default: Some(1.0),
    step: 0.01,
    scale: Scale::Log,
};

/// Hydrogen chloride in the gas.
pub const HCL: Bound = Bound {
    field: "hcl_percent",
    label: "Hydrogen chloride",
    unit: "%",
    min: 0.0,
    max: 10.0,
    published: Some((0.0, 5.0)),
    default: Some(0.0),
    step: 0.5,
    scale: Scale::Linear,
};

/// Active dopant at the silicon surface.
pub const DOPING: Bound = Bound {
    field: "doping.concentration_cm3",
    label: "Surface doping",
    unit: "cm⁻³",
    min: 1e13,
    max: 1e21,
    published: Some((1e13, DOPING_LIMIT_CM3)),
    default: None,
    step: 1.0,
    scale: Scale::Log,
};

/// Most segments that one recipe may have.
pub const MAX_SEGMENTS: usize = 50;

/// An oxidation request as it stands in JSON.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OxidationRequest {
    ambient: Option<Ambient>,
    temperature_c: Option<f64>,
    time_min: Option<f64>,
    target_oxide_nm: Option<f64>,
    orientation: Option<Orientation>,
    initial_oxide_nm: Option<f64>,
    pressure_atm: Option<f64>,
    model: Option<OxidationModel>,
    parameter_set: Option<WetParameterSet>,
    doping: Option<DopingFields>,
    hcl_percent: Option<f64>,
    lamp: Option<Illuminant>,
    view_angle_deg: Option<f64>,
    segments: Option<Vec<SegmentFields>>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DopingFields {
    dopant: Dopant,
    concentration_cm3: f64,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SegmentFields {
    ambient: Ambient,
    temperature_c: f64,
    end_temperature_c: Option<f64>,
    time_min: f64,
}

/// Gallium and aluminum are known in diffusion only.
fn check_dopant(dopant: Dopant) -> Result<(), RequestError> {
    if !dopant.is_diffusion_only() {
        return Ok(());
    }
    let known: Vec<&str> = Dopant::ALL
        .iter()
        .filter(|dopant| !dopant.is_diffusion_only())
        .map(|dopant| dopant.word())
        .collect();
    let allowed = known.join(", ");
    Err(RequestError::new(
        "unknown_value",
        "doping.dopant",
        dopant.word(),
        &allowed,
        &format!(
            "doping.dopant: {} is known in diffusion only (allowed: {allowed})",
            dopant.word()
        ),
        "use one of the allowed dopants",
    ))
}

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Question {
    /// How thick after one step?
    Thickness(Segment),
    /// How long until a thickness?
    Time {
        /// The gas.
        ambient: Ambient,
        /// The temperature.
        temperature: Temperature,
        /// The oxide to be reached.
        target: Length,
    },
    /// How thick after a recipe of several parts?
    Recipe(Vec<Segment>),
}

/// A checked request.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Checked {
    pub(super) conditions: Conditions,
    pub(super) initial: Length,
    pub(super) question: Question,
    /// How the wafer is looked at afterwards.
    pub(super) view: View,
    /// Whether the request named a model or a parameter set by itself.
    pub(super) names_model: bool,
    pub(super) names_parameter_set: bool,
}

impl OxidationRequest {
    /// Checks every field against its range and the fields against each other.
    pub(super) fn check(self) -> Result<Checked, RequestError> {
        let conditions = Conditions {
            surface: Surface::Crystal(self.orientation.unwrap_or(Orientation::Face100)),
            pressure_atm: PRESSURE.check_or_default(self.pressure_atm)?,
            model: self.model.unwrap_or(OxidationModel::Auto),
            parameter_set: self.parameter_set.unwrap_or(WetParameterSet::Deal1988Steam),
            doping: self
                .doping
                .map(|fields| {
                    check_dopant(fields.dopant)?;
                    DOPING.check(fields.concentration_cm3).map(|concentration_cm3| {
                        SurfaceDoping { dopant: fields.dopant, concentration_cm3 }
                    })
                })
                .transpose()?,
            hcl_percent: HCL.check_or_default(self.hcl_percent)?,
        };
        let initial = Length::nm(INITIAL_OXIDE.check_or_default(self.initial_oxide_nm)?);
        Ok(Checked {
            conditions,
            initial,
            names_model: self.model.is_some(),
            names_parameter_set: self.parameter_set.is_some(),
            view: View::check(self.lamp, self.view_angle_deg)?,
            question: self.question()?,
        })
    }

    fn question(self) -> Result<Question, RequestError> {
        if let Some(segments) = &self.segments {
            self.refuse_beside_segments()?;
            return check_segments(segments).map(Question::Recipe);
        }
        let ambient = self.ambient.ok_or_else(|| {
            RequestError::missing(
                "ambient",
                "dry, wet, steam",
                "name the gas, or give segments instead",
            )
        })?;
        if ambient == Ambient::Inert {
            return Err(RequestError::conflict(
                "ambient",
                "inert",
                "dry, wet, steam",
                "ambient: nothing oxidizes in an inert gas (allowed: dry, wet, steam)",
                "use inert only as the ambient of a segment",
            ));
        }
        let temperature_c = TEMPERATURE.check_or_default(self.temperature_c)?;
        let temperature = Temperature::celsius(temperature_c);
        match (self.time_min, self.target_oxide_nm) {
            (Some(time_min), None) => {
                let duration = Time::min(TIME.check(time_min)?);
                Ok(Question::Thickness(Segment::hold(ambient, temperature, duration)))
            }
            (None, Some(target_nm)) => {
                let target = Length::nm(TARGET.check(target_nm)?);
                Ok(Question::Time { ambient, temperature, target })
            }
            (Some(time_min), Some(_)) => Err(RequestError::conflict(
                "target_oxide_nm",
                &format!("beside time_min {time_min}"),
                "one of time_min, target_oxide_nm",
                "target_oxide_nm and time_min exclude each other",
                "give the time to get the oxide, or the oxide to get the time",
            )),
            (None, None) => Err(RequestError::missing(
                "time_min",
                &TIME.allowed(),
                "add time_min, or target_oxide_nm to ask for the time",
            )),
        }
    }

    fn refuse_beside_segments(&self) -> Result<(), RequestError> {
        let given = [
            ("ambient", self.ambient.is_some()),
            ("temperature_c", self.temperature_c.is_some()),
            ("time_min", self.time_min.is_some()),
            ("target_oxide_nm", self.target_oxide_nm.is_some()),
        ];
        for (field, is_given) in given {
            if is_given {
                return Err(RequestError::conflict(
                    field,
                    "beside segments",
                    "not together with segments",
                    &format!("{field} and segments exclude each other"),
                    &format!("leave {field} out: each segment has its own"),
                ));
            }
        }
        Ok(())
    }
}

fn check_segments(segments: &[SegmentFields]) -> Result<Vec<Segment>, RequestError> {
    let count = segments.len();
    if count == 0 || MAX_SEGMENTS < count {
        return Err(RequestError::new(
            "out_of_range",
            "segments",
            &format!("{count} segments"),
            &format!("1 to {MAX_SEGMENTS} segments"),
            &format!("segments: {count} segments are outside 1 to {MAX_SEGMENTS}"),
            "give at least one segment, and join equal ones",
        ));
    }
    segments
        .iter()
        .enumerate()
        .map(|(i, fields)| {
            check_segment(fields).map_err(|error| error.inside(&format!("segments[{i}]")))
        })
        .collect()
}

fn check_segment(fields: &SegmentFields) -> Result<Segment, RequestError> {
    let (first, last) = if fields.ambient == Ambient::Inert {
        let last = Bound { field: END_TEMPERATURE.field, ..INERT_TEMPERATURE };
        (INERT_TEMPERATURE, last)
    } else {
        (TEMPERATURE, END_TEMPERATURE)
    };
    let start_c = first.check(fields.temperature_c)?;
    let end_c = fields.end_temperature_c.map_or(Ok(start_c), |c| last.check(c))?;
    Ok(Segment {
        ambient: fields.ambient,
        start: Temperature::celsius(start_c),
        end: Temperature::celsius(end_c),
        duration: Time::min(TIME.check(fields.time_min)?),
    })
}

/// The fields of one segment of a recipe, each with the place in the list left open. While no
/// oxide grows a furnace may be colder: the range is the one of an inert gas.
#[must_use]
pub fn segment_fields() -> (Vec<Bound>, Vec<Choice>) {
    let temperature = Bound {
        field: "segments[].temperature_c",
        min: INERT_TEMPERATURE.min,
        ..TEMPERATURE
    };
    let end = Bound {
        field: "segments[].end_temperature_c",
        min: INERT_TEMPERATURE.min,
        ..END_TEMPERATURE
    };
    let time = Bound { field: "segments[].time_min", ..TIME };
    (
        vec![temperature, end, time],
        vec![Ambient::choice("segments[].ambient", "Gas", None)],
    )
}

/// The form of this operation.
#[must_use]
pub fn schema() -> OperationSchema {
    let mut ambient = Ambient::choice("ambient", "Gas", None);
    ambient.values.retain(|&(word, _)| word != Ambient::Inert.word());
    let mut dopant = Dopant::choice("doping.dopant", "Dopant at the surface", None);
    dopant.values.retain(|(word, _)| !["gallium", "aluminum"].contains(word));
    OperationSchema {
        operation: "oxidation",
        numbers: vec![
            TEMPERATURE,
            TIME,
            TARGET,
            INITIAL_OXIDE,
            PRESSURE,
            HCL,
            DOPING,
            VIEW_ANGLE,
        ],
        choices: vec![
            ambient,
            Orientation::choice("orientation", "Wafer face", Some(Orientation::Face100)),
            OxidationModel::choice("model", "Model", Some(OxidationModel::Auto)),
            WetParameterSet::choice(
                "parameter_set",
                "Constants of wet oxygen",
                Some(WetParameterSet::Deal1988Steam),
            ),
            dopant,
            Illuminant::choice("lamp", "Light", Some(Illuminant::D65)),
        ],
    }
}
