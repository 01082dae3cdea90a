//! `color_chart`: the color of oxide on silicon at the thicknesses of the published chart.
//!
//! The thicknesses are those of the chart. The colors were computed by a script that shares no
//! code with the kernel; whether their hues are those the chart names is for the kernel's tests.

use serde_json::json;

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, MadeChecks, request};

pub(super) static TABLE: Table = table!("color_chart", "thickness_um");

/// One step of rounding in a channel.
const ONE_STEP: f64 = 1.0;

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    let thickness_nm = 1e3 * row.required("thickness_um")?;
    Ok(vec![
        Draft {
            row,
            request: request(json!({
                "operation": "oxidation", "ambient": "wet", "temperature_c": 1000,
                "target_oxide_nm": thickness_nm,
            })),
            what: format!("color of oxide that the chart calls {}", row.text("name")?),
            read: "color.srgb_hex".to_owned(),
            factor: 1.0,
            expected: Expected::Color(row.text("srgb_adapted_Si_D65")?.to_owned()),
            unit: "",
            tolerance: ONE_STEP,
            allowed: Allowed::Channel,
            source: "computed apart from M. A. Green, Sol. Energy Mater. Sol. Cells 92, 1305 \
                     (2008) and I. H. Malitson, J. Opt. Soc. Am. 55, 1205 (1965), at the \
                     thicknesses of W. A. Pliskin, E. E. Conrad, IBM J. Res. Dev. 8, 43 (1964)",
            known_by: "computed",
        }
        .finish()?,
    ])
}
