//! The JSON Schema of a flow file, made from the bounds and words that the reader itself uses.

use serde_json::{Map, Value, json};

use super::bounds::{
    BIAS_UM, CLEAN_TIME_MIN, COORDINATE_UM, DIAMETER_MM, FIXED_CHARGE_FIELD_CM2,
    FIXED_CHARGE_GATE_CM2, INTRINSIC_CM3, MOBILITY_N_CM2_VS, MOBILITY_P_CM2_VS,
    MOST_CORNERS, MOST_FIGURES, MOST_MASKS, MOST_RULES, MOST_STEPS, OVERLAY_UM, RULE_UM,
    SUPPLY_V, THICKNESS_UM,
};
use super::electrical::{CircuitKind, GateKind};
use super::layout::{Polarity, RuleKind};
use super::settings::{ImageKind, MeshKind};
use super::task::{CleanRecipe, STEP_OPERATIONS, Task, flow_fields, wafer_fields};
use super::{FORMAT, Layout, Settings, VERSION};
use crate::bench::OperationSchema;
use crate::bound::{Bound, Choice};
use crate::diffusion::ON_A_WAFER;
use crate::diffusion::request::DONOR_SEGREGATION;
use crate::implantation::{ImplantationModel, RangeTable};
use crate::vocabulary::{
    BoronSegregation, DiffusivitySet, DopingType, Material, MobilityModel, Orientation,
    OxidationModel, WetParameterSet,
};
use crate::{
    deposition, diffusion, etching, implantation, lithography, oxidation, polishing,
};

/// The schema of a flow file (JSON Schema, draft 2020-12).
#[must_use]
pub fn json_schema() -> Value {
    let label = json!({"type": "string", "minLength": 1, "maxLength": 60});
    let text = json!({"type": "string"});
    let point = json!({
        "type": "array", "items": number(&COORDINATE_UM), "minItems": 2, "maxItems": 2
    });
    let box_um = json!({
        "type": "array", "items": number(&COORDINATE_UM), "minItems": 4, "maxItems": 4
    });
    let offset = closed(&[("x", number(&OVERLAY_UM)), ("y", number(&OVERLAY_UM))], &[]);
    let mask = closed(
        &[
            ("level", label.clone()),
            ("name", text.clone()),
            ("polarity", words(&Polarity::choice("polarity", "Polarity", None))),
            ("rectangles", list(&box_um, 0, MOST_FIGURES)),
            ("polygons", list(&list(&point, 3, MOST_CORNERS), 0, MOST_FIGURES)),
            ("bias_um", number(&BIAS_UM)),
            ("overlay_um", offset.clone()),
        ],
        &["level", "polarity"],
    );
    let layout = closed(
        &[
            ("unit", json!({"const": "um"})),
            ("extent", box_um.clone()),
            ("masks", list(&mask, 1, MOST_MASKS)),
            (
                "labels",
                list(
                    &closed(
                        &[("name", text.clone()), ("at", point.clone())],
                        &["name", "at"],
                    ),
                    0,
                    MOST_FIGURES,
                ),
            ),
        ],
        &["extent", "masks"],
    );
    let rule = closed(
        &[
            ("kind", words(&RuleKind::choice("kind", "Rule", None))),
            ("level", label.clone()),
            ("other", label.clone()),
            ("least_um", number(&RULE_UM)),
        ],
        &["kind", "level", "least_um"],
    );
    let step = closed(
        &[
            ("id", label.clone()),
            ("purpose", text.clone()),
            ("hazards", list(&text, 0, 100)),
            ("note", text.clone()),
            ("step", json!({"oneOf": steps(&offset)})),
        ],
        &["id", "step"],
    );
    let mut schema = closed(
        &[
            ("format", json!({"const": FORMAT})),
            ("version", json!({"const": VERSION})),
            ("flow", label),
            ("title", text.clone()),
            ("aim", text.clone()),
            ("setting", text.clone()),
            ("substrate", substrate()),
            ("layout", layout),
            (
                "section",
                closed(&[("from", point.clone()), ("to", point)], &["from", "to"]),
            ),
            ("design_rules", list(&text, 0, 1000)),
            ("rules", list(&rule, 0, MOST_RULES)),
            ("settings", settings()),
            ("steps", list(&step, 1, MOST_STEPS)),
            ("electrical", electrical()),
        ],
        &["format", "version", "flow", "substrate", "layout", "section", "steps"],
    );
    if let Some(object) = schema.as_object_mut() {
        object.insert(
            "$schema".to_owned(),
            json!("https://json-schema.org/draft/2020-12/schema"),
        );
        object.insert("title".to_owned(), json!("Bare Wafer flow"));
    }
    schema
}

fn substrate() -> Value {
    let positive = json!({"type": "number", "exclusiveMinimum": 0});
    closed(
        &[
            ("type", words(&DopingType::choice("type", "Type", None))),
            ("orientation", words(&Orientation::choice("orientation", "Face", None))),
            ("resistivity_ohm_cm", positive),
            (
                "concentration_cm3",
                number(&Bound { default: None, ..diffusion::request::SUBSTRATE }),
            ),
            ("diameter_mm", number(&DIAMETER_MM)),
            ("thickness_um", number(&THICKNESS_UM)),
            ("back_contact", json!({"type": "boolean"})),
        ],
        &["type"],
    )
}

fn settings() -> Value {
    let switch = json!({"type": "boolean"});
    closed(
        &[
            ("oxidation_model", words(&OxidationModel::choice("", "", None))),
            ("wet_parameter_set", words(&WetParameterSet::choice("", "", None))),
            ("implantation_model", words(&ImplantationModel::choice("", "", None))),
            ("range_table", words(&RangeTable::choice("", "", None))),
            ("diffusivity", words(&DiffusivitySet::choice("", "", None))),
            ("active_limit", switch.clone()),
            ("oxidation_enhanced_diffusion", switch),
            ("boron_segregation", words(&BoronSegregation::choice("", "", None))),
            ("donor_segregation", number(&DONOR_SEGREGATION)),
            ("lithography", words(&ImageKind::choice("", "", None))),
            ("mesh", words(&MeshKind::choice("", "", None))),
            ("mobility", words(&MobilityModel::choice("", "", None))),
            ("intrinsic_cm3", number(&INTRINSIC_CM3)),
            ("fixed_charge_gate_cm2", number(&FIXED_CHARGE_GATE_CM2)),
            ("fixed_charge_field_cm2", number(&FIXED_CHARGE_FIELD_CM2)),
            ("supply_v", number(&SUPPLY_V)),
            ("mobility_n_cm2_vs", number(&MOBILITY_N_CM2_VS)),
            ("mobility_p_cm2_vs", number(&MOBILITY_P_CM2_VS)),
        ],
        &[],
    )
}

fn electrical() -> Value {
    let label = json!({"type": "string"});
    let labels = list(&label, 1, 40);
    closed(
        &[
            ("kind", words(&CircuitKind::choice("kind", "Circuit", None))),
            ("gate", words(&GateKind::choice("gate", "Gate", None))),
            ("plates", labels.clone()),
            ("terminals", labels),
            ("supply", label.clone()),
            ("ground", label.clone()),
            ("input", label.clone()),
            ("output", label),
        ],
        &["kind"],
    )
}

/// The form of a step's operation as its own room offers it.
fn operation_schema(operation: &'static str) -> OperationSchema {
    match operation {
        "oxidation" => oxidation::schema(),
        "predeposition" => diffusion::predeposition_schema(),
        "drive_in" => on_a_wafer(diffusion::drive_in_schema()),
        "anneal" => on_a_wafer(diffusion::anneal_schema()),
        "implantation" => implantation::schema(),
        "spin_coating" => lithography::spin_coating_schema(),
        "bake" => lithography::bake_schema(),
        "exposure" => lithography::exposure_schema(),
        "development" => lithography::development_schema(),
        "resist_strip" => etching::resist_strip_schema(),
        "wet_etch" => etching::wet_etch_schema(),
        "dry_etch" => etching::dry_etch_schema(),
        "deposition" => deposition::schema(),
        "planarization" => polishing::schema(),
        _ => OperationSchema {
            operation,
            numbers: vec![CLEAN_TIME_MIN],
            choices: vec![CleanRecipe::choice("recipe", "Recipe", None)],
        },
    }
}

/// The forms of the steps: of each operation the fields that a flow may give, with those that
/// only a flow has.
#[must_use]
pub fn step_schemas() -> Vec<OperationSchema> {
    STEP_OPERATIONS.iter().map(|&operation| step_schema(operation)).collect()
}

/// The form of a step of one operation.
pub(super) fn step_schema(operation: &'static str) -> OperationSchema {
    let of_flow = |field: &str| match field {
        "image" => Some(ImageKind::choice("image", "Image", None)),
        "primed" => Some(Choice {
            field: "primed",
            label: "Primer before the resist",
            values: vec![("false", "no"), ("true", "yes")],
            default: Some("false"),
        }),
        "target" => Some(Choice {
            field: "target",
            label: "What takes up the dopant",
            values: vec![
                (Material::Silicon.word(), Material::Silicon.label()),
                (Material::Polysilicon.word(), Material::Polysilicon.label()),
            ],
            default: Some(Material::Silicon.word()),
        }),
        _ => None,
    };
    let mut schema = operation_schema(operation);
    let known = known_fields(operation);
    // `ramp.start_c` and `segments[].time_min` belong to the fields ramp and segments.
    let root = |field: &str| {
        let end = field.find(['.', '[']).unwrap_or(field.len());
        known.iter().any(|known| *known == field[..end])
    };
    if operation == "oxidation" {
        let (numbers, choices) = oxidation::segment_fields();
        schema.numbers.extend(numbers);
        schema.choices.extend(choices);
    }
    schema.numbers.retain(|bound| root(bound.field));
    schema.choices.retain(|choice| root(choice.field));
    if operation == "exposure" {
        schema.numbers.push(Bound {
            field: "overlay_um.x",
            label: "Overlay error in x",
            ..OVERLAY_UM
        });
        schema.numbers.push(Bound {
            field: "overlay_um.y",
            label: "Overlay error in y",
            ..OVERLAY_UM
        });
    }
    if operation == "predeposition" {
        schema.choices.extend(of_flow("target"));
    }
    schema.choices.extend(flow_fields(operation).iter().filter_map(|f| of_flow(f)));
    schema
}

/// Hot steps on a wafer may be colder than what moves dopants.
fn on_a_wafer(mut schema: OperationSchema) -> OperationSchema {
    for bound in &mut schema.numbers {
        if bound.field == ON_A_WAFER.field {
            *bound = ON_A_WAFER;
        }
    }
    schema
}

fn steps(offset: &Value) -> Vec<Value> {
    STEP_OPERATIONS.iter().map(|operation| step(operation, offset)).collect()
}

/// The object of one operation: every field that its record knows, with the range or the words
/// of those that its form offers at the top level.
fn step(operation: &'static str, offset: &Value) -> Value {
    let schema = operation_schema(operation);
    let mut properties = Map::new();
    properties.insert("operation".to_owned(), json!({"const": operation}));
    for field in known_fields(operation) {
        let bound = schema.numbers.iter().find(|bound| bound.field == field);
        let choice = schema.choices.iter().find(|choice| choice.field == field);
        let value = match (bound, choice) {
            (Some(bound), _) => number(bound),
            (None, Some(choice)) => words(choice),
            (None, None) if operation == "oxidation" && field == "segments" => segments(),
            // A list or an object with fields of its own, or a field that no form offers.
            (None, None) => json!({}),
        };
        properties.insert(field, value);
    }
    for field in flow_fields(operation) {
        let value = match *field {
            "primed" => json!({"type": "boolean"}),
            "mask_level" => json!({"type": "string", "minLength": 1, "maxLength": 60}),
            "image" => words(&ImageKind::choice("image", "Image", None)),
            _ => offset.clone(),
        };
        properties.insert((*field).to_owned(), value);
    }
    let mut required = vec!["operation"];
    if operation == "exposure" {
        required.push("mask_level");
    }
    json!({
        "type": "object",
        "title": operation,
        "properties": properties,
        "required": required,
        "additionalProperties": false
    })
}

/// The segments of a furnace recipe.
fn segments() -> Value {
    let (numbers, choices) = oxidation::segment_fields();
    let name = |field: &'static str| field.rsplit('.').next().unwrap_or(field);
    let fields: Vec<(&str, Value)> = numbers
        .iter()
        .map(|bound| (name(bound.field), number(bound)))
        .chain(choices.iter().map(|choice| (name(choice.field), words(choice))))
        .collect();
    let segment = closed(&fields, &["ambient", "temperature_c", "time_min"]);
    list(&segment, 1, oxidation::MAX_SEGMENTS)
}

/// The fields that an operation's record knows, less those that the wafer has: what it says when it
/// is asked for one that no record has.
pub(super) fn known_fields(operation: &'static str) -> Vec<String> {
    let layout =
        Layout { extent_um: [0.0, 0.0, 1.0, 1.0], masks: Vec::new(), labels: Vec::new() };
    let mut asked = Map::new();
    asked.insert("operation".to_owned(), json!(operation));
    asked.insert("?".to_owned(), json!(0));
    let Err(error) = Task::read(asked, &Settings::default(), &layout) else {
        return Vec::new();
    };
    let hidden = wafer_fields(operation);
    error
        .allowed
        .split(", ")
        .filter(|field| !hidden.contains(field))
        .map(str::to_owned)
        .collect()
}

fn number(bound: &Bound) -> Value {
    let mut value = Map::new();
    value.insert("type".to_owned(), json!("number"));
    value.insert("minimum".to_owned(), json!(bound.min));
    value.insert("maximum".to_owned(), json!(bound.max));
    if let Some(default) = bound.default {
        value.insert("default".to_owned(), json!(default));
    }
    let unit =
        if bound.unit.is_empty() { String::new() } else { format!(" ({})", bound.unit) };
    value.insert("description".to_owned(), json!(format!("{}{unit}", bound.label)));
    Value::Object(value)
}

fn words(choice: &Choice) -> Value {
    let values: Vec<&str> = choice.values.iter().map(|(word, _)| *word).collect();
    if values == ["false", "true"] {
        json!({"type": "boolean"})
    } else {
        json!({"enum": values})
    }
}

fn list(items: &Value, least: usize, most: usize) -> Value {
    json!({"type": "array", "items": items, "minItems": least, "maxItems": most})
}

/// An object that has these fields and no others.
fn closed(fields: &[(&str, Value)], required: &[&str]) -> Value {
    let properties: Map<String, Value> =
        fields.iter().map(|(name, value)| ((*name).to_owned(), value.clone())).collect();
    json!({
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_form_of_a_step_knows_the_fields_of_a_list() {
        let schemas = step_schemas();
        let oxidation = schemas.iter().find(|s| s.operation == "oxidation").unwrap();
        let numbers: Vec<&str> = oxidation.numbers.iter().map(|n| n.field).collect();
        for field in ["temperature_c", "end_temperature_c", "time_min"] {
            assert!(numbers.contains(&format!("segments[].{field}").as_str()), "{field}");
        }
        let gas =
            oxidation.choices.iter().find(|c| c.field == "segments[].ambient").unwrap();
        assert!(gas.values.iter().any(|(word, _)| *word == "inert"));
    }

    #[test]
    fn every_operation_tells_its_fields() {
        for operation in STEP_OPERATIONS {
            let known = known_fields(operation);
            assert!(!known.is_empty(), "{operation}");
            for field in wafer_fields(operation) {
                assert!(!known.iter().any(|k| k == field), "{operation} {field}");
            }
        }
        assert!(known_fields("oxidation").contains(&"segments".to_owned()));
        assert!(known_fields("implantation").contains(&"dose_cm2".to_owned()));
        assert!(known_fields("clean").contains(&"recipe".to_owned()));
    }
}
