//! A wide field without a drawing: the front goes straight down.

use crate::lithography::exposure::float;
use crate::num::linspace;

/// When the developer reaches each depth of a column.
#[derive(Clone, Debug)]
pub(super) struct Descent {
    /// Height of a cell in nm.
    cell_nm: f64,
    /// Times at the lower side of each cell in s.
    time_s: Vec<f64>,
}

impl Descent {
    /// The descent through cells of these rates, from the top.
    pub(super) fn new(rate_nm_s: Vec<f64>, cell_nm: f64) -> Self {
        let mut now_s = 0.0;
        let time_s = rate_nm_s
            .into_iter()
            .map(|rate| {
                now_s += cell_nm / rate;
                now_s
            })
            .collect();
        Self { cell_nm, time_s }
    }

    /// Time until nothing is left in s.
    pub(super) fn clear_s(&self) -> f64 {
        self.time_s.last().copied().unwrap_or(0.0)
    }

    /// Thickness left in nm at a time.
    pub(super) fn left_nm(&self, time_s: f64) -> f64 {
        let gone = self.time_s.partition_point(|&time| time <= time_s);
        let Some(&next) = self.time_s.get(gone) else { return 0.0 };
        let before = if gone == 0 { 0.0 } else { self.time_s[gone - 1] };
        let part = (time_s - before) / (next - before);
        self.cell_nm * (float(self.time_s.len() - gone) - part)
    }
}

/// Times of the curves: dense at the start, up to `end_s`.
pub(super) fn times(end_s: f64, count: usize) -> Vec<f64> {
    linspace(0.0, 1.0, count).into_iter().map(|u| end_s * u * u).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_even_column_goes_down_evenly() {
        let descent = Descent::new(vec![50.0; 200], 5.0);
        assert!((descent.clear_s() - 20.0).abs() < 1e-9);
        for time_s in [0.0_f64, 3.21, 10.0, 19.99, 40.0] {
            let left = (1000.0 - 50.0 * time_s).max(0.0);
            assert!((descent.left_nm(time_s) - left).abs() < 1e-6, "{time_s}");
        }
    }
}
