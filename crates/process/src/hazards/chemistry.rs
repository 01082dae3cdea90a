//! From a request to its hazards, without running it.
//!
//! A run sheet may hold steps that no bench of this build can run, or that a bench would refuse
//! for another reason: their cautions must stand all the same. So this reads requests leniently:
//! only the words that choose chemicals, with the defaults of the benches. What it cannot read
//! counts as unknown, and that is treated as HF.

use serde_json::{Map, Value};

use super::{UNKNOWN, for_step, sort_worst_first};

/// Strength of `hf_dilute` in volume percent of 49 % HF above which the row of dilute HF no
/// longer fits (about 5 % HF; the row's own limit).
const DILUTE_UP_TO_PERCENT: f64 = 10.0;

/// Temperature in C above which the aluminum etch scalds like hot phosphoric acid (model choice).
const SCALDS_ABOVE_C: f64 = 60.0;

/// Ids of the rows that belong to a request, worst first; those of the steps inside its `start`
/// are among them.
///
/// # Example
/// ```
/// use barewafer_process::hazards::of_request;
///
/// let step = serde_json::json!({"operation": "clean", "recipe": "hf_dip"});
/// assert_eq!(of_request(step.as_object().unwrap()), ["HF_DIL"]);
/// ```
#[must_use]
pub fn of_request(request: &Map<String, Value>) -> Vec<&'static str> {
    let mut ids = own(request);
    // A request may start from another, and that one from a third; a file may nest as deep as
    // the reader of JSON lets it.
    let mut waiting = vec![request];
    while let Some(outer) = waiting.pop() {
        for field in ["start", "profile"] {
            let Some(inner) = outer.get(field).and_then(Value::as_object) else {
                continue;
            };
            if inner.contains_key("operation") {
                ids.extend(own(inner));
            }
            waiting.push(inner);
        }
    }
    sort_worst_first(&mut ids);
    ids
}

/// Ids of the rows of a request itself, without the steps inside its start.
pub(super) fn own(request: &Map<String, Value>) -> Vec<&'static str> {
    let Some(operation) = word(request, "operation") else { return vec![UNKNOWN] };
    if operation == "process_window" {
        // Many exposures, each developed; the exposure may stand in a record of its own.
        let exposure = request.get("exposure").and_then(Value::as_object);
        let exposed = chemistry("exposure", exposure.unwrap_or(request));
        let mut ids = for_step("exposure", &exposed);
        ids.extend(for_step("development", &chemistry("development", request)));
        return ids;
    }
    for_step(operation, &chemistry(operation, request))
}

/// A text field.
pub(super) fn word<'a>(request: &'a Map<String, Value>, field: &str) -> Option<&'a str> {
    request.get(field).and_then(Value::as_str)
}

/// A number field.
pub(super) fn number(request: &Map<String, Value>, field: &str) -> Option<f64> {
    request.get(field).and_then(Value::as_f64)
}

/// The words of a request that choose chemicals, with the defaults of the benches.
fn chemistry<'a>(operation: &str, request: &'a Map<String, Value>) -> Vec<&'a str> {
    let mut words = Vec::new();
    for field in fields(operation) {
        match request.get(*field) {
            None | Some(Value::Null) => words.extend(default(operation, field, request)),
            Some(Value::String(text)) if text == "hf_dilute" && is_strong(request) => {
                words.push("hf_49");
            }
            Some(Value::String(text)) => words.push(text.as_str()),
            // A number where a word should be names no chemical that is known.
            Some(_) => words.push("?"),
        }
    }
    words.extend(more(operation, request));
    words
}

/// Whether HF of a chosen strength is no dilute HF any more.
fn is_strong(request: &Map<String, Value>) -> bool {
    number(request, "concentration_percent")
        .is_some_and(|percent| DILUTE_UP_TO_PERCENT < percent)
}

/// The fields of an operation whose words choose chemicals.
fn fields(operation: &str) -> &'static [&'static str] {
    match operation {
        "clean" => &["recipe"],
        "oxidation" | "drive_in" | "anneal" => &["ambient"],
        "predeposition" => &["source", "dopant"],
        "implantation" => &["dopant"],
        "spin_coating" => &["resist"],
        "bake" => &["kind", "resist"],
        "exposure" => &["tool", "resist"],
        "development" => &["developer"],
        "resist_strip" => &["method"],
        "wet_etch" => &["etchant", "material"],
        "dry_etch" => &["chemistry", "material"],
        "deposition" => &["film", "method", "variant", "dopant"],
        "planarization" => &["material"],
        _ => &[],
    }
}

/// What a bench takes for a field that is left out.
fn default(
    operation: &str,
    field: &str,
    request: &Map<String, Value>,
) -> Option<&'static str> {
    match (operation, field) {
        ("drive_in" | "anneal", "ambient") => Some("inert"),
        ("predeposition", "source") => Some(match word(request, "dopant")? {
            "boron" => "solid_disc",
            "phosphorus" => "pocl3",
            _ => "doped_glass",
        }),
        ("development", "developer") => Some("tmah_2_38"),
        ("bake", "kind") => Some("soft"),
        ("exposure", "tool") => Some("projection"),
        ("deposition", "method") => match word(request, "film")? {
            "aluminum" => Some("sputter"),
            // Glass from a spun solution is asked for by its name.
            _ => Some("lpcvd"),
        },
        _ => None,
    }
}

/// Words that follow from other fields.
fn more(operation: &str, request: &Map<String, Value>) -> Vec<&'static str> {
    let positive = |field: &str| number(request, field).is_some_and(|value| 0.0 < value);
    let is_true = |field: &str| request.get(field).and_then(Value::as_bool) == Some(true);
    let mut words = Vec::new();
    match operation {
        "oxidation" => {
            if positive("hcl_percent") {
                words.push("hcl");
            }
            let segments = request.get("segments").and_then(Value::as_array);
            for segment in segments.into_iter().flatten() {
                // The words of the list are known; any other must show as unknown.
                words.push(match segment.get("ambient").and_then(Value::as_str) {
                    Some("dry") => "dry",
                    Some("wet") => "wet",
                    Some("steam") => "steam",
                    Some("inert") => "inert",
                    _ => "?",
                });
            }
        }
        "spin_coating" => {
            if is_true("primed") {
                words.push("primed");
            }
            if number(request, "bead_removal_mm").is_some_and(|width_mm| 0.0 < width_mm) {
                words.push("edge_bead_removal");
            }
        }
        "wet_etch" => match word(request, "etchant") {
            Some("aluminum_etch")
                if number(request, "temperature_c")
                    .is_some_and(|celsius| SCALDS_ABOVE_C < celsius) =>
            {
                words.push("hot");
            }
            _ => {}
        },
        _ => {}
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[track_caller]
    fn check(request: Value, ids: &[&str]) {
        let Value::Object(request) = request else { panic!("not an object") };
        assert_eq!(of_request(&request), ids);
    }

    #[test]
    fn words_are_read_with_the_defaults_of_the_benches() {
        check(json!({"operation": "development"}), &["TMAH238"]);
        check(json!({"operation": "drive_in", "temperature_c": 1100}), &["N2", "HEAT"]);
        check(
            json!({"operation": "predeposition", "dopant": "phosphorus"}),
            &["POCL3", "O2", "HEAT"],
        );
        check(
            json!({"operation": "spin_coating", "resist": "demo-p12", "primed": true}),
            &["HMDS", "PGMEA", "RESIST", "HEAT"],
        );
        check(
            json!({"operation": "oxidation", "hcl_percent": 3, "segments": [
                {"ambient": "inert"}, {"ambient": "dry"}]}),
            &["HCL", "O2", "N2", "HEAT"],
        );
    }

    #[test]
    fn a_process_window_exposes_and_develops() {
        check(json!({"operation": "process_window"}), &["OZONE", "TMAH238", "UV"]);
        check(
            json!({"operation": "process_window", "developer": "koh_dilute"}),
            &["OZONE", "KOH", "UV"],
        );
    }

    #[test]
    fn what_cannot_be_read_is_treated_as_hf() {
        check(json!({}), &["UNKNOWN"]);
        check(json!({"operation": 7}), &["UNKNOWN"]);
        check(json!({"operation": "wet_etch", "etchant": 7}), &["UNKNOWN"]);
        check(
            json!({"operation": "oxidation", "segments": [{"ambient": "mystery"}]}),
            &["UNKNOWN", "HEAT"],
        );
    }

    #[test]
    fn the_steps_inside_a_start_are_among_them() {
        check(
            json!({"operation": "drive_in", "start": {
                "operation": "predeposition", "dopant": "phosphorus"}}),
            &["POCL3", "O2", "N2", "HEAT"],
        );
        check(
            json!({"operation": "sheet", "start": {
                "operation": "implantation", "dopant": "arsenic"}}),
            &["ASH3", "HV_XRAY", "VACUUM"],
        );
        check(
            json!({"operation": "sheet", "profile": {"operation": "anneal"}}),
            &["N2", "HEAT"],
        );
    }
}
