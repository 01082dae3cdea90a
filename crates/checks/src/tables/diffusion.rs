//! `diffusion_checks`: worked examples of predeposition and drive-in, and diffusivities.

use serde_json::json;

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, Made, MadeChecks, object, request, words};

pub(super) static TABLE: Table = table!("diffusion_checks", "id");

/// An hour of predeposition shows a diffusivity: its root of Dt in um, squared, per second.
const CM2_S_OF_AN_HOUR: f64 = 1e-8 / 3600.0;

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    let inputs = row.text("inputs")?;
    let quantity = row.text("quantity")?;
    let (asked, what, read, factor) = match row.text("kind")? {
        "request" => {
            let what = words::quantity(quantity);
            (object(row, inputs)?, what, quantity.to_owned(), 1.0)
        }
        "intrinsic" => {
            let words: Vec<&str> = inputs.split(' ').collect();
            let [set, dopant, celsius] = words.as_slice() else {
                return Err(row.error("inputs are not set, dopant, temperature"));
            };
            let temperature_c: f64 =
                celsius.parse().map_err(|_| row.error("inputs: no temperature"))?;
            // So little dopant that none of it is extrinsic, in closed form.
            let asked = request(json!({
                "operation": "predeposition", "dopant": dopant, "diffusivity": set,
                "temperature_c": temperature_c, "time_min": 60, "solution": "closed_form",
                "surface_concentration_cm3": 1e17,
            }));
            let what = format!("intrinsic diffusivity of {dopant}");
            (asked, what, "square of root_dt_um".to_owned(), CM2_S_OF_AN_HOUR)
        }
        "glass_front" | "oxide_diffusivity" => {
            return Ok(vec![Made::LeftOut(
                "the least mask is reported with its margin, not the front alone",
            )]);
        }
        "field_factor" => {
            return Ok(vec![Made::LeftOut("the field factor is inside the solver")]);
        }
        _ => {
            return Ok(vec![Made::LeftOut(
                "a closed form with a given root of Dt, which no request gives",
            )]);
        }
    };
    Ok(vec![
        Draft {
            row,
            request: asked,
            what,
            read,
            factor,
            expected: Expected::Number(row.required("value")?),
            unit: row.text("unit")?,
            tolerance: row.required("tolerance")?,
            allowed: Allowed::Relative,
            source: row.text("source")?,
            known_by: row.text("known_by")?,
        }
        .finish()?,
    ])
}
