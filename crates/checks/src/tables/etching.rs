//! `etching_checks`: wet and dry etching, stripping and polishing, each row with its request.

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, Made, MadeChecks, object, words};

pub(super) static TABLE: Table = table!("etching_checks", "id");

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    let read = row.text("read")?;
    if read.contains(':') {
        return Ok(vec![Made::LeftOut(
            "it is a reckoning about selectivity, which no request asks for",
        )]);
    }
    // "=a/b" is a ratio of two results.
    let ratio = read.strip_prefix('=').and_then(|ratio| ratio.split_once('/'));
    let (what, read) = match ratio {
        Some((over, under)) => (
            format!("{} over {}", words::quantity(over), words::quantity(under)),
            format!("{over} / {under}"),
        ),
        None => (words::quantity(read), read.to_owned()),
    };
    Ok(vec![
        Draft {
            row,
            request: object(row, row.text("request")?)?,
            what,
            read,
            factor: 1.0,
            expected: Expected::Number(row.required("expected")?),
            unit: row.text("unit")?,
            tolerance: row.required("tolerance_rel")?,
            allowed: Allowed::Relative,
            source: row.text("source")?,
            known_by: row.text("known_by")?,
        }
        .finish()?,
    ])
}
