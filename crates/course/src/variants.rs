//! Tests over every admissible variant of every exercise, not over a sample of them.

use std::collections::{BTreeMap, BTreeSet};

use crate::catalog::{Catalog, catalog};
use crate::error::CourseError;
use crate::exercise::{Drawn, Exercise, Origin};
use crate::expected::{expected, fill_request};
use crate::marking::key;
use crate::numbers::Numbers;

/// Nearest a wrong model may come to the right answer, in tolerances: nearer, and the bands
/// in which the two are accepted touch.
const NEAREST_SLIP: f64 = 2.0;

/// Largest difference of kernel and closed form, in tolerances. A quarter leaves three for
/// the learner's own rounding.
const LARGEST_DIFFERENCE: f64 = 0.25;

/// All admissible variants of an exercise.
fn variants(catalog: &Catalog, exercise: &Exercise) -> Vec<Numbers> {
    let mut draws: Vec<BTreeMap<String, Drawn>> = match exercise.records.as_slice() {
        [] => vec![BTreeMap::new()],
        records => records.to_vec(),
    };
    for (name, parameter) in &exercise.parameters {
        draws = draws
            .iter()
            .flat_map(|draw| {
                parameter.values.iter().map(|value| {
                    let mut longer = draw.clone();
                    longer.insert(name.clone(), value.clone());
                    longer
                })
            })
            .collect();
    }
    draws
        .into_iter()
        .map(|draw| Numbers::compute(catalog, exercise, draw).unwrap())
        .filter(|numbers| numbers.admissible(exercise).unwrap())
        .collect()
}

fn for_every_variant(mut test: impl FnMut(&Exercise, &Numbers)) {
    let catalog = catalog().unwrap();
    for exercise in &catalog.exercises {
        for numbers in variants(catalog, exercise) {
            test(exercise, &numbers);
        }
    }
}

fn by_formula(exercise: &Exercise, numbers: &Numbers) -> f64 {
    numbers.value_of(exercise, &exercise.answer.formula).unwrap()
}

/// Whether the kernel lacks this operation; a test that needs it says so and goes on.
fn is_not_built(code: &str, exercise: &Exercise) -> bool {
    let missing = code == "not_built";
    if missing {
        println!("skipped {}: its operation is not in the kernel", exercise.id);
    }
    missing
}

#[test]
fn there_are_as_many_variants_as_designed() {
    let catalog = catalog().unwrap();
    for (id, count) in [
        ("ox-wet-field", 60),
        ("spin-speed", 94),
        ("etch-bias", 60),
        ("etch-selectivity", 144),
        ("pol-level", 120),
        ("dif-drive", 320),
        ("imp-peak", 216),
        ("dep-poly-time", 35),
    ] {
        let exercise = catalog.exercise(id).unwrap();
        assert_eq!(variants(catalog, exercise).len(), count, "{id}");
    }
}

#[test]
fn no_slip_comes_near_the_right_answer() {
    let mut nearest: BTreeMap<String, (f64, String)> = BTreeMap::new();
    for_every_variant(|exercise, numbers| {
        let right = by_formula(exercise, numbers);
        for slip in &exercise.slips {
            let wrong = numbers.value_of(exercise, &slip.value).unwrap();
            let tolerance = exercise.answer.tolerance;
            let distance = (wrong - right).abs() / tolerance.band(right);
            assert!(
                NEAREST_SLIP < distance,
                "{} {}: {wrong} lies {distance} tolerances from {right} ({:?})",
                exercise.id,
                slip.id,
                numbers.drawn
            );
            // The two bands in which an answer is accepted must not overlap either.
            let bands = tolerance.band(right) + tolerance.band(wrong);
            assert!(bands < (wrong - right).abs(), "{} {}", exercise.id, slip.id);
            let entry = nearest
                .entry(exercise.id.clone())
                .or_insert((f64::INFINITY, String::new()));
            if distance < entry.0 {
                *entry = (distance, slip.id.clone());
            }
        }
    });
    for (id, (distance, slip)) in nearest {
        println!("{id}: nearest slip {slip} at {distance:.1} tolerances");
    }
}

#[test]
fn every_answer_is_sensible_and_printed_in_its_working() {
    for_every_variant(|exercise, numbers| {
        let right = by_formula(exercise, numbers);
        let (low, high) = exercise.answer.sensible_range;
        let band = exercise.answer.tolerance.band(right);
        assert!(
            low <= right - band && right + band <= high,
            "{}: {right} would be asked back",
            exercise.id
        );
        let key = key(exercise, numbers, right).unwrap();
        assert!(key.working.iter().any(|line| line.contains(&key.text)));
        assert!(!key.working.iter().any(|line| line.contains(['{', '}'])));
    });
}

#[test]
fn hints_and_feedback_hold_no_digits_of_the_answer() {
    for_every_variant(|exercise, numbers| {
        let right = by_formula(exercise, numbers);
        let key = key(exercise, numbers, right).unwrap();
        let digits = key.text.split(' ').next().unwrap();
        let two: String = digits.chars().take(3).collect();
        let feedback =
            exercise.slips.iter().flat_map(|slip| [&slip.name, &slip.feedback]);
        let explain = exercise.explain.key_points.iter().chain([&exercise.explain.ask]);
        for text in exercise.hints.iter().chain(feedback).chain(explain) {
            assert!(!text.contains(digits), "{}: {text:?} holds {digits}", exercise.id);
            let decimal = two.contains('.');
            assert!(!(decimal && text.contains(&two)), "{}: {text:?}", exercise.id);
        }
    });
}

#[test]
fn kernel_and_closed_form_agree() {
    let mut largest: BTreeMap<String, f64> = BTreeMap::new();
    let mut skipped = BTreeSet::new();
    for_every_variant(|exercise, numbers| {
        if exercise.answer.origin == Origin::Formula || skipped.contains(&exercise.id) {
            return;
        }
        let kernel = match expected(exercise, numbers) {
            Ok(value) => value,
            Err(CourseError::Kernel { source, .. })
                if is_not_built(source.code, exercise) =>
            {
                skipped.insert(exercise.id.clone());
                return;
            }
            Err(other) => panic!("{other} ({:?})", numbers.drawn),
        };
        let formula = by_formula(exercise, numbers);
        let distance = (kernel - formula).abs() / exercise.answer.tolerance.band(formula);
        assert!(
            distance < LARGEST_DIFFERENCE,
            "{}: kernel {kernel}, closed form {formula}: {distance} tolerances ({:?})",
            exercise.id,
            numbers.drawn
        );
        let entry = largest.entry(exercise.id.clone()).or_insert(0.0);
        *entry = entry.max(distance);
    });
    for (id, distance) in largest {
        println!("{id}: kernel and closed form differ by {distance:.4} tolerances");
    }
}

#[test]
fn the_bench_opens_with_every_variant_and_shows_the_same_hazards() {
    let catalog = catalog().unwrap();
    for exercise in &catalog.exercises {
        let answers = exercise.answer.request.as_ref().and_then(|list| list.first());
        let template = exercise.bench_request.as_ref().or(answers).unwrap();
        let mut on_bench = BTreeSet::new();
        let mut built = true;
        for numbers in variants(catalog, exercise) {
            let request = fill_request(exercise, template, &numbers).unwrap();
            match barewafer_process::run(request) {
                Ok(report) => on_bench.extend(report.hazards),
                Err(error) if is_not_built(error.code, exercise) => {
                    built = false;
                    break;
                }
                Err(error) => panic!("{}: {error} ({:?})", exercise.id, numbers.drawn),
            }
        }
        for hazard in &exercise.hazards {
            assert!(
                !built || on_bench.contains(hazard.as_str()),
                "{}: the bench does not show {hazard} ({on_bench:?})",
                exercise.id
            );
        }
    }
}
