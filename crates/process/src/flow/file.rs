//! The flow file: from its text to a checked flow.

use serde::Deserialize;
use serde_json::{Map, Value};

use super::bounds::{
    COORDINATE_UM, DIAMETER_MM, MOST_RULES, MOST_STEPS, SECTION_UM, THICKNESS_UM,
};
use super::electrical::ElectricalFields;
use super::fault::{duplicate, in_step, name, too_many};
use super::layout::{Layout, LayoutFields, Line, Rule, RuleFields, at};
use super::settings::Settings;
use super::task::Task;
use super::{Electrical, FORMAT, Flow, FlowStep, VERSION, WaferStart};
use crate::electrical::wafer::GivenWafer;
use crate::error::RequestError;
use crate::hazards;
use crate::request::{into_object, nearest, parse, read_fields};
use crate::vocabulary::{DopingType, Orientation, Substrate};

/// The file as it stands in JSON.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FlowFields {
    format: String,
    version: Value,
    flow: String,
    title: Option<String>,
    aim: Option<String>,
    setting: Option<String>,
    substrate: WaferFields,
    layout: LayoutFields,
    section: SectionFields,
    design_rules: Option<Vec<String>>,
    rules: Option<Vec<RuleFields>>,
    settings: Option<Settings>,
    steps: Vec<StepFields>,
    electrical: Option<ElectricalFields>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WaferFields {
    #[serde(rename = "type")]
    doping_type: DopingType,
    orientation: Option<Orientation>,
    resistivity_ohm_cm: Option<f64>,
    concentration_cm3: Option<f64>,
    diameter_mm: Option<f64>,
    thickness_um: Option<f64>,
    back_contact: Option<bool>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SectionFields {
    from: [f64; 2],
    to: [f64; 2],
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StepFields {
    id: String,
    purpose: Option<String>,
    hazards: Option<Vec<String>>,
    note: Option<String>,
    step: Map<String, Value>,
}

impl Flow {
    /// Reads a flow from the text of its file.
    ///
    /// # Errors
    /// [`RequestError`] for anything that is not a good flow; it names the step, the field, the
    /// value and what is allowed.
    pub fn from_text(text: &[u8]) -> Result<Self, RequestError> {
        let value = parse(text).map_err(|mut error| {
            error.message = error.message.replace("the request", "the flow");
            error.hint = match error.code {
                "not_json" | "not_an_object" => {
                    "give one JSON object with format, version, flow, substrate, layout, section and steps".to_owned()
                }
                _ => "a flow file has at most 1000000 bytes".to_owned(),
            };
            error
        })?;
        Self::from_fields(value)
    }

    /// Reads a flow from a JSON value.
    ///
    /// # Errors
    /// As [`Flow::from_text`].
    pub fn from_value(value: Value) -> Result<Self, RequestError> {
        Self::from_fields(into_object(value)?)
    }

    fn from_fields(fields: Map<String, Value>) -> Result<Self, RequestError> {
        check_format(&fields)?;
        let fields: FlowFields = read_fields(fields).map_err(of_flow)?;
        let (_, _): (String, Value) = (fields.format, fields.version);
        name("flow", &fields.flow)?;
        let substrate =
            fields.substrate.check().map_err(|error| error.inside("substrate"))?;
        let layout = fields.layout.check().map_err(|error| error.inside("layout"))?;
        let section = fields.section.check().map_err(|error| error.inside("section"))?;
        let rules = rules(fields.rules.unwrap_or_default(), &layout)?;
        let settings = fields
            .settings
            .unwrap_or_default()
            .check()
            .map_err(|error| error.inside("settings"))?;
        let steps = steps(fields.steps, &settings, &layout)?;
        let electrical = fields.electrical.map(ElectricalFields::check).transpose()?;
        Ok(Self {
            name: fields.flow,
            title: fields.title.unwrap_or_default(),
            aim: fields.aim.unwrap_or_default(),
            setting: fields.setting.unwrap_or_default(),
            substrate,
            layout,
            section,
            design_rules: fields.design_rules.unwrap_or_default(),
            rules,
            settings,
            steps,
            electrical: electrical.unwrap_or(Electrical::None),
        })
    }
}

/// `format` and `version` come first: what follows depends on them.
fn check_format(fields: &Map<String, Value>) -> Result<(), RequestError> {
    let expected = [("format", Value::from(FORMAT)), ("version", Value::from(VERSION))];
    for (field, allowed) in expected {
        let allowed_words = allowed.to_string();
        match fields.get(field) {
            Some(given) if *given == allowed => {}
            None => {
                return Err(RequestError::missing(
                    field,
                    &allowed_words,
                    &format!("add \"{field}\": {allowed_words}: is this a flow file?"),
                ));
            }
            Some(given) => {
                return Err(RequestError::new(
                    "unknown_format",
                    field,
                    &given.to_string(),
                    &allowed_words,
                    &format!(
                        "{field}: {} is not known here (allowed: {allowed_words})",
                        crate::error::one_line(&given.to_string())
                    ),
                    if field == "version" {
                        "open the flow with the lab that wrote it, or with a newer one"
                    } else {
                        "choose a flow file"
                    },
                ));
            }
        }
    }
    Ok(())
}

/// The words of a single request, for a flow.
fn of_flow(mut error: RequestError) -> RequestError {
    error.message =
        error.message.replace("a field of this operation", "a field of a flow");
    error.hint = error.hint.replace("to the request", "to the flow");
    error
}

pub(super) fn rules(
    fields: Vec<RuleFields>,
    layout: &Layout,
) -> Result<Vec<Rule>, RequestError> {
    too_many("rules", fields.len(), 0, MOST_RULES)?;
    fields
        .into_iter()
        .enumerate()
        .map(|(i, rule)| {
            rule.check(layout).map_err(|error| error.inside(&format!("rules[{i}]")))
        })
        .collect()
}

fn steps(
    fields: Vec<StepFields>,
    settings: &Settings,
    layout: &Layout,
) -> Result<Vec<FlowStep>, RequestError> {
    too_many("steps", fields.len(), 1, MOST_STEPS)?;
    let mut steps: Vec<FlowStep> = Vec::with_capacity(fields.len());
    for (i, step) in fields.into_iter().enumerate() {
        let path = format!("steps[{i}]");
        name("id", &step.id).map_err(|error| error.inside(&path))?;
        if steps.iter().any(|other| other.id == step.id) {
            return Err(duplicate(&format!("{path}.id"), &step.id));
        }
        let hazards = step.hazards.unwrap_or_default();
        for id in &hazards {
            if hazards::known_id(id).is_none() {
                return Err(unknown_hazard(&path, id));
            }
        }
        let object = step.step.clone();
        let (operation, filled, task) = Task::read(step.step, settings, layout)
            .map_err(|error| in_step(error, i, &step.id))?;
        steps.push(FlowStep {
            id: step.id,
            purpose: step.purpose.unwrap_or_default(),
            hazards,
            note: step.note.unwrap_or_default(),
            operation,
            object,
            filled,
            task,
        });
    }
    Ok(steps)
}

fn unknown_hazard(path: &str, id: &str) -> RequestError {
    let rows = hazards::rows();
    let known: Vec<&str> = rows.iter().map(|row| row.id.as_str()).collect();
    let hint = nearest(id, &known).map_or_else(
        || "use an id of the hazard table, or leave hazards out".to_owned(),
        |near| format!("did you mean {near}"),
    );
    RequestError::new(
        "unknown_value",
        &format!("{path}.hazards"),
        id,
        "an id of the hazard table",
        &format!(
            "{path}.hazards: {} is not in the hazard table",
            crate::error::one_line(id)
        ),
        &hint,
    )
}

impl WaferFields {
    fn check(self) -> Result<WaferStart, RequestError> {
        let mut given = Map::new();
        given.insert("type".to_owned(), Value::from(self.doping_type.word()));
        for (field, value) in [
            ("resistivity_ohm_cm", self.resistivity_ohm_cm),
            ("concentration_cm3", self.concentration_cm3),
        ] {
            if let Some(value) = value {
                given.insert(field.to_owned(), Value::from(value));
            }
        }
        let wafer: GivenWafer = read_fields(given)?;
        let concentration = wafer.concentration_cm3().map_err(|allowed| {
            RequestError::conflict(
                "resistivity_ohm_cm",
                &self.resistivity_ohm_cm.unwrap_or_default().to_string(),
                &allowed,
                &format!("resistivity_ohm_cm cannot be read (allowed: {allowed})"),
                &format!("give {allowed}"),
            )
        })?;
        let concentration_cm3 = concentration.ok_or_else(|| {
            RequestError::missing(
                "resistivity_ohm_cm",
                "a resistivity in ohm cm, or concentration_cm3",
                "give the resistivity of the wafer",
            )
        })?;
        let bound = crate::diffusion::request::SUBSTRATE;
        let concentration_cm3 =
            crate::bound::Bound { field: "concentration_cm3", ..bound }
                .check(concentration_cm3)?;
        Ok(WaferStart {
            doping: Substrate { doping_type: self.doping_type, concentration_cm3 },
            orientation: self.orientation.unwrap_or(Orientation::Face100),
            resistivity_ohm_cm: self.resistivity_ohm_cm,
            diameter_mm: DIAMETER_MM.check_or_default(self.diameter_mm)?,
            thickness_um: THICKNESS_UM.check_or_default(self.thickness_um)?,
            back_contact: self.back_contact.unwrap_or(false),
        })
    }
}

impl SectionFields {
    pub(super) fn check(self) -> Result<Line, RequestError> {
        for (end, place) in [("from", self.from), ("to", self.to)] {
            for (i, value) in place.into_iter().enumerate() {
                COORDINATE_UM
                    .check(value)
                    .map_err(|error| at(error, &format!("{end}[{i}]")))?;
            }
        }
        let line = Line { from_um: self.from, to_um: self.to };
        let length_um = line.length_um();
        if !(SECTION_UM.min..=SECTION_UM.max).contains(&length_um) {
            let allowed = SECTION_UM.allowed();
            return Err(RequestError::new(
                "out_of_range",
                "to",
                &length_um.to_string(),
                &allowed,
                &format!("to: a section of {length_um} µm is outside {allowed}"),
                "put the two ends of the section line apart, across what is to be seen",
            ));
        }
        Ok(line)
    }
}
