//! What is told to a person whose request cannot be run.

use crate::bound::Bound;

/// A request that cannot be run: which field, which value, what is allowed, what to do.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, thiserror::Error)]
#[error("{message}; {hint}")]
#[non_exhaustive]
pub struct RequestError {
    /// What is wrong, as a name in snake case (`out_of_range`, `unknown_field`, ...).
    pub code: &'static str,
    /// The field, as a path (`segments[1].temperature_c`), or empty for the whole request.
    pub field: String,
    /// The value that was given, as text, cut after 60 characters.
    pub value: String,
    /// What is allowed, with its unit.
    pub allowed: String,
    /// What is wrong, in words, with value, unit and allowed range.
    pub message: String,
    /// What to do about it, in the imperative.
    pub hint: String,
}

impl RequestError {
    /// Builds an error from its parts; `value` is cut to a readable length on one line.
    #[must_use]
    pub fn new(
        code: &'static str,
        field: &str,
        value: &str,
        allowed: &str,
        message: &str,
        hint: &str,
    ) -> Self {
        Self {
            code,
            field: one_line(field),
            value: one_line(value),
            allowed: allowed.to_owned(),
            message: readable(message),
            hint: readable(hint),
        }
    }

    /// A number outside its bound.
    #[must_use]
    pub fn out_of_range(field: &str, bound: &Bound, value: f64) -> Self {
        let allowed = bound.allowed();
        let unit = bound.unit_with_space();
        let label = bound.label.to_ascii_lowercase();
        Self::new(
            "out_of_range",
            field,
            &value.to_string(),
            &allowed,
            &format!("{field}: {label} of {value}{unit} is outside {allowed}"),
            &format!("set {field} within {allowed}"),
        )
    }

    /// A field that the chosen setting needs and that was not given.
    #[must_use]
    pub fn missing(field: &str, allowed: &str, hint: &str) -> Self {
        Self::new(
            "missing_field",
            field,
            "",
            allowed,
            &format!("{field} is missing (allowed: {allowed})"),
            hint,
        )
    }

    /// Fields that contradict each other or a setting that a model cannot answer.
    #[must_use]
    pub fn conflict(
        field: &str,
        value: &str,
        allowed: &str,
        message: &str,
        hint: &str,
    ) -> Self {
        Self::new("conflict", field, value, allowed, message, hint)
    }

    /// Puts a path in front of the field (`start` + `dopant` = `start.dopant`).
    #[must_use]
    pub fn inside(mut self, parent: &str) -> Self {
        let path = if self.field.is_empty() {
            parent.to_owned()
        } else {
            format!("{parent}.{}", self.field)
        };
        if !self.field.is_empty() && self.message.starts_with(&self.field) {
            self.message = format!("{path}{}", &self.message[self.field.len()..]);
        } else {
            self.message = format!("{path}: {}", self.message);
        }
        self.field = path;
        self
    }
}

/// A sentence on one line: a request's control characters are blanked, and a field name of a
/// million letters is not repeated in full.
fn readable(text: &str) -> String {
    text.chars().take(1000).map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// The text on one line, cut after 60 characters.
pub(crate) fn one_line(text: &str) -> String {
    let clean: String =
        text.chars().take(61).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if clean.chars().count() > 60 {
        let short: String = clean.chars().take(59).collect();
        format!("{short}…")
    } else {
        clean
    }
}
