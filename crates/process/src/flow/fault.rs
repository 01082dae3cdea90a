//! Errors of a flow file, in words that name the step.

use crate::error::{RequestError, one_line};

/// An error inside a step: the field gets the path, the sentence begins with the step.
pub(super) fn in_step(error: RequestError, index: usize, id: &str) -> RequestError {
    let path = format!("steps[{index}].step");
    let field =
        if error.field.is_empty() { path } else { format!("{path}.{}", error.field) };
    let words = format!("step {} ({}), {}", index + 1, one_line(id), error.message);
    RequestError::new(
        error.code,
        &field,
        &error.value,
        &error.allowed,
        &words,
        &error.hint,
    )
}

/// Refuses a list that is too short or too long.
pub(super) fn too_many(
    field: &str,
    count: usize,
    least: usize,
    most: usize,
) -> Result<(), RequestError> {
    if (least..=most).contains(&count) {
        return Ok(());
    }
    let allowed = format!("{least} to {most} entries");
    Err(RequestError::new(
        "out_of_range",
        field,
        &format!("{count} entries"),
        &allowed,
        &format!("{field}: {count} entries are outside {least} to {most}"),
        if count < least {
            "add what is missing"
        } else {
            "leave the least important ones out"
        },
    ))
}

/// Refuses a name that is given twice.
pub(super) fn duplicate(field: &str, name: &str) -> RequestError {
    RequestError::conflict(
        field,
        name,
        "names that differ",
        &format!("{field}: {} is the name of another one already", one_line(name)),
        "give each a name of its own",
    )
}

/// Refuses a name that is empty or does not fit on a line.
pub(super) fn name(field: &str, given: &str) -> Result<(), RequestError> {
    let count = given.chars().count();
    if (1..=60).contains(&count) && !given.chars().any(char::is_control) {
        return Ok(());
    }
    Err(RequestError::new(
        "bad_name",
        field,
        given,
        "1 to 60 characters on one line",
        &format!(
            "{field}: {:?} is no name (allowed: 1 to 60 characters on one line)",
            one_line(given)
        ),
        "give it a short name",
    ))
}
