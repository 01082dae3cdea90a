//! A table of `tests/reference`, compiled in: comment lines with `#`, a header, one row a line.

use std::collections::BTreeMap;

use super::TableError;

/// A table and its text.
pub(super) struct Table {
    /// Name of its file without the ending.
    pub(super) name: &'static str,
    /// Its text.
    pub(super) text: &'static str,
    /// The column that names a row.
    pub(super) id: &'static str,
}

/// A row: each value by the name of its column.
pub(super) struct Row<'a> {
    id: String,
    values: BTreeMap<&'a str, String>,
}

impl Table {
    /// All rows.
    pub(super) fn rows(&self) -> Result<Vec<Row<'static>>, TableError> {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .trim(csv::Trim::All)
            .from_reader(self.text.as_bytes());
        let failed = |error: csv::Error| TableError {
            id: self.name.to_owned(),
            what: error.to_string(),
        };
        // The names of the columns stand in the text itself.
        let heads: Vec<&'static str> = self
            .text
            .lines()
            .find(|line| !line.starts_with('#'))
            .unwrap_or("")
            .split(',')
            .map(str::trim)
            .collect();
        reader
            .records()
            .map(|record| {
                let record = record.map_err(failed)?;
                let values: BTreeMap<_, _> =
                    heads.iter().copied().zip(record.iter().map(str::to_owned)).collect();
                let name = values.get(self.id).map_or("", String::as_str);
                Ok(Row { id: format!("{} {name}", self.name), values })
            })
            .collect()
    }
}

impl<'a> Row<'a> {
    /// A row of something else than a table.
    pub(super) fn new(id: String, values: BTreeMap<&'a str, String>) -> Self {
        Self { id, values }
    }

    /// Table and row.
    pub(super) fn id(&self) -> &str {
        &self.id
    }

    pub(super) fn error(&self, what: &str) -> TableError {
        TableError { id: self.id.clone(), what: what.to_owned() }
    }

    /// The text in a column that the table has.
    pub(super) fn text(&self, column: &str) -> Result<&str, TableError> {
        let found = self.values.get(column).map(String::as_str);
        found.ok_or_else(|| self.error(&format!("there is no column {column}")))
    }

    /// The text in a column that a table may lack.
    pub(super) fn optional(&self, column: &str) -> &str {
        self.values.get(column).map_or("", String::as_str)
    }

    /// The number in a column, `None` if it is empty.
    pub(super) fn number(&self, column: &str) -> Result<Option<f64>, TableError> {
        let text = self.text(column)?;
        if text.is_empty() {
            return Ok(None);
        }
        let parsed = text.parse().map(Some);
        parsed.map_err(|_| self.error(&format!("{column}: {text} is no number")))
    }

    /// The number in a column that must hold one.
    pub(super) fn required(&self, column: &str) -> Result<f64, TableError> {
        self.number(column)?.ok_or_else(|| self.error(&format!("{column} is empty")))
    }
}

/// A table of `tests/reference`.
macro_rules! table {
    ($name:literal, $id:literal) => {
        crate::tables::table::Table {
            name: $name,
            text: include_str!(concat!(
                env!("CARGO_MANIFEST_DIR"),
                "/../../tests/reference/",
                $name,
                ".csv"
            )),
            id: $id,
        }
    };
}
pub(super) use table;
