//! Exercises for the page: the course's answers, with its errors in the shape of all others.

use barewafer_course::{
    ExerciseSummary, ExerciseView, Owner, Verdict, WorkedTwin, check, exercise_view,
    exercises, worked_twin,
};
use barewafer_process::RequestError;

pub(crate) fn list() -> Result<Vec<ExerciseSummary>, RequestError> {
    exercises().map_err(|error| error.to_request_error())
}

pub(crate) fn view(id: &str, owner: Owner<'_>) -> Result<ExerciseView, RequestError> {
    exercise_view(id, owner).map_err(|error| error.to_request_error())
}

pub(crate) fn twin(id: &str, owner: Owner<'_>) -> Result<WorkedTwin, RequestError> {
    worked_twin(id, owner).map_err(|error| error.to_request_error())
}

pub(crate) fn verdict(
    id: &str,
    owner: Owner<'_>,
    text: &str,
    try_number: u32,
    confirmed: bool,
) -> Result<Verdict, RequestError> {
    check(id, owner, text, try_number, confirmed)
        .map_err(|error| error.to_request_error())
}
