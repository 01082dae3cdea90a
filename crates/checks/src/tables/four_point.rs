//! `device_checks`, `average_conductivity` and `four_point_factors`: wafers, doped layers and
//! what four probes read on them.

use barewafer_process::num::ln;
use serde_json::{Value, json};

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, Made, MadeChecks, TableError, request};

pub(super) static DEVICES: Table = table!("device_checks", "id");
pub(super) static CONDUCTIVITY: Table = table!("average_conductivity", "id");
pub(super) static FACTORS: Table = table!("four_point_factors", "id");

/// The wafer below a layer, where a table does not name it.
const BACKGROUND_CM3: f64 = 1e15;

pub(super) fn device_checks(row: &Row<'_>) -> MadeChecks {
    let (quantity, inputs) = (row.text("quantity")?, row.text("inputs")?);
    let (request, what, read) = if quantity.contains("resistivity") {
        let doping = if quantity.starts_with("boron") { "p" } else { "n" };
        let concentration_cm3 = input(row, inputs, "N=")?;
        let wafer = json!({"type": doping, "concentration_cm3": concentration_cm3});
        let what = format!("resistivity of a wafer of type {doping}");
        (
            json!({"operation": "sheet", "substrate": wafer}),
            what,
            "substrate.resistivity_ohm_cm",
        )
    } else if quantity == "sheet resistance" && inputs.starts_with("B Gaussian") {
        let surface_cm3 = input(row, inputs, "Ns=")?;
        let junction_um = input(row, inputs, "xj=")?;
        let profile = half_gaussian("boron", surface_cm3, junction_um);
        let what = "sheet resistance of a Gaussian of boron".to_owned();
        (
            json!({"operation": "sheet", "profile": profile}),
            what,
            "sheet_resistance_ohm_sq",
        )
    } else {
        return Ok(vec![Made::LeftOut(
            "mobilities, voltages and profiles of an error function are inside a measurement",
        )]);
    };
    let percent = row.text("tolerance")?.split('%').next().map(str::trim);
    let percent: f64 = percent
        .and_then(|percent| percent.parse().ok())
        .ok_or_else(|| row.error("tolerance: no percent"))?;
    check(row, request, what, (read, 1.0), row.required("value")?, percent / 100.0)
}

pub(super) fn conductivity_checks(row: &Row<'_>) -> MadeChecks {
    if row.text("shape")? != "gaussian" {
        return Ok(vec![Made::LeftOut(
            "a profile of an error function can only be pasted as a table",
        )]);
    }
    let (dopant, junction_um) = (row.text("dopant")?, row.required("junction_um")?);
    let profile = half_gaussian(dopant, row.required("surface_cm3")?, junction_um);
    let what = format!("sheet resistance times depth of a Gaussian of {dopant}");
    let request = json!({"operation": "sheet", "profile": profile});
    let read = ("sheet_resistance_ohm_sq", junction_um);
    check(
        row,
        request,
        what,
        read,
        row.required("rs_xj_ohm_um")?,
        row.required("tolerance_rel")?,
    )
}

pub(super) fn factor_checks(row: &Row<'_>) -> MadeChecks {
    let ratio = row.required("ratio")?;
    // The form takes wafers from 25 mm and probes up to 3 mm apart.
    let (fields, what, read) = if row.text("quantity")? == "wafer" {
        if !(25.0 / 3.0..150.0).contains(&ratio) {
            return Ok(vec![Made::LeftOut("no wafer and no probes have that ratio")]);
        }
        // The table gives the factor of V/I, the results what multiplies pi/ln 2.
        let all = core::f64::consts::PI / ln(2.0);
        (
            json!({"wafer_diameter_mm": 3.0 * ratio, "probe_spacing_mm": 3}),
            format!("factor of V/I in the middle of a wafer {ratio} spacings wide"),
            ("probes.wafer_factor", all),
        )
    } else {
        (
            json!({"wafer_thickness_um": 1000.0 * ratio, "probe_spacing_mm": 1}),
            format!("factor of a thickness of {ratio} spacings"),
            ("probes.thickness_factor", 1.0),
        )
    };
    let mut asked = request(fields);
    asked.insert("operation".to_owned(), json!("sheet"));
    asked.insert("substrate".to_owned(), json!({"type": "p", "resistivity_ohm_cm": 10}));
    let (factor, tolerance) = (row.required("factor")?, row.required("tolerance_rel")?);
    check(row, Value::Object(asked), what, read, factor, tolerance)
}

/// Half a Gaussian that falls from a surface concentration to the background at a depth.
fn half_gaussian(dopant: &str, surface_cm3: f64, junction_um: f64) -> Value {
    let straggle_um = junction_um / (2.0 * ln(surface_cm3 / BACKGROUND_CM3)).sqrt();
    let dose_cm2 =
        surface_cm3 * straggle_um * 1e-4 * (0.5 * core::f64::consts::PI).sqrt();
    json!({"gaussian": {
        "dopant": dopant, "dose_cm2": dose_cm2,
        "projected_range_nm": 0, "straggle_nm": 1e3 * straggle_um,
    }})
}

/// The number after a mark such as `xj=` in `B Gaussian Ns=1e20 xj=1um`.
fn input(row: &Row<'_>, inputs: &str, mark: &str) -> Result<f64, TableError> {
    let rest = inputs.split_once(mark).map(|(_, rest)| rest);
    let word = rest.and_then(|rest| rest.split(' ').next()).unwrap_or("");
    word.trim_end_matches("um")
        .parse()
        .map_err(|_| row.error(&format!("inputs: no number after {mark}")))
}

fn check(
    row: &Row<'_>,
    asked: Value,
    what: String,
    (read, factor): (&str, f64),
    expected: f64,
    tolerance: f64,
) -> MadeChecks {
    let unit = match row.optional("unit") {
        "" if read == "sheet_resistance_ohm_sq" => "ohm um",
        unit => unit,
    };
    Ok(vec![
        Draft {
            row,
            request: request(asked),
            what,
            read: read.to_owned(),
            factor,
            expected: Expected::Number(expected),
            unit,
            tolerance,
            allowed: Allowed::Relative,
            source: row.text("source")?,
            known_by: row.text("known_by")?,
        }
        .finish()?,
    ])
}
