//! The exercises for the page: questions with individual numbers, and marking.
//!
//! Every export gives plain objects and throws plain objects: an error has the fields `code`,
//! `field`, `value`, `allowed`, `message` and `hint`, as those of the kernel have.

use barewafer_course::{CourseError, Owner};
use serde::Serialize;
use wasm_bindgen::prelude::{JsValue, wasm_bindgen};

use crate::outgoing::{small_to_js, thrown};

/// The exercises there are: a list of `{ id, title, bench, kind, aim, minutes }`.
///
/// # Errors
/// An error object if the exercise file is broken.
#[wasm_bindgen]
pub fn exercises() -> Result<JsValue, JsValue> {
    answer(barewafer_course::exercises())
}

/// An exercise with the numbers of one student (see `ExerciseView` of crate `course`).
///
/// # Errors
/// An error object for an unknown exercise or an unusable code or student.
#[wasm_bindgen]
pub fn exercise(
    id: &str,
    code: &str,
    student: &str,
    set: u32,
) -> Result<JsValue, JsValue> {
    let student = &composed(student);
    answer(barewafer_course::exercise_view(id, Owner { code, student, set }))
}

/// Marks what was typed as an answer (see `Verdict` of crate `course`).
///
/// `try_number` counts from 1 with these numbers; `confirmed` says that an implausible answer
/// is meant, and may be left out.
///
/// # Errors
/// As [`exercise`], and for a try that does not exist. Nothing typed as an answer is an error.
#[wasm_bindgen(js_name = checkAnswer)]
pub fn check_answer(
    id: &str,
    code: &str,
    student: &str,
    set: u32,
    text: &str,
    try_number: u32,
    confirmed: Option<bool>,
) -> Result<JsValue, JsValue> {
    let student = &composed(student);
    let owner = Owner { code, student, set };
    answer(barewafer_course::check(
        id,
        owner,
        text,
        try_number,
        confirmed.unwrap_or(false),
    ))
}

/// A name in Unicode form NFC and lower case, by the browser's own means (see
/// `course::identity`).
fn composed(name: &str) -> String {
    js_sys::JsString::from(name).normalize("NFC").to_lower_case().into()
}

fn answer<T: Serialize>(result: Result<T, CourseError>) -> Result<JsValue, JsValue> {
    match result {
        Ok(value) => small_to_js(&value),
        Err(error) => Err(thrown(&error.to_request_error())),
    }
}
