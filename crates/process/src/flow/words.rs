//! A step in words, as a run sheet has it.

use serde_json::{Map, Value};

use super::FlowStep;
use super::schema::step_schema;
use crate::bench::OperationSchema;
use crate::bound::Bound;
use crate::num::show;

/// Fields that a line of a run sheet tells, in this order: what is done to what and with what, then
/// how hot, how strong and how long.
const TOLD: [&str; 29] = [
    "recipe",
    "kind",
    "film",
    "dopant",
    "source",
    "target",
    "method",
    "ambient",
    "etchant",
    "chemistry",
    "developer",
    "material",
    "resist",
    "mask_level",
    "tool",
    "wavelength_nm",
    "dose_mj_cm2",
    "concentration_percent",
    "temperature_c",
    "energy_kev",
    "dose_cm2",
    "tilt_deg",
    "surface_concentration_cm3",
    "pressure_kpa",
    "speed_rpm",
    "target_nm",
    "target_oxide_nm",
    "time_min",
    "time_s",
];

/// The main parameters of a step with their units, by the names that its form shows:
/// `wet oxygen (bubbler), 1000 °C, 90 min`.
#[must_use]
pub fn step_parameters(step: &FlowStep) -> String {
    parameters(&step_schema(step.operation), &step.object)
}

fn parameters(form: &OperationSchema, object: &Map<String, Value>) -> String {
    let mut told: Vec<String> = Vec::new();
    for field in TOLD {
        match object.get(field) {
            Some(Value::Number(number)) => {
                let value = exponent(&show(number.as_f64().unwrap_or_default()));
                told.push(measured(form, field, &value));
            }
            Some(Value::String(word)) => told.push(named(form, field, word)),
            _ => {}
        }
    }
    if let Some(overlay) = object.get("overlay_um").and_then(Value::as_object) {
        let off: Vec<String> = ["x", "y"]
            .into_iter()
            .filter_map(|axis| {
                let um = overlay.get(axis).and_then(Value::as_f64)?;
                (um != 0.0).then(|| format!("{}\u{a0}µm in {axis}", show(um)))
            })
            .collect();
        if !off.is_empty() {
            told.push(format!("off by {}", off.join(" and ")));
        }
    }
    if let Some(segments) = object.get("segments").and_then(Value::as_array) {
        told.push(format!("{} segments", segments.len()));
    }
    told.join(", ")
}

/// A word of a request by the name that the form shows; what the form does not list, such as the
/// level of a mask, keeps its spelling.
fn named(form: &OperationSchema, field: &str, word: &str) -> String {
    let choice = form.choices.iter().find(|choice| choice.field == field);
    let known =
        choice.and_then(|choice| choice.values.iter().find(|(id, _)| *id == word));
    let Some((_, label)) = known else { return word.to_owned() };
    match field {
        // The thickness in the form is that at 4000 rpm; the step has its own speed.
        "resist" => label.split(" (").next().unwrap_or(label).to_owned(),
        "target" => format!("into {label}"),
        _ => (*label).to_owned(),
    }
}

/// A number with its unit, and with its name where the unit alone does not tell.
fn measured(form: &OperationSchema, field: &str, value: &str) -> String {
    let bound = form.numbers.iter().find(|bound| bound.field == field);
    // A number and its unit stay on one line.
    let unit =
        bound.map(Bound::unit_with_space).unwrap_or_default().replace(' ', "\u{a0}");
    match field {
        "tilt_deg" => format!("tilt {value}°"),
        "surface_concentration_cm3" => format!("{value}{unit} at the surface"),
        "target_nm" | "target_oxide_nm" => format!("to {value}{unit}"),
        _ => format!("{value}{unit}"),
    }
}

/// A power of ten as a person writes it: `5e15` as `5 × 10¹⁵`.
fn exponent(number: &str) -> String {
    let Some((digits, power)) = number.split_once('e') else { return number.to_owned() };
    let digits = if digits.contains('.') {
        digits.trim_end_matches('0').trim_end_matches('.')
    } else {
        digits
    };
    let raised: String = power
        .chars()
        .filter_map(|c| {
            let place = c.to_digit(10)?;
            "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().nth(usize::try_from(place).ok()?)
        })
        .collect();
    let sign = if power.starts_with('-') { "⁻" } else { "" };
    format!("{digits}\u{a0}×\u{a0}10{sign}{raised}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(operation: &'static str, object: Value, expected: &str) {
        let object = object.as_object().expect("an object");
        let words = parameters(&step_schema(operation), object);
        assert_eq!(words.replace('\u{a0}', " "), expected);
    }

    #[test]
    fn a_number_keeps_its_unit_beside_it() {
        let object = serde_json::json!({"dose_cm2": 5e15, "energy_kev": 100});
        let object = object.as_object().expect("an object");
        let words = parameters(&step_schema("implantation"), object);
        assert_eq!(words, "100\u{a0}keV, 5\u{a0}×\u{a0}10¹⁵\u{a0}cm⁻²");
    }

    #[test]
    fn parameters_are_told_with_their_names_and_units() {
        check(
            "oxidation",
            serde_json::json!({"ambient": "wet", "temperature_c": 1000, "time_min": 90}),
            "wet oxygen (bubbler), 1000 °C, 90 min",
        );
        check(
            "implantation",
            serde_json::json!({"dopant": "arsenic", "energy_kev": 100, "dose_cm2": 5e15, "tilt_deg": 7}),
            "arsenic (As⁺), 100 keV, 5 × 10¹⁵ cm⁻², tilt 7°",
        );
        check(
            "exposure",
            serde_json::json!({"mask_level": "POLY", "overlay_um": {"x": 2.5, "y": 0}}),
            "POLY, off by 2.5 µm in x",
        );
        check(
            "development",
            serde_json::json!({"developer": "tmah_2_38", "temperature_c": 21, "time_s": 60}),
            "TMAH 2.38 % (metal-free), 21 °C, 60 s",
        );
        check(
            "spin_coating",
            serde_json::json!({"resist": "demo-n13", "speed_rpm": 4000, "primed": true}),
            "Demo-N13, 4000 rpm",
        );
        check(
            "predeposition",
            serde_json::json!({
                "dopant": "boron", "source": "solid_disc", "target": "polysilicon",
                "surface_concentration_cm3": 2e20, "time_min": 30
            }),
            "boron, solid source discs, into polysilicon, 2 × 10²⁰ cm⁻³ at the surface, 30 min",
        );
    }
}
