//! When the developer reaches each place: fast marching.

use core::cmp::{Ordering, Reverse};
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

/// A cell with the time at which the front may reach it.
#[derive(Clone, Copy, PartialEq)]
struct Arrival {
    time_s: f64,
    cell: usize,
}

impl Eq for Arrival {}

impl PartialOrd for Arrival {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Arrival {
    fn cmp(&self, other: &Self) -> Ordering {
        self.time_s.total_cmp(&other.time_s).then(self.cell.cmp(&other.cell))
    }
}

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
        let mut known = vec![false; cells];
        let mut heap = BinaryHeap::with_capacity(4 * (self.columns + self.rows));
        for column in 0..self.columns {
            let cell = column * self.rows;
            time_s[cell] = 0.5 * self.dz_nm / rate_nm_s[cell];
            heap.push(Reverse(Arrival { time_s: time_s[cell], cell }));
        }
        while let Some(Reverse(next)) = heap.pop() {
            if known[next.cell] {
                continue;
            }
            known[next.cell] = true;
            if until(next.time_s, next.cell) {
                break;
            }
            let (column, row) = (next.cell / self.rows, next.cell % self.rows);
            let neighbors = [
                (0 < column).then(|| next.cell - self.rows),
                (column + 1 < self.columns).then(|| next.cell + self.rows),
                (0 < row).then(|| next.cell - 1),
                (row + 1 < self.rows).then(|| next.cell + 1),
            ];
            for cell in neighbors.into_iter().flatten() {
                if known[cell] {
                    continue;
                }
                let time = self.update(&time_s, &known, 1.0 / rate_nm_s[cell], cell);
                if time < time_s[cell] {
                    time_s[cell] = time;
                    heap.push(Reverse(Arrival { time_s: time, cell }));
                }
            }
        }
        time_s
    }

    fn update(&self, time_s: &[f64], known: &[bool], slowness: f64, cell: usize) -> f64 {
        let (column, row) = (cell / self.rows, cell % self.rows);
        let at = |cell: usize| if known[cell] { time_s[cell] } else { f64::INFINITY };
        let left = if 0 < column { at(cell - self.rows) } else { f64::INFINITY };
        let right =
            if column + 1 < self.columns { at(cell + self.rows) } else { f64::INFINITY };
        let above = if 0 < row { at(cell - 1) } else { f64::INFINITY };
        let below = if row + 1 < self.rows { at(cell + 1) } else { f64::INFINITY };
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
