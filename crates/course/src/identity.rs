//! One person is one person, however the name is typed: identifiers in one spelling.

use crate::error::CourseError;

/// Longest code and identifier in characters.
const MAX_IDENTIFIER: usize = 100;

/// The identifier of a student in the spelling from which numbers are drawn: trimmed,
/// Unicode form NFC, lower case.
///
/// # Errors
/// [`CourseError::BadIdentifier`] if nothing is left, it is too long, or has a `|` or a
/// control character.
pub fn student(text: &str) -> Result<String, CourseError> {
    Ok(one_spelling(checked("student", text)?))
}

/// The code of an assignment: trimmed, otherwise as the instructor gave it.
///
/// # Errors
/// As [`student`].
pub fn code(text: &str) -> Result<&str, CourseError> {
    checked("code", text)
}

fn checked<'a>(field: &'static str, text: &'a str) -> Result<&'a str, CourseError> {
    const ALLOWED: &str = "1 to 100 characters, without |";
    let trimmed = text.trim();
    let problem = if trimmed.is_empty() {
        "is empty"
    } else if MAX_IDENTIFIER < trimmed.chars().count() {
        "is too long"
    } else if trimmed.contains('|') || trimmed.chars().any(char::is_control) {
        // The bar joins the parts of the seed: two people could get one text.
        "has a character that is not allowed"
    } else {
        return Ok(trimmed);
    };
    Err(CourseError::BadIdentifier {
        field,
        value: trimmed.chars().take(60).collect(),
        problem,
        allowed: ALLOWED,
    })
}

/// The text in Unicode form NFC (Unicode Standard Annex 15), in lower case.
#[cfg(not(target_arch = "wasm32"))]
fn one_spelling(text: &str) -> String {
    use unicode_normalization::UnicodeNormalization;
    text.nfc().collect::<String>().to_lowercase()
}

/// In the browser the wasm surface has done both with the browser's own text functions: the
/// tables would be a tenth of what a visitor has to load.
#[cfg(target_arch = "wasm32")]
fn one_spelling(text: &str) -> String {
    text.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_has_one_spelling() {
        for typed in ["  Zoë Müller ", "ZOË MÜLLER", "Zoe\u{308} Mu\u{308}ller\t"] {
            assert_eq!(student(typed).unwrap(), "zoë müller");
        }
        assert_ne!(student("zoe muller").unwrap(), "zoë müller");
        // Two marks in either order; Hangul; the angstrom sign.
        assert_eq!(
            student("a\u{323}\u{302}").unwrap(),
            student("a\u{302}\u{323}").unwrap()
        );
        assert_eq!(student("a\u{302}\u{323}").unwrap(), "\u{1ead}");
        assert_eq!(student("\u{1112}\u{1161}\u{11ab}").unwrap(), "\u{d55c}");
        assert_eq!(student("\u{212b}").unwrap(), "å");
        assert_eq!(code(" TV-HW1 ").unwrap(), "TV-HW1");
    }

    #[test]
    fn unusable_identifiers_are_refused_by_name() {
        let long = "x".repeat(101);
        for text in ["", "  ", "a|b", "a\nb", long.as_str()] {
            for (error, field) in [
                (student(text).unwrap_err(), "student"),
                (code(text).unwrap_err(), "code"),
            ] {
                assert_eq!(error.to_request_error().field, field);
            }
        }
    }
}
