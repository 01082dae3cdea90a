//! Holding computed values against one row of a table of checks.

use crate::{Row, reference};

/// The row of a table by its id.
///
/// # Panics
/// If there is no such row.
#[must_use]
pub fn row(table: &str, id: &str) -> Row {
    let found = reference(table).into_iter().find(|row| row.text("id") == id);
    assert!(found.is_some(), "{table}: no row {id}");
    found.unwrap_or_else(|| unreachable!("asserted above"))
}

/// Holds values against those of a row, separated by semicolons, within its tolerance: absolute,
/// or relative with a percent sign. A row with a known deviation must deviate.
///
/// # Panics
/// If a value is outside, or if a known deviation has gone.
#[track_caller]
pub fn check(table: &str, id: &str, found: &[f64]) {
    let row = row(table, id);
    let numbers = |column: &str| -> Vec<(f64, bool)> {
        row.text(column)
            .split(';')
            .map(|text| {
                let (text, relative) = text
                    .split_once('%')
                    .map_or((text, false), |(percent, _)| (percent, true));
                let text = text.split('(').next().unwrap_or(text);
                (text.trim().parse().unwrap_or(f64::NAN), relative)
            })
            .collect()
    };
    let (known, tolerances) = (numbers("value"), numbers("tolerance"));
    assert_eq!(known.len(), found.len(), "{id}: as many values as the row has");
    let mut inside = true;
    for (i, ((known, _), found)) in known.iter().zip(found).enumerate() {
        let (tolerance, relative) = tolerances[i.min(tolerances.len() - 1)];
        let allowed = if relative { 0.01 * tolerance * known.abs() } else { tolerance };
        let good = (found - known).abs() <= allowed;
        assert!(
            good || !row.text("known_deviation").is_empty(),
            "{id}: {found}, expected {known} ± {allowed}"
        );
        inside &= good;
    }
    assert!(
        !inside || row.text("known_deviation").is_empty(),
        "{id}: the known deviation is gone"
    );
}
