//! `deposition_checks`: rates, spreads, covered trenches and resistivities of deposited films.

use serde_json::json;

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, MadeChecks, object, words};

pub(super) static TABLE: Table = table!("deposition_checks", "id");

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    let mut request = object(row, row.text("request")?)?;
    request.insert("operation".to_owned(), json!("deposition"));
    let read = row.text("quantity")?;
    Ok(vec![
        Draft {
            row,
            request,
            what: words::quantity(read),
            read: read.to_owned(),
            factor: 1.0,
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
