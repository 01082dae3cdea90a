//! `oxidation_checks`: rate constants, thicknesses and times of thermal oxidation.

use serde_json::json;

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, Made, MadeChecks, request};

pub(super) static TABLE: Table = table!("oxidation_checks", "id");

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    let (quantity, method) = (row.text("quantity")?, row.text("method")?);
    let is_thickness = quantity.starts_with("thickness");
    if is_thickness && row.text("ambient")? == "dry" && method == "closed form, xi = 0" {
        return Ok(vec![Made::LeftOut(
            "its source lets the closed law of dry oxide start from nothing, which no request does",
        )]);
    }
    let (ambient, set, model) = match row.text("ambient")? {
        "wet_1988" => ("wet", "wet_1988", "auto"),
        "dry_massoud" => ("dry", "deal_1988_steam", "massoud"),
        "dry" if method == "auto" => ("dry", "deal_1988_steam", "auto"),
        "dry" => ("dry", "deal_1988_steam", "deal_grove"),
        "any" => ("wet", "deal_1988_steam", "auto"),
        other => (other, "deal_1988_steam", "auto"),
    };
    let mut asked = request(json!({
        "operation": "oxidation", "ambient": ambient, "model": model,
        "temperature_c": row.number("temperature_c")?.unwrap_or(1000.0),
    }));
    let mut put =
        |name: &str, value: serde_json::Value| asked.insert(name.to_owned(), value);
    if ambient == "wet" {
        put("parameter_set", json!(set));
    }
    if row.text("orientation")? != "any" {
        put("orientation", json!(row.text("orientation")?));
    }
    let pressure_atm = row.required("pressure_atm")?;
    if 1e-9 < (pressure_atm - 1.0).abs() {
        put("pressure_atm", json!(pressure_atm));
    }
    // The automatic model starts from the native oxide of its own.
    let initial_nm = 1e3 * row.required("initial_um")?;
    if method != "auto" && 0.0 < initial_nm {
        put("initial_oxide_nm", json!(initial_nm));
    }
    match quantity {
        "time" => put("target_oxide_nm", json!(1e3 * row.required("target_um")?)),
        _ if is_thickness => put("time_min", json!(60.0 * row.required("time_h")?)),
        _ => put("time_min", json!(60)),
    };
    let in_um = row.text("unit")? == "um";
    let (what, read, factor) = match quantity {
        "B" => ("parabolic rate constant B", "parabolic_um2_h", 1.0),
        "B_over_A" => ("linear rate constant B/A", "linear_um_h", 1.0),
        "A" => ("length A", "parabolic_um2_h / linear_um_h", 1.0),
        "time" => ("time to a thickness", "time_min", 1.0 / 60.0),
        "si_consumed_per_oxide" => {
            ("silicon used up per oxide grown", "silicon_consumed_nm / grown_nm", 1.0)
        }
        "thickness_thin" => ("thickness of a thin oxide", "oxide_nm", 1.0),
        "thickness" => ("oxide thickness", "oxide_nm", if in_um { 1e-3 } else { 1.0 }),
        other => return Err(row.error(&format!("unknown quantity {other}"))),
    };
    Ok(vec![
        Draft {
            row,
            request: asked,
            what: what.to_owned(),
            read: read.to_owned(),
            factor,
            expected: Expected::Number(row.required("expected")?),
            unit: row.text("unit")?,
            tolerance: row.required("tol_rel")?,
            allowed: Allowed::Relative,
            source: row.text("source")?,
            known_by: row.text("known_by")?,
        }
        .finish()?,
    ])
}
