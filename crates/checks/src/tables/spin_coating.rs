//! `spin_checks`: thickness of the demonstration resists, and the closed forms behind them.

use serde_json::{Value, json};

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, Made, MadeChecks, request};

pub(super) static TABLE: Table = table!("spin_checks", "id");

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    match row.text("id")? {
        "SP-10" => return turbulence(row),
        "SP-11" => return shrinkage(row),
        _ if row.text("quantity")? != "soft-baked thickness, full ODE" => {
            return Ok(vec![Made::LeftOut(
                "it is about a part of the computation, which no request asks for",
            )]);
        }
        _ => {}
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

/// Speed at which the air over the rim turns turbulent.
fn turbulence(row: &Row<'_>) -> MadeChecks {
    one(
        row,
        json!({"operation": "spin_coating", "resist": "demo-p12", "speed_rpm": 3000,
            "wafer_diameter_mm": 200}),
        "speed of turbulent air at the rim",
        "turbulent_speed_rpm",
        0.005,
    )
}

/// Shrinkage in a bake so long that only what stays for good is left.
fn shrinkage(row: &Row<'_>) -> MadeChecks {
    one(
        row,
        json!({"operation": "bake", "temperature_c": 110, "time_s": 600}),
        "shrinkage in the soft bake",
        "shrinkage_percent",
        0.001,
    )
}

fn one(
    row: &Row<'_>,
    asked: Value,
    what: &str,
    read: &str,
    tolerance: f64,
) -> MadeChecks {
    Ok(vec![
        Draft {
            row,
            request: request(asked),
            what: what.to_owned(),
            read: read.to_owned(),
            factor: 1.0,
            expected: Expected::Number(row.required("value")?),
            unit: row.text("unit")?,
            tolerance,
            allowed: Allowed::Relative,
            source: row.text("source")?,
            known_by: row.text("known_by")?,
        }
        .finish()?,
    ])
}
