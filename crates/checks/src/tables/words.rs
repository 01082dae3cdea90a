//! Requests and names of results in words.

use serde_json::{Map, Value};

/// Ends of names and the unit they stand for; longer ones first.
const UNITS: &[(&str, &str)] = &[
    ("_ohm_cm", "ohm cm"),
    ("_ohm_sq", "ohm/sq"),
    ("_nm_min", "nm/min"),
    ("_per_pa", "/Pa"),
    ("_m_s", "m/s"),
    ("_cm2", "per cm²"),
    ("_cm3", "per cm³"),
    ("_rpm", "rpm"),
    ("_percent", "%"),
    ("_kev", "keV"),
    ("_deg", "°"),
    ("_atm", "atm"),
    ("_kpa", "kPa"),
    ("_min", "min"),
    ("_mpa", "MPa"),
    ("_nm", "nm"),
    ("_um", "µm"),
    ("_mm", "mm"),
    ("_ma", "mA"),
    ("_ua", "µA"),
    ("_ev", "eV"),
    ("_c", "°C"),
    ("_s", "s"),
    ("_g", "g"),
];

/// A name without its unit, and the unit.
fn split(name: &str) -> (String, &'static str) {
    for (end, unit) in UNITS {
        if let Some(stem) = name.strip_suffix(end) {
            return (stem.replace('_', " "), unit);
        }
    }
    (name.replace('_', " "), "")
}

/// A result in words: `junction_depth_um` is a junction depth.
pub(super) fn quantity(read: &str) -> String {
    let words: Vec<String> = read
        .split('.')
        .filter(|part| part.parse::<usize>().is_err())
        .map(|part| split(part).0)
        .collect();
    words.join(", ")
}

/// The settings of a request in words: `temperature 1000 °C, time 60 min`.
pub(super) fn conditions(request: &Map<String, Value>) -> String {
    let mut parts = Vec::new();
    add(request, &mut parts);
    parts.join(", ").replace(":,", ":")
}

fn add(fields: &Map<String, Value>, parts: &mut Vec<String>) {
    let operation = fields.get_key_value("operation");
    let others = fields.iter().filter(|(name, _)| *name != "operation");
    for (name, value) in operation.into_iter().chain(others) {
        let (words, unit) = split(name);
        match value {
            Value::Object(inside) => {
                parts.push(format!("{words}:"));
                add(inside, parts);
            }
            // Numbers of a whole profile say nothing one by one.
            Value::Array(items) => {
                for item in items {
                    if let Value::Object(inside) = item {
                        add(inside, parts);
                    }
                }
            }
            Value::Null => {}
            Value::String(word) if name == "operation" => {
                parts.push(word.replace('_', " "))
            }
            Value::String(word) => {
                parts.push(format!("{words} {}", word.replace('_', " ")))
            }
            Value::Bool(is_so) => {
                parts.push(format!("{words}: {}", if *is_so { "yes" } else { "no" }));
            }
            Value::Number(number) => {
                let number = written(number.as_f64().unwrap_or(f64::NAN));
                parts.push(format!("{words} {number} {unit}").trim_end().to_owned());
            }
        }
    }
}

/// A number as people write it in a line of text, to six digits.
fn written(number: f64) -> String {
    let number: f64 = format!("{number:.5e}").parse().unwrap_or(number);
    let size = number.abs();
    if size != 0.0 && !(1e-3..1e6).contains(&size) {
        format!("{number:e}")
    } else {
        format!("{number}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn requests_and_results_are_said_in_words() {
        assert_eq!(quantity("junction_depth_um"), "junction depth");
        assert_eq!(quantity("masks.1.thickness_nm"), "masks, thickness");
        let request = json!({
            "operation": "drive_in", "temperature_c": 1000.0, "dose_cm2": 1e14,
            "substrate": {"type": "n"}, "active_limit": false,
        });
        assert_eq!(
            conditions(request.as_object().expect("an object")),
            "drive in, active limit: no, dose 1e14 per cm², substrate: type n, temperature 1000 °C"
        );
    }
}
