//! Where in the results a value stands, in five small forms:
//!
//! - `layers.0.width_um`: a number, by names and places;
//! - `etched_nm / mask_loss_nm`: one number over another;
//! - `square of root_dt_um`;
//! - `profile.depth_um where profile.boron_cm3 = 1e17`: the deepest depth at which a curve falls
//!   through a level, between two points along the logarithm;
//! - `share of damage.energy_ev_cm3 over damage.depth_um to 0.018`: how much of the area under a
//!   curve lies above a depth, by trapezoids.

use barewafer_process::num::ln;
use serde_json::Value;

/// Reads a number off results.
///
/// # Errors
/// What is not there, in words.
pub fn number(results: &Value, read: &str) -> Result<f64, String> {
    if let Some(path) = read.strip_prefix("square of ") {
        let root = plain(results, path)?;
        return Ok(root * root);
    }
    if let Some(share) = read.strip_prefix("share of ") {
        return area_share(results, share);
    }
    if let Some((depth, level)) = read.split_once(" where ") {
        return crossing(results, depth, level);
    }
    if let Some((over, under)) = read.split_once(" / ") {
        return Ok(plain(results, over)? / plain(results, under)?);
    }
    plain(results, read)
}

/// Reads a text off results.
///
/// # Errors
/// What is not there, in words.
pub fn text<'a>(results: &'a Value, path: &str) -> Result<&'a str, String> {
    at(results, path)?.as_str().ok_or_else(|| format!("{path} is no text"))
}

fn at<'a>(results: &'a Value, path: &str) -> Result<&'a Value, String> {
    let mut here = results;
    for part in path.split('.') {
        let next = match here {
            Value::Object(fields) => fields.get(part),
            Value::Array(items) => part.parse().ok().and_then(|i: usize| items.get(i)),
            _ => None,
        };
        here = next.ok_or_else(|| format!("the results have no {path}"))?;
    }
    Ok(here)
}

fn plain(results: &Value, path: &str) -> Result<f64, String> {
    at(results, path)?.as_f64().ok_or_else(|| format!("{path} is no number"))
}

fn list(results: &Value, path: &str) -> Result<Vec<f64>, String> {
    let items = at(results, path)?.as_array();
    let numbers = items.and_then(|items| items.iter().map(Value::as_f64).collect());
    numbers.ok_or_else(|| format!("{path} is no list of numbers"))
}

fn parsed(text: &str) -> Result<f64, String> {
    text.trim().parse().map_err(|_| format!("{text} is no number"))
}

/// Where a curve falls through a level for the last time.
fn crossing(results: &Value, depth: &str, condition: &str) -> Result<f64, String> {
    let (curve, level) =
        condition.split_once(" = ").ok_or_else(|| format!("{condition}: no level"))?;
    let (x, y, level) = (list(results, depth)?, list(results, curve)?, parsed(level)?);
    let nowhere = || format!("{curve} does not fall through {level:e}");
    let last = y.iter().rposition(|&y| level < y).ok_or_else(nowhere)?;
    let pair = |list: &[f64]| match list.get(last..last + 2) {
        Some([a, b]) => Some((*a, *b)),
        _ => None,
    };
    let ((x0, x1), (y0, y1)) = pair(&x).zip(pair(&y)).ok_or_else(nowhere)?;
    let part =
        if 0.0 < y1 { ln(y0 / level) / ln(y0 / y1) } else { (y0 - level) / (y0 - y1) };
    Ok(x0 + part * (x1 - x0))
}

/// `CURVE over DEPTH to LIMIT`.
fn area_share(results: &Value, share: &str) -> Result<f64, String> {
    let parts = share.split_once(" over ").and_then(|(curve, rest)| {
        rest.split_once(" to ").map(|(depth, limit)| (curve, depth, limit))
    });
    let (curve, depth, limit) = parts.ok_or_else(|| format!("{share}: no limit"))?;
    let (x, y, limit) = (list(results, depth)?, list(results, curve)?, parsed(limit)?);
    let (mut whole, mut above) = (0.0, 0.0);
    for (x, y) in x.windows(2).zip(y.windows(2)) {
        let ([x0, x1], [y0, y1]) = (x, y) else { continue };
        whole += 0.5 * (x1 - x0) * (y0 + y1);
        let reached = ((limit - x0) / (x1 - x0)).clamp(0.0, 1.0);
        above += 0.5 * reached * (x1 - x0) * (y0 + y0 + reached * (y1 - y0));
    }
    if 0.0 < whole { Ok(above / whole) } else { Err(format!("{curve} is empty")) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[track_caller]
    fn check(read: &str, expected: f64) {
        let results = json!({
            "a": 6, "b": {"c": [1.0, 4.0]}, "word": "tan",
            "depth_um": [0.0, 1.0, 2.0, 3.0], "boron_cm3": [1e18, 1e20, 1e16, 0.0],
        });
        let found = number(&results, read).expect("a number");
        assert!((found - expected).abs() < 1e-12, "{read}: {found}");
    }

    #[test]
    fn each_form_is_read() {
        check("a", 6.0);
        check("b.c.1", 4.0);
        check("a / b.c.1", 1.5);
        check("square of b.c.1", 16.0);
        check("depth_um where boron_cm3 = 1e18", 1.5);
        check("depth_um where boron_cm3 = 1e15", 2.9);
        check("share of b.c over b.c to 2.5", (0.5 * 1.5 * 3.5) / (0.5 * 3.0 * 5.0));
    }

    #[test]
    fn what_is_not_there_is_named() {
        let results = json!({"a": "x", "x": [0, 1], "y": [3, 2]});
        for (read, part) in [
            ("b", "no b"),
            ("a", "a is no number"),
            ("x where y = 1", "does not fall"),
            ("x where y", "no level"),
            ("share of y over x", "no limit"),
        ] {
            assert!(number(&results, read).unwrap_err().contains(part), "{read}");
        }
        assert_eq!(text(&results, "a"), Ok("x"));
    }
}
