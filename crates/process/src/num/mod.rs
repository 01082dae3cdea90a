//! Numerical tools. All transcendental functions go through the `libm` crate, which gives the
//! same bits on every target; `f64::exp` and friends do not and are forbidden by a lint.

mod interpolation;
mod roots;
mod tridiagonal;

pub use interpolation::MonotoneCubic;
pub use libm::{
    acos, asin, asinh, atan, atan2, cbrt, cos, cosh, erf, erfc, exp, expm1, log as ln,
    log1p, log10, pow, sin, sinh, tan, tanh,
};
pub use roots::{NotBracketed, bisect};
pub use tridiagonal::solve_tridiagonal;

/// Writes a number for a person: four significant digits, powers of ten as `1.234e5`.
#[must_use]
pub fn show(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return value.to_string();
    }
    let size = value.abs();
    if (1e-3..1e5).contains(&size) {
        let digits = 3.0 - log10(size).floor();
        let places = if digits <= 0.0 { 0 } else { to_count(digits) };
        let text = format!("{value:.places$}");
        if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            text
        }
    } else {
        format!("{value:.3e}")
    }
}

/// A small non-negative whole number from a float, saturating.
#[must_use]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=1e6 first"
)]
pub fn to_count(value: f64) -> usize {
    value.clamp(0.0, 1e6) as usize
}

/// Puts values in increasing order; NaN comes last.
///
/// One function for all lists: the sorting code of the standard library is large, and every
/// place that names it brings a copy into the page.
#[inline(never)]
pub fn sort_increasing(values: &mut [f64]) {
    values.sort_unstable_by(f64::total_cmp);
}

/// The larger of two numbers, `b` where `a` is none: one instruction of every processor, where
/// the standard one calls a function in the browser.
#[inline(always)]
#[must_use]
pub fn larger(a: f64, b: f64) -> f64 {
    if b < a { a } else { b }
}

/// The smaller of two numbers, as [`larger`].
#[inline(always)]
#[must_use]
pub fn smaller(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// `n` values from `first` to `last`, both included, in equal steps.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "counts are far below 2^53")]
pub fn linspace(first: f64, last: f64, n: usize) -> Vec<f64> {
    let steps = n.saturating_sub(1).max(1) as f64;
    (0..n).map(|i| first + (last - first) * (i as f64) / steps).collect()
}

/// `n` values from `first` to `last`, both included, in equal ratios.
#[must_use]
pub fn logspace(first: f64, last: f64, n: usize) -> Vec<f64> {
    linspace(ln(first), ln(last), n).into_iter().map(exp).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_shown_with_four_digits() {
        let cases = [(0.0, "0"), (512.34, "512.3"), (1000.0, "1000"), (0.05, "0.05")];
        for (value, text) in cases {
            assert_eq!(show(value), text);
        }
        assert_eq!(show(1.234_56e-14), "1.235e-14");
        assert_eq!(show(20_480.0), "20480");
    }
}
