//! Asking for implants, and reading what comes back.

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a helper that fails is a test that fails"
)]

use barewafer_process::{Report, run_text};
use serde_json::{Value, json};

/// Runs a request and gives the report.
#[track_caller]
pub fn implant(mut request: Value) -> Report {
    request["operation"] = json!("implantation");
    run_text(request.to_string().as_bytes()).expect("a good request")
}

/// The results of a request.
#[track_caller]
pub fn results(request: Value) -> Value {
    implant(request).results.to_value()
}

/// A number of the results.
#[track_caller]
pub fn number(results: &Value, name: &str) -> f64 {
    results[name].as_f64().unwrap_or_else(|| panic!("{name} in {results}"))
}

/// A list of numbers.
#[track_caller]
pub fn numbers(value: &Value) -> Vec<f64> {
    value
        .as_array()
        .expect("a list")
        .iter()
        .map(|v| v.as_f64().expect("a number"))
        .collect()
}

/// Fails unless the value is the expected one within the relative tolerance.
#[track_caller]
pub fn close(value: f64, expected: f64, relative: f64) {
    assert!((value / expected - 1.0).abs() <= relative, "{value} is not {expected}");
}

/// Area under a curve by the trapezoidal rule, in the units of its lists.
pub fn area(x: &[f64], y: &[f64]) -> f64 {
    x.windows(2).zip(y.windows(2)).map(|(x, y)| 0.5 * (x[1] - x[0]) * (y[0] + y[1])).sum()
}

/// The codes of the warnings.
pub fn codes(report: &Report) -> Vec<&'static str> {
    report.warnings.iter().map(|warning| warning.code).collect()
}

/// A result by its path: `damage/peak_ev_cm3`, `masks/1/thickness_nm`.
#[track_caller]
pub fn at_path(results: &Value, path: &str) -> f64 {
    let found = results.pointer(&format!("/{path}")).and_then(Value::as_f64);
    found.unwrap_or_else(|| panic!("{path} in {results}"))
}
