//! Hazard codes: reading them out of a table cell, and what each means in short words.

use serde::Serialize;

/// One hazard code of a label.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct HazardCode {
    /// The code (`H314`).
    pub code: String,
    /// Its meaning in a few words.
    pub meaning: &'static str,
    /// Whether only some suppliers or strengths carry it.
    pub variant: bool,
    /// What the table adds to it ("some", "by strength"), or empty.
    pub note: String,
}

/// The meaning of a code in our own short words; none if the code is not used here.
///
/// Numbering: UN GHS, Annex 3; EUH codes: EU CLP Regulation, Annex II (H220-H412 read: EU
/// customs sampling manual, "H/P phrases"; H232 and EUH codes from memory).
#[must_use]
pub fn meaning(code: &str) -> Option<&'static str> {
    Some(match code {
        "H220" => "burns extremely easily (gas)",
        "H221" => "flammable gas",
        "H225" => "highly flammable liquid",
        "H226" => "flammable liquid",
        "H232" => "gas may catch fire by itself in air",
        "H250" => "catches fire by itself in air",
        "H270" => "gas feeds fire",
        "H271" => "may make fire or explode, strong oxidizer",
        "H272" => "feeds fire",
        "H280" => "gas under pressure, may burst if heated",
        "H281" => "cold liquefied gas, cold burns",
        "H290" => "may corrode metal",
        "H300" => "deadly if swallowed",
        "H301" => "poisonous if swallowed",
        "H302" => "harmful if swallowed",
        "H310" => "deadly on skin",
        "H311" => "poisonous on skin",
        "H312" => "harmful on skin",
        "H314" => "severe burns of skin and eyes",
        "H315" => "irritates skin",
        "H317" => "may cause skin allergy",
        "H318" => "serious eye damage",
        "H319" => "serious eye irritation",
        "H330" => "deadly if breathed",
        "H331" => "poisonous if breathed",
        "H332" => "harmful if breathed",
        "H335" => "may irritate airways",
        "H336" => "may cause drowsiness",
        "H350" => "may cause cancer",
        "H351" => "suspected of causing cancer",
        "H370" => "harms organs (one exposure)",
        "H371" => "may harm organs (one exposure)",
        "H372" => "harms organs (repeated exposure)",
        "H373" => "may harm organs (repeated exposure)",
        "H400" => "very toxic to water life",
        "H410" => "very toxic to water life, lasting",
        "H411" => "toxic to water life, lasting",
        "H412" => "harmful to water life, lasting",
        "EUH014" => "reacts violently with water",
        "EUH029" => "water frees poisonous gas",
        "EUH066" => "dries skin",
        "EUH071" => "corrosive to airways",
        _ => return None,
    })
}

/// Splits a cell at `;` outside brackets into pairs of main text and bracketed note.
pub(super) fn entries(cell: &str) -> Vec<(String, String)> {
    let mut list = vec![(String::new(), String::new())];
    let mut depth = 0_u32;
    for c in cell.chars() {
        let (main, note) = match list.last_mut() {
            Some((main, note)) => (main, note),
            None => break,
        };
        match c {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            ';' if depth == 0 => list.push((String::new(), String::new())),
            _ if 0 < depth => note.push(c),
            _ => main.push(c),
        }
    }
    list.into_iter()
        .map(|(main, note)| (main.trim().to_owned(), note.trim().to_owned()))
        .filter(|(main, note)| !(main.is_empty() && note.is_empty()))
        .collect()
}

/// Reads the codes of a cell such as `H290;H314 (1C);H331 (or H330)`.
pub(super) fn read(cell: &str) -> Vec<HazardCode> {
    let mut list: Vec<HazardCode> = Vec::new();
    for (main, note) in entries(cell) {
        for code in codes_in(&main) {
            push(&mut list, code, false, &note);
        }
        for code in codes_in(&note) {
            push(&mut list, code, true, &note);
        }
    }
    list
}

fn push(list: &mut Vec<HazardCode>, code: String, variant: bool, note: &str) {
    if list.iter().any(|known| known.code == code) {
        return;
    }
    let meaning = meaning(&code).unwrap_or_default();
    list.push(HazardCode { code, meaning, variant, note: note.to_owned() });
}

/// The codes named in a text; `H300 to H302` stands for all three.
fn codes_in(text: &str) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    let mut range_from: Option<u32> = None;
    for word in text.split([' ', ';', ',', ':']).filter(|word| !word.is_empty()) {
        if word == "to" {
            range_from =
                list.last().and_then(|code| code.strip_prefix('H')?.parse().ok());
            continue;
        }
        let digits = word.strip_prefix("EUH").or_else(|| word.strip_prefix('H'));
        let number = digits
            .filter(|digits| digits.len() == 3)
            .and_then(|digits| digits.parse::<u32>().ok());
        if let Some(number) = number {
            if let Some(from) = range_from.take() {
                list.extend((from + 1..number).map(|n| format!("H{n}")));
            }
            list.push(word.to_owned());
        }
        range_from = None;
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(cell: &str, main: &[&str], variants: &[&str]) {
        let codes = read(cell);
        let pick = |variant: bool| -> Vec<&str> {
            codes
                .iter()
                .filter(|code| code.variant == variant)
                .map(|code| code.code.as_str())
                .collect()
        };
        assert_eq!(pick(false), main);
        assert_eq!(pick(true), variants);
    }

    #[test]
    fn cells_are_read_with_variants_and_ranges() {
        check("H290;H314", &["H290", "H314"], &[]);
        check(
            "H314 (stronger grades H300;H310;H330)",
            &["H314"],
            &["H300", "H310", "H330"],
        );
        check("H331 (or H330)", &["H331"], &["H330"]);
        check(
            "H300 to H302 and H310 to H312 (by strength);H314",
            &["H300", "H301", "H302", "H310", "H311", "H312", "H314"],
            &[],
        );
        check(
            "H232 (GHS Rev. 7 on; older labels H250);H280",
            &["H232", "H280"],
            &["H250"],
        );
        check("-", &[], &[]);
        check("EUH071 (newer: H331)", &["EUH071"], &["H331"]);
    }
}
