//! The hazard table, read once.

use std::sync::LazyLock;

use serde::Serialize;

use super::codes::{self, HazardCode};
use super::{UNKNOWN, advice};

/// The text of the table; the same file that the data tests read.
const TEXT: &str = include_str!("../../../../tests/reference/hazards.csv");

/// The rows in the order of the file, and last the row for an unknown chemical.
pub(super) static TABLE: LazyLock<Vec<HazardRow>> = LazyLock::new(|| {
    let mut lines = records(TEXT).into_iter();
    let header = lines.next().unwrap_or_default();
    let mut list: Vec<HazardRow> =
        lines.map(|cells| HazardRow::read(&header, &cells)).collect();
    if let Some(hf) = list.iter().find(|row| row.id == "HF49").cloned() {
        list.push(HazardRow {
            id: UNKNOWN.to_owned(),
            name: "Unknown chemical: treat as HF".to_owned(),
            cas: Vec::new(),
            note: "nothing is known about this step's chemistry here: find the safety data sheet before touching anything".to_owned(),
            never: advice::never(UNKNOWN),
            ..hf
        });
    }
    list
});

/// One substance, mixture or danger of a tool.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HazardRow {
    /// Id by which steps name the row (`HF49`).
    pub id: String,
    /// Name for a person, with strength.
    pub name: String,
    /// `liquid`, `gas`, `mixture` or `physical`.
    pub kind: String,
    /// Registry numbers of the Chemical Abstracts Service; empty if it has none.
    pub cas: Vec<String>,
    /// Pictograms of the label (`GHS05`), without those that only some suppliers print.
    pub ghs_pictograms: Vec<String>,
    /// Warning signs for dangers that have no pictogram (ISO 7010 numbers, memory).
    pub warning_signs: &'static [&'static str],
    /// `Danger`, `Warning` or empty.
    pub signal_word: String,
    /// Hazard codes with their meaning.
    pub h_codes: Vec<HazardCode>,
    /// The hazards in one sentence.
    pub h_meaning: String,
    /// The main precautions.
    pub p_main: String,
    /// What it must not meet.
    pub incompatible: String,
    /// Protective equipment.
    pub ppe: String,
    /// First aid.
    pub first_aid: String,
    /// First aid in one line for a callout.
    pub first_aid_headline: &'static str,
    /// What never to do with it.
    pub never: &'static [&'static str],
    /// Limits in air.
    pub limits: Limits,
    /// What else to know.
    pub note: String,
    /// Where classification and limits come from.
    pub sources: Vec<SourceNote>,
}

/// Limits in air; "none" means no value in that list, not that it is harmless.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Limits {
    /// Legal 8-hour average of the US Occupational Safety and Health Administration, unless
    /// it says ceiling.
    pub osha_pel: Limit,
    /// Recommended by the US National Institute for Occupational Safety and Health.
    pub niosh_rel: Limit,
    /// Immediately dangerous to life or health.
    pub niosh_idlh: Limit,
}

/// One limit and how it is known; both empty for a danger without limit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Limit {
    /// Value with unit.
    pub value: String,
    /// How the value is known.
    pub known_by: String,
}

/// Where a part of a row comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SourceNote {
    /// The part (`classification`, `osha_pel`, `niosh`).
    pub part: &'static str,
    /// The source.
    pub source: String,
    /// How it is known.
    pub known_by: String,
}

impl HazardRow {
    /// Whether burns need calcium gluconate: HF, buffered HF, fluorides that set it free.
    #[must_use]
    pub fn is_hf_type(&self) -> bool {
        self.first_aid.contains("calcium gluconate")
    }

    fn read(header: &[String], cells: &[String]) -> Self {
        let get = |name: &str| {
            let idx = header.iter().position(|column| column == name);
            let cell = idx.and_then(|idx| cells.get(idx)).map_or("", String::as_str);
            // A dash in the file means that the column has no sense for the row.
            if cell == "-" { String::new() } else { cell.to_owned() }
        };
        let limit = |value: &str, known_by: &str| Limit {
            value: get(value),
            known_by: get(known_by),
        };
        let id = get("id");
        let kind = get("kind");
        let source = |part, source: &str, known_by: &str| SourceNote {
            part,
            source: get(source),
            known_by: get(known_by),
        };
        let sources = [
            source("classification", "ghs_source", "ghs_known_by"),
            source("osha_pel", "osha_pel_source", "osha_pel_known_by"),
            source("niosh", "niosh_source", "niosh_rel_known_by"),
        ];
        Self {
            name: get("name"),
            cas: get("cas")
                .split(';')
                .map(str::trim)
                .filter(|number| number.starts_with(|c: char| c.is_ascii_digit()))
                .map(str::to_owned)
                .collect(),
            ghs_pictograms: codes::entries(&get("ghs_pictograms"))
                .into_iter()
                .map(|(main, _)| main)
                .filter(|main| main.starts_with("GHS"))
                .collect(),
            warning_signs: advice::warning_signs(&id),
            signal_word: get("signal_word"),
            h_codes: codes::read(&get("h_codes")),
            h_meaning: get("h_meaning"),
            p_main: get("p_main"),
            incompatible: get("incompatible"),
            ppe: get("ppe"),
            first_aid: get("first_aid"),
            first_aid_headline: advice::first_aid_headline(&id),
            never: advice::never(&id),
            limits: Limits {
                osha_pel: limit("osha_pel", "osha_pel_known_by"),
                niosh_rel: limit("niosh_rel", "niosh_rel_known_by"),
                niosh_idlh: limit("niosh_idlh", "niosh_idlh_known_by"),
            },
            note: get("note"),
            sources: sources
                .into_iter()
                .filter(|note| !(note.source.is_empty() && note.known_by.is_empty()))
                .collect(),
            id,
            kind,
        }
    }
}

/// The row of an id; none if there is no such row.
#[must_use]
pub fn row(id: &str) -> Option<HazardRow> {
    TABLE.iter().find(|row| row.id == id).cloned()
}

/// The table's own spelling of an id; none if there is no such row.
pub(crate) fn known_id(id: &str) -> Option<&'static str> {
    TABLE.iter().map(|row| row.id.as_str()).find(|known| *known == id)
}

/// All rows in the order of the table; the last one is for an unknown chemical.
#[must_use]
pub fn rows() -> Vec<HazardRow> {
    TABLE.clone()
}

/// Splits comma-separated text into records; a quoted cell may hold commas and quotes.
pub(super) fn records(text: &str) -> Vec<Vec<String>> {
    text.lines().filter(|line| !line.trim().is_empty()).map(cells).collect()
}

fn cells(line: &str) -> Vec<String> {
    let mut list = vec![String::new()];
    let mut quoted = false;
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        let doubled = c == '"' && quoted && chars.peek() == Some(&'"');
        if doubled {
            chars.next();
        }
        match c {
            '"' if !doubled => quoted = !quoted,
            ',' if !quoted => list.push(String::new()),
            other => {
                if let Some(cell) = list.last_mut() {
                    cell.push(other);
                }
            }
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quoted_cells_keep_their_commas_and_quotes() {
        assert_eq!(cells(r#"a,"b, c","d ""e""",,f"#), ["a", "b, c", r#"d "e""#, "", "f"]);
    }

    #[test]
    fn every_row_has_all_cells() {
        let lines = records(TEXT);
        for line in &lines {
            assert_eq!(line.len(), lines[0].len(), "{}", line[0]);
        }
        assert_eq!(rows().len(), lines.len());
    }

    #[test]
    fn an_unknown_chemical_is_treated_as_hf() {
        let unknown = row(UNKNOWN).unwrap();
        assert!(unknown.is_hf_type());
        assert_eq!(row("NO_SUCH_ROW"), None);
    }
}
