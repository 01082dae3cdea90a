//! What the tests share: reading the reference tables that the kernel is held against, asking it
//! as a person does, and doped layers for its solver.
//!
//! A table lies in `tests/reference/`: comment lines that begin with `#`, one header line,
//! then one case a line.

pub mod answers;
pub mod implants;
pub mod profiles;
pub mod rows;
pub mod shapes;
pub mod silicon_layers;

use std::collections::BTreeMap;
use std::path::PathBuf;

/// One line of a reference table: each value by the name of its column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    table: String,
    values: BTreeMap<String, String>,
}

impl Row {
    /// The text in a column; empty where the line leaves it out.
    ///
    /// # Panics
    /// If the table has no such column.
    #[must_use]
    pub fn text(&self, column: &str) -> &str {
        assert!(
            self.values.contains_key(column),
            "{} has no column {column}",
            self.table
        );
        &self.values[column]
    }

    /// The number in a column; `None` where the line leaves it out.
    ///
    /// # Panics
    /// If the table has no such column, or if its value is no number.
    #[must_use]
    pub fn number(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        let number = text.parse::<f64>().ok();
        assert!(
            text.is_empty() || number.is_some(),
            "{}: {text} in column {column} is no number",
            self.table
        );
        number
    }

    /// The number in a column that every line must fill.
    ///
    /// # Panics
    /// If there is no number.
    #[must_use]
    pub fn required(&self, column: &str) -> f64 {
        let number = self.number(column);
        assert!(number.is_some(), "{}: column {column} is empty", self.table);
        number.unwrap_or(f64::NAN)
    }
}

/// All lines of `tests/reference/<name>`.
///
/// # Panics
/// If the table cannot be read, or if a line has not as many values as the header.
#[must_use]
pub fn reference(name: &str) -> Vec<Row> {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reference").join(name);
    let reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_path(&path);
    assert!(reader.is_ok(), "{} cannot be opened", path.display());
    let mut rows = Vec::new();
    if let Ok(mut reader) = reader {
        for line in reader.deserialize::<BTreeMap<String, String>>() {
            assert!(line.is_ok(), "{}: {:?}", path.display(), line.err());
            rows.extend(line.map(|values| Row { table: name.to_owned(), values }));
        }
    }
    assert!(!rows.is_empty(), "{} has no rows", path.display());
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quoted_values_and_empty_numbers_are_read() {
        let rows = reference("oxidation_checks.csv");
        assert_eq!(rows[0].text("id"), "OX01");
        assert!(rows[0].text("source").contains("table of A, B, tau"));
        assert_eq!(rows[0].number("time_h"), None);
        assert!((rows[0].required("expected") - 0.51).abs() < 1e-12);
    }
}
