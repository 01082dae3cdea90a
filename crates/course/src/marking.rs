//! Marking an answer: right, wrong with the slip behind it, or asked again.
//!
//! The same individual numbers go into the expected answer and into every wrong model. No
//! feedback holds a digit of the answer; key and working come only when the answer is right
//! or the tries are used up.

use serde::Serialize;

use crate::answer::{Reading, read_answer};
use crate::catalog::catalog;
use crate::error::CourseError;
use crate::exercise::{Exercise, Slip, SlipClass};
use crate::expected::expected;
use crate::numbers::{Numbers, Owner, draw};
use crate::{print, unit};

/// Percent for a right answer at the first, second, third try; later ones count as the last.
/// Model choice of the course: an extra try costs a little, giving up costs more.
pub const SCORE_BY_TRY: [u32; 3] = [100, 90, 80];

/// Percent when the tries are used up and the last answer shows a slip of units: the physics
/// was right. Model choice of the course.
pub const SCORE_UNIT_SLIP: u32 = 30;

/// What an answer was found to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Outcome {
    /// Within the tolerance.
    Right,
    /// Not within the tolerance; a try is taken.
    Wrong,
    /// No number, no fitting unit or too few digits; no try is taken.
    Unreadable,
    /// Outside what is met in practice; no try is taken until it is confirmed.
    Implausible,
}

/// An answer, marked.
#[derive(Clone, Debug, Serialize)]
pub struct Verdict {
    /// What the answer was found to be.
    pub verdict: Outcome,
    /// Percent, once the exercise is over (right, or tries used up); null before.
    pub score: Option<u32>,
    /// One or two sentences for the learner.
    pub message: String,
    /// The answer as it was understood, with its unit; null if it was not.
    pub read_as: Option<String>,
    /// What is asked back for every recognized slip, in the order of the file.
    pub feedback: Vec<Feedback>,
    /// Tries left with these numbers.
    pub tries_left: u32,
    /// The key, once the exercise is over; null before.
    pub key: Option<Key>,
}

/// A recognized slip.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Feedback {
    /// Name of the slip in results.
    pub id: String,
    /// Name of the slip for people.
    pub name: String,
    /// What is asked back.
    pub text: String,
}

/// The right answer with its working.
#[derive(Clone, Debug, Serialize)]
pub struct Key {
    /// In the unit of the answer.
    pub value: f64,
    /// With unit, as printed.
    pub text: String,
    /// The unit as printed.
    pub unit: String,
    /// The working with the learner's numbers, line by line.
    pub working: Vec<String>,
}

/// Marks the answer `text` of a student.
///
/// `try_number` counts from 1 with these numbers; `confirmed` says that the learner was asked
/// whether an implausible answer is meant and said yes.
///
/// # Errors
/// [`CourseError`] for an unknown exercise, an unusable code or student, or a try that does
/// not exist. Anything typed as an answer gives a [`Verdict`], never an error.
pub fn check(
    id: &str,
    owner: Owner<'_>,
    text: &str,
    try_number: u32,
    confirmed: bool,
) -> Result<Verdict, CourseError> {
    let catalog = catalog()?;
    let exercise = catalog.exercise(id)?;
    if !(1..=exercise.tries).contains(&try_number) {
        return Err(CourseError::BadTry { given: try_number, tries: exercise.tries });
    }
    let numbers = draw(catalog, exercise, owner)?;
    let tries_left = exercise.tries - try_number + 1;
    let asked_again = |verdict, message, read_as| Verdict {
        verdict,
        score: None,
        message,
        read_as,
        feedback: Vec::new(),
        tries_left,
        key: None,
    };
    let reading = match read_answer(text, &exercise.answer.unit) {
        Ok(reading) => reading,
        Err(why) => return Ok(asked_again(Outcome::Unreadable, why.to_string(), None)),
    };
    let read_as = with_unit(exercise, reading.value, reading.digits);
    let (low, high) = exercise.answer.sensible_range;
    if !confirmed && !(low..=high).contains(&reading.value) {
        let message = format!(
            "{read_as}: is that plausible for this {}? Look at unit and powers of ten, or say that you mean it.",
            exercise.answer.quantity
        );
        return Ok(asked_again(Outcome::Implausible, message, Some(read_as)));
    }
    let right_answer = expected(exercise, &numbers)?;
    mark(exercise, &numbers, right_answer, &reading, try_number)
}

/// Marks a number against the expected answer.
pub(crate) fn mark(
    exercise: &Exercise,
    numbers: &Numbers,
    expected: f64,
    reading: &Reading,
    try_number: u32,
) -> Result<Verdict, CourseError> {
    let answer = reading.value;
    let is_right = (answer - expected).abs() <= exercise.answer.tolerance.band(expected);
    let tries_left = if is_right { 0 } else { exercise.tries.saturating_sub(try_number) };
    let is_over = tries_left == 0;
    let slips =
        if is_right { Vec::new() } else { matching_slips(exercise, numbers, answer) };
    let score = match (is_right, is_over) {
        (true, _) => Some(score_of_try(try_number)),
        (false, true) if slips.iter().any(|slip| slip.class == SlipClass::Unit) => {
            Some(SCORE_UNIT_SLIP)
        }
        (false, true) => Some(0),
        (false, false) => None,
    };
    Ok(Verdict {
        verdict: if is_right { Outcome::Right } else { Outcome::Wrong },
        score,
        message: message(is_right, is_over, !slips.is_empty()).to_owned(),
        read_as: Some(with_unit(exercise, answer, reading.digits)),
        feedback: slips
            .into_iter()
            .map(|slip| Feedback {
                id: slip.id.clone(),
                name: slip.name.clone(),
                text: slip.feedback.clone(),
            })
            .collect(),
        tries_left,
        key: if is_over { Some(key(exercise, numbers, expected)?) } else { None },
    })
}

/// The slips whose answer, with the same numbers, is this one; a slip that has no value with
/// these numbers is none.
fn matching_slips<'a>(
    exercise: &'a Exercise,
    numbers: &Numbers,
    answer: f64,
) -> Vec<&'a Slip> {
    let tolerance = exercise.answer.tolerance;
    exercise
        .slips
        .iter()
        .filter(|slip| {
            numbers
                .value_of(exercise, &slip.value)
                .is_ok_and(|value| (answer - value).abs() <= tolerance.band(value))
        })
        .collect()
}

/// The key with the working in the learner's numbers.
pub(crate) fn key(
    exercise: &Exercise,
    numbers: &Numbers,
    expected: f64,
) -> Result<Key, CourseError> {
    let text = with_unit(exercise, expected, exercise.answer.digits);
    let value_of = |name: &str| {
        if name == "answer" { Some(text.clone()) } else { numbers.text(name) }
    };
    let working: Result<Vec<String>, String> = exercise
        .worked_solution
        .iter()
        .map(|line| print::fill(line, &value_of))
        .collect();
    let working = working.map_err(|name| {
        CourseError::Data(format!("{}: no value for {name}", exercise.id))
    })?;
    let unit = unit::printed(&exercise.answer.unit).to_owned();
    Ok(Key { value: expected, text, unit, working })
}

fn score_of_try(try_number: u32) -> u32 {
    let index = usize::try_from(try_number.saturating_sub(1)).unwrap_or(usize::MAX);
    let last = SCORE_BY_TRY.last().copied().unwrap_or(0);
    SCORE_BY_TRY.get(index).copied().unwrap_or(last)
}

fn with_unit(exercise: &Exercise, value: f64, digits: usize) -> String {
    let number = print::significant(value, digits);
    format!("{number} {}", unit::printed(&exercise.answer.unit))
}

/// What is said beside the verdict; never whether the number is too high or too low, which
/// would invite guessing.
const fn message(is_right: bool, is_over: bool, has_slip: bool) -> &'static str {
    match (is_right, is_over, has_slip) {
        (true, _, _) => "Your number agrees with the lab's.",
        (false, false, true) => "Your number looks like a known slip.",
        (false, false, false) => {
            "It matches no slip that is known here. Go through units and powers of ten, then through the hints."
        }
        (false, true, true) => {
            "The tries are used up. Your number looks like a known slip; compare it with the working, then take new numbers."
        }
        (false, true, false) => {
            "The tries are used up. Go through the working, then take new numbers."
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::catalog::Catalog;

    const TV1: Owner<'_> = Owner { code: "TV-HW1", student: "tv-0001", set: 0 };

    fn case(id: &str) -> (&'static Catalog, &'static Exercise, Numbers) {
        let catalog = catalog().unwrap();
        let exercise = catalog.exercise(id).unwrap();
        (catalog, exercise, draw(catalog, exercise, TV1).unwrap())
    }

    /// Marks a number against the closed form, so that no kernel is needed.
    fn by_formula(id: &str, value: f64, try_number: u32) -> Verdict {
        let (_, exercise, numbers) = case(id);
        let expected = numbers.value_of(exercise, &exercise.answer.formula).unwrap();
        let reading = Reading { value, digits: 3 };
        mark(exercise, &numbers, expected, &reading, try_number).unwrap()
    }

    #[test]
    fn each_try_costs_a_little() {
        // ox-wet-field of this student: 279.98 nm.
        for (try_number, score) in [(1, 100), (2, 90), (3, 80)] {
            let verdict = by_formula("ox-wet-field", 280.0, try_number);
            assert_eq!(verdict.verdict, Outcome::Right);
            assert_eq!((verdict.score, verdict.tries_left), (Some(score), 0));
            let key = verdict.key.unwrap();
            assert_eq!(key.text, "280 nm");
            assert!(key.working.iter().any(|line| line.contains("280 nm")));
            assert!(!key.working.iter().any(|line| line.contains(['{', '}'])));
        }
    }

    #[test]
    fn the_band_is_that_of_the_exercise() {
        // 2 % of 279.98 nm is 5.6 nm.
        for (value, outcome) in [
            (285.5, Outcome::Right),
            (285.7, Outcome::Wrong),
            (274.5, Outcome::Right),
            (274.3, Outcome::Wrong),
        ] {
            assert_eq!(by_formula("ox-wet-field", value, 1).verdict, outcome);
        }
        let wide = crate::exercise::Tolerance { relative: 0.01, absolute: 0.5 };
        assert!((wide.band(10.0) - 0.5).abs() < 1e-15);
        assert!((wide.band(-100.0) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn a_slip_is_recognized_and_asks_back() {
        let (_, exercise, numbers) = case("ox-wet-field");
        for slip in &exercise.slips {
            let value = numbers.value_of(exercise, &slip.value).unwrap();
            let verdict = by_formula("ox-wet-field", value, 1);
            assert_eq!(verdict.verdict, Outcome::Wrong);
            assert!(verdict.feedback.iter().any(|feedback| feedback.id == slip.id));
            assert_eq!((verdict.score, verdict.tries_left), (None, 2));
            assert!(verdict.key.is_none(), "no key while tries are left");
        }
    }

    #[test]
    fn all_matching_slips_answer_in_the_order_of_the_file() {
        let (catalog, exercise, _) = case("ox-wet-field");
        let mut found = false;
        for set in 0..400 {
            let numbers = draw(catalog, exercise, Owner { set, ..TV1 }).unwrap();
            for slip in &exercise.slips {
                let value = numbers.value_of(exercise, &slip.value).unwrap();
                let ids: Vec<&str> = matching_slips(exercise, &numbers, value)
                    .iter()
                    .map(|slip| slip.id.as_str())
                    .collect();
                let mut in_file = exercise.slips.iter().map(|slip| slip.id.as_str());
                assert!(ids.iter().all(|id| in_file.any(|known| known == *id)));
                found |= 1 < ids.len();
            }
        }
        assert!(found, "some draws of this exercise have two slips at one number");
    }

    #[test]
    fn at_the_end_a_slip_of_units_earns_something() {
        let minutes = {
            let (_, exercise, numbers) = case("dif-drive");
            let slip = exercise.slips.iter().find(|slip| slip.id == "minutes").unwrap();
            numbers.value_of(exercise, &slip.value).unwrap()
        };
        let verdict = by_formula("dif-drive", minutes, 3);
        assert_eq!((verdict.score, verdict.tries_left), (Some(30), 0));
        assert!(verdict.key.is_some());
        let verdict = by_formula("ox-wet-field", 1000.0, 3);
        assert_eq!(verdict.score, Some(0));
        assert!(verdict.key.is_some() && verdict.feedback.is_empty());
    }

    #[test]
    fn an_answer_is_asked_again_before_a_try_is_taken() {
        let check = |text: &str, try_number, confirmed| {
            check("spin-speed", TV1, text, try_number, confirmed).unwrap()
        };
        let verdict = check("fast", 1, false);
        assert_eq!((verdict.verdict, verdict.tries_left), (Outcome::Unreadable, 3));
        let verdict = check("4", 2, false);
        assert_eq!((verdict.verdict, verdict.tries_left), (Outcome::Unreadable, 2));
        let verdict = check("40000", 1, false);
        assert_eq!((verdict.verdict, verdict.tries_left), (Outcome::Implausible, 3));
        assert_eq!(verdict.read_as.as_deref(), Some("40000 rpm"));
        let verdict = check("40000", 1, true);
        assert_eq!((verdict.verdict, verdict.tries_left), (Outcome::Wrong, 2));
        assert!(matches!(
            super::check("spin-speed", TV1, "40000", 4, true),
            Err(CourseError::BadTry { given: 4, tries: 3 })
        ));
    }

    #[test]
    fn an_answer_may_come_in_another_unit() {
        let (_, exercise, numbers) = case("spin-speed");
        let speed_rpm = numbers.value_of(exercise, &exercise.answer.formula).unwrap();
        let text = format!("{:.4} Hz", speed_rpm / 60.0);
        let verdict = check("spin-speed", TV1, &text, 1, false).unwrap();
        assert_eq!((verdict.verdict, verdict.score), (Outcome::Right, Some(100)));
    }

    #[test]
    fn the_kernel_s_own_answer_is_right_on_every_bench() {
        for exercise in &catalog().unwrap().exercises {
            let (_, _, numbers) = case(&exercise.id);
            let value = numbers.value_of(exercise, &exercise.answer.formula).unwrap();
            let text = with_unit(exercise, value, 4);
            match check(&exercise.id, TV1, &text, 2, false) {
                Ok(verdict) => {
                    assert_eq!(
                        verdict.verdict,
                        Outcome::Right,
                        "{}: {text}",
                        exercise.id
                    );
                    assert_eq!(verdict.score, Some(90));
                    let key = verdict.key.unwrap();
                    assert_eq!(key.text, with_unit(exercise, value, 3));
                }
                Err(CourseError::Kernel { source, .. }) if source.code == "not_built" => {
                    println!(
                        "skipped {}: its operation is not in the kernel",
                        exercise.id
                    );
                }
                Err(other) => panic!("{other}"),
            }
        }
    }

    proptest! {
        #[test]
        fn whatever_is_typed_gets_a_verdict(text in "\\PC{0,40}", confirmed: bool) {
            prop_assert!(check("spin-speed", TV1, &text, 1, confirmed).is_ok());
        }

        #[test]
        fn whoever_asks_gets_numbers_or_an_error(
            code in "\\PC{0,20}", student in "\\PC{0,20}", set: u32
        ) {
            let owner = Owner { code: &code, student: &student, set };
            match check("spin-speed", owner, "3000", 1, false) {
                Ok(verdict) => prop_assert!(verdict.verdict != Outcome::Unreadable),
                Err(error) => {
                    let is_identifier = matches!(error, CourseError::BadIdentifier { .. });
                    prop_assert!(is_identifier);
                }
            }
        }
    }
}
