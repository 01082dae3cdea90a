//! The words of a caution, the same on the page, in print and from the command.

use serde::Serialize;

use super::table::HazardRow;

/// What a caution says of one row of the hazard table.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Callout {
    /// Id of the row.
    pub id: String,
    /// `Danger` or `Warning` of the label; `Caution` for dangers that have no label.
    pub signal_word: &'static str,
    /// Name with strength.
    pub name: String,
    /// Name without what stands in brackets.
    pub short_name: String,
    /// Pictograms of the label (`GHS05`).
    pub ghs_pictograms: Vec<String>,
    /// Warning signs for dangers without label (`W017`).
    pub warning_signs: &'static [&'static str],
    /// What can happen.
    pub can_happen: String,
    /// How to work with it.
    pub work_so: String,
    /// What to wear.
    pub wear: String,
    /// What it must not meet; may be empty.
    pub keep_apart: String,
    /// What never to do; may be empty.
    pub never: &'static [&'static str],
    /// First aid in one line.
    pub first_aid: &'static str,
    /// What else to know; may be empty.
    pub note: String,
}

impl HazardRow {
    /// The words of its caution.
    #[must_use]
    pub fn callout(&self) -> Callout {
        let short = self.name.split(" (").next().unwrap_or(&self.name);
        Callout {
            id: self.id.clone(),
            signal_word: match self.signal_word.as_str() {
                "Danger" => "Danger",
                "Warning" => "Warning",
                _ => "Caution",
            },
            name: plain(&self.name),
            short_name: plain(short),
            ghs_pictograms: self.ghs_pictograms.clone(),
            warning_signs: self.warning_signs,
            can_happen: plain(&self.h_meaning),
            work_so: plain(&self.p_main),
            wear: plain(&self.ppe),
            keep_apart: plain(&self.incompatible),
            never: self.never,
            first_aid: self.first_aid_headline,
            note: plain(&self.note),
        }
    }
}

/// A cell of the table for people: without notes on where a fact was read, with degrees.
pub(super) fn plain(cell: &str) -> String {
    let mut text = String::with_capacity(cell.len());
    let mut rest = cell;
    while let Some(at) = rest.find('(') {
        let (before, bracket) = rest.split_at(at);
        let end = bracket.find(')').map_or(bracket.len(), |end| end + 1);
        let (bracket, after) = bracket.split_at(end);
        text.push_str(before);
        if !is_provenance(bracket.trim_start_matches('(')) {
            text.push_str(bracket);
        }
        rest = after;
    }
    text.push_str(rest);
    with_degrees(text.trim()).replace(" ;", ";").replace(" ,", ",")
}

fn is_provenance(text: &str) -> bool {
    ["read", "memory"].iter().any(|word| text.starts_with(word))
}

/// `60 C` as `60 °C`, with a space that does not break.
fn with_degrees(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(" C") {
        let (before, after) = rest.split_at(at);
        out.push_str(before);
        let number = before.ends_with(|c: char| c.is_ascii_digit());
        let alone = !after[2..].starts_with(|c: char| c.is_ascii_alphanumeric());
        out.push_str(if number && alone { "\u{a0}°C" } else { " C" });
        rest = &after[2..];
    }
    out + rest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hazards::rows;

    #[test]
    fn cells_are_made_readable() {
        assert_eq!(plain("cool below 60 C before"), "cool below 60\u{a0}°C before");
        assert_eq!(plain("a (read: b); c (some)"), "a; c (some)");
        assert_eq!(plain("vitamin C, 5 CO"), "vitamin C, 5 CO");
        assert_eq!(plain("2 % burns (read: x, \"y\")"), "2 % burns");
    }

    #[test]
    fn every_row_has_the_words_of_a_caution() {
        for row in rows() {
            let callout = row.callout();
            let id = &callout.id;
            for text in
                [&callout.name, &callout.can_happen, &callout.work_so, &callout.wear]
            {
                assert!(!text.is_empty(), "{id}");
                assert!(
                    !text.contains("read:") && !text.contains("memory"),
                    "{id}: {text}"
                );
                assert!(!text.contains("  ") && !text.contains(" C "), "{id}: {text}");
            }
            assert!(!callout.short_name.contains('('), "{id}");
            assert!(callout.first_aid.ends_with('.'), "{id}");
        }
    }
}
