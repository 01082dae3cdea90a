//! Questions on safety: one right choice, and for every wrong one the question that leads out of
//! the misconception behind it.
//!
//! What is right is not only typed: where a choice is a plan, the kernel's own rules must find the
//! mistake in every wrong plan and none in the right one; signs and limits are held against the
//! hazard table. The tests below do it.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::error::CourseError;
use crate::exercise::Explain;
use crate::numbers::{Owner, order};

/// A question with its choices.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// Name in links and results.
    pub id: String,
    /// Title.
    pub title: String,
    /// The question.
    pub prompt: String,
    /// Rows of the hazard table to be shown with it.
    pub hazards: Vec<String>,
    /// The rule of the kernel that finds the mistake in the wrong plans; `*` for several.
    #[serde(default)]
    pub rule: Option<String>,
    /// The reading to be compared with the limits of a row.
    #[serde(default)]
    pub limits: Option<Reading>,
    /// The choices; one is right.
    pub options: Vec<Choice>,
    /// The question afterwards.
    pub explain: Explain,
    /// Where it comes from.
    pub sources: Vec<String>,
}

/// A choice.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// What it says.
    pub text: String,
    /// Whether it is the right one.
    #[serde(default)]
    pub right: bool,
    /// The misconception behind a wrong one; empty for the right one.
    #[serde(default)]
    pub misconception: String,
    /// What is told when it is chosen.
    pub feedback: String,
    /// The steps of the plan, for the kernel's rules.
    #[serde(default)]
    pub plan: Vec<Value>,
    /// The row of the hazard table that it names.
    #[serde(default)]
    pub row: Option<String>,
    /// The signs that it names, and the row they are said to belong to.
    #[serde(default)]
    pub signs: Vec<String>,
    /// See `signs`.
    #[serde(default)]
    pub signs_of: Option<String>,
}

/// A reading to be compared with limits.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// The row whose limits count.
    pub row: String,
    /// The reading in ppm.
    pub reading_ppm: f64,
}

/// A question as a learner sees it: without the key, the choices in the learner's own order.
#[derive(Clone, Debug, Serialize)]
pub struct QuestionView {
    /// Name.
    pub id: &'static str,
    /// Title.
    pub title: &'static str,
    /// The question.
    pub prompt: &'static str,
    /// Rows of the hazard table to be shown with it.
    pub hazards: &'static [String],
    /// The choices with the numbers by which they are answered.
    pub choices: Vec<(usize, &'static str)>,
}

/// What is told after a choice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ChoiceVerdict {
    /// Whether it is right.
    pub right: bool,
    /// The misconception behind it; empty if it is right.
    pub misconception: &'static str,
    /// What to think about.
    pub feedback: &'static str,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    format: String,
    version: u32,
    questions: Vec<Question>,
}

/// All questions.
///
/// # Errors
/// [`CourseError::Data`] if the built-in file contradicts itself; a test holds that it does not.
pub fn questions() -> Result<&'static [Question], CourseError> {
    static QUESTIONS: OnceLock<Result<Vec<Question>, CourseError>> = OnceLock::new();
    QUESTIONS
        .get_or_init(|| read(include_str!("../data/safety_questions.json")))
        .as_deref()
        .map_err(Clone::clone)
}

/// A question for a learner.
///
/// # Errors
/// [`CourseError::UnknownExercise`], [`CourseError::BadIdentifier`].
pub fn question_view(id: &str, owner: Owner<'_>) -> Result<QuestionView, CourseError> {
    let question = question(id)?;
    let shuffled = order(id, owner, question.options.len())?;
    let choice = |idx: usize| Some((idx, question.options.get(idx)?.text.as_str()));
    Ok(QuestionView {
        id: &question.id,
        title: &question.title,
        prompt: &question.prompt,
        hazards: &question.hazards,
        choices: shuffled.into_iter().filter_map(choice).collect(),
    })
}

/// The verdict on a choice, given by its number in [`QuestionView::choices`].
///
/// # Errors
/// [`CourseError::UnknownExercise`], [`CourseError::UnknownChoice`].
pub fn check_choice(id: &str, choice: usize) -> Result<ChoiceVerdict, CourseError> {
    let question = question(id)?;
    let chosen = question.options.get(choice).ok_or(CourseError::UnknownChoice {
        given: choice,
        choices: question.options.len(),
    })?;
    Ok(ChoiceVerdict {
        right: chosen.right,
        misconception: &chosen.misconception,
        feedback: &chosen.feedback,
    })
}

fn question(id: &str) -> Result<&'static Question, CourseError> {
    let all = questions()?;
    all.iter().find(|question| question.id == id).ok_or_else(|| {
        let ids: Vec<&str> = all.iter().map(|question| question.id.as_str()).collect();
        CourseError::UnknownExercise {
            id: id.chars().take(60).collect(),
            allowed: ids.join(", "),
        }
    })
}

fn read(text: &str) -> Result<Vec<Question>, CourseError> {
    let data = |problem: String| CourseError::Data(problem);
    let value: Value =
        serde_json::from_slice(text.as_bytes()).map_err(|e| data(e.to_string()))?;
    let file = File::deserialize(&value).map_err(|e| data(e.to_string()))?;
    if file.format != "barewafer-safety-questions" || file.version != 1 {
        return Err(data("not of this format and version".to_owned()));
    }
    let mut ids = BTreeSet::new();
    for question in &file.questions {
        let fault = |problem: &str| Err(data(format!("{}: {problem}", question.id)));
        if question.id.is_empty() || !ids.insert(question.id.as_str()) {
            return fault("id is not usable or doubled");
        }
        let right = question.options.iter().filter(|option| option.right).count();
        if right != 1 || question.options.len() < 2 {
            return fault("one of at least two choices must be right");
        }
        for option in &question.options {
            if option.right != option.misconception.is_empty()
                || option.feedback.is_empty()
            {
                return fault("every wrong choice needs its misconception and feedback");
            }
        }
        if question.hazards.is_empty() || question.sources.is_empty() {
            return fault("hazards and sources are needed");
        }
    }
    Ok(file.questions)
}

#[cfg(test)]
mod tests {
    use super::*;
    use barewafer_process::hazards::{row, rules, sequence};

    fn all() -> &'static [Question] {
        questions().unwrap()
    }

    #[test]
    fn the_built_in_file_is_sound_and_names_rows_that_exist() {
        assert!(all().len() >= 12);
        for question in all() {
            for id in &question.hazards {
                assert!(row(id).is_some(), "{}: no row {id}", question.id);
            }
            assert!(!question.explain.key_points.is_empty(), "{}", question.id);
            for option in &question.options {
                let ends = option.feedback.ends_with(['.', '?']);
                assert!(ends, "{}: {}", question.id, option.feedback);
            }
        }
    }

    #[test]
    fn the_kernel_finds_the_mistake_in_every_wrong_plan_and_none_in_the_right_one() {
        let mut judged = 0;
        for question in all() {
            let Some(rule) = &question.rule else { continue };
            assert!(
                rule == "*" || rules().any(|known| known.id == rule),
                "{}: no rule {rule}",
                question.id
            );
            for option in &question.options {
                assert!(!option.plan.is_empty(), "{}: no plan", question.id);
                let found = sequence(&option.plan);
                let fires = found.iter().any(|one| rule == "*" || one.rule == rule);
                assert_eq!(
                    fires, !option.right,
                    "{}: {} {found:?}",
                    question.id, option.text
                );
                if option.right {
                    assert!(found.is_empty(), "{}: {found:?}", question.id);
                }
                judged += 1;
            }
        }
        assert!(judged >= 15, "{judged}");
    }

    #[test]
    fn signs_rows_and_limits_are_those_of_the_table() {
        let (mut signs, mut rows_asked, mut limits) = (0, 0, 0);
        for question in all() {
            for option in &question.options {
                if let Some(of) = &option.signs_of {
                    let same = row(of).unwrap().ghs_pictograms == option.signs;
                    assert_eq!(same, option.right, "{}", option.text);
                    signs += 1;
                }
                if let Some(id) = &option.row {
                    let named = row(id).unwrap();
                    let burns = named
                        .h_codes
                        .iter()
                        .any(|h| ["H232", "H250"].contains(&h.code.as_str()));
                    assert_eq!(burns, option.right, "{}", option.text);
                    rows_asked += 1;
                }
            }
            if let Some(reading) = &question.limits {
                let row = row(&reading.row).unwrap();
                let ppm = |text: &str| -> f64 {
                    text.split(' ').next().unwrap().parse().unwrap()
                };
                let (work, flight) =
                    (ppm(&row.limits.osha_pel.value), ppm(&row.limits.niosh_idlh.value));
                assert!(work < reading.reading_ppm && reading.reading_ppm < flight);
                let right = question.options.iter().find(|o| o.right).unwrap();
                assert!(right.text.contains(&format!("{work} ppm")));
                assert!(right.text.contains(&format!("{flight} ppm")));
                limits += 1;
            }
        }
        assert!(signs >= 3 && rows_asked >= 3 && limits >= 1);
    }

    #[test]
    fn every_learner_has_an_order_and_the_key_is_not_in_the_view() {
        let view = |student: &str| {
            let owner = Owner { code: "A", student, set: 0 };
            question_view("hf-gel", owner).unwrap()
        };
        let numbers = |student: &str| -> Vec<usize> {
            view(student).choices.iter().map(|choice| choice.0).collect()
        };
        assert_eq!(numbers("s1"), numbers("s1"));
        let orders: BTreeSet<Vec<usize>> =
            (0..40).map(|k| numbers(&format!("s{k}"))).collect();
        assert!(orders.len() > 10, "{}", orders.len());
        for order in &orders {
            let mut sorted = order.clone();
            sorted.sort_unstable();
            assert_eq!(sorted, [0, 1, 2, 3]);
        }
        let text = serde_json::to_string(&view("s1")).unwrap();
        assert!(!text.contains("right") && !text.contains("feedback"));
    }

    #[test]
    fn choices_are_judged_with_their_misconception() {
        assert!(check_choice("hf-gel", 0).unwrap().right);
        let wrong = check_choice("hf-gel", 1).unwrap();
        assert_eq!((wrong.right, wrong.misconception), (false, "pain-shows-the-burn"));
        let error = check_choice("hf-gel", 9).unwrap_err().to_request_error();
        assert_eq!((error.field.as_str(), error.allowed.as_str()), ("choice", "0 to 3"));
        assert!(check_choice("nix", 0).is_err());
    }

    #[test]
    fn each_contradiction_of_the_file_is_named() {
        const FILE: &str = include_str!("../data/safety_questions.json");
        for (from, to, problem) in [
            ("barewafer-safety-questions", "other", "format"),
            ("\"id\": \"piranha-order\"", "\"id\": \"bhf-container\"", "doubled"),
            ("\"right\": true", "\"right\": false", "right"),
            ("\"misconception\": \"quartz-is-not-oxide\", ", "", "misconception"),
            ("\"title\"", "\"heading\"", "heading"),
        ] {
            let error = read(&FILE.replacen(from, to, 1)).unwrap_err().to_string();
            assert!(error.contains(problem), "{error}");
        }
    }
}
