//! Numbers as a textbook prints them, and templates with `{name}` in them.

/// A drawn value as it stands in the list: `0.0371`, `1025`, `5 × 10¹⁴`, never `5e14`.
#[must_use]
pub fn plain(value: f64) -> String {
    if is_ordinary(value) {
        value.to_string()
    } else {
        power_of_ten(&format!("{value:e}"))
    }
}

/// A computed value with so many significant digits: `280`, `3.44`, `5.25 × 10¹⁸`.
#[must_use]
pub fn significant(value: f64, digits: usize) -> String {
    let digits = digits.clamp(1, 15);
    let scientific = format!("{value:.*e}", digits - 1);
    // Rounding comes first: 99999.6 with five digits is 100000 and leaves the plain range.
    let Ok(rounded) = scientific.parse::<f64>() else { return scientific };
    if !is_ordinary(rounded) {
        return power_of_ten(&scientific);
    }
    if rounded.abs() <= 0.0 {
        return "0".to_owned();
    }
    // The decade is read off the text: a logarithm of 1000 may come out just below 3.
    let decade = scientific.split_once('e').and_then(|(_, e)| e.parse::<i64>().ok());
    let places = i64::try_from(digits).unwrap_or(15) - 1 - decade.unwrap_or(0);
    format!("{rounded:.*}", usize::try_from(places).unwrap_or(0))
}

/// Between a thousandth and a hundred thousand, where people write digits only.
fn is_ordinary(value: f64) -> bool {
    let size = value.abs();
    size <= 0.0 || (1e-3..1e5).contains(&size) || !value.is_finite()
}

fn power_of_ten(scientific: &str) -> String {
    let Some((mantissa, exponent)) = scientific.split_once('e') else {
        return scientific.to_owned();
    };
    let raised: String = exponent.chars().map(superscript).collect();
    format!("{mantissa} × 10{raised}")
}

const fn superscript(c: char) -> char {
    match c {
        '-' => '⁻',
        '0' => '⁰',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        '4' => '⁴',
        '5' => '⁵',
        '6' => '⁶',
        '7' => '⁷',
        '8' => '⁸',
        '9' => '⁹',
        other => other,
    }
}

/// Puts values for `{name}` into a template.
///
/// # Errors
/// The name that `value_of` does not know, or the template itself if a brace stays open.
pub fn fill(
    template: &str,
    value_of: &dyn Fn(&str) -> Option<String>,
) -> Result<String, String> {
    let mut text = String::with_capacity(template.len());
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        let (name, after) = after.split_once('}').ok_or_else(|| template.to_owned())?;
        text.push_str(before);
        text.push_str(&value_of(name).ok_or_else(|| name.to_owned())?);
        rest = after;
    }
    text.push_str(rest);
    Ok(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drawn_values_are_printed_as_they_stand() {
        for (value, text) in [
            (1025.0, "1025"),
            (0.0371, "0.0371"),
            (1.2, "1.2"),
            (0.001, "0.001"),
            (5e14, "5 × 10¹⁴"),
            (1e16, "1 × 10¹⁶"),
            (2.5e-5, "2.5 × 10⁻⁵"),
            (0.0, "0"),
            (-40.0, "-40"),
        ] {
            assert_eq!(plain(value), text);
        }
    }

    #[test]
    fn computed_values_keep_their_digits() {
        for (value, digits, text) in [
            (279.98, 3, "280"),
            (3.44, 3, "3.44"),
            (4.0, 3, "4.00"),
            (3921.3, 3, "3920"),
            (5.249_24e18, 3, "5.25 × 10¹⁸"),
            (4.0e18, 3, "4.00 × 10¹⁸"),
            (99_999.6, 5, "1.0000 × 10⁵"),
            (0.123_45, 2, "0.12"),
            (9.999, 3, "10.0"),
            (1_248.15, 6, "1248.15"),
            (0.0, 3, "0"),
        ] {
            assert_eq!(significant(value, digits), text);
        }
    }

    #[test]
    fn templates_are_filled_or_refused() {
        let value = |name: &str| (name == "t_min").then(|| "50".to_owned());
        assert_eq!(fill("{t_min} min, {t_min}", &value).unwrap(), "50 min, 50");
        assert_eq!(fill("{x}", &value).unwrap_err(), "x");
        assert!(fill("{t_min", &value).is_err());
    }
}
