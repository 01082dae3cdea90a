//! What goes wrong between steps: rules over a list of steps, and over one setting.
//!
//! A step of the list is a request object with an `id`; the run sheet's shape
//! `{"id": ..., "step": {...}}` is read too. A step may say how a person works in `handling`:
//!
//! | field | words |
//! | --- | --- |
//! | `container` | `glass quartz plastic fluoropolymer` |
//! | `poured` | list of `water h2so4 h2o2 hf hcl hno3 nh4oh koh tmah`, in order |
//! | `lid` | `open closed` |
//! | `waste` | `acid base solvent fluoride piranha` |
//! | `near` | list of `hot_plate furnace flame sparks` |
//! | `peroxide_percent`, `drained_at_c` | numbers |
//! | `alone`, `purged` | true or false |
//!
//! Requests to a bench know no `handling`; who runs the steps takes it out first.
//!
//! The rules are common practice of teaching cleanrooms unless one names another source. None of
//! them makes a plan safe: they find known mistakes, and stay silent about the rest.

mod between;
mod furnace;
mod handling;
mod trace;

use serde::Serialize;
use serde_json::{Map, Value};

use trace::{Trace, chain_of, steps_of};

/// What a finding asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// Not to be done this way at all.
    Stop,
    /// Done this way only with the remedy.
    Check,
}

/// A rule: when it fires, why, and what to do instead.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Rule {
    /// Name, in snake case.
    pub id: &'static str,
    /// What it asks for.
    pub grade: Grade,
    /// The mistake in a few words.
    pub title: &'static str,
    /// What can happen.
    pub reason: &'static str,
    /// What to do instead.
    pub remedy: &'static str,
    /// Rows of the hazard table that say more.
    pub hazards: &'static [&'static str],
    /// Where the rule comes from, and how it is known.
    pub source: &'static str,
    /// The groups of steps it fires on.
    #[serde(skip)]
    find: fn(&Trace<'_>) -> Vec<Vec<usize>>,
}

/// A rule that fires, and on which steps.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// The rule's name.
    pub rule: &'static str,
    /// What it asks for.
    pub grade: Grade,
    /// Ids of the steps, in their order.
    pub steps: Vec<String>,
    /// The mistake in a few words.
    pub title: &'static str,
    /// What can happen.
    pub reason: &'static str,
    /// What to do instead.
    pub remedy: &'static str,
    /// Rows of the hazard table that say more.
    pub hazards: &'static [&'static str],
}

/// Every rule, those between steps first.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    between::RULES.iter().chain(furnace::RULES).chain(handling::RULES)
}

/// The rules that fire on a list of steps, in the order of the rules.
///
/// A step without `id` gets its number from 1. What is not an object is skipped: an unknown
/// step has no known mistake, its caution stands anyway.
///
/// # Example
/// ```
/// use barewafer_process::hazards::sequence;
/// use serde_json::json;
///
/// let found = sequence(&[
///     json!({"id": "lift", "operation": "resist_strip", "method": "solvent"}),
///     json!({"id": "clean", "operation": "clean", "recipe": "piranha"}),
/// ]);
/// assert_eq!(found[0].rule, "organics_before_piranha");
/// assert_eq!(found[0].steps, ["lift", "clean"]);
/// ```
#[must_use]
pub fn sequence(steps: &[Value]) -> Vec<Finding> {
    judge(rules(), &Trace::of(steps_of(steps)))
}

/// The rules that fire on one setting of a bench, those that stop first.
///
/// The steps inside its `start` were done before it and count as steps of their own.
#[must_use]
pub fn setting(request: &Map<String, Value>) -> Vec<Finding> {
    worst_first(judge(rules(), &Trace::of(chain_of(request))))
}

/// As [`setting`], for benches that are furnaces: the same, with only the rules that these can
/// break.
#[must_use]
pub fn furnace_setting(request: &Map<String, Value>) -> Vec<Finding> {
    worst_first(judge(furnace::RULES.iter(), &Trace::of(chain_of(request))))
}

fn judge(rules: impl Iterator<Item = &'static Rule>, trace: &Trace<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for rule in rules {
        for group in (rule.find)(trace) {
            found.push(Finding {
                rule: rule.id,
                grade: rule.grade,
                steps: group.iter().filter_map(|&idx| trace.id(idx)).collect(),
                title: rule.title,
                reason: rule.reason,
                remedy: rule.remedy,
                hazards: rule.hazards,
            });
        }
    }
    found
}

fn worst_first(mut found: Vec<Finding>) -> Vec<Finding> {
    found.sort_by_key(|one| one.grade == Grade::Check);
    found
}
