//! A step in words, as a run sheet has it.

use serde_json::{Map, Value};

use super::FlowStep;
use crate::num::show;

/// Fields that a line of a run sheet tells, in this order.
const TOLD: [&str; 26] = [
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
    "material",
    "resist",
    "mask_level",
    "tool",
    "temperature_c",
    "energy_kev",
    "dose_cm2",
    "dose_mj_cm2",
    "wavelength_nm",
    "speed_rpm",
    "developer",
    "surface_concentration_cm3",
    "target_nm",
    "target_oxide_nm",
    "time_min",
    "time_s",
];

/// The main parameters of a step with their units: `wet, 1000 °C, 90 min`.
#[must_use]
pub fn step_parameters(step: &FlowStep) -> String {
    parameters(&step.object)
}

fn parameters(object: &Map<String, Value>) -> String {
    let mut told: Vec<String> = Vec::new();
    for field in TOLD {
        match object.get(field) {
            Some(Value::Number(number)) => {
                let value = show(number.as_f64().unwrap_or_default());
                told.push(format!("{} {}", exponent(&value), unit(field)));
            }
            Some(Value::String(word)) => told.push(spelled(field, word)),
            _ => {}
        }
    }
    if let Some(overlay) = object.get("overlay_um").and_then(Value::as_object) {
        let shift = |axis: &str| overlay.get(axis).and_then(Value::as_f64).unwrap_or(0.0);
        if shift("x") != 0.0 || shift("y") != 0.0 {
            told.push(format!("off by {}, {} µm", show(shift("x")), show(shift("y"))));
        }
    }
    if let Some(segments) = object.get("segments").and_then(Value::as_array) {
        told.push(format!("{} segments", segments.len()));
    }
    told.join(", ")
}

/// A word of a request as a person writes it.
fn spelled(field: &str, word: &str) -> String {
    match field {
        // Names of resists, masks and gases keep their spelling.
        "resist" | "mask_level" => word.to_owned(),
        _ => word.replace('_', " "),
    }
}

/// The unit that a field's name ends in.
fn unit(field: &str) -> &'static str {
    match field {
        "temperature_c" => "°C",
        "energy_kev" => "keV",
        "dose_cm2" => "cm⁻²",
        "dose_mj_cm2" => "mJ/cm²",
        "surface_concentration_cm3" => "cm⁻³",
        "speed_rpm" => "rpm",
        "time_min" => "min",
        "time_s" => "s",
        _ => "nm",
    }
}

/// A power of ten as a person writes it: `5e15` as `5·10¹⁵`.
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
    format!("{digits}·10{sign}{raised}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(object: Value, expected: &str) {
        assert_eq!(parameters(object.as_object().expect("an object")), expected);
    }

    #[test]
    fn parameters_are_told_with_their_units() {
        check(
            serde_json::json!({"ambient": "wet", "temperature_c": 1000, "time_min": 90}),
            "wet, 1000 °C, 90 min",
        );
        check(
            serde_json::json!({"dopant": "arsenic", "energy_kev": 100, "dose_cm2": 5e15}),
            "arsenic, 100 keV, 5·10¹⁵ cm⁻²",
        );
        check(
            serde_json::json!({"mask_level": "POLY", "overlay_um": {"x": 2.5, "y": 0}}),
            "POLY, off by 2.5, 0 µm",
        );
    }
}
