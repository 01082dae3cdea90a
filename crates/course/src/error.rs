//! What is told when an exercise cannot be shown or marked.

use barewafer_process::RequestError;

use crate::expression::ExpressionError;

/// Why an exercise could not be shown or marked.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CourseError {
    /// No exercise of this name.
    #[error("exercise: {id} is not known here (allowed: {allowed})")]
    UnknownExercise {
        /// The name given.
        id: String,
        /// The names there are.
        allowed: String,
    },
    /// A code or student's identifier that individual numbers cannot be drawn from.
    #[error("{field}: {problem} (allowed: {allowed})")]
    BadIdentifier {
        /// `code` or `student`.
        field: &'static str,
        /// What was given.
        value: String,
        /// What is wrong with it.
        problem: &'static str,
        /// What is allowed.
        allowed: &'static str,
    },
    /// A try that does not exist.
    #[error("try_number: {given} is outside 1 to {tries}")]
    BadTry {
        /// The number given.
        given: u32,
        /// Tries of the exercise.
        tries: u32,
    },
    /// A choice that does not exist.
    #[error("choice: {given} is outside 0 to {}", choices.saturating_sub(1))]
    UnknownChoice {
        /// The number given.
        given: usize,
        /// Choices of the question.
        choices: usize,
    },
    /// The conditions on the numbers of an exercise were never met.
    #[error("exercise {exercise}: no admissible numbers in {draws} draws")]
    NoDraw {
        /// The exercise.
        exercise: String,
        /// Draws made.
        draws: u32,
    },
    /// The exercise file contradicts itself.
    #[error("exercise file: {0}")]
    Data(String),
    /// A formula of an exercise has no value.
    #[error("exercise {exercise}: {source}")]
    Formula {
        /// The exercise.
        exercise: String,
        /// What is wrong.
        source: ExpressionError,
    },
    /// The kernel refused the request of an exercise.
    #[error("exercise {exercise}: {source}")]
    Kernel {
        /// The exercise.
        exercise: String,
        /// The kernel's answer.
        source: RequestError,
    },
}

impl CourseError {
    /// The same in the one shape in which every error reaches a person.
    #[must_use]
    pub fn to_request_error(&self) -> RequestError {
        let message = self.to_string();
        match self {
            Self::UnknownExercise { id, allowed } => RequestError::new(
                "unknown_exercise",
                "exercise",
                id,
                allowed,
                &message,
                "choose one of the exercises of the list",
            ),
            Self::BadIdentifier { field, value, allowed, .. } => RequestError::new(
                "bad_identifier",
                field,
                value,
                allowed,
                &message,
                "type it as your instructor gave it",
            ),
            Self::BadTry { given, tries } => RequestError::new(
                "out_of_range",
                "try_number",
                &given.to_string(),
                &format!("1 to {tries}"),
                &message,
                "start again with new numbers",
            ),
            Self::UnknownChoice { given, choices } => RequestError::new(
                "out_of_range",
                "choice",
                &given.to_string(),
                &format!("0 to {}", choices.saturating_sub(1)),
                &message,
                "choose one of the listed answers",
            ),
            Self::Kernel { source, .. } => RequestError::new(
                source.code,
                &source.field,
                &source.value,
                &source.allowed,
                &message,
                &source.hint,
            ),
            Self::NoDraw { .. } | Self::Data(_) | Self::Formula { .. } => {
                RequestError::new(
                    "exercise_broken",
                    "exercise",
                    "",
                    "",
                    &message,
                    "tell the maintainers of the lab which exercise and which code it was",
                )
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_error_names_its_field_on_one_line() {
        let formula = ExpressionError::UnknownName { name: "x".to_owned() };
        let kernel = RequestError::missing("time_min", "1 to 9 min", "add time_min");
        let cases = [
            (
                CourseError::UnknownExercise {
                    id: "nix".to_owned(),
                    allowed: "ox".to_owned(),
                },
                "exercise",
            ),
            (
                CourseError::BadIdentifier {
                    field: "student",
                    value: String::new(),
                    problem: "is empty",
                    allowed: "1 to 100 characters",
                },
                "student",
            ),
            (CourseError::BadTry { given: 9, tries: 3 }, "try_number"),
            (CourseError::NoDraw { exercise: "ox".to_owned(), draws: 9 }, "exercise"),
            (CourseError::Data("no hints".to_owned()), "exercise"),
            (
                CourseError::Formula { exercise: "ox".to_owned(), source: formula },
                "exercise",
            ),
            (
                CourseError::Kernel { exercise: "ox".to_owned(), source: kernel },
                "time_min",
            ),
        ];
        for (error, field) in cases {
            let told = error.to_request_error();
            assert_eq!(told.field, field);
            assert!(!told.message.is_empty() && !told.hint.is_empty());
            assert!(!told.to_string().contains('\n'));
        }
    }
}
