//! What a bake after exposure does: the photoactive compound spreads.

use crate::constants::BOLTZMANN_EV_K;
use crate::num;
use crate::units::Temperature;

/// Spread of the compound in 60 s at 110 C in nm (model choice; 30-60 nm is common practice).
pub const SPREAD_NM: f64 = 50.0;

/// Activation energy of its diffusivity in eV (model choice).
pub const SPREAD_EV: f64 = 1.4;

/// Standard deviation of the spread in nm: `sqrt(2 D t)`, `D = D0 exp(-Ea/kT)`.
#[must_use]
pub fn spread_nm(temperature: Temperature, time_s: f64) -> f64 {
    let inverse_k =
        1.0 / temperature.to_kelvin() - 1.0 / Temperature::celsius(110.0).to_kelvin();
    let factor = num::exp(-SPREAD_EV / BOLTZMANN_EV_K * inverse_k);
    SPREAD_NM * (factor * time_s / 60.0).sqrt()
}

/// A Gaussian as weights of cells: the middle one, then those to one side. They add up to 1 over
/// both sides.
#[derive(Clone, Debug)]
pub struct Kernel(Vec<f64>);

impl Kernel {
    /// Weights for a standard deviation, both in the same unit: the share of the Gaussian in
    /// each cell.
    #[must_use]
    pub fn new(spread: f64, cell: f64) -> Self {
        if spread < 1e-3 * cell {
            return Self(vec![1.0]);
        }
        let below =
            |edge: f64| num::erf(edge * cell / (spread * core::f64::consts::SQRT_2));
        let mut weights = vec![below(0.5)];
        let (mut edge, mut sum) = (0.5, below(0.5));
        while 1e-7 < 1.0 - sum && weights.len() < 4000 {
            let share = 0.5 * (below(edge + 1.0) - below(edge));
            weights.push(share);
            sum += 2.0 * share;
            edge += 1.0;
        }
        for weight in &mut weights {
            *weight /= sum;
        }
        Self(weights)
    }

    /// Spreads a line of cells between two walls that let nothing through.
    pub fn spread(&self, line: &mut [f64], scratch: &mut Vec<f64>) {
        let (n, reach) = (line.len(), self.0.len() - 1);
        if n == 0 || reach == 0 {
            return;
        }
        // The line between its own mirror images.
        scratch.clear();
        scratch.extend((0..n + 2 * reach).map(|place| line[folded(place, reach, n)]));
        let shifted = |by: usize| &scratch[by..by + n];
        self.add_up(line, |k| [shifted(reach - k), shifted(reach + k)]);
    }

    /// Adds up a line from what stands so many cells to its left and right: the same order of
    /// terms for every cell, whatever the way through memory.
    fn add_up<'a>(&self, line: &mut [f64], sides: impl Fn(usize) -> [&'a [f64]; 2]) {
        let n = line.len();
        let at = |k: usize| sides(k).map(|side| &side[..n]);
        let [middle, _] = at(0);
        for i in 0..n {
            line[i] = self.0[0] * middle[i];
        }
        let mut k = 1;
        // Four terms at a time: a cell is loaded and stored a quarter as often.
        while k + 3 < self.0.len() {
            let weights = [self.0[k], self.0[k + 1], self.0[k + 2], self.0[k + 3]];
            let [[a, b], [c, d], [e, f], [g, h]] =
                [at(k), at(k + 1), at(k + 2), at(k + 3)];
            for i in 0..n {
                let mut sum = line[i] + weights[0] * (a[i] + b[i]);
                sum += weights[1] * (c[i] + d[i]);
                sum += weights[2] * (e[i] + f[i]);
                line[i] = sum + weights[3] * (g[i] + h[i]);
            }
            k += 4;
        }
        for k in k..self.0.len() {
            let [a, b] = at(k);
            for i in 0..n {
                line[i] += self.0[k] * (a[i] + b[i]);
            }
        }
    }

    /// Spreads cells across columns of so many rows, between two walls on the left and the right.
    pub fn spread_across(&self, cells: &mut [f64], rows: usize) {
        let reach = self.0.len() - 1;
        let columns = cells.len() / rows.max(1);
        if columns == 0 || reach == 0 {
            return;
        }
        let before = cells.to_vec();
        let column = |place: usize| {
            let start = rows * folded(place, reach, columns);
            &before[start..start + rows]
        };
        for (i, line) in cells.chunks_exact_mut(rows).enumerate() {
            self.add_up(line, |k| [column(i + reach - k), column(i + reach + k)]);
        }
    }
}

/// The cell at a place of a line of `n` cells between its mirror images, of which the left one
/// begins `reach` cells before it.
const fn folded(place: usize, reach: usize, n: usize) -> usize {
    let folded = (place + 2 * n * (1 + reach / (2 * n)) - reach) % (2 * n);
    if folded < n { folded } else { 2 * n - 1 - folded }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn walls_keep_the_amount_even_for_a_spread_wider_than_the_film() {
        for spread in [0.0, 0.3, 4.0, 60.0] {
            let mut line = vec![0.0, 1.0, 3.0, 0.5, 0.0, 0.0, 2.0];
            Kernel::new(spread, 1.0).spread(&mut line, &mut Vec::new());
            assert!((line.iter().sum::<f64>() - 6.5).abs() < 1e-12, "{spread}: {line:?}");
        }
    }

    #[test]
    fn across_columns_is_the_same_as_along_a_line() {
        let kernel = Kernel::new(3.3, 1.0);
        let mut cells: Vec<f64> = (0..5 * 7).map(|i| f64::from(i * i % 11)).collect();
        let mut lines: Vec<Vec<f64>> = (0..7)
            .map(|row| cells.iter().skip(row).step_by(7).copied().collect())
            .collect();
        kernel.spread_across(&mut cells, 7);
        for (row, line) in lines.iter_mut().enumerate() {
            kernel.spread(line, &mut Vec::new());
            let found: Vec<f64> = cells.iter().skip(row).step_by(7).copied().collect();
            assert_eq!(&found, line);
        }
    }

    #[test]
    fn spread_is_that_of_the_reference_bake() {
        assert!((spread_nm(Temperature::celsius(110.0), 60.0) - 50.0).abs() < 1e-12);
        assert!((spread_nm(Temperature::celsius(110.0), 15.0) - 25.0).abs() < 1e-12);
    }
}
