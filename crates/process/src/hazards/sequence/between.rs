//! Rules between steps and over a step's own setting.

use super::trace::{Bath, Step, Trace};
use super::{Grade, Rule};

/// Resist in nm that still counts as a residue (model choice, as on the Dry etcher's strip).
const RESIDUE_NM: f64 = 50.0;

/// Bath temperature in C from which HF or a solvent counts as heated (model choice: above any
/// room).
const WARM_C: f64 = 30.0;

/// Bath temperature in C above which piranha is too hot: the upper end of the 90 to 130 C at which
/// it is run (common practice; the band of the Wet bench).
const PIRANHA_UP_TO_C: f64 = 130.0;

const PRACTICE: &str = "common practice of teaching cleanrooms";
const PIRANHA_SOURCE: &str = "read: university safety libraries, \"Piranha solutions\", \"Use of piranha solution\"";

pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "organics_before_piranha",
        grade: Grade::Stop,
        title: "Solvent goes into piranha",
        reason: "Acetone or alcohol carried into piranha burns at once: it boils over or explodes.",
        remedy: "Rinse in running water until no solvent is left, dry, and only then go to the acid bench.",
        hazards: &["PIRANHA", "ACETONE", "IPA"],
        source: PIRANHA_SOURCE,
        find: |trace| {
            trace.neighbors(|one, next| {
                one.is_solvent() && next.baths.first() == Some(&Bath::Piranha)
            })
        },
    },
    Rule {
        id: "organics_before_nitric_acid",
        grade: Grade::Stop,
        title: "Solvent goes into a bath with nitric acid",
        reason: "Nitric acid oxidizes solvents with heat and brown poisonous gas; it can explode.",
        remedy: "Rinse in running water until no solvent is left, dry, and only then go to the acid bench.",
        hazards: &["HNO3", "AL_ETCH", "ACETONE", "IPA"],
        source: PRACTICE,
        find: |trace| {
            trace.neighbors(|one, next| {
                one.is_solvent()
                    && next.baths.first().is_some_and(|bath| bath.has_nitric_acid())
            })
        },
    },
    Rule {
        id: "resist_into_piranha",
        grade: Grade::Stop,
        title: "Resist goes into hot piranha",
        reason: "Piranha is for residues: a whole film of resist can make it boil over or explode.",
        remedy: "Take the resist off with an oxygen plasma or with solvent first; after solvent rinse in water and dry.",
        hazards: &["PIRANHA", "RESIST"],
        source: PIRANHA_SOURCE,
        find: resist_into_piranha,
    },
    Rule {
        id: "metal_into_piranha",
        grade: Grade::Stop,
        title: "Metal goes into piranha",
        reason: "Aluminum dissolves in hot acid with heat and hydrogen, and metals make peroxide fall apart violently.",
        remedy: "Once there is metal on the wafer, clean it with solvent or an oxygen plasma only.",
        hazards: &["PIRANHA"],
        source: PRACTICE,
        find: |trace| metal_into(trace, |bath| bath == Bath::Piranha),
    },
    Rule {
        id: "metal_into_base_or_hydrochloric_acid",
        grade: Grade::Stop,
        title: "Aluminum goes into SC-1, SC-2, KOH or hot TMAH",
        reason: "Aluminum dissolves at once and sets hydrogen free, which burns.",
        remedy: "Keep these baths for wafers without metal; protect the metal side in a holder, or etch before the metal.",
        hazards: &["SC1", "SC2", "KOH", "TMAH25", "H2"],
        source: PRACTICE,
        find: |trace| {
            metal_into(trace, |bath| {
                matches!(bath, Bath::Sc1 | Bath::Sc2 | Bath::Koh | Bath::Tmah)
            })
        },
    },
    Rule {
        id: "sc1_after_sc2",
        grade: Grade::Stop,
        title: "SC-1 follows SC-2",
        reason: "Hydrochloric acid carried over meets ammonia: heat and white smoke; in the waste also chloramines.",
        remedy: "SC-1 first, SC-2 last, a long rinse in water between them, and separate waste.",
        hazards: &["SC2", "SC1"],
        source: PRACTICE,
        find: |trace| {
            trace.neighbors(|one, next| {
                one.baths.last() == Some(&Bath::Sc2)
                    && next.baths.first() == Some(&Bath::Sc1)
            })
        },
    },
    Rule {
        id: "fluoride_into_acid",
        grade: Grade::Check,
        title: "A strong acid follows a fluoride bath",
        reason: "Acid sets HF free from fluoride that is carried over; a hot bath drives it into the air, and it eats a glass tank.",
        remedy: "Rinse in running water for minutes, carrier and tweezers too, before the acid.",
        hazards: &["HF_DIL", "BHF", "NH4F"],
        source: PRACTICE,
        find: |trace| {
            trace.neighbors(|one, next| {
                one.baths.last().is_some_and(|bath| bath.is_fluoride())
                    && next.baths.first().is_some_and(|bath| bath.is_strong_acid())
            })
        },
    },
    Rule {
        id: "solvent_before_heat",
        grade: Grade::Check,
        title: "A wafer wet with solvent comes to a hot place",
        reason: "Solvent vapor burns on a hot plate or in front of a furnace; acetone needs far less than its 465 °C where there is a spark.",
        remedy: "Dry the wafer fully under the exhaust of the solvent bench before it leaves it.",
        hazards: &["ACETONE", "IPA", "HEAT"],
        source: "common practice; autoignition of acetone 465 °C (read: NFPA 497:2008; IEC 60079-20-1:2010 says 539 °C)",
        find: |trace| {
            trace.neighbors(|one, next| {
                one.is_solvent()
                    && (next.is_furnace()
                        || next.operation == "bake"
                        || is_hot_deposition(next))
            })
        },
    },
    Rule {
        id: "resist_into_furnace",
        grade: Grade::Stop,
        title: "Resist goes into a furnace",
        reason: "Resist burns in the tube: smoke, fire with oxygen, and a tube that fouls every wafer after it.",
        remedy: "Strip the resist and clean the wafer before any furnace.",
        hazards: &["HEAT", "RESIST", "O2"],
        source: PRACTICE,
        find: |trace| {
            trace.meeting(
                |wafer| wafer.resist,
                |step| step.is_furnace() || is_hot_deposition(step),
            )
        },
    },
    Rule {
        id: "silane_without_purge",
        grade: Grade::Check,
        title: "Silane and oxygen follow each other in the reactor",
        reason: "Silane catches fire by itself in oxygen; a fast leak may wait and then explode.",
        remedy: "Pump and purge with inert gas, leak-test, and only then open the other gas.",
        hazards: &["SIH4", "SIH2CL2", "O2"],
        source: "read: a supplier's safety note on silane; purge: common practice",
        find: |trace| {
            trace.neighbors(|one, next| {
                let deposits = |step: &Step<'_>| step.operation == "deposition";
                let silane = |step: &Step<'_>| {
                    deposits(step)
                        && !step.hazards.contains(&"O2")
                        && step.hazards.iter().any(|id| ["SIH4", "SIH2CL2"].contains(id))
                };
                let oxygen =
                    |step: &Step<'_>| deposits(step) && step.hazards.contains(&"O2");
                (silane(one) && oxygen(next)) || (oxygen(one) && silane(next))
            })
        },
    },
    Rule {
        id: "hf_heated",
        grade: Grade::Stop,
        title: "HF is heated",
        reason: "Warm HF gives off vapor that burns eyes and lungs.",
        remedy: "Etch at room temperature; change the strength to change the rate.",
        hazards: &["HF49", "HF_DIL", "BHF"],
        source: PRACTICE,
        find: |trace| {
            trace.each(|step| {
                step.baths.iter().any(|bath| bath.is_fluoride()) && is_warm(step)
            })
        },
    },
    Rule {
        id: "piranha_too_hot",
        grade: Grade::Stop,
        title: "Piranha is too hot",
        reason: "Above about 130 °C the peroxide falls apart as fast as it is poured: the bath foams, boils over and fumes.",
        remedy: "Let the mix heat itself, hold it at 90 to 130 °C, and let it cool before more peroxide goes in.",
        hazards: &["PIRANHA", "H2O2", "H2SO4"],
        source: "common practice of teaching cleanrooms",
        find: |trace| {
            trace.each(|step| {
                step.has(Bath::Piranha)
                    && step
                        .number("temperature_c")
                        .is_some_and(|celsius| PIRANHA_UP_TO_C < celsius)
            })
        },
    },
    Rule {
        id: "solvent_heated",
        grade: Grade::Stop,
        title: "Acetone is heated",
        reason: "It boils at 56 °C and burns far below room temperature: its vapor finds every spark.",
        remedy: "Use it at room temperature; take more time or ultrasound under the exhaust.",
        hazards: &["ACETONE"],
        source: "boiling point 56 °C, flash point −20 °C: read, CRC Handbook, IEC 60079-20-1:2010",
        find: |trace| trace.each(|step| step.is_solvent() && is_warm(step)),
    },
    Rule {
        id: "primer_on_wet_wafer",
        grade: Grade::Check,
        title: "Primer meets a wet wafer",
        reason: "HMDS gives off ammonia where it meets water or acid.",
        remedy: "Bake the wafer dry between the bath and the primer.",
        hazards: &["HMDS"],
        source: "common practice; reaction with water: supplier's sheets (memory)",
        find: |trace| {
            trace.neighbors(|one, next| {
                !one.baths.is_empty() && next.hazards.contains(&"HMDS")
            })
        },
    },
];

fn is_warm(step: &Step<'_>) -> bool {
    step.number("temperature_c").is_some_and(|celsius| WARM_C < celsius)
}

/// Whether a film is deposited hot enough to burn resist.
fn is_hot_deposition(step: &Step<'_>) -> bool {
    step.operation == "deposition"
        && match step.word("method") {
            Some("lpcvd" | "pecvd") => true,
            None => step.word("film").is_some_and(|film| film != "aluminum"),
            Some(_) => false,
        }
}

fn resist_into_piranha(trace: &Trace<'_>) -> Vec<Vec<usize>> {
    let numbered = trace.steps.iter().zip(&trace.before).enumerate();
    numbered
        .filter(|(_, (step, _))| step.has(Bath::Piranha))
        .filter_map(|(idx, (step, wafer))| {
            if let Some(coat) = wafer.resist {
                return Some(vec![coat, idx]);
            }
            // Nothing is known of the wafer: the step itself says what it strips.
            let strips = step.operation == "resist_strip"
                || step.word("material") == Some("resist");
            let bulk = step.number("thickness_nm").is_none_or(|nm| RESIDUE_NM < nm);
            (strips && bulk && !wafer.resist_known).then(|| vec![idx])
        })
        .collect()
}

fn metal_into(trace: &Trace<'_>, wanted: fn(Bath) -> bool) -> Vec<Vec<usize>> {
    let numbered = trace.steps.iter().zip(&trace.before).enumerate();
    numbered
        .filter(|(_, (step, _))| step.baths.iter().any(|&bath| wanted(bath)))
        .filter_map(|(idx, (step, wafer))| match wafer.metal {
            Some(film) => Some(vec![film, idx]),
            None => (step.word("material") == Some("aluminum")).then(|| vec![idx]),
        })
        .collect()
}
