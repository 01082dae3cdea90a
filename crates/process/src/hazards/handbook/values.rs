//! What open compilations list of a row's substances: exposure limits of another authority, what
//! burns from where to where, cancer, waste codes.
//!
//! The file is made by `tests/reference/generate_hazard_values.py` from data packages, which it
//! names with their version: these values were read by a program, not recalled.

use serde::Serialize;

use super::super::table::{HazardRow, records};

/// The text of the generated file; the same that the tests compare the hazard table with.
const TEXT: &str = include_str!("../../../../../tests/reference/hazard_values.csv");

/// One line of the compilations.
#[derive(Clone, Copy, Debug)]
struct Value<'a> {
    cas: &'a str,
    quantity: &'a str,
    value: &'a str,
    unit: &'a str,
    source: &'a str,
    library: &'a str,
}

/// What is listed of a substance under one heading.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Listed {
    /// Heading.
    pub title: &'static str,
    /// Values with unit and source.
    pub text: String,
    /// How it is known: the packages that carry the compilations.
    pub known_by: String,
}

/// The headings with their quantities, in the order in which they are shown.
const HEADINGS: [(&str, &[&str]); 7] = [
    ("Ontario limit, another authority", &["twa", "stel", "ceiling", "skin"]),
    ("Flash point", &["flash_point"]),
    ("Lights by itself", &["autoignition"]),
    ("Burns in air", &["lower_flammable_limit", "upper_flammable_limit"]),
    ("Cancer", &["iarc_group", "ntp"]),
    ("Peroxides", &["peroxide_former"]),
    ("Hazardous waste code, United States", &["us_waste_code"]),
];

/// Everything listed of a row's substances; empty if no compilation has them.
///
/// A row with several substances names each before its values.
#[must_use]
pub fn listed(row: &HazardRow) -> Vec<Listed> {
    let cells = records(TEXT);
    let values: Vec<Value<'_>> = cells.iter().skip(1).filter_map(|c| value(c)).collect();
    let mut out = Vec::new();
    for (title, quantities) in HEADINGS {
        let mut parts = Vec::new();
        let mut libraries: Vec<&str> = Vec::new();
        for number in &row.cas {
            let found: Vec<Value<'_>> = quantities
                .iter()
                .flat_map(|quantity| {
                    values
                        .iter()
                        .filter(move |v| v.cas == number && v.quantity == *quantity)
                })
                .copied()
                .collect();
            if found.is_empty() {
                continue;
            }
            let text = by_source(&found);
            parts.push(if 1 < row.cas.len() {
                format!("{}: {text}", name_of(number, &values))
            } else {
                text
            });
            libraries.extend(found.iter().map(|v| v.library));
        }
        if !parts.is_empty() {
            libraries.dedup();
            out.push(Listed {
                title,
                text: parts.join("; "),
                known_by: format!("read, in {}", libraries.join(" and ")),
            });
        }
    }
    out
}

fn value(cells: &[String]) -> Option<Value<'_>> {
    let [cas, quantity, value, unit, source, library, _] = cells else { return None };
    Some(Value { cas, quantity, value, unit, source, library })
}

/// The name of a substance in the compilations, or its number.
fn name_of<'a>(number: &'a str, values: &[Value<'a>]) -> &'a str {
    let named = values.iter().find(|v| v.cas == number && v.quantity == "formula");
    let inside = named.and_then(|v| v.source.split_once('(')?.1.strip_suffix(')'));
    inside.unwrap_or(number)
}

/// The values of one heading and substance, those of one source together.
fn by_source(found: &[Value<'_>]) -> String {
    let mut groups: Vec<(String, Vec<&str>)> = Vec::new();
    let mut sources: Vec<&str> = found.iter().map(|v| v.source).collect();
    sources.dedup();
    let mut seen: Vec<&str> = Vec::new();
    for source in sources {
        if seen.contains(&source) {
            continue;
        }
        seen.push(source);
        let own: Vec<Value<'_>> =
            found.iter().filter(|v| v.source == source).copied().collect();
        let text = in_words(&own);
        match groups.iter_mut().find(|(known, _)| *known == text) {
            Some((_, together)) => together.push(source),
            None => groups.push((text, vec![source])),
        }
    }
    let lines = groups
        .into_iter()
        .map(|(text, sources)| format!("{text} ({})", plain(&sources.join("; "))));
    lines.collect::<Vec<_>>().join("; ")
}

/// A source without brackets inside its own.
fn plain(source: &str) -> String {
    source.replace(" (", ", ").replace(')', "")
}

/// Values of one source in words: `500 ppm TWA, 750 ppm STEL`, `2.5 to 14.3 %`.
fn in_words(own: &[Value<'_>]) -> String {
    if let [low, high] = own
        && low.quantity == "lower_flammable_limit"
    {
        return format!("{} to {} %", low.value, high.value);
    }
    let each = own.iter().map(|v| {
        let (value, unit) = (v.value, v.unit);
        match v.quantity {
            "twa" => format!("{value} {unit} TWA"),
            "stel" => format!("{value} {unit} STEL"),
            "ceiling" => format!("{value} {unit} ceiling"),
            "skin" => "also taken up through the skin".to_owned(),
            "lower_flammable_limit" => format!("from {value} %"),
            "upper_flammable_limit" => format!("up to {value} %"),
            "iarc_group" => format!("IARC group {value}, {}", iarc(value)),
            "ntp" => format!("{value} human carcinogen"),
            "peroxide_former" => format!("class {value}"),
            _ if unit == "C" => format!("{}\u{a0}°C", value.replace('-', "\u{2212}")),
            _ => value.to_owned(),
        }
    });
    each.collect::<Vec<_>>().join(", ")
}

/// The meaning of a group (memory: preamble of the IARC monographs).
fn iarc(group: &str) -> &'static str {
    match group {
        "1" => "causes cancer",
        "2A" => "probably causes cancer",
        "2B" => "may cause cancer",
        _ => "not classifiable",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hazards::row;

    #[track_caller]
    fn check(id: &str, title: &str, text: &str) {
        let all = listed(&row(id).unwrap());
        let found = all.iter().find(|one| one.title == title).unwrap();
        assert_eq!(found.text, text);
        assert!(found.known_by.starts_with("read, in chemical"), "{}", found.known_by);
    }

    #[test]
    fn values_of_one_source_stand_together_and_agreeing_sources_too() {
        check(
            "HF49",
            HEADINGS[0].0,
            "0.5 ppm TWA, 2 ppm ceiling, also taken up through the skin (Ontario exposure limits, Hydrogen fluoride)",
        );
        check(
            "ACETONE",
            "Flash point",
            "\u{2212}20\u{a0}°C (IEC 60079-20-1, 2010; NFPA 497, 2008)",
        );
        check(
            "ACETONE",
            "Burns in air",
            "2.5 to 14.3 % (IEC 60079-20-1, 2010); 2.5 to 12.8 % (NFPA 497, 2008)",
        );
        check("PH3", "Burns in air", "from 1.79 % (Wikidata)");
        check(
            "SB2O3",
            "Cancer",
            "IARC group 2A, probably causes cancer (IARC monographs, volume 131, evaluated 2022); reasonably anticipated human carcinogen (US National Toxicology Program, Antimony Trioxide)",
        );
    }

    #[test]
    fn a_mixture_names_its_substances_and_heat_has_none() {
        let al = listed(&row("AL_ETCH").unwrap());
        assert!(al[0].text.contains("phosphoric acid: 1 mg/m3 TWA, 3 mg/m3 STEL"));
        assert!(al[0].text.contains("acetic acid: 10 ppm TWA"));
        assert!(listed(&row("HEAT").unwrap()).is_empty());
    }
}
