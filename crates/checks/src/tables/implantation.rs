//! `implant_ranges`, `implant_examples` and `implant_damage`: where ions stop and what they do.

use serde_json::json;

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, MadeChecks, object, request};

pub(super) static RANGES: Table = table!("implant_ranges", "id");
pub(super) static EXAMPLES: Table = table!("implant_examples", "id");
pub(super) static DAMAGE: Table = table!("implant_damage", "id");

/// Rows G are copied from the published table, rows M computed.
const PUBLISHED: &str = "J. F. Gibbons, W. S. Johnson, S. W. Mylroie, Projected Range \
                         Statistics, 2nd ed. (1975), as reprinted in textbooks";
const COMPUTED: &str = "single ions in an amorphous target, followed by a program that shares no \
                        code with the kernel; potential of J. F. Ziegler, J. P. Biersack, \
                        U. Littmark, The Stopping and Range of Ions in Solids (1985)";

pub(super) fn range_checks(row: &Row<'_>) -> MadeChecks {
    let is_published = row.text("id")?.starts_with('G');
    let (ion, target) = (row.text("ion")?, row.text("target")?);
    let mut made = Vec::new();
    for (quantity, column, tolerance, read) in [
        ("projected range", "range_um", "range_tolerance", "projected_range_nm"),
        ("straggle", "straggle_um", "straggle_tolerance", "straggle_nm"),
        ("lateral straggle", "lateral_um", "lateral_tolerance", "lateral_straggle_nm"),
    ] {
        let Some(value) = row.number(column)? else { continue };
        let draft = Draft {
            row,
            request: request(json!({
                "operation": "implantation", "dopant": ion, "target": target,
                "energy_kev": row.required("energy_kev")?, "tilt_deg": 0,
                "range_table": if is_published { "gibbons_1975" } else { "computed" },
            })),
            what: format!("{quantity} of {ion} in {}", target.replace('_', " ")),
            read: read.to_owned(),
            factor: 1e-3,
            expected: Expected::Number(value),
            unit: "um",
            tolerance: row.required(tolerance)?,
            allowed: Allowed::Relative,
            source: if is_published { PUBLISHED } else { COMPUTED },
            known_by: row.text("known_by")?,
        };
        made.push(draft.finish()?);
    }
    Ok(made)
}

pub(super) fn example_checks(row: &Row<'_>) -> MadeChecks {
    let mut asked = object(row, row.text("request")?)?;
    asked.insert("operation".to_owned(), json!("implantation"));
    let read = row.text("result")?.replace('/', ".");
    let unit = [("_cm3", "cm-3"), ("_um", "um"), ("_nm", "nm"), ("_s", "s")]
        .into_iter()
        .find(|(end, _)| read.ends_with(end))
        .map_or("", |(_, unit)| unit);
    Ok(vec![
        Draft {
            row,
            request: asked,
            what: row.text("what")?.to_owned(),
            read,
            factor: 1.0,
            expected: Expected::Number(row.required("value")?),
            unit,
            tolerance: row.required("tolerance")?,
            allowed: Allowed::Relative,
            source: row.text("source")?,
            known_by: row.text("known_by")?,
        }
        .finish()?,
    ])
}

pub(super) fn damage_checks(row: &Row<'_>) -> MadeChecks {
    let (ion, depth_nm) = (row.text("ion")?, row.required("depth_nm")?);
    Ok(vec![
        Draft {
            row,
            request: request(json!({
                "operation": "implantation", "dopant": ion, "tilt_deg": 0,
                "energy_kev": row.required("energy_kev")?, "dose_cm2": 1e13,
            })),
            what: format!("share of the damage of {ion} above {depth_nm} nm"),
            read: format!(
                "share of damage.energy_ev_cm3 over damage.depth_um to {}",
                1e-3 * depth_nm
            ),
            factor: 1.0,
            expected: Expected::Number(row.required("share")?),
            unit: "",
            tolerance: row.required("tolerance")?,
            allowed: Allowed::Absolute,
            source: COMPUTED,
            known_by: "computed",
        }
        .finish()?,
    ])
}
