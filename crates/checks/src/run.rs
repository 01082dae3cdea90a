//! Asks the kernel for the value of a check and judges it.

use barewafer_process::{RequestError, request};
use serde::Serialize;
use serde_json::Value;

use crate::check::{Allowed, Check, Expected};
use crate::reading;

/// What the kernel says to a check.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outcome {
    /// The kernel's value in the unit of the check: a number, or a color.
    pub ours: Value,
    /// How far it is from the published one, signed, in what the tolerance is measured in.
    pub deviation: Option<f64>,
    /// The judgement.
    pub verdict: Verdict,
    /// What went wrong where there is no value.
    pub error: String,
}

/// The judgement of a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Within the tolerance.
    Met,
    /// Outside it, for a cause that the check names.
    KnownDeviation,
    /// Outside it.
    Off,
    /// Within it, though the check names a cause why it should not: the cause is out of date.
    DeviationGone,
    /// The kernel gave no such value.
    Error,
}

impl Verdict {
    /// Whether the kernel is as it should be.
    #[must_use]
    pub const fn is_good(self) -> bool {
        matches!(self, Self::Met | Self::KnownDeviation)
    }
}

/// Asks the kernel.
#[must_use]
pub fn run(check: &Check) -> Outcome {
    compare(check).unwrap_or_else(|error| Outcome {
        ours: Value::Null,
        deviation: None,
        verdict: Verdict::Error,
        error,
    })
}

/// Reads a check as JSON text and gives the outcome as JSON text.
///
/// # Errors
/// [`RequestError`] for a text that is no check.
pub fn run_text(text: &str) -> Result<String, RequestError> {
    let check = Check::from_json(request::parse(text.as_bytes())?)?;
    serde_json::to_string(&run(&check)).map_err(|error| {
        let message = format!("the outcome could not be written: {error}");
        RequestError::new("not_written", "", "", "", &message, "tell the authors")
    })
}

fn compare(check: &Check) -> Result<Outcome, String> {
    let report =
        barewafer_process::run(check.request.clone()).map_err(|error| error.message)?;
    // Through text, which every module of the page can write and read anyway: to make values
    // of the results in one go would be more code to load.
    let text = serde_json::to_string(&report).map_err(|error| error.to_string())?;
    let report: Value = serde_json::from_str(&text).map_err(|error| error.to_string())?;
    let results = report.get("results").unwrap_or(&Value::Null);
    let (ours, deviation) = match &check.expected {
        Expected::Number(expected) => {
            let ours = check.factor * reading::number(results, &check.read)?;
            let deviation = match check.allowed {
                Allowed::Relative => ours / expected - 1.0,
                Allowed::Absolute | Allowed::Channel => ours - expected,
            };
            (Value::from(ours), deviation)
        }
        Expected::Color(expected) => {
            let ours = reading::text(results, &check.read)?;
            (Value::from(ours), color_distance(ours, expected)?)
        }
    };
    if !deviation.is_finite() {
        return Err(format!("{} is not finite", check.read));
    }
    let is_within = deviation.abs() <= check.tolerance;
    let verdict = match (is_within, check.known_deviation.is_empty()) {
        (true, true) => Verdict::Met,
        (true, false) => Verdict::DeviationGone,
        (false, true) => Verdict::Off,
        (false, false) => Verdict::KnownDeviation,
    };
    Ok(Outcome { ours, deviation: Some(deviation), verdict, error: String::new() })
}

/// The largest difference of a channel, signed.
fn color_distance(ours: &str, expected: &str) -> Result<f64, String> {
    let channels = |hex: &str| -> Option<Vec<i32>> {
        let digits = hex.strip_prefix('#').filter(|digits| digits.len() == 6)?;
        let channel = |at: usize| i32::from_str_radix(digits.get(at..at + 2)?, 16).ok();
        [0, 2, 4].into_iter().map(channel).collect()
    };
    let of = |hex: &str| channels(hex).ok_or_else(|| format!("{hex} is no color"));
    let (ours, expected) = (of(ours)?, of(expected)?);
    let differences = ours.iter().zip(&expected).map(|(a, b)| f64::from(a - b));
    Ok(differences
        .fold(0.0, |most: f64, one| if most.abs() < one.abs() { one } else { most }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn check(expected: Value, tolerance: f64, known_deviation: &str) -> Value {
        json!({
            "id": "t 1", "bench": "furnace", "what": "", "conditions": "",
            "request": {"operation": "oxidation", "target_oxide_nm": 100, "temperature_c": 1000,
                        "ambient": "wet"},
            "read": "oxide_nm", "factor": 1e-3, "expected": expected, "unit": "um",
            "tolerance": tolerance, "allowed": "relative", "source": "", "known_by": "",
            "kind": "derived", "note": "", "known_deviation": known_deviation,
        })
    }

    fn verdict(check: &Value) -> String {
        let text = run_text(&check.to_string()).expect("a check");
        let outcome: Value = serde_json::from_str(&text).expect("JSON");
        outcome["verdict"].as_str().expect("a word").to_owned()
    }

    #[test]
    fn each_verdict_is_reached() {
        assert_eq!(verdict(&check(json!(0.1), 1e-6, "")), "met");
        assert_eq!(verdict(&check(json!(0.11), 0.01, "")), "off");
        assert_eq!(verdict(&check(json!(0.11), 0.01, "a cause")), "known_deviation");
        assert_eq!(verdict(&check(json!(0.1), 0.01, "a cause")), "deviation_gone");
        let mut refused = check(json!(0.1), 0.01, "");
        refused["request"]["temperature_c"] = json!(5000);
        assert_eq!(verdict(&refused), "error");
        refused["request"] = json!([]);
        assert!(run_text(&refused.to_string()).is_err());
        assert!(run_text("[1]").is_err());
    }

    #[test]
    fn colors_differ_by_their_worst_channel() {
        let near = |a, b| color_distance(a, b).expect("colors");
        assert!((near("#102030", "#112f30") + 15.0).abs() < 1e-12);
        assert!(near("#102030", "#102030").abs() < 1e-12);
        assert!(color_distance("red", "#102030").is_err());
        let mut color = check(json!("#000000"), 255.0, "");
        color["read"] = json!("color.srgb_hex");
        color["allowed"] = json!("channel");
        assert_eq!(verdict(&color), "met");
    }
}
