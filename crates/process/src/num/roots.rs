//! Root finding that always ends.

/// The function has the same sign at both ends of the interval.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("no sign change between {low} and {high}")]
pub struct NotBracketed {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// Returns `x` with `f(x) = 0` between `low` and `high`, to the last bit or so.
///
/// Bisection: 200 halvings at the most, no derivative, no failure inside a bracket.
///
/// # Errors
/// [`NotBracketed`] if `f` has the same sign at both ends or is not a number there.
pub fn bisect(f: impl Fn(f64) -> f64, low: f64, high: f64) -> Result<f64, NotBracketed> {
    let (mut a, mut b) = (low, high);
    let (fa, fb) = (f(a), f(b));
    if fa == 0.0 {
        return Ok(a);
    }
    if fb == 0.0 {
        return Ok(b);
    }
    let opposite = (fa < 0.0 && 0.0 < fb) || (fb < 0.0 && 0.0 < fa);
    if !opposite {
        return Err(NotBracketed { low, high });
    }
    for _ in 0..200 {
        let middle = 0.5 * (a + b);
        if middle <= a.min(b) || a.max(b) <= middle {
            break;
        }
        let value = f(middle);
        if value == 0.0 {
            return Ok(middle);
        }
        if (value < 0.0) == (fa < 0.0) {
            a = middle;
        } else {
            b = middle;
        }
    }
    Ok(0.5 * (a + b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_square_root_of_two() {
        let root = bisect(|x| x * x - 2.0, 0.0, 2.0).unwrap();
        assert!((root - 2.0_f64.sqrt()).abs() < 1e-15);
        assert!(bisect(|x| x * x + 1.0, 0.0, 2.0).is_err());
    }
}
