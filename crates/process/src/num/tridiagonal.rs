//! Tridiagonal linear systems.

/// Solves `lower[i] x[i-1] + diagonal[i] x[i] + upper[i] x[i+1] = right[i]` in place: `right`
/// becomes `x`. `scratch` needs the same length. `lower[0]` and `upper[n-1]` are not read.
///
/// Thomas's algorithm without pivoting: safe for the diagonally dominant matrices of implicit
/// diffusion (textbook standard).
pub fn solve_tridiagonal(
    lower: &[f64],
    diagonal: &[f64],
    upper: &[f64],
    right: &mut [f64],
    scratch: &mut [f64],
) {
    let n = right.len();
    debug_assert!(
        lower.len() == n && diagonal.len() == n && upper.len() == n && scratch.len() == n,
        "all bands must have the length of the unknown"
    );
    if n == 0 {
        return;
    }
    let mut pivot = diagonal[0];
    right[0] /= pivot;
    for i in 1..n {
        scratch[i] = upper[i - 1] / pivot;
        pivot = diagonal[i] - lower[i] * scratch[i];
        right[i] = (right[i] - lower[i] * right[i - 1]) / pivot;
    }
    for i in (0..n - 1).rev() {
        right[i] -= scratch[i + 1] * right[i + 1];
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gives_back_a_known_solution() {
        let (lower, diagonal, upper) =
            ([0.0, -1.0, -1.0], [2.0, 2.0, 2.0], [-1.0, -1.0, 0.0]);
        // x = (1, 2, 3): 2*1-2 = 0, -1+4-3 = 0, -2+6 = 4.
        let mut right = [0.0, 0.0, 4.0];
        solve_tridiagonal(&lower, &diagonal, &upper, &mut right, &mut [0.0; 3]);
        for (x, expected) in right.iter().zip([1.0, 2.0, 3.0]) {
            assert!((x - expected).abs() < 1e-14);
        }
    }
}
