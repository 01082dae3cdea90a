//! The stretches of eight rows in which atoms move along x: around the edges of masks and wells,
//! which are few, and as far from these as anything comes.

use super::boost::Boost;
use super::depth::{FLAT, FLAT_AT_CM3, WINDOW};
use super::lines::{LANES, Lanes};
use super::moment::Moment;
use crate::num::larger;
use crate::wafer::section::Section;

/// Columns beside a gradient that belong to its stretch, however narrow it is.
const BESIDE: usize = 2;

/// Eight neighboring rows of cells.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rows {
    /// The first of them.
    pub(super) start: usize,
    /// How many there are: fewer than eight at the bottom of the section.
    pub(super) lanes: usize,
    /// Each of them; spare lanes repeat the last one.
    pub(super) row: [usize; LANES],
}

impl Rows {
    /// The rows of a block.
    pub(super) fn of_block(block: usize, cells: usize) -> Self {
        let start = block * LANES;
        Self {
            start,
            lanes: (cells - start).min(LANES),
            row: core::array::from_fn(|l| (start + l).min(cells - 1)),
        }
    }

    /// The values of these rows in a column.
    pub(super) fn in_column(&self, column: &[f64]) -> Lanes {
        let whole = column.get(self.start..).and_then(|rows| rows.first_chunk());
        whole.copied().unwrap_or_else(|| self.row.map(|k| column[k]))
    }
}

/// Adds the columns of all stretches in which the dopants change within `dt_s` to `columns`.
pub(super) fn find(
    section: &Section,
    rows: &Rows,
    moment: &Moment,
    dt_s: f64,
    boost: &Boost,
    columns: &mut Vec<usize>,
) {
    columns.clear();
    let count = section.columns();
    let mut steps = vec![false; count];
    let mut most_charges_cm3 = [0.0; LANES];
    for mobile in &moment.mobiles {
        let values = section.silicon_cm3[mobile.dopant as usize]
            .chunks_exact(section.cells())
            .map(|column| rows.in_column(column));
        let mut largest = [0.0; LANES];
        for value in values.clone() {
            for l in 0..LANES {
                largest[l] = larger(largest[l], value[l]);
            }
        }
        for l in 0..LANES {
            most_charges_cm3[l] += mobile.charge.abs() * largest[l];
        }
        if mobile.at(1.0) <= 0.0 {
            continue;
        }
        let limit = largest.map(|most| FLAT * most.min(FLAT_AT_CM3));
        let mut before = limit;
        for (i, value) in values.enumerate() {
            if 0 < i {
                let mut differs = false;
                for l in 0..LANES {
                    differs |= limit[l] < (value[l] - before[l]).abs();
                }
                steps[i] |= differs;
            }
            before = value;
        }
    }
    let most = most_charges_cm3.iter().copied().fold(0.0, f64::max);
    let half = 0.5 * most / moment.intrinsic_cm3;
    let carriers = half + (half * half + 1.0).sqrt();
    let fastest = moment
        .mobiles
        .iter()
        .map(|mobile| mobile.at(carriers) * boost.largest(mobile.dopant))
        .fold(0.0, f64::max);
    around(section.edges_nm(), &steps, WINDOW * (fastest * dt_s).sqrt(), columns);
}

/// Columns no farther than `reach_nm` from an edge at which there is a step; `steps[i]` tells of
/// the left edge of column `i`.
fn around(edges_nm: &[f64], steps: &[bool], reach_nm: f64, columns: &mut Vec<usize>) {
    let count = steps.len();
    let mut next = (0..count).find(|&i| steps[i]);
    let mut last = None;
    for i in 0..count {
        if next == Some(i) {
            last = next;
            next = (i + 1..count).find(|&k| steps[k]);
        }
        let is_behind = last.is_some_and(|last| {
            i < last + BESIDE || edges_nm[i] < edges_nm[last] + reach_nm
        });
        let is_before = next.is_some_and(|next| {
            next <= i + BESIDE || edges_nm[next] - reach_nm < edges_nm[i + 1]
        });
        if is_behind || is_before {
            columns.push(i);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_lie_around_steps_and_mirror() {
        let edges: Vec<f64> = (0..=20_u32).map(|k| 10.0 * f64::from(k)).collect();
        let mut steps = [false; 20];
        steps[5] = true;
        steps[16] = true;
        let mut columns = Vec::new();
        around(&edges, &steps, 25.0, &mut columns);
        assert_eq!(columns, [2, 3, 4, 5, 6, 7, 13, 14, 15, 16, 17, 18]);
        // Edge 5 of 20 columns is edge 15 from the other side.
        let mut mirrored = [false; 20];
        mirrored[15] = true;
        mirrored[4] = true;
        let mut other = Vec::new();
        around(&edges, &mirrored, 25.0, &mut other);
        let back: Vec<usize> = other.iter().rev().map(|i| 19 - i).collect();
        assert_eq!(back, columns);
        columns.clear();
        around(&edges, &[false; 20], 25.0, &mut columns);
        assert!(columns.is_empty());
        around(&edges, &steps, 0.0, &mut columns);
        assert_eq!(columns, [3, 4, 5, 6, 14, 15, 16, 17]);
    }
}
