//! What the Safety place tells beside the table: rules of the wet bench, the emergency card,
//! spills, the words of labels and limits, the steps that use a chemical.
//!
//! Nothing of it is reached from a bench, so no module of the page carries it: the command writes
//! it into the site as data.

mod settings;
mod spill;
mod values;

pub use crate::vocabulary::step_name;
pub use settings::{Setting, settings};
pub use spill::spill;
pub use values::{Listed, listed};

use serde::Serialize;

use super::codes::meaning;
use super::table::HazardRow;

/// A heading with its text, and how it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Entry {
    /// What it is about.
    pub title: &'static str,
    /// What to know or to do.
    pub text: &'static str,
    /// How it is known.
    pub known_by: &'static str,
}

const fn entry(title: &'static str, text: &'static str, known_by: &'static str) -> Entry {
    Entry { title, text, known_by }
}

const PRACTICE: &str = "common practice";

/// Rules of the wet bench and of the tools.
pub const RULES_OF_THE_BENCH: &[Entry] = &[
    entry(
        "Never alone",
        "A buddy in the room at every wet bench, in working hours. Know shower and eye-wash before you start; they are tested every week.",
        PRACTICE,
    ),
    entry(
        "Dressed for it",
        "Goggles and face shield, acid gloves over thin nitrile, apron, closed shoes, long trousers. No contact lenses. Gloves off before door handles, phones and keyboards.",
        PRACTICE,
    ),
    entry(
        "Acid into water",
        "Water first, then acid, slowly. Never water into acid. Hot phosphoric acid gets its water drop by drop, in a bath made for it.",
        PRACTICE,
    ),
    entry(
        "Piranha",
        "Peroxide slowly into acid, never the reverse; peroxide below 50 %; it heats itself above 100 °C. Open vessel of glass, quartz or PFA. Made fresh, never stored: what is left reacts out in the open bath, and closed bottles come only after it has fully reacted and cooled.",
        "read: university safety libraries, \"Piranha solutions\", \"Use of piranha solution\"",
    ),
    entry(
        "No organics near oxidizers",
        "No acetone, alcohol or bulk resist into piranha, nitric acid or peroxide, not even as the rinse before. Wafers go in clean and dry.",
        "read: \"Use of piranha solution\", a university safety page",
    ),
    entry(
        "HF in plastic only",
        "HF and buffered HF in PP, HDPE, PFA or PVDF, never in glass, and never heated. A colorless puddle is HF until someone proves it is not.",
        "read: \"HF safety\", a university cleanroom's pages",
    ),
    entry(
        "HF needs its gel",
        "Calcium gluconate gel at hand and in date before the bottle is opened. Gloves checked for pinholes, and rinsed before they come off.",
        "read: \"HF safety\", a university cleanroom's pages",
    ),
    entry(
        "HF burns do not hurt at first",
        "Care at once after any contact: pain from dilute HF can come a day later. Rinse about 5 minutes, then the 2.5 % gel with double gloves.",
        "read: \"Hydrofluoric acid exposure\", a university safety page",
    ),
    entry(
        "TMAH goes through the skin",
        "Wash off every splash at once, also of the 2.38 % developer. More than a few percent of the body, or any symptom, is an emergency; people have died of 25 % TMAH.",
        "read: a laboratory safety bulletin of 2010",
    ),
    entry(
        "Waste stays apart",
        "Acids, bases, solvents, fluorides and piranha each in their own bottle; vented caps for oxidizers. SC-1 never to SC-2. No bleach near acids or ammonia.",
        PRACTICE,
    ),
    entry(
        "Silane",
        "Pyrophoric: it lights by itself in air. Purge and leak-test before a line is opened. A fast leak may not burn at once, and explode later. No fire fighting while gas flows.",
        "read: a supplier's safety note on silane",
    ),
    entry(
        "Poisonous gases",
        "Arsine, phosphine, stibine, diborane, BF₃, BCl₃, HBr, chlorine, ammonia: the alarm means leave, upwind, and do not return; the nose is no alarm. Harm can show hours later: a hospital watches even who feels well. Cylinders stand in exhausted, monitored cabinets and are changed by trained staff.",
        PRACTICE,
    ),
    entry(
        "Oxygen",
        "Alarm below 19.5 %: nitrogen takes the breath without warning. Above 23.5 % everything burns faster.",
        "read: \"Oxygen deficiency hazard\", a national laboratory's page; 23.5 %: 29 CFR 1910.146",
    ),
    entry(
        "Furnace",
        "Hydrogen only above the torch's ignition temperature, with flame sensor. Boats and rods that look cold can be at 400 °C: quartz cools before anybody touches it. Solvents stay away.",
        PRACTICE,
    ),
    entry(
        "Implanter",
        "High voltage and X-rays: nobody inside the cage with the voltage on; ground hook first, charge stays; X-ray survey; interlocks are never bridged. Source parts carry arsenic and phosphorus: gloves, exhaust, their own waste.",
        PRACTICE,
    ),
    entry(
        "Evaporator",
        "Electron guns run at several thousand volts: door, vacuum and water interlocks are never bridged; power off, locked out, grounding hook on before hands go in. The closed chamber and its leaded window keep the X-rays in, the filter keeps the glare out. What glowed cools before the chamber is vented. Flakes are taken up as the site's rules say, never blown or brushed dry.",
        PRACTICE,
    ),
    entry(
        "Chambers and pumps",
        "After a plasma with chlorine or fluorine: purge, pump, wait. Residues become acid in moist air, pump oil too. Glass under vacuum can burst inward: guards stay on. Power off before a generator or its cable is opened.",
        PRACTICE,
    ),
    entry(
        "Ultraviolet lamps",
        "Never into the beam, shutters and interlocks in place: eyes and skin hurt hours later. Lamps are under pressure and hold mercury; a burst lamp means leave and ventilate. Short wavelengths make ozone: exhaust on.",
        PRACTICE,
    ),
    entry(
        "Liquid nitrogen",
        "Cold gloves and face shield, vented vessels, an oxygen alarm in the room. A closed vessel bursts. Nobody rides in an elevator with it.",
        PRACTICE,
    ),
    entry(
        "Slurry",
        "Basic and slippery: goggles, gloves, wipe it up wet. Dried slurry is fine dust: no broom.",
        PRACTICE,
    ),
    entry(
        "Labels",
        "Every beaker and bottle says what is in it, how strong, since when and whose it is. What has no label counts as HF.",
        PRACTICE,
    ),
];

/// The card to hang beside the bench.
pub const EMERGENCY: &[Entry] = &[
    entry(
        "First",
        "Call your site's emergency number. Say where, what chemical, how many people. Send somebody to meet the helpers.",
        PRACTICE,
    ),
    entry(
        "HF, buffered HF, BF₃, etch residues with fluorine",
        "Call, rinse about 5 minutes, rub in calcium gluconate gel with gloved hands and keep renewing it, emergency care now, even if nothing hurts. No gel: keep rinsing. Take the safety data sheet along.",
        "read: \"Hydrofluoric acid exposure\", a university safety page",
    ),
    entry(
        "Other acids and bases",
        "Shower at least 15 minutes, clothes off under the water, medical help.",
        PRACTICE,
    ),
    entry(
        "TMAH",
        "Shower at least 15 minutes, clothes off, emergency call at once. Do not wait for symptoms: breathing can stop within the hour.",
        "read: a laboratory safety bulletin of 2010",
    ),
    entry(
        "Eyes",
        "Eye-wash at least 15 minutes, lids held open, lenses out, medical help. No gel into the eye.",
        PRACTICE,
    ),
    entry(
        "Poisonous gas",
        "Leave, fresh air, call. No rescue without breathing apparatus. Hospital watch even if well.",
        PRACTICE,
    ),
    entry(
        "Burns by heat or cold",
        "Heat: cool under running water for 20 minutes. Cold: lukewarm water, no rubbing. Medical help. A hot acid burn is a chemical burn first.",
        PRACTICE,
    ),
    entry("Swallowed", "Rinse the mouth, do not make the person vomit, call.", PRACTICE),
    entry(
        "Fire",
        "Warn, leave, call. Extinguisher only if you are trained and the way out is behind you. Burning clothes: shower or blanket.",
        PRACTICE,
    ),
    entry(
        "Electric shock",
        "Power off before you touch the person, then resuscitation, call.",
        PRACTICE,
    ),
];

/// The words of labels and limits.
pub const GLOSSARY: &[Entry] = &[
    entry(
        "Danger",
        "Signal word of the more severe classes. A label has one signal word.",
        "memory: UN GHS 1.4.10.5",
    ),
    entry(
        "Warning",
        "Signal word of the less severe classes.",
        "memory: UN GHS 1.4.10.5",
    ),
    entry(
        "Caution",
        "Our word for dangers that carry no label: heat, light, voltage, vacuum, sharps.",
        "model choice",
    ),
    entry(
        "TWA",
        "Average over a working day of 8 hours (NIOSH: 10 hours).",
        "memory: NIOSH Pocket Guide, introduction",
    ),
    entry(
        "Ceiling",
        "Never to be exceeded, not for a moment, or over the minutes named.",
        "memory: NIOSH Pocket Guide, introduction",
    ),
    entry(
        "STEL",
        "Average over 15 minutes that is not to be exceeded.",
        "memory: NIOSH Pocket Guide, introduction",
    ),
    entry(
        "PEL",
        "Permissible exposure limit: law in the United States (OSHA).",
        "memory: 29 CFR 1910.1000",
    ),
    entry(
        "REL",
        "Recommended exposure limit of NIOSH; no law, mostly newer and lower.",
        "memory: NIOSH Pocket Guide, introduction",
    ),
    entry(
        "Ontario",
        "Limits by law in the Canadian province, mostly those of the ACGIH: newer and lower than the federal ones of the United States. Shown because they could be read; your site says which list counts.",
        "memory",
    ),
    entry(
        "IDLH",
        "Immediately dangerous to life or health: leave without delay. No level to work at.",
        "memory: NIOSH Pocket Guide, introduction",
    ),
    entry(
        "LEL",
        "Lower explosive limit: below this share in air a vapor does not burn.",
        "memory: NIOSH Pocket Guide, introduction",
    ),
    entry(
        "Flash point",
        "Temperature from which a liquid's vapor can be lit; below room temperature it always can.",
        "memory: UN GHS 2.6",
    ),
    entry(
        "Lights by itself",
        "Temperature from which the mixture with air burns without flame or spark (autoignition). Measuring methods differ by tens of degrees: take the lowest.",
        "memory: IEC 60079-20-1",
    ),
    entry(
        "IARC group",
        "How sure it is that something causes cancer: 1 it does, 2A probably, 2B possibly, 3 not classifiable. It says nothing of how much is needed.",
        "memory: preamble of the IARC monographs",
    ),
    entry("ppm", "Parts of gas in a million parts of air, by volume.", "derived"),
    entry(
        "mppcf",
        "Million particles per cubic foot of air.",
        "memory: 29 CFR 1910.1000 Table Z-3",
    ),
    entry("none", "No value in that list. It does not mean harmless.", "model choice"),
    entry(
        "CAS number",
        "A chemical's registry number; its last digit checks the others.",
        "memory",
    ),
];

/// The sources of the table, with their dates.
pub const SOURCES: &[Entry] = &[
    entry(
        "29 CFR 1910.1000, Tables Z-1, Z-2, Z-3",
        "Limits by law in the United States; the values in force since 1993, arsenic by 1910.1018.",
        "read in part, see each value; dates memory",
    ),
    entry(
        "NIOSH Pocket Guide to Chemical Hazards",
        "Publication 2005-149, third printing 2007, and its pages online since.",
        "read in part, see each value; dates memory",
    ),
    entry(
        "NIOSH IDLH documentation",
        "Values of 1994 with later revisions; hydrogen chloride by a profile of 2025.",
        "read in part, see each value",
    ),
    entry(
        "UN GHS",
        "Globally Harmonized System, revision 10 (2023): classes, codes, signs.",
        "memory",
    ),
    entry(
        "EU CLP Regulation 1272/2008, Annex VI",
        "Harmonized classification with its amendments.",
        "memory, where no data sheet is named",
    ),
    entry(
        "Suppliers' safety data sheets",
        "Named in each row, 1998 to 2024. They differ between suppliers and countries, and yours is newer.",
        "read, see each row",
    ),
    entry(
        "Exposure limits of Ontario; IEC 60079-20-1:2010; NFPA 497 (2008); CRC Handbook; Wikidata",
        "As the data package chemicals 1.5.2 carries them, read by a program in November 2026: limits, flash points, autoignition, flammable limits, boiling points. Every number of the table that these have was compared with them.",
        "read",
    ),
    entry(
        "IARC monographs; US National Toxicology Program; US EPA waste codes",
        "As the data package chemical-safety 1.1.6 carries them, read by a program in November 2026.",
        "read",
    ),
    entry(
        "This table",
        "Last looked through in November 2026, by people without access to the current sheets of your supplier.",
        "model choice",
    ),
];

/// What must be confirmed against the supplier's current sheet, and why.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct ToConfirm {
    /// The classification is known from memory or differs between suppliers.
    pub classification: bool,
    /// The legal limit is known from memory.
    pub osha_pel: bool,
    /// The recommended limit is known from memory.
    pub niosh_rel: bool,
    /// The dangerous concentration is known from memory.
    pub niosh_idlh: bool,
}

impl ToConfirm {
    /// Whether anything must be.
    #[must_use]
    pub const fn any(self) -> bool {
        self.classification || self.osha_pel || self.niosh_rel || self.niosh_idlh
    }
}

/// What of a row must be confirmed; nothing for dangers without label.
#[must_use]
pub fn to_confirm(row: &HazardRow) -> ToConfirm {
    let chemical = row.kind != "physical";
    let shaky = |text: &str| text.contains("memory") || text.contains("supplier");
    let classification = row.sources.iter().any(|note| {
        note.part == "classification" && (shaky(&note.known_by) || shaky(&note.source))
    });
    let of = |limit: &super::Limit| chemical && limit.known_by.contains("memory");
    ToConfirm {
        classification: chemical && classification,
        osha_pel: of(&row.limits.osha_pel),
        niosh_rel: of(&row.limits.niosh_rel),
        niosh_idlh: of(&row.limits.niosh_idlh),
    }
}

/// Every hazard code that the table uses, with its meaning.
#[must_use]
pub fn codes_in_use() -> Vec<(String, &'static str)> {
    let mut codes: Vec<String> = super::rows()
        .iter()
        .flat_map(|row| row.h_codes.iter())
        .map(|h| h.code.clone())
        .collect();
    // EUH codes after the others.
    codes.sort_by_key(|code| (code.starts_with('E'), code.clone()));
    codes.dedup();
    codes
        .into_iter()
        .map(|code| {
            let words = meaning(&code).unwrap_or_default();
            (code, words)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hazards::{UNKNOWN, rows};

    #[test]
    fn every_chemical_says_what_to_do_when_it_is_spilled() {
        for row in rows().iter().filter(|row| row.kind != "physical") {
            assert!(spill(&row.id).ends_with('.'), "{}", row.id);
        }
        assert!(spill("HF49").contains("never with sand"));
        assert!(spill("HNO3").contains("No paper"));
        assert!(spill("POCL3").contains("No water"));
    }

    #[test]
    fn what_is_from_memory_must_be_confirmed() {
        let row = |id: &str| rows().into_iter().find(|row| row.id == id).unwrap();
        assert!(to_confirm(&row("TMAH25")).classification);
        assert!(to_confirm(&row("TEOS")).osha_pel);
        assert!(!to_confirm(&row("HF49")).osha_pel);
        assert!(!to_confirm(&row("HEAT")).any());
        assert!(to_confirm(&row(UNKNOWN)).any());
    }

    #[test]
    fn every_text_says_how_it_is_known_and_every_code_its_meaning() {
        let known = ["read", "memory", "common practice", "derived", "model choice"];
        for list in [RULES_OF_THE_BENCH, EMERGENCY, GLOSSARY, SOURCES] {
            for entry in list {
                assert!(entry.text.ends_with('.'), "{}", entry.title);
                assert!(
                    known.iter().any(|word| entry.known_by.starts_with(word)),
                    "{}",
                    entry.title
                );
            }
        }
        let codes = codes_in_use();
        assert!(codes.len() > 30 && codes.iter().all(|(_, words)| !words.is_empty()));
    }
}
