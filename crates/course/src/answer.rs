//! Reading what a person typed as an answer: a number, perhaps with a unit.
//!
//! Taken: `280`, `0.28 um`, `5.2e18`, `5,2*10^18`, `5.2 x 10^18 cm^-3`, `5.2×10¹⁸`,
//! `3 920 rpm`, `1,234.5`. Asked again, without a try: fewer than two significant digits, an
//! unknown unit, and `3,920`, which one reader takes for a thousand times another's number.

use crate::unit;

/// Longest answer that is read, in characters.
const MAX_CHARACTERS: usize = 80;

/// What was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The value in the unit asked.
    pub value: f64,
    /// Significant digits as written; zeros at the end of a whole number count.
    pub digits: usize,
}

/// Why an answer could not be read, in words for the person who typed it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Unreadable {
    /// Nothing was typed.
    #[error("Type a number, for example {example}.")]
    Empty {
        /// A number in the asked unit.
        example: String,
    },
    /// No number.
    #[error("This could not be read as a number. Write it like {example}.")]
    NotANumber {
        /// A number in the asked unit.
        example: String,
    },
    /// A comma that may stand for thousands or for decimals.
    #[error(
        "Is the comma in {text} a decimal comma or a separator of thousands? Write {decimal} or {thousands}."
    )]
    AmbiguousComma {
        /// As typed.
        text: String,
        /// Read as a decimal comma.
        decimal: String,
        /// Read as a separator.
        thousands: String,
    },
    /// A unit that is not known or measures something else.
    #[error(
        "The unit {unit} does not fit here. Use one of these: {accepted}; or none, which means {asked}."
    )]
    Unit {
        /// As typed.
        unit: String,
        /// What may be typed.
        accepted: String,
        /// The asked unit.
        asked: String,
    },
    /// Too few digits to tell right from wrong.
    #[error("Give at least two digits, for example {example}.")]
    TooFewDigits {
        /// A number with enough digits.
        example: &'static str,
    },
}

/// Reads an answer in the unit `asked` (spelled as in the exercise file).
///
/// # Errors
/// [`Unreadable`]; no try is lost by it.
pub fn read_answer(text: &str, asked: &str) -> Result<Reading, Unreadable> {
    let example = || match asked {
        "cm^-3" | "cm^-2" => format!("2.5e15 or 2.5 × 10¹⁵ {}", unit::printed(asked)),
        _ => format!("12.5 {}", unit::printed(asked)),
    };
    let not_a_number = || Unreadable::NotANumber { example: example() };
    if MAX_CHARACTERS < text.chars().count() {
        return Err(not_a_number());
    }
    let text = in_plain_characters(text);
    if text.is_empty() {
        return Err(Unreadable::Empty { example: example() });
    }
    let written = Written::split(&text).ok_or_else(not_a_number)?;
    let mantissa = plain_decimal(written.mantissa, written.exponent.is_some())
        .map_err(|comma| comma.unwrap_or_else(not_a_number))?;
    let exponent = written.exponent.unwrap_or_default();
    let sign = if written.negative { "-" } else { "" };
    let number: f64 =
        format!("{sign}{mantissa}e{exponent}").parse().map_err(|_| not_a_number())?;
    let factor = unit::factor(written.unit, asked).ok_or_else(|| Unreadable::Unit {
        unit: written.unit.to_owned(),
        accepted: unit::accepted(asked).join(", "),
        asked: unit::printed(asked).to_owned(),
    })?;
    let value = number * factor;
    if !value.is_finite() {
        return Err(not_a_number());
    }
    let digits = significant_digits(&mantissa);
    if digits < 2 {
        let example = if written.exponent.is_some() { "2.0e15" } else { "4.0" };
        return Err(Unreadable::TooFewDigits { example });
    }
    Ok(Reading { value, digits })
}

/// One spelling of each sign: `-`, `x`, `^` for raised digits, plain spaces; `=` and `≈`
/// before the number are dropped.
fn in_plain_characters(text: &str) -> String {
    const RAISED: &str = "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻";
    const LEVEL: &str = "0123456789+-";
    let mut plain = String::with_capacity(text.len());
    let mut raised = false;
    for c in text.chars() {
        let level = RAISED.chars().zip(LEVEL.chars()).find(|(up, _)| *up == c);
        if let Some((_, level)) = level {
            if !raised {
                plain.push('^');
            }
            plain.push(level);
        } else {
            plain.push(match c {
                '−' | '–' | '‐' | '‑' => '-',
                '×' | '·' | '⋅' | '∙' | '*' | '✕' => 'x',
                c if c.is_whitespace() => ' ',
                other => other,
            });
        }
        raised = level.is_some();
    }
    plain.trim().trim_start_matches(['=', '≈', '~']).trim().to_owned()
}

/// The parts of an answer.
struct Written<'a> {
    negative: bool,
    /// Digits with the separators as typed.
    mantissa: &'a str,
    exponent: Option<i32>,
    unit: &'a str,
}

impl<'a> Written<'a> {
    fn split(text: &'a str) -> Option<Self> {
        let (negative, rest) = match text.strip_prefix('-') {
            Some(rest) => (true, rest.trim_start()),
            None => (false, text.strip_prefix('+').unwrap_or(text).trim_start()),
        };
        let end = rest
            .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | ' ')))
            .unwrap_or(rest.len());
        let (mantissa, after) = rest.split_at_checked(end)?;
        let mantissa = mantissa.trim();
        if let Some(raised) = after.strip_prefix('^') {
            // `10^15` and `5.2 10^15`: the ten was taken as digits.
            let number = mantissa.strip_suffix("10")?;
            let mantissa = match number.trim_end() {
                "" => "1",
                shorter if shorter.len() < number.len() => shorter,
                _ => return None,
            };
            let (power, unit) = leading_integer(raised)?;
            return Some(Self {
                negative,
                mantissa,
                exponent: Some(power),
                unit: unit.trim(),
            });
        }
        let (exponent, unit) = exponent(after)?;
        let unit = unit.trim();
        // A number alone or a unit that starts with a digit (`1/cm3`) was taken as digits.
        let (mantissa, unit) = match (unit.strip_prefix('/'), mantissa.strip_suffix(" 1"))
        {
            (Some(_), Some(number)) if exponent.is_none() => (number.trim(), unit),
            _ => (mantissa, unit),
        };
        Some(Self { negative, mantissa, exponent, unit })
    }
}

/// Reads `e18`, `x 10^18`, `x 10**18` or nothing, and gives what follows.
fn exponent(after: &str) -> Option<(Option<i32>, &str)> {
    let short = after.strip_prefix(['e', 'E']).and_then(leading_integer);
    if let Some((power, unit)) = short {
        return Some((Some(power), unit));
    }
    let Some(factor) = after.strip_prefix(['x', 'X']) else { return Some((None, after)) };
    let ten = factor.trim_start().strip_prefix("10")?;
    let raised = ten.trim_start();
    let raised = raised.strip_prefix("xx").or_else(|| raised.strip_prefix('^'))?;
    let raised = raised.trim_start();
    let (power, unit) = match raised.strip_prefix('(') {
        Some(inner) => {
            let (power, rest) = leading_integer(inner)?;
            (power, rest.trim_start().strip_prefix(')')?)
        }
        None => leading_integer(raised)?,
    };
    Some((Some(power), unit))
}

/// A signed whole number of at most three digits at the start.
fn leading_integer(text: &str) -> Option<(i32, &str)> {
    let text = text.trim_start();
    let sign = usize::from(text.starts_with(['+', '-']));
    let digits = text.bytes().skip(sign).take_while(u8::is_ascii_digit).count();
    if !(1..=3).contains(&digits) {
        return None;
    }
    let (number, rest) = text.split_at_checked(sign + digits)?;
    Some((number.parse().ok()?, rest))
}

/// The mantissa with a decimal point and without separators of thousands.
///
/// The error is `None` if it is no number, or the question about an ambiguous comma.
fn plain_decimal(
    mantissa: &str,
    has_exponent: bool,
) -> Result<String, Option<Unreadable>> {
    let (whole, fraction, separator) = match (mantissa.rfind(','), mantissa.rfind('.')) {
        (Some(comma), Some(point)) if comma < point => split_at(mantissa, point, ','),
        (Some(comma), Some(_)) => split_at(mantissa, comma, '.'),
        (None, Some(point)) if mantissa.matches('.').count() == 1 => {
            split_at(mantissa, point, ' ')
        }
        (Some(comma), None) if mantissa.matches(',').count() == 1 => {
            let (whole, fraction, _) = split_at(mantissa, comma, ' ');
            let like_thousands = fraction.len() == 3
                && (1..=3).contains(&whole.len())
                && !whole.starts_with('0');
            if like_thousands && !has_exponent && is_digits(whole) && is_digits(fraction)
            {
                return Err(Some(Unreadable::AmbiguousComma {
                    text: mantissa.to_owned(),
                    decimal: format!("{whole}.{fraction}"),
                    thousands: format!("{whole}{fraction}"),
                }));
            }
            (whole, fraction, ' ')
        }
        (Some(_), None) => (mantissa, "", ','),
        (None, Some(_)) => (mantissa, "", '.'),
        (None, None) => (mantissa, "", ' '),
    };
    let whole = without_groups(whole, separator).ok_or(None)?;
    let good = is_digits(&whole) || (whole.is_empty() && !fraction.is_empty());
    if !good || !(fraction.is_empty() || is_digits(fraction)) {
        return Err(None);
    }
    Ok(format!("{whole}.{fraction}").trim_end_matches('.').to_owned())
}

fn split_at(text: &str, at: usize, separator: char) -> (&str, &str, char) {
    let (whole, rest) = text.split_at_checked(at).unwrap_or((text, ""));
    (whole, rest.get(1..).unwrap_or_default(), separator)
}

/// Takes out separators of thousands; every group but the first must have three digits.
fn without_groups(whole: &str, separator: char) -> Option<String> {
    let mut groups = whole.split(separator);
    let mut digits = groups.next()?.to_owned();
    let first = digits.len();
    for group in groups {
        if group.len() != 3 || !(1..=3).contains(&first) {
            return None;
        }
        digits.push_str(group);
    }
    Some(digits)
}

fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

fn significant_digits(mantissa: &str) -> usize {
    let digits: String = mantissa.chars().filter(char::is_ascii_digit).collect();
    digits.trim_start_matches('0').len()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[track_caller]
    fn check(text: &str, asked: &str, expected: f64) {
        let found =
            read_answer(text, asked).unwrap_or_else(|why| panic!("{text}: {why}"));
        assert!(
            (found.value - expected).abs() <= 1e-14 * expected.abs(),
            "{text}: {}",
            found.value
        );
    }

    #[test]
    fn numbers_are_read_as_people_write_them() {
        for text in [
            "280",
            "280 nm",
            "280nm",
            " 280.0 ",
            "0.28 um",
            "0,28 µm",
            "2.8e2",
            "2.8E+2 nm",
            "2.8 x 10^2",
            "2,8*10^2nm",
            "28e-5 mm",
            "= 280",
            "≈280 nm",
            "+280",
            "2800 Å",
            "0.000280 mm",
            ".28um",
            "2.8·10² nm",
            "2.8×10^(2)",
            "2.8*10**2",
        ] {
            check(text, "nm", 280.0);
        }
        for text in [
            "5.2e18",
            "5,2*10^18",
            "5.2 x 10^18 cm^-3",
            "5.2×10¹⁸ cm⁻³",
            "5.2e18cm-3",
            "5.2e+18 /cm3",
            "5.2E18 1/cm^3",
            "5.2e24 m^-3",
            "5.2e18 atoms/cm3",
            "52e17 per cm³",
            "5.2 X 10 ^ 18",
            "5,200e18",
            "5.2 10^18",
            "5.2 10¹⁸",
        ] {
            check(text, "cm^-3", 5.2e18);
        }
        for text in [
            "3920",
            "3920 rpm",
            "3 920 rpm",
            "3\u{202f}920",
            "3.92 krpm",
            "3,920.0 rpm",
            "3.920,0",
        ] {
            check(text, "rpm", 3920.0);
        }
        check("1,234,567", "nm", 1_234_567.0);
        check("0,280", "um", 0.28);
        check("−12.5", "um", -12.5);
    }

    #[test]
    fn few_digits_are_asked_again() {
        for text in
            ["5", "0.5", "5e18", "0,004", "0", "0.0", "1 x 10^15", "10^15", "3 um"]
        {
            assert!(
                matches!(read_answer(text, "um"), Err(Unreadable::TooFewDigits { .. })),
                "{text}"
            );
        }
        for (text, digits) in [("4.0", 2), ("0.0280", 3), ("300", 3), ("1.0e15", 2)] {
            assert_eq!(read_answer(text, "um").unwrap().digits, digits);
        }
    }

    #[test]
    fn an_ambiguous_comma_is_asked_about() {
        let asked = read_answer("3,920 rpm", "rpm").unwrap_err();
        assert!(matches!(asked, Unreadable::AmbiguousComma { .. }));
        let text = asked.to_string();
        assert!(text.contains("3.920") && text.contains("3920"), "{text}");
    }

    #[test]
    fn what_is_no_answer_is_refused_in_words() {
        for text in [
            "",
            "   ",
            "nm",
            "about 280",
            "1/2",
            "2..8",
            "2,8,1",
            "1 2",
            "12 34",
            "1.2.3",
            "5.2 x 18",
            "5.2x10",
            "5.2 x 10^",
            "5e9999",
            "280 furlong",
            "280 cm^-3",
            "--5.0",
            "5.210^18",
            "1e400",
            "99e307 m",
            "5.2e18e3",
            "NaN",
            "inf",
            "2.8 nm nm",
        ] {
            let why = read_answer(text, "nm").unwrap_err().to_string();
            assert!(why.ends_with('.') && !why.contains('\n'), "{text}: {why}");
        }
        assert!(read_answer(&"1".repeat(81), "nm").is_err());
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "\\PC{0,90}") {
            let _ = read_answer(&text, "nm");
        }

        #[test]
        fn no_text_of_its_own_alphabet_makes_it_panic(
            text in "([0-9]|\\.|,|-|\\+|e|x|\\*|10\\^|×| |¹|⁻|³|/|cm|µ|nm|\\(|\\)){0,30}"
        ) {
            if let Ok(reading) = read_answer(&text, "cm^-3") {
                prop_assert!(reading.value.is_finite() && 2 <= reading.digits);
            }
        }

        #[test]
        fn what_we_print_is_read_back(value in 1e-6..1e25_f64, digits in 2..6_usize) {
            let text = crate::print::significant(value, digits);
            let read = read_answer(&text, "nm").unwrap().value;
            prop_assert!((read - value).abs() <= 0.51 * value * barewafer_process::num::pow(10.0, 1.0 - digits as f64));
        }
    }
}
