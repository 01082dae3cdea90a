//! `spin_checks`: thickness of the demonstration resists, and the closed forms behind them.

use serde_json::json;

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, Made, MadeChecks, request};

pub(super) static TABLE: Table = table!("spin_checks", "id");

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    if row.text("quantity")? != "soft-baked thickness, full ODE" {
        return Ok(vec![Made::LeftOut(
            "it is about a part of the computation, which no request asks for",
        )]);
    }
    // "Demo-P12; 3000 rpm; ramp 5000 rpm/s; 60 s": the rest are the defaults.
    let mut parts = row.text("inputs")?.split(';').map(str::trim);
    let resist = parts.next().unwrap_or("").to_lowercase();
    let speed = parts.next().and_then(|speed| speed.strip_suffix(" rpm"));
    let speed_rpm: f64 = speed
        .and_then(|speed| speed.parse().ok())
        .ok_or_else(|| row.error("inputs: there is no speed"))?;
    let tolerance = row.text("tolerance")?.strip_suffix(" %");
    let percent: f64 = tolerance
        .and_then(|percent| percent.parse().ok())
        .ok_or_else(|| row.error("tolerance: no percent"))?;
    Ok(vec![
        Draft {
            row,
            request: request(json!({
                "operation": "spin_coating", "resist": resist, "speed_rpm": speed_rpm,
            })),
            what: "thickness of resist, soft-baked".to_owned(),
            read: "thickness_nm".to_owned(),
            factor: 1e-3,
            expected: Expected::Number(row.required("value")?),
            unit: row.text("unit")?,
            tolerance: percent / 100.0,
            allowed: Allowed::Relative,
            source: row.text("source")?,
            known_by: row.text("known_by")?,
        }
        .finish()?,
    ])
}
