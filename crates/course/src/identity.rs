//! One person is one person, however the name is typed: identifiers in one spelling.

use unicode_normalization::char::{
    canonical_combining_class, compose, decompose_canonical,
};

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
    Ok(nfc(checked("student", text)?).to_lowercase())
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

/// The text in Unicode form NFC (Unicode Standard Annex 15): decomposed, marks in canonical
/// order, composed again.
///
/// The crate's own iterator does the same, but brings the tables of the compatibility forms
/// along: 64 kB of compressed wasm instead of 33 (measured). A test holds that both agree for
/// every character.
fn nfc(text: &str) -> String {
    let mut letters: Vec<(u8, char)> = Vec::new();
    for c in text.chars() {
        decompose_canonical(c, |part| {
            letters.push((canonical_combining_class(part), part))
        });
    }
    for marks in letters.chunk_by_mut(|before, after| before.0 != 0 && after.0 != 0) {
        marks.sort_by_key(|(class, _)| *class);
    }
    let mut text = String::new();
    let mut base: Option<char> = None;
    // Marks that did not melt into the base, with the class of the last.
    let mut marks = String::new();
    let mut last_class = 0;
    for (class, c) in letters {
        let is_blocked = !marks.is_empty() && class <= last_class;
        if let Some(whole) = base.filter(|_| !is_blocked).and_then(|b| compose(b, c)) {
            base = Some(whole);
        } else if class == 0 {
            text.extend(base.replace(c));
            text.push_str(&marks);
            marks.clear();
        } else {
            marks.push(c);
            last_class = class;
        }
    }
    text.extend(base);
    text.push_str(&marks);
    text
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use unicode_normalization::UnicodeNormalization;

    use super::*;

    #[test]
    fn a_name_has_one_spelling() {
        for typed in ["  Zoë Müller ", "ZOË MÜLLER", "Zoe\u{308} Mu\u{308}ller\t"] {
            assert_eq!(student(typed).unwrap(), "zoë müller");
        }
        assert_ne!(student("zoe muller").unwrap(), "zoë müller");
        // Two marks in either order; a mark that is blocked; Hangul; the angstrom sign.
        assert_eq!(nfc("a\u{323}\u{302}"), nfc("a\u{302}\u{323}"));
        assert_eq!(nfc("a\u{302}\u{323}"), "\u{1ead}");
        assert_eq!(nfc("\u{1112}\u{1161}\u{11ab}"), "\u{d55c}");
        assert_eq!(nfc("\u{212b}"), "å".to_uppercase());
        assert_eq!(nfc("\u{301}e\u{301}"), "\u{301}é");
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

    #[test]
    fn every_character_composes_as_in_the_crate() {
        for c in '\0'..=char::MAX {
            for text in
                [c.to_string(), format!("e{c}\u{323}"), format!("{c}\u{301}\u{327}")]
            {
                assert_eq!(nfc(&text), text.nfc().collect::<String>(), "{c:?}");
                let apart: String = text.nfd().collect();
                assert_eq!(nfc(&apart), text.nfc().collect::<String>(), "{c:?} apart");
            }
        }
    }

    proptest! {
        #[test]
        fn every_text_composes_as_in_the_crate(
            text in "([a-zA-Zé]|[\u{300}-\u{345}]|[\u{1100}-\u{11ff}]|[\u{ac00}-\u{ac20}]|\\PC){0,20}"
        ) {
            prop_assert_eq!(nfc(&text), text.nfc().collect::<String>());
        }
    }
}
