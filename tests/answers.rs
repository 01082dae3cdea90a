//! Asking the kernel as a person does, and reading the answer's numbers.

#![expect(clippy::panic, reason = "a test that gets no answer has failed")]

use serde_json::Value;

/// The whole answer to a request, as the page receives it.
///
/// # Panics
/// If the request is refused.
#[must_use]
pub fn ask(request: &Value) -> Value {
    let report = barewafer_process::run_text(request.to_string().as_bytes())
        .unwrap_or_else(|error| panic!("{request}: {error}"));
    serde_json::to_value(&report)
        .unwrap_or_else(|error| panic!("{request}: the report is no JSON: {error}"))
}

/// The numbers of a list.
///
/// # Panics
/// If it is no list of numbers.
#[must_use]
pub fn list(value: &Value) -> Vec<f64> {
    let numbers =
        value.as_array().and_then(|list| list.iter().map(Value::as_f64).collect());
    numbers.unwrap_or_else(|| panic!("{value} is no list of numbers"))
}

/// The number called `name` among the results of an answer.
///
/// # Panics
/// If there is no such number.
#[must_use]
pub fn number(report: &Value, name: &str) -> f64 {
    report["results"][name].as_f64().unwrap_or_else(|| panic!("{name} is no number"))
}

/// Holds a number against the expected one within a relative tolerance.
///
/// # Panics
/// If it lies outside.
#[track_caller]
pub fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found / expected - 1.0).abs() <= tolerance, "{found} against {expected}");
}
