//! The expected answer: from the kernel, as a student sees it, through its public door only.

use std::collections::BTreeSet;

use barewafer_process::RequestError;
use serde_json::{Map, Value};

use crate::error::CourseError;
use crate::exercise::{Answer, Drawn, Exercise, Origin};
use crate::expression::{Expression, ExpressionError};
use crate::numbers::Numbers;

/// Deepest nesting of a request template.
const MAX_DEPTH: usize = 16;

/// The expected answer with these numbers, in the unit of the answer.
///
/// # Errors
/// [`CourseError::Kernel`] if the kernel refuses the request, [`CourseError::Formula`] or
/// [`CourseError::Data`] if the exercise is broken.
pub fn expected(exercise: &Exercise, numbers: &Numbers) -> Result<f64, CourseError> {
    let answer = &exercise.answer;
    if answer.origin == Origin::Formula {
        return numbers.value_of(exercise, &answer.formula);
    }
    let mut results = Vec::new();
    for template in answer.request.iter().flatten() {
        let request = fill_request(exercise, template, numbers)?;
        let report =
            barewafer_process::run(request).map_err(|source| kernel(exercise, source))?;
        results.push(report.results.to_value());
    }
    let read = answer.read.as_deref().unwrap_or_default();
    let formula = read_formula(read).map_err(|source| formula_error(exercise, source))?;
    formula
        .evaluate(&|name| match result_path(name) {
            Some((index, path)) => result(results.get(index)?, path),
            None => numbers.number(name),
        })
        .map_err(|source| formula_error(exercise, source))
}

/// The results of the first request that hold or give away the answer, by their names.
#[must_use]
pub fn telling_results(answer: &Answer) -> Vec<String> {
    let formula = answer.read.as_deref().map(read_formula).and_then(Result::ok);
    let mut names: Vec<String> = formula
        .iter()
        .flat_map(Expression::names)
        .filter_map(result_path)
        .filter(|(report, _)| *report == 0)
        .map(|(_, path)| path.to_owned())
        .collect();
    names.sort();
    names.dedup();
    names
}

/// Checks that what is read needs only drawn numbers and results of existing requests.
pub(crate) fn check_read(answer: &Answer, names: &BTreeSet<&str>) -> Result<(), String> {
    let read = answer.read.as_deref().unwrap_or_default();
    let formula = read_formula(read).map_err(|error| format!("{read:?}: {error}"))?;
    let requests = answer.request.as_ref().map_or(0, Vec::len);
    for name in formula.names() {
        let good = match result_path(name) {
            Some((index, _)) => index < requests,
            None => names.contains(name),
        };
        if !good {
            return Err(format!("{read:?} needs {name}"));
        }
    }
    Ok(())
}

/// Puts the numbers into a request: `"$name"` is a drawn value, `"=formula"` a computed one.
///
/// # Errors
/// [`CourseError::Data`] for a name that was not drawn, [`CourseError::Formula`].
pub fn fill_request(
    exercise: &Exercise,
    template: &Map<String, Value>,
    numbers: &Numbers,
) -> Result<Map<String, Value>, CourseError> {
    let words = word_fields(template.get("operation").and_then(Value::as_str));
    fill_object(exercise, template, numbers, &words, 0)
}

fn fill_object(
    exercise: &Exercise,
    template: &Map<String, Value>,
    numbers: &Numbers,
    words: &BTreeSet<&'static str>,
    depth: usize,
) -> Result<Map<String, Value>, CourseError> {
    if MAX_DEPTH < depth {
        return Err(CourseError::Data(format!("{}: request too deep", exercise.id)));
    }
    let mut object = Map::new();
    for (field, value) in template {
        let filled = match value {
            Value::Object(inner) => {
                Value::Object(fill_object(exercise, inner, numbers, words, depth + 1)?)
            }
            Value::String(text) => {
                let value = fill_text(exercise, text, numbers)?;
                match value {
                    // A drawn 100 stands as "100" where the field takes words.
                    Value::Number(number) if words.contains(field.as_str()) => {
                        Value::String(
                            whole(&number).unwrap_or_else(|| number.to_string()),
                        )
                    }
                    other => other,
                }
            }
            other => other.clone(),
        };
        object.insert(field.clone(), filled);
    }
    Ok(object)
}

fn fill_text(
    exercise: &Exercise,
    text: &str,
    numbers: &Numbers,
) -> Result<Value, CourseError> {
    if let Some(name) = text.strip_prefix('$') {
        return match numbers.drawn.get(name) {
            Some(Drawn::Text(word)) => Ok(Value::String(word.clone())),
            Some(Drawn::Number(value)) => Ok(Value::from(*value)),
            None => {
                let shown = numbers.shown.get(name).copied().map(Value::from);
                shown.ok_or_else(|| {
                    CourseError::Data(format!("{}: ${name} is not drawn", exercise.id))
                })
            }
        };
    }
    match text.strip_prefix('=') {
        Some(formula) => Expression::parse(formula)
            .and_then(|formula| formula.evaluate(&|name| numbers.number(name)))
            .map(Value::from)
            .map_err(|source| formula_error(exercise, source)),
        None => Ok(Value::String(text.to_owned())),
    }
}

/// The fields of an operation that take words, as its own form declares them.
fn word_fields(operation: Option<&str>) -> BTreeSet<&'static str> {
    barewafer_process::schema()
        .into_iter()
        .filter(|form| Some(form.operation) == operation)
        .flat_map(|form| form.choices)
        .map(|choice| choice.field)
        .collect()
}

/// `100.0` as `100`.
fn whole(number: &serde_json::Number) -> Option<String> {
    let value = number.as_f64()?;
    (value.abs() < 1e15 && (value - value.floor()).abs() <= 0.0)
        .then(|| format!("{value:.0}"))
}

/// The formula behind `read`: a bare path belongs to the first report.
fn read_formula(read: &str) -> Result<Expression, ExpressionError> {
    match read.strip_prefix('=') {
        Some(formula) => Expression::parse(formula),
        None if result_path(read).is_some() => Expression::parse(read),
        None => Expression::parse(&format!("r0.{read}")),
    }
}

/// `r1.color.name` as (1, `color.name`).
fn result_path(name: &str) -> Option<(usize, &str)> {
    let (report, path) = name.split_once('.')?;
    Some((report.strip_prefix('r')?.parse().ok()?, path))
}

fn result(results: &Value, path: &str) -> Option<f64> {
    path.split('.').try_fold(results, |here, part| here.get(part))?.as_f64()
}

fn kernel(exercise: &Exercise, source: RequestError) -> CourseError {
    CourseError::Kernel { exercise: exercise.id.clone(), source }
}

fn formula_error(exercise: &Exercise, source: ExpressionError) -> CourseError {
    CourseError::Formula { exercise: exercise.id.clone(), source }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::catalog::catalog;
    use crate::numbers::{Owner, draw};

    fn template(value: Value) -> Map<String, Value> {
        value.as_object().expect("an object").clone()
    }

    #[test]
    fn numbers_are_put_into_requests() {
        let catalog = catalog().unwrap();
        let exercise = catalog.exercise("etch-bias").unwrap();
        let owner = Owner { code: "TV-HW1", student: "tv-0001", set: 0 };
        let numbers = draw(catalog, exercise, owner).unwrap();
        let filled = fill_request(
            exercise,
            &template(json!({
                "operation": "wet_etch",
                "thickness_nm": "=1000*thickness_um",
                "mask": {"line_um": "$line_um"},
                "temperature_c": 50,
            })),
            &numbers,
        )
        .unwrap();
        assert_eq!(
            Value::Object(filled),
            json!({
                "operation": "wet_etch",
                "thickness_nm": 600.0,
                "mask": {"line_um": 2.0},
                "temperature_c": 50,
            })
        );
        for bad in [json!({"a": "$side"}), json!({"a": "$none"}), json!({"a": "=1/0"})] {
            assert!(fill_request(exercise, &template(bad), &numbers).is_err());
        }
    }

    #[test]
    fn a_number_becomes_a_word_where_words_stand() {
        let number = serde_json::Number::from_f64;
        assert_eq!(whole(&number(100.0).unwrap()), Some("100".to_owned()));
        assert_eq!(whole(&number(0.5).unwrap()), None);
    }

    #[test]
    fn results_are_read_by_their_path() {
        let results = json!({"oxide_nm": 280.0, "color": {"depth": 2.0}, "none": null});
        assert_eq!(result(&results, "oxide_nm"), Some(280.0));
        assert_eq!(result(&results, "color.depth"), Some(2.0));
        assert_eq!(result(&results, "none"), None);
        assert_eq!(result(&results, "color.nothing"), None);
        assert_eq!(result_path("r12.a.b"), Some((12, "a.b")));
        assert_eq!(result_path("rate.a"), None);
        assert_eq!(read_formula("oxide_nm").unwrap().names(), ["r0.oxide_nm"]);
        assert_eq!(read_formula("r1.oxide_nm").unwrap().names(), ["r1.oxide_nm"]);
        assert_eq!(read_formula("=a+r0.b").unwrap().names(), ["a", "r0.b"]);
    }
}
