//! Rules over what a person does at a step: vessels, pouring, lids, waste, heat, company.

use super::trace::{Bath, Step};
use super::{Grade, Rule};

/// Peroxide strength in percent from which piranha is out of question (read: several university
/// procedures).
const PEROXIDE_TOO_STRONG_PERCENT: f64 = 50.0;

/// Temperature in C below which a hot acid may be drained (common practice).
const DRAIN_BELOW_C: f64 = 60.0;

const PRACTICE: &str = "common practice of teaching cleanrooms";
const HF_SOURCE: &str = "read: \"HF safety\", a university cleanroom's pages";
const PIRANHA_SOURCE: &str = "read: university safety libraries, \"Piranha solutions\", \"Use of piranha solution\"";

/// Acids by the words of `poured`.
const ACIDS: [&str; 4] = ["h2so4", "hf", "hcl", "hno3"];

pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "hf_in_glass",
        grade: Grade::Stop,
        title: "HF in glass",
        reason: "HF eats glass and quartz: the vessel leaks or breaks, and the puddle looks like water.",
        remedy: "Polypropylene, polyethylene or fluoropolymer only, for HF and buffered HF.",
        hazards: &["HF49", "HF_DIL", "BHF", "NH4F"],
        source: HF_SOURCE,
        find: |trace| {
            trace.each(|step| {
                step.baths.iter().any(|bath| bath.is_fluoride())
                    && matches!(step.handled("container"), Some("glass" | "quartz"))
            })
        },
    },
    Rule {
        id: "piranha_in_plastic",
        grade: Grade::Stop,
        title: "Piranha in ordinary plastic",
        reason: "Hot piranha softens and burns ordinary plastic: the vessel gives way.",
        remedy: "Glass, quartz or fluoropolymer (PFA), open, under the exhaust.",
        hazards: &["PIRANHA"],
        source: PRACTICE,
        find: |trace| {
            trace.each(|step| {
                step.has(Bath::Piranha) && step.handled("container") == Some("plastic")
            })
        },
    },
    Rule {
        id: "water_into_acid",
        grade: Grade::Stop,
        title: "Water is poured into acid",
        reason: "The heat boils the first water at once and throws acid into the face.",
        remedy: "Water first, then the acid, slowly and stirring.",
        hazards: &["H2SO4", "HCL", "HNO3"],
        source: PRACTICE,
        find: |trace| {
            trace.each(|step| {
                let poured = step.handled_list("poured");
                let acid = poured.iter().position(|word| ACIDS.contains(word));
                comes_after(&poured, "water", acid)
            })
        },
    },
    Rule {
        id: "acid_into_peroxide",
        grade: Grade::Stop,
        title: "Sulfuric acid is poured into peroxide",
        reason: "The mix heats above 100 °C at once while peroxide is in excess: it boils over or explodes.",
        remedy: "Acid first, then the peroxide, slowly; never more peroxide than the recipe says.",
        hazards: &["PIRANHA", "H2SO4", "H2O2"],
        source: PIRANHA_SOURCE,
        find: |trace| {
            trace.each(|step| {
                let poured = step.handled_list("poured");
                let peroxide = poured.iter().position(|word| *word == "h2o2");
                comes_after(&poured, "h2so4", peroxide)
            })
        },
    },
    Rule {
        id: "water_onto_pellets",
        grade: Grade::Stop,
        title: "Water is poured onto KOH pellets",
        reason: "The pellets dissolve with so much heat that the lye boils and spatters.",
        remedy: "Cold water first, then the pellets, a few at a time, stirring.",
        hazards: &["KOH"],
        source: PRACTICE,
        find: |trace| {
            trace.each(|step| {
                let poured = step.handled_list("poured");
                let pellets = poured.iter().position(|word| *word == "koh");
                comes_after(&poured, "water", pellets)
            })
        },
    },
    Rule {
        id: "peroxide_too_strong",
        grade: Grade::Stop,
        title: "Peroxide of 50 % or more",
        reason: "Strong peroxide makes the mix run away, and feeds fire by itself.",
        remedy: "Use 30 % peroxide, fresh from a vented bottle.",
        hazards: &["H2O2", "PIRANHA"],
        source: "read: several university procedures for piranha",
        find: |trace| {
            trace.each(|step| {
                step.baths.iter().any(|bath| bath.has_peroxide())
                    && step
                        .handled_number("peroxide_percent")
                        .is_some_and(|percent| PEROXIDE_TOO_STRONG_PERCENT <= percent)
            })
        },
    },
    Rule {
        id: "closed_bottle",
        grade: Grade::Stop,
        title: "A bath that gives off gas is closed up",
        reason: "Peroxide and nitric acid go on making gas: the bottle bursts.",
        remedy: "Let it react and cool in the open bath; waste bottles have vented caps.",
        hazards: &["PIRANHA", "H2O2", "HNO3", "AL_ETCH"],
        source: PIRANHA_SOURCE,
        find: |trace| {
            trace.each(|step| {
                step.baths.iter().any(|bath| bath.builds_pressure())
                    && step.handled("lid") == Some("closed")
            })
        },
    },
    Rule {
        id: "waste_mixed",
        grade: Grade::Stop,
        title: "The wrong waste bottle",
        reason: "Waste that does not belong together makes heat, gas or fire hours later, in the next person's hands.",
        remedy: "Acids, bases, solvents, fluorides and piranha each have their own bottle: read both labels before pouring.",
        hazards: &["SC1", "SC2", "PIRANHA", "HF_DIL", "ACETONE"],
        source: PRACTICE,
        find: |trace| {
            trace.each(|step| {
                let Some(waste) = step.handled("waste") else { return false };
                streams(step).is_some_and(|right| !right.contains(&waste))
            })
        },
    },
    Rule {
        id: "hot_acid_drained",
        grade: Grade::Stop,
        title: "A hot acid is drained",
        reason: "Hot acid softens drains and bottles, and boils up where it meets water.",
        remedy: "Let the bath cool below 60 °C before it is drained.",
        hazards: &["H3PO4_HOT", "PIRANHA"],
        source: PRACTICE,
        find: |trace| {
            trace.each(|step| {
                (step.has(Bath::HotPhosphoric) || step.has(Bath::Piranha))
                    && step
                        .handled_number("drained_at_c")
                        .is_some_and(|celsius| DRAIN_BELOW_C < celsius)
            })
        },
    },
    Rule {
        id: "solvent_near_heat",
        grade: Grade::Stop,
        title: "Solvent beside heat or sparks",
        reason: "Solvent vapor is heavier than air: it creeps along the bench and lights at a hot plate.",
        remedy: "Open solvents and resist only on the solvent bench, away from hot plates, furnaces and flames.",
        hazards: &["ACETONE", "IPA", "PGMEA", "RESIST"],
        source: PRACTICE,
        find: |trace| {
            trace.each(|step| {
                let open = step.is_solvent() || step.operation == "spin_coating";
                let hot = ["hot_plate", "furnace", "flame", "sparks"];
                open && step.handled_list("near").iter().any(|word| hot.contains(word))
            })
        },
    },
    Rule {
        id: "not_purged",
        grade: Grade::Stop,
        title: "A line or chamber is opened before it is purged",
        reason: "Process gas and what the plasma made of it stand in the chamber, and turn to acid in moist air.",
        remedy: "Pump, purge with inert gas, wait for the tool to release the door.",
        hazards: &["PLASMA_BY", "SIH4", "ASH3", "PH3", "CL2"],
        source: PRACTICE,
        find: |trace| {
            trace.each(|step| {
                let poisonous = matches!(
                    step.operation,
                    "dry_etch" | "deposition" | "implantation" | "predeposition"
                );
                poisonous && step.handled_flag("purged") == Some(false)
            })
        },
    },
    Rule {
        id: "alone_at_the_wet_bench",
        grade: Grade::Stop,
        title: "Alone at the wet bench",
        reason: "A burn or a faint leaves nobody to start the water and call: with HF and TMAH minutes count.",
        remedy: "Work with a buddy in the room who knows the plan, in working hours.",
        hazards: &["HF49", "HF_DIL", "BHF", "TMAH25", "PIRANHA"],
        source: HF_SOURCE,
        find: |trace| {
            trace.each(|step| {
                !step.baths.is_empty() && step.handled_flag("alone") == Some(true)
            })
        },
    },
];

/// Whether a word comes after a place in the list.
fn comes_after(poured: &[&str], word: &str, place: Option<usize>) -> bool {
    let found = poured.iter().rposition(|one| *one == word);
    matches!((place, found), (Some(place), Some(found)) if place < found)
}

/// The waste bottles that a step's bath may go to; none for a step without a bath of one kind.
fn streams(step: &Step<'_>) -> Option<&'static [&'static str]> {
    if step.operation == "spin_coating" {
        return Some(&["solvent"]);
    }
    let [bath] = step.baths else { return None };
    Some(match bath {
        Bath::Piranha => &["piranha"],
        Bath::Sc1 | Bath::Koh | Bath::Tmah | Bath::Developer => &["base"],
        Bath::Sc2 | Bath::HotPhosphoric | Bath::AluminumEtch => &["acid"],
        Bath::Hf | Bath::Buffered | Bath::PolyEtch => &["fluoride"],
        Bath::Solvent => &["solvent"],
    })
}
