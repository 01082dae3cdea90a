//! Numbers as a person reads them in a figure.

use barewafer_process::num::{log10, pow, to_count};

/// The whole number as raised digits: `-3` becomes `⁻³`.
#[must_use]
pub fn superscript(value: i32) -> String {
    value
        .to_string()
        .chars()
        .map(|c| match c {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            '4' => '⁴',
            '5' => '⁵',
            '6' => '⁶',
            '7' => '⁷',
            '8' => '⁸',
            '9' => '⁹',
            _ => '⁰',
        })
        .collect()
}

/// `10ⁿ`.
#[must_use]
pub fn power_of_ten(exponent: i32) -> String {
    format!("10{}", superscript(exponent))
}

/// A number with three significant digits: `512`, `1.25`, `0.0421`, `3.02×10²⁰`.
#[must_use]
pub fn three(value: f64) -> String {
    digits(value, 3)
}

/// A number as it was typed: three significant digits, no zeros behind the point.
#[must_use]
pub fn short(value: f64) -> String {
    let text = three(value);
    if text.contains('.') && !text.contains('×') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A number with the given count of significant digits.
#[must_use]
pub fn digits(value: f64, count: i32) -> String {
    if !value.is_finite() {
        return "no value".to_owned();
    }
    if value == 0.0 {
        return "0".to_owned();
    }
    let rounded = round_to(value, count);
    let exponent = exponent_of(rounded);
    if (-3..5).contains(&exponent) {
        let places = to_count(f64::from((count - 1 - exponent).max(0)));
        minus(&format!("{rounded:.places$}"))
    } else {
        let places = to_count(f64::from(count - 1));
        let mantissa = rounded / pow(10.0, f64::from(exponent));
        let text = format!("{mantissa:.places$}");
        let text = text.trim_end_matches('0').trim_end_matches('.').to_owned();
        minus(&format!("{text}×10{}", superscript(exponent)))
    }
}

/// A tick of a linear axis with as many places as its step needs.
#[must_use]
pub fn tick(value: f64, step: f64) -> String {
    let size = value.abs().max(step);
    if 1e6 <= size || step < 1e-4 {
        return if value.abs() < step * 1e-6 { "0".to_owned() } else { digits(value, 2) };
    }
    // A step of 0.25 needs two places, one of 0.2 needs one.
    let places = (0..6)
        .find(|&places| {
            let scaled = step * pow(10.0, f64::from(places));
            (scaled - scaled.round()).abs() < 1e-6 * scaled
        })
        .unwrap_or(6);
    let text = format!("{:.1$}", value, to_count(f64::from(places)));
    let text = if text.trim_matches(['-', '0', '.']).is_empty() {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    };
    minus(&grouped(&text))
}

/// The value rounded to the given count of significant digits.
#[must_use]
pub fn round_to(value: f64, count: i32) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let shift = count - 1 - exponent_of(value);
    // Dividing by a whole power of ten keeps 0.3 at 0.3; multiplying by 0.1 would not.
    if shift < 0 {
        let factor = pow(10.0, f64::from(-shift));
        (value / factor).round() * factor
    } else {
        let factor = pow(10.0, f64::from(shift));
        (value * factor).round() / factor
    }
}

/// The exponent of the decade the value lies in; 0 for 0.
#[must_use]
pub fn exponent_of(value: f64) -> i32 {
    if value == 0.0 || !value.is_finite() {
        return 0;
    }
    let exponent = floor_to_i32(log10(value.abs()));
    // log10 of a power of ten may fall a last bit short of the whole number.
    if pow(10.0, f64::from(exponent + 1)) <= value.abs() * (1.0 + 1e-12) {
        exponent + 1
    } else {
        exponent
    }
}

/// The floor as a whole number, saturating.
#[must_use]
#[expect(clippy::cast_possible_truncation, reason = "clamped to ±1e6 first")]
pub fn floor_to_i32(value: f64) -> i32 {
    value.floor().clamp(-1e6, 1e6) as i32
}

/// Thin spaces between groups of three from five digits on.
fn grouped(text: &str) -> String {
    let (sign, rest) = text.strip_prefix('-').map_or(("", text), |rest| ("-", rest));
    let (whole, fraction) = rest.split_once('.').unwrap_or((rest, ""));
    if whole.len() < 5 {
        return text.to_owned();
    }
    let mut out = String::from(sign);
    for (i, c) in whole.chars().enumerate() {
        if 0 < i && (whole.len() - i) % 3 == 0 {
            out.push('\u{202f}');
        }
        out.push(c);
    }
    if !fraction.is_empty() {
        out.push('.');
        out.push_str(fraction);
    }
    out
}

/// A true minus sign.
fn minus(text: &str) -> String {
    text.replace('-', "\u{2212}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_as_a_person_writes_them() {
        let cases = [
            (512.34, "512"),
            (1.25, "1.25"),
            (0.042_14, "0.0421"),
            (3.02e20, "3.02×10²⁰"),
            (1e15, "1×10¹⁵"),
            (999.9, "1000"),
            (-2.5, "\u{2212}2.50"),
            (0.0, "0"),
            (4.0e-7, "4×10⁻⁷"),
        ];
        for (value, text) in cases {
            assert_eq!(three(value), text, "{value}");
        }
        assert_eq!(three(f64::NAN), "no value");
    }

    #[test]
    fn decades_are_written_as_powers() {
        assert_eq!(power_of_ten(14), "10¹⁴");
        assert_eq!(power_of_ten(-20), "10⁻²⁰");
        for exponent in -30..30 {
            assert_eq!(exponent_of(pow(10.0, f64::from(exponent))), exponent);
        }
    }

    #[test]
    fn ticks_have_the_places_their_step_needs() {
        assert_eq!(tick(0.4, 0.2), "0.4");
        assert_eq!(tick(0.25, 0.25), "0.25");
        assert_eq!(tick(1000.0, 200.0), "1000");
        assert_eq!(tick(12_000.0, 2000.0), "12\u{202f}000");
        assert_eq!(tick(-0.0, 0.5), "0.0");
        assert_eq!(tick(0.3, 0.1), "0.3");
    }
}
