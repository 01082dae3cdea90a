//! Interpolation in tables.

/// A monotone cubic through given points: it never overshoots between two of them.
///
/// F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17, 238 (1980), with the harmonic-mean
/// slopes of Fritsch and Butland (1984) (memory). Outside the table the end slope goes on.
#[derive(Clone, Debug)]
pub struct MonotoneCubic {
    x: Vec<f64>,
    y: Vec<f64>,
    slope: Vec<f64>,
}

impl MonotoneCubic {
    /// Builds it; `x` must increase strictly and both must have the same length of at least 2.
    #[must_use]
    pub fn new(x: Vec<f64>, y: Vec<f64>) -> Option<Self> {
        let n = x.len();
        if n < 2 || y.len() != n || !x.windows(2).all(|w| w[0] < w[1]) {
            return None;
        }
        let secant: Vec<f64> =
            (0..n - 1).map(|i| (y[i + 1] - y[i]) / (x[i + 1] - x[i])).collect();
        let mut slope = vec![0.0; n];
        slope[0] = secant[0];
        slope[n - 1] = secant[n - 2];
        for i in 1..n - 1 {
            let (left, right) = (secant[i - 1], secant[i]);
            if 0.0 < left * right {
                let (h0, h1) = (x[i] - x[i - 1], x[i + 1] - x[i]);
                let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
                slope[i] = (w0 + w1) / (w0 / left + w1 / right);
            }
        }
        Some(Self { x, y, slope })
    }

    /// The value at `at`.
    #[must_use]
    pub fn value(&self, at: f64) -> f64 {
        let n = self.x.len();
        if at <= self.x[0] {
            return self.y[0] + self.slope[0] * (at - self.x[0]);
        }
        if self.x[n - 1] <= at {
            return self.y[n - 1] + self.slope[n - 1] * (at - self.x[n - 1]);
        }
        let i = self.x.partition_point(|&x| x <= at) - 1;
        let h = self.x[i + 1] - self.x[i];
        let t = (at - self.x[i]) / h;
        let (t2, t3) = (t * t, t * t * t);
        self.y[i] * (2.0 * t3 - 3.0 * t2 + 1.0)
            + self.slope[i] * h * (t3 - 2.0 * t2 + t)
            + self.y[i + 1] * (3.0 * t2 - 2.0 * t3)
            + self.slope[i + 1] * h * (t3 - t2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn passes_through_its_points_and_never_overshoots() {
        let curve =
            MonotoneCubic::new(vec![0.0, 1.0, 2.0, 3.0], vec![0.0, 1.0, 1.0, 5.0])
                .unwrap();
        assert!((curve.value(1.0) - 1.0).abs() < 1e-15);
        assert!((curve.value(1.5) - 1.0).abs() < 1e-15);
        assert!((0.0..=1.0).contains(&curve.value(0.5)));
        assert!(MonotoneCubic::new(vec![1.0, 1.0], vec![0.0, 1.0]).is_none());
    }
}
