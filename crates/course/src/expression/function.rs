//! The functions a formula may use.

use barewafer_process::num;

use super::{ExpressionError, finite};

/// A function of the exercise formulas.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Function {
    /// `sqrt(x)`.
    Sqrt,
    /// `exp(x)`.
    Exp,
    /// `ln(x)`, the natural logarithm.
    Ln,
    /// `log10(x)`, the logarithm to base ten.
    Log10,
    /// `erfc(x)`, the complementary error function.
    Erfc,
    /// `erfcinv(y)`, its inverse, for y from 1e-300 to below 2.
    Erfcinv,
    /// `abs(x)`.
    Abs,
    /// `min(x, y)`.
    Min,
    /// `max(x, y)`.
    Max,
    /// `round(x, n)` to n decimal places, n from -15 to 15.
    Round,
    /// `if(c, a, b)`: `a` where c is not zero, else `b`.
    If,
}

impl Function {
    /// All functions.
    pub const ALL: &'static [Self] = &[
        Self::Sqrt,
        Self::Exp,
        Self::Ln,
        Self::Log10,
        Self::Erfc,
        Self::Erfcinv,
        Self::Abs,
        Self::Min,
        Self::Max,
        Self::Round,
        Self::If,
    ];

    /// The name in a formula.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Sqrt => "sqrt",
            Self::Exp => "exp",
            Self::Ln => "ln",
            Self::Log10 => "log10",
            Self::Erfc => "erfc",
            Self::Erfcinv => "erfcinv",
            Self::Abs => "abs",
            Self::Min => "min",
            Self::Max => "max",
            Self::Round => "round",
            Self::If => "if",
        }
    }

    /// How many arguments it takes.
    #[must_use]
    pub const fn arguments(self) -> usize {
        match self {
            Self::Min | Self::Max | Self::Round => 2,
            Self::If => 3,
            _ => 1,
        }
    }

    pub(super) fn wrong_count(self, given: usize) -> ExpressionError {
        ExpressionError::Arguments { name: self.name(), wanted: self.arguments(), given }
    }

    pub(super) fn apply(self, values: &[f64]) -> Result<f64, ExpressionError> {
        let name = self.name();
        match (self, values) {
            (Self::Sqrt, [x]) => finite(x.sqrt(), name),
            (Self::Exp, [x]) => finite(num::exp(*x), name),
            (Self::Ln, [x]) => finite(num::ln(*x), name),
            (Self::Log10, [x]) => finite(num::log10(*x), name),
            (Self::Erfc, [x]) => finite(num::erfc(*x), name),
            (Self::Erfcinv, [y]) => {
                erfcinv(*y).ok_or(ExpressionError::NoValue { operation: name })
            }
            (Self::Abs, [x]) => Ok(x.abs()),
            (Self::Min, [x, y]) => Ok(x.min(*y)),
            (Self::Max, [x, y]) => Ok(x.max(*y)),
            (Self::Round, [x, places]) => {
                round(*x, *places).ok_or(ExpressionError::NoValue { operation: name })
            }
            (_, other) => Err(self.wrong_count(other.len())),
        }
    }
}

/// The `x` with `erfc(x) = y`, to the last bits, for `1e-300 <= y < 2`.
///
/// Newton's method on `ln erfc(x) - ln y`. `ln erfc` is concave and falls, and
/// `erfc(x) <= exp(-x^2)` puts `sqrt(-ln y)` right of the root: from there every step stays
/// right of the root and comes closer, so that the method cannot fail (derived).
fn erfcinv(y: f64) -> Option<f64> {
    if !(1e-300..2.0).contains(&y) {
        return None;
    }
    if 1.0 < y {
        return erfcinv(2.0 - y).map(|x| -x);
    }
    let wanted = num::ln(y);
    let mut x = (-wanted).max(0.0).sqrt();
    for _ in 0..100 {
        let here = num::erfc(x);
        let slope = -core::f64::consts::FRAC_2_SQRT_PI * num::exp(-x * x) / here;
        // Near y = 1 the logarithm of the ratio keeps the digits that a difference loses.
        let step = num::log1p((here - y) / y) / slope;
        let next = (x - step).max(0.0);
        if x <= next {
            break;
        }
        x = next;
    }
    Some(x)
}

/// `x` to `places` decimal places, half to even on the exact binary value, as printing does.
fn round(x: f64, places: f64) -> Option<f64> {
    if !(places.abs() <= 15.0 && 0.0 == (places - places.floor()).abs()) {
        return None;
    }
    if 0.0 <= places {
        return format!("{x:.*}", num::to_count(places)).parse().ok();
    }
    let unit = num::pow(10.0, -places);
    let scaled: f64 = format!("{:.0}", x / unit).parse().ok()?;
    Some(scaled * unit)
}
