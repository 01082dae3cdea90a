//! When the developer reaches each place: fast marching.

use core::cmp::Reverse;
use std::collections::BinaryHeap;

/// Resist in section as equal cells, column by column from the left, each from the top.
#[derive(Clone, Debug)]
pub struct Section {
    /// Columns.
    pub columns: usize,
    /// Cells in a column.
    pub rows: usize,
    /// Width of a cell in nm.
    pub dx_nm: f64,
    /// Height of a cell in nm.
    pub dz_nm: f64,
}

/// A cell with the bits of the time at which the front may reach it: times are not negative, and
/// the bits of such numbers are in their order.
type Arrival = (u64, usize);

impl Section {
    /// Time in s at which developer that covers the top reaches the middle of each cell, followed
    /// until `until` is content with the time and the cell. Beyond the front of that time stand
    /// first estimates, which are not too early, and then infinity.
    ///
    /// # Model
    /// `|grad T| = 1/r` with `T = 0` on the top and mirrors on both sides; upwind differences of
    /// first order, cells accepted in the order of their times.
    ///
    /// # Source
    /// J. A. Sethian, Proc. Natl. Acad. Sci. 93, 1591 (1996) (memory).
    #[must_use]
    pub fn arrival_s(
        &self,
        rate_nm_s: &[f64],
        mut until: impl FnMut(f64, usize) -> bool,
    ) -> Vec<f64> {
        let cells = self.columns * self.rows;
        debug_assert!(rate_nm_s.len() == cells, "one rate a cell");
        let mut time_s = vec![f64::INFINITY; cells];
        // The same for cells that are accepted, infinity for others.
        let mut known_s = time_s.clone();
        let mut heap: BinaryHeap<Reverse<Arrival>> =
            BinaryHeap::with_capacity(4 * (self.columns + self.rows));
        for column in 0..self.columns {
            let cell = column * self.rows;
            time_s[cell] = 0.5 * self.dz_nm / rate_nm_s[cell];
            heap.push(Reverse((time_s[cell].to_bits(), cell)));
        }
        while let Some(Reverse((_, next))) = heap.pop() {
            if known_s[next].is_finite() {
                continue;
            }
            known_s[next] = time_s[next];
            if until(time_s[next], next) {
                break;
            }
            let (column, row) = (next / self.rows, next % self.rows);
            let neighbors = [
                (0 < column).then(|| (next - self.rows, column - 1, row)),
                (column + 1 < self.columns).then(|| (next + self.rows, column + 1, row)),
                (0 < row).then(|| (next - 1, column, row - 1)),
                (row + 1 < self.rows).then(|| (next + 1, column, row + 1)),
            ];
            for (cell, column, row) in neighbors.into_iter().flatten() {
                if known_s[cell].is_finite() {
                    continue;
                }
                let time = self.update(&known_s, 1.0 / rate_nm_s[cell], [column, row]);
                if time < time_s[cell] {
                    time_s[cell] = time;
                    heap.push(Reverse((time.to_bits(), cell)));
                }
            }
        }
        time_s
    }

    fn update(&self, known_s: &[f64], slowness: f64, [column, row]: [usize; 2]) -> f64 {
        let cell = column * self.rows + row;
        let never = f64::INFINITY;
        let left = if 0 < column { known_s[cell - self.rows] } else { never };
        let right =
            if column + 1 < self.columns { known_s[cell + self.rows] } else { never };
        let above = if 0 < row { known_s[cell - 1] } else { never };
        let below = if row + 1 < self.rows { known_s[cell + 1] } else { never };
        let (a, b) = (left.min(right), above.min(below));
        let (dx, dz) = (self.dx_nm, self.dz_nm);
        let single = (a + dx * slowness).min(b + dz * slowness);
        if !a.is_finite() || !b.is_finite() {
            return single;
        }
        // (T - a)^2/dx^2 + (T - b)^2/dz^2 = s^2.
        let (p, q) = (1.0 / (dx * dx), 1.0 / (dz * dz));
        let gap = a - b;
        let root = (p + q) * slowness * slowness - p * q * gap * gap;
        if root < 0.0 {
            return single;
        }
        let both = (p * a + q * b + root.sqrt()) / (p + q);
        if a.max(b) <= both { both } else { single }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_even_film_goes_down_evenly() {
        let section = Section { columns: 7, rows: 200, dx_nm: 8.0, dz_nm: 5.0 };
        let time = section.arrival_s(&vec![50.0; 1400], |_, _| false);
        // Depth of the last cell's middle over the rate.
        assert!((time[1399] - 997.5 / 50.0).abs() < 1e-9, "{}", time[1399]);
    }

    #[test]
    fn a_point_of_fast_resist_spreads_in_circles_within_the_order_of_the_scheme() {
        // A fast column in the middle acts as a well: beside it the front runs sideways.
        let section = Section { columns: 101, rows: 100, dx_nm: 5.0, dz_nm: 5.0 };
        let rate: Vec<f64> =
            (0..10_100).map(|cell| if cell / 100 == 50 { 1e6 } else { 10.0 }).collect();
        let time = section.arrival_s(&rate, |_, _| false);
        let sideways = time[60 * 100 + 99];
        assert!((sideways - 50.0 / 10.0).abs() < 0.3, "{sideways}");
    }
}
