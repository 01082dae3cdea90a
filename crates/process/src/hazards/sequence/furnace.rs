//! Rules of the gases of a furnace: the ones that a furnace bench can break by its settings alone,
//! so they stand apart and its part of the kernel carries no others.

use super::trace::Step;
use super::{Grade, Rule};

/// Tube temperature in C below which hydrogen does not surely burn in the tube itself: the upper
/// end of the 700 to 800 C at which torches are released (common practice).
const HYDROGEN_BURNS_ABOVE_C: f64 = 800.0;

const PRACTICE: &str = "common practice of teaching cleanrooms";

pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "hydrogen_below_ignition",
        grade: Grade::Check,
        title: "Hydrogen flows into a tube that may not light it",
        reason: "Below about 800 °C the tube does not surely light the hydrogen: it collects unburnt and explodes when something does.",
        remedy: "Make the steam in an external torch whose flow opens only above its ignition temperature and with a flame sensor; else start hotter.",
        hazards: &["H2", "O2"],
        source: "interlock at 700 to 800 °C: common practice; hydrogen lights by itself from 500 °C (read: NFPA 497:2008)",
        find: |trace| {
            trace.each(|step| {
                matches!(step.operation, "oxidation" | "drive_in" | "anneal")
                    && step.furnace().iter().any(|(ambient, celsius)| {
                        matches!(*ambient, "wet" | "steam")
                            && celsius.is_some_and(|at| at < HYDROGEN_BURNS_ABOVE_C)
                    })
            })
        },
    },
    Rule {
        id: "hydrogen_without_purge",
        grade: Grade::Check,
        title: "Forming gas and oxygen follow each other in the furnace",
        reason: "Hydrogen that meets oxygen left in a hot tube explodes.",
        remedy: "Purge with nitrogen, several volumes of the tube, between the two gases; wait for the interlock.",
        hazards: &["H2", "O2", "N2"],
        source: PRACTICE,
        find: |trace| {
            trace.neighbors(|one, next| {
                let forming =
                    |step: &Step<'_>| step.word("ambient") == Some("forming_gas");
                (forming(one) && next.feeds_oxygen())
                    || (one.feeds_oxygen() && forming(next))
            })
        },
    },
];
