//! What the page shows of an exercise before it is answered, and its worked twin.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::catalog::catalog;
use crate::error::CourseError;
use crate::exercise::{BenchName, Drawn, Exercise, Explain, Kind};
use crate::expected::{expected, fill_request, telling_results};
use crate::marking::{Key, key};
use crate::numbers::{Numbers, Owner, draw};
use crate::{print, unit};

/// A line of the list of exercises.
#[derive(Clone, Debug, Serialize)]
pub struct ExerciseSummary {
    /// Name in links.
    pub id: &'static str,
    /// Title.
    pub title: &'static str,
    /// Bench it belongs to.
    pub bench: BenchName,
    /// Kind.
    pub kind: Kind,
    /// What one can do afterwards.
    pub aim: &'static str,
    /// Estimated minutes.
    pub minutes: u32,
}

/// An exercise with the numbers of one student, without its answer.
#[derive(Clone, Debug, Serialize)]
pub struct ExerciseView {
    /// Name in links.
    pub id: &'static str,
    /// Title.
    pub title: &'static str,
    /// Kind.
    pub kind: Kind,
    /// What one can do afterwards.
    pub aim: &'static str,
    /// Estimated minutes.
    pub minutes: u32,
    /// Bench it belongs to.
    pub bench: BenchName,
    /// The question with the student's numbers.
    pub prompt: String,
    /// What is asked.
    pub quantity: &'static str,
    /// The unit of the answer as printed.
    pub unit: &'static str,
    /// Units that may be typed instead.
    pub accepted_units: Vec<&'static str>,
    /// Concept, equation, first move; free, in this order.
    pub hints: &'static [String],
    /// Scored tries with these numbers.
    pub tries: u32,
    /// The student's numbers.
    pub numbers: Vec<NumberView>,
    /// The setting in which the bench opens after the answer; holds no answer.
    pub request: Option<Map<String, Value>>,
    /// Results of that setting that give the answer away, not to be shown before it.
    pub hides: Vec<String>,
    /// What to do on the bench then, and what to expect.
    pub note: Option<String>,
    /// Rows of the hazard table to be shown beside the question.
    pub hazards: &'static [String],
    /// The notice that goes with the hazards; null without hazards.
    pub caution: Option<&'static str>,
    /// Significant digits of the printed key.
    pub digits: usize,
    /// The question after the bench, with the points for marking oneself.
    pub explain: &'static Explain,
    /// Where constants and laws come from.
    pub sources: &'static [String],
}

/// One of the student's numbers.
#[derive(Clone, Debug, Serialize)]
pub struct NumberView {
    /// Name in the exercise.
    pub name: String,
    /// The value.
    pub value: Drawn,
    /// The unit as printed; empty for none.
    pub unit: &'static str,
    /// The value as printed, without its unit.
    pub text: String,
}

/// The same exercise with other numbers, worked out.
#[derive(Clone, Debug, Serialize)]
pub struct WorkedTwin {
    /// The question with the twin's numbers.
    pub prompt: String,
    /// The answer with its working.
    pub key: Key,
}

/// The exercises there are.
///
/// # Errors
/// [`CourseError::Data`] if the built-in file is broken.
pub fn exercises() -> Result<Vec<ExerciseSummary>, CourseError> {
    let list = catalog()?.exercises.iter().map(|exercise| ExerciseSummary {
        id: &exercise.id,
        title: &exercise.title,
        bench: exercise.bench,
        kind: exercise.kind,
        aim: &exercise.aim,
        minutes: exercise.minutes,
    });
    Ok(list.collect())
}

/// An exercise with the numbers of one student.
///
/// # Errors
/// [`CourseError`] for an unknown exercise or an unusable code or student.
pub fn exercise_view(id: &str, owner: Owner<'_>) -> Result<ExerciseView, CourseError> {
    let catalog = catalog()?;
    let exercise = catalog.exercise(id)?;
    let numbers = draw(catalog, exercise, owner)?;
    let answers = exercise.answer.request.as_ref().and_then(|requests| requests.first());
    let request = exercise
        .bench_request
        .as_ref()
        .or(answers)
        .map(|template| fill_request(exercise, template, &numbers))
        .transpose()?;
    let note = exercise
        .note
        .as_ref()
        .map(|note| filled(exercise, note, &numbers))
        .transpose()?;
    let notice = catalog.notices.get("simulation-notice").map(String::as_str);
    Ok(ExerciseView {
        id: &exercise.id,
        title: &exercise.title,
        kind: exercise.kind,
        aim: &exercise.aim,
        minutes: exercise.minutes,
        bench: exercise.bench,
        prompt: filled(exercise, &exercise.prompt, &numbers)?,
        quantity: &exercise.answer.quantity,
        unit: unit::printed(&exercise.answer.unit),
        accepted_units: unit::accepted(&exercise.answer.unit),
        hints: &exercise.hints,
        tries: exercise.tries,
        numbers: number_views(exercise, &numbers),
        request,
        hides: telling_results(&exercise.answer),
        note,
        hazards: &exercise.hazards,
        caution: if exercise.hazards.is_empty() { None } else { notice },
        digits: exercise.answer.digits,
        explain: &exercise.explain,
        sources: &exercise.sources,
    })
}

/// The exercise worked out with the numbers of the twin, never with the student's own.
///
/// # Errors
/// As [`exercise_view`], and [`CourseError::Kernel`] if the kernel refuses the request.
pub fn worked_twin(id: &str, owner: Owner<'_>) -> Result<WorkedTwin, CourseError> {
    let catalog = catalog()?;
    let exercise = catalog.exercise(id)?;
    let own = draw(catalog, exercise, owner)?;
    let twin = &catalog.twin;
    let mut numbers = own.clone();
    // One set nearly always does; the bound holds for an exercise with few variants.
    for set in 0..100 {
        let twin = Owner { code: &twin.assignment_code, student: &twin.student, set };
        numbers = draw(catalog, exercise, twin)?;
        if numbers.drawn != own.drawn {
            break;
        }
    }
    let expected = expected(exercise, &numbers)?;
    Ok(WorkedTwin {
        prompt: filled(exercise, &exercise.prompt, &numbers)?,
        key: key(exercise, &numbers, expected)?,
    })
}

fn filled(
    exercise: &Exercise,
    template: &str,
    numbers: &Numbers,
) -> Result<String, CourseError> {
    print::fill(template, &|name| numbers.text(name)).map_err(|name| {
        CourseError::Data(format!("{}: no value for {name}", exercise.id))
    })
}

/// The numbers that are shown; a drawn value that the prompt hides is not among them.
fn number_views(exercise: &'static Exercise, numbers: &Numbers) -> Vec<NumberView> {
    let shown = numbers.shown.iter().map(|(name, value)| (name, Drawn::Number(*value)));
    let drawn = numbers.drawn.iter().map(|(name, value)| (name, value.clone()));
    drawn
        .chain(shown)
        .filter(|(name, _)| exercise.prompt.contains(&format!("{{{name}}}")))
        .map(|(name, value)| {
            let unit = exercise
                .parameters
                .get(name)
                .map_or_else(|| unit::of_name(name), |parameter| parameter.unit.as_str());
            NumberView {
                name: name.clone(),
                value,
                unit: unit::printed(unit),
                text: numbers.text(name).unwrap_or_default(),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const OWNER: Owner<'_> = Owner { code: "TV-HW2", student: "tv-0001", set: 0 };

    #[test]
    fn every_bench_has_its_exercise() {
        let list = exercises().unwrap();
        let benches: Vec<BenchName> = list.iter().map(|line| line.bench).collect();
        for bench in [
            BenchName::Furnace,
            BenchName::Spinner,
            BenchName::WetBench,
            BenchName::Deposition,
            BenchName::DryEtcher,
            BenchName::Polisher,
            BenchName::DiffusionTube,
            BenchName::Implanter,
            BenchName::FourPoint,
        ] {
            assert!(benches.contains(&bench), "{bench:?}");
        }
    }

    #[test]
    fn powers_of_ten_are_printed_not_coded() {
        let view = exercise_view("imp-peak", OWNER).unwrap();
        assert!(view.prompt.contains("5 × 10¹³"), "{}", view.prompt);
        assert!(!view.prompt.contains("e13"));
        assert_eq!((view.unit, view.digits, view.tries), ("cm⁻³", 3, 3));
        let dose = view.numbers.iter().find(|number| number.name == "dose_cm2").unwrap();
        assert_eq!((dose.text.as_str(), dose.unit), ("5 × 10¹³", "cm⁻²"));
    }

    #[test]
    fn the_view_is_plain_data_with_words_the_page_knows() {
        let view =
            serde_json::to_value(exercise_view("spin-speed", OWNER).unwrap()).unwrap();
        assert_eq!(view["bench"], "spinner");
        assert_eq!(view["kind"], "inverse");
        assert_eq!(view["request"]["operation"], "spin_coating");
        assert_eq!(view["hides"], serde_json::json!([]));
        let view = exercise_view("etch-bias", OWNER).unwrap();
        assert_eq!(view.hides, ["undercut_nm"]);
        let line = serde_json::to_value(exercises().unwrap()).unwrap();
        assert!(line.as_array().unwrap().iter().any(|line| line["bench"] == "wet-bench"));
    }

    #[test]
    fn the_twin_has_numbers_of_its_own() {
        let own = exercise_view("spin-speed", OWNER).unwrap();
        let twin = worked_twin("spin-speed", OWNER).unwrap();
        assert_ne!(own.prompt, twin.prompt);
        assert!(twin.key.working.iter().any(|line| line.contains(&twin.key.text)));
        let is_twin = Owner { code: "TWIN", student: "twin", set: 0 };
        let own = exercise_view("spin-speed", is_twin).unwrap();
        assert_ne!(own.prompt, worked_twin("spin-speed", is_twin).unwrap().prompt);
    }

    #[test]
    fn what_does_not_exist_is_refused() {
        let error = exercise_view("ox-nothing", OWNER).unwrap_err();
        assert!(error.to_string().contains("ox-wet-field"), "{error}");
        let nobody = Owner { student: " ", ..OWNER };
        assert!(exercise_view("spin-speed", nobody).is_err());
    }
}
