//! Hazards as text: the table, one row, and the sheet of a flow.

use std::io::Read;

use barewafer_process::hazards::handbook::{
    EMERGENCY, Entry, GLOSSARY, Listed, RULES_OF_THE_BENCH, SOURCES, Setting, ToConfirm,
    codes_in_use, listed, settings, spill, step_name, to_confirm,
};
use barewafer_process::hazards::{
    Callout, Grade, HazardRow, Limits, NOTICE, Rule, Sheet, row, rows, rules, sheet,
};
use barewafer_process::request::MAX_REQUEST_BYTES;
use serde::Serialize;
use serde_json::Value;

use crate::Failure;
use crate::checks::not_written;

/// Everything that the Safety place of the page shows.
#[derive(Serialize)]
struct Place {
    notice: &'static str,
    rows: Vec<PlaceRow>,
    settings: Vec<Setting>,
    rules_of_the_bench: &'static [Entry],
    rules_of_sequence: Vec<&'static Rule>,
    emergency: &'static [Entry],
    glossary: &'static [Entry],
    codes: Vec<(String, &'static str)>,
    sources: &'static [Entry],
    questions: &'static [barewafer_course::questions::Question],
}

/// A row with what stands beside it in the handbook.
#[derive(Serialize)]
struct PlaceRow {
    kind: String,
    cas: Vec<String>,
    h_codes: Vec<barewafer_process::hazards::HazardCode>,
    limits: Limits,
    /// What open compilations list of its substances.
    listed: Vec<Listed>,
    sources: Vec<barewafer_process::hazards::SourceNote>,
    spill: &'static str,
    confirm: ToConfirm,
    #[serde(flatten)]
    callout: Callout,
    /// First aid in full; the callout has the headline.
    first_aid_full: String,
}

/// The table, or one row in full.
pub(crate) fn table(id: Option<&str>, json: bool) -> Result<String, Failure> {
    if let Some(id) = id {
        let found = row(id).ok_or_else(|| {
            let ids: Vec<String> = rows().into_iter().map(|row| row.id).collect();
            Failure::Wrong(format!(
                "{} is not a row of the hazard table (allowed: {})",
                id.chars().take(60).collect::<String>(),
                ids.join(", ")
            ))
        })?;
        return if json {
            Ok(serde_json::to_string(&found).map_err(not_written)? + "\n")
        } else {
            Ok(in_full(&found))
        };
    }
    if json {
        return Ok(serde_json::to_string(&place()?).map_err(not_written)? + "\n");
    }
    let mut text = String::new();
    for row in rows() {
        let callout = row.callout();
        text.push_str(&format!(
            "{:<10} {:<8} {}\n",
            row.id, callout.signal_word, callout.name
        ));
    }
    Ok(text + "\n" + NOTICE + "\n")
}

fn place() -> Result<Place, Failure> {
    let questions = barewafer_course::questions::questions()
        .map_err(|error| Failure::Wrong(error.to_string()))?;
    Ok(Place {
        notice: NOTICE,
        rows: rows().into_iter().map(place_row).collect(),
        settings: settings(),
        rules_of_the_bench: RULES_OF_THE_BENCH,
        rules_of_sequence: rules().collect(),
        emergency: EMERGENCY,
        glossary: GLOSSARY,
        codes: codes_in_use(),
        sources: SOURCES,
        questions,
    })
}

fn place_row(row: HazardRow) -> PlaceRow {
    PlaceRow {
        callout: row.callout(),
        listed: listed(&row),
        spill: spill(&row.id),
        confirm: to_confirm(&row),
        first_aid_full: row.first_aid,
        kind: row.kind,
        cas: row.cas,
        h_codes: row.h_codes,
        limits: row.limits,
        sources: row.sources,
    }
}

/// A text, and whether it tells of a mistake that must stop the plan.
pub(crate) struct Done {
    pub(crate) text: String,
    pub(crate) must_stop: bool,
}

/// The sheet of the flow or request on standard input.
pub(crate) fn sheet_of(input: impl Read, json: bool) -> Result<Done, Failure> {
    let mut text = Vec::new();
    let limit = u64::try_from(MAX_REQUEST_BYTES).unwrap_or(u64::MAX).saturating_add(1);
    input.take(limit).read_to_end(&mut text)?;
    if MAX_REQUEST_BYTES < text.len() {
        return Err(Failure::Wrong(format!(
            "the run sheet is longer than {MAX_REQUEST_BYTES} bytes"
        )));
    }
    let value: Value = serde_json::from_slice(&text)
        .map_err(|error| Failure::Wrong(format!("the run sheet is no JSON: {error}")))?;
    let sheet = sheet(&value).map_err(|error| Failure::Wrong(error.to_string()))?;
    let must_stop = sheet.findings.iter().any(|found| found.grade == Grade::Stop);
    let text = if json {
        serde_json::to_string(&sheet).map_err(not_written)? + "\n"
    } else {
        as_text(&sheet)
    };
    Ok(Done { text, must_stop })
}

fn as_text(sheet: &Sheet) -> String {
    let mut text = String::new();
    if !sheet.title.is_empty() {
        text.push_str(&format!("{}\n\n", one_line(&sheet.title)));
    }
    for step in &sheet.steps {
        text.push_str(&format!(
            "{}  {}: {}\n",
            one_line(&step.id),
            one_line(step_name(&step.operation)),
            if step.hazards.is_empty() {
                "none of its own".to_owned()
            } else {
                step.hazards.join(", ")
            }
        ));
    }
    for found in &sheet.findings {
        let word = match found.grade {
            Grade::Stop => "STOP",
            Grade::Check => "CHECK",
        };
        let steps: Vec<String> = found.steps.iter().map(|id| one_line(id)).collect();
        text.push_str(&format!(
            "\n{word}: {} (steps {})\n  {}\n  {}\n",
            found.title,
            steps.join(", "),
            found.reason,
            found.remedy
        ));
    }
    for id in &sheet.hazards {
        if let Some(row) = row(id) {
            text.push('\n');
            text.push_str(&caution(&row.callout()));
        }
    }
    text + "\n" + NOTICE + "\n"
}

/// A caution in words: the same that the page shows.
fn caution(callout: &Callout) -> String {
    let mut text = format!("{}: {}\n", callout.signal_word.to_uppercase(), callout.name);
    let mut line = |name: &str, what: &str| {
        if !what.is_empty() {
            text.push_str(&format!("  {name}: {what}\n"));
        }
    };
    line("First aid", callout.first_aid);
    line("Can happen", &callout.can_happen);
    line("Work so", &callout.work_so);
    line("Wear", &callout.wear);
    line("Keep apart from", &callout.keep_apart);
    for never in callout.never {
        text.push_str(&format!("  {never}\n"));
    }
    if !callout.note.is_empty() {
        text.push_str(&format!("  {}\n", callout.note));
    }
    text
}

fn in_full(row: &HazardRow) -> String {
    let mut text = caution(&row.callout());
    text.push_str(&format!("  First aid in full: {}\n", row.first_aid));
    if !spill(&row.id).is_empty() {
        text.push_str(&format!("  Spill: {}\n", spill(&row.id)));
    }
    let limits = [
        ("OSHA PEL", &row.limits.osha_pel),
        ("NIOSH REL", &row.limits.niosh_rel),
        ("NIOSH IDLH", &row.limits.niosh_idlh),
    ];
    for (name, limit) in limits.into_iter().filter(|(_, limit)| !limit.value.is_empty()) {
        text.push_str(&format!("  {name}: {} ({})\n", limit.value, limit.known_by));
    }
    for one in listed(row) {
        text.push_str(&format!("  {}: {} ({})\n", one.title, one.text, one.known_by));
    }
    for code in &row.h_codes {
        let some = if code.variant { " (some suppliers)" } else { "" };
        text.push_str(&format!("  {}: {}{some}\n", code.code, code.meaning));
    }
    for note in &row.sources {
        text.push_str(&format!(
            "  Source, {}: {} ({})\n",
            note.part, note.source, note.known_by
        ));
    }
    if to_confirm(row).any() {
        text.push_str("  Confirm against the supplier's current sheet.\n");
    }
    text + "\n" + NOTICE + "\n"
}

/// A text from a file, without what could move a terminal's cursor.
fn one_line(text: &str) -> String {
    text.chars().take(200).map(|c| if c.is_control() { ' ' } else { c }).collect()
}
