//! Scattering angles of all collisions of a run, worked out beforehand.

use super::scattering::Quadrature;
use crate::num::{exp, ln};

/// Smallest and largest impact parameter of the table, as powers of two of the screening length.
/// One collision in ten million is closer; none is farther, in any target of the lab.
const IMPACT_OCTAVES: [i32; 2] = [-10, 4];
/// Steps of an octave of the impact parameter, as a power of two.
const IMPACT_BITS: u32 = 5;
/// Steps of an octave of the energy, as a power of two.
const ENERGY_BITS: u32 = 4;
/// Points at which the integral is done, per factor e.
const SPARSE_PER_E: [f64; 2] = [3.0, 5.0];

/// `tan^2(theta/2)` over reduced energy and reduced impact parameter.
///
/// The reduced units make one table serve all pairs of atoms. It is laid out so that the place
/// of a value is read off the bits of its number: octaves, each in equal steps.
#[derive(Clone, Debug)]
pub(super) struct ScatteringTable {
    first_row: u64,
    rows: usize,
    columns: usize,
    values: Vec<f32>,
}

impl ScatteringTable {
    /// Makes the table for reduced energies between two limits.
    ///
    /// # Model
    /// The integral is done on a sparse grid; the logarithm of the tangent squared is smooth in
    /// the logarithms of both numbers (for Coulomb's law a plane) and is interpolated by cubics
    /// onto the dense grid. Between dense points the table is bilinear; the error is below 1 %
    /// wherever the angle matters (a test holds it).
    pub(super) fn between(lowest: f64, highest: f64) -> Self {
        let impacts = places(IMPACT_OCTAVES, IMPACT_BITS);
        let first_row = lowest.to_bits() >> (52 - ENERGY_BITS);
        let last_row = (highest.to_bits() >> (52 - ENERGY_BITS)) + 1;
        let energies: Vec<f64> = (first_row..=last_row)
            .map(|row| f64::from_bits(row << (52 - ENERGY_BITS)))
            .collect();
        let across = Sparse::over(&impacts, SPARSE_PER_E[1]);
        let down = Sparse::over(&energies, SPARSE_PER_E[0]);
        let quadrature = Quadrature::new();
        let sparse: Vec<Vec<f64>> = down
            .points
            .iter()
            .map(|&energy| {
                across
                    .points
                    .iter()
                    .map(|&impact| {
                        ln(quadrature.half_angle_tangent_squared(energy, impact))
                    })
                    .collect()
            })
            .collect();
        let mut values = Vec::with_capacity(energies.len() * impacts.len());
        for (row, weights) in &down.stencils {
            let mixed: Vec<f64> = (0..across.points.len())
                .map(|k| (0..4).map(|i| weights[i] * sparse[row + i][k]).sum())
                .collect();
            for (column, weights) in &across.stencils {
                let logarithm: f64 = (0..4).map(|i| weights[i] * mixed[column + i]).sum();
                values.push(to_f32(exp(logarithm)));
            }
        }
        Self { first_row, rows: energies.len(), columns: impacts.len(), values }
    }

    /// `tan^2(theta/2)` of a collision; outside the table the value at its edge.
    #[inline]
    pub(super) fn half_angle_tangent_squared(&self, energy: f64, impact: f64) -> f64 {
        let (row, down) = place(energy, ENERGY_BITS, self.first_row, self.rows);
        let first_column = IMPACT_START >> (52 - IMPACT_BITS);
        let (column, across) = place(impact, IMPACT_BITS, first_column, self.columns);
        let upper = row * self.columns + column;
        let lower = upper + self.columns;
        let at = |i: usize| f64::from(self.values[i]);
        let above = at(upper) + across * (at(upper + 1) - at(upper));
        let below = at(lower) + across * (at(lower + 1) - at(lower));
        above + down * (below - above)
    }
}

/// The bits of `2^-10`, the first impact parameter.
const IMPACT_START: u64 = 0x3f50_0000_0000_0000;

/// The cell of a grid of octaves in which a number lies, and how far in it.
#[inline]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "the cell is below some hundred after the limits; the rest has 48 bits"
)]
fn place(value: f64, steps: u32, first: u64, nodes: usize) -> (usize, f64) {
    let shift = 52 - steps;
    let bits = value.to_bits();
    let cell = bits >> shift;
    if cell < first {
        return (0, 0.0);
    }
    let cell = (cell - first) as usize;
    if nodes - 2 < cell {
        return (nodes - 2, 1.0);
    }
    let inside = bits & ((1 << shift) - 1);
    (cell, inside as f64 / (1_u64 << shift) as f64)
}

/// The nodes of a grid of octaves, both ends included.
fn places([first, last]: [i32; 2], steps: u32) -> Vec<f64> {
    let bits = |octave: i32| u64::from((1023 + octave).unsigned_abs()) << steps;
    (bits(first)..=bits(last)).map(|node| f64::from_bits(node << (52 - steps))).collect()
}

/// A grid in equal ratios around a dense one, and how each dense point follows from four of its
/// points.
struct Sparse {
    points: Vec<f64>,
    stencils: Vec<(usize, [f64; 4])>,
}

impl Sparse {
    fn over(dense: &[f64], per_e: f64) -> Self {
        let first = dense.first().copied().map_or(0.0, ln);
        let last = dense.last().copied().map_or(0.0, ln);
        let cells = crate::num::to_count(((last - first) * per_e).ceil()).max(1);
        // One point more on each side, for the cubics at the ends.
        let points =
            (0..cells + 3).map(|k| exp(first + (count(k) - 1.0) / per_e)).collect();
        let stencils = dense
            .iter()
            .map(|&value| {
                let at = (ln(value) - first) * per_e;
                let cell = crate::num::to_count(at).min(cells - 1);
                (cell, cubic(at - count(cell)))
            })
            .collect();
        Self { points, stencils }
    }
}

/// Weights of the cubic through four points at -1, 0, 1, 2 (Lagrange).
fn cubic(t: f64) -> [f64; 4] {
    [
        -t * (t - 1.0) * (t - 2.0) / 6.0,
        (t + 1.0) * (t - 1.0) * (t - 2.0) / 2.0,
        -(t + 1.0) * t * (t - 2.0) / 2.0,
        (t + 1.0) * t * (t - 1.0) / 6.0,
    ]
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "seven digits are enough for an angle"
)]
fn to_f32(value: f64) -> f32 {
    value as f32
}

#[expect(clippy::cast_precision_loss, reason = "a small count")]
fn count(n: usize) -> f64 {
    n as f64
}

#[cfg(test)]
mod tests {
    use super::super::scattering::half_angle_sine_squared;
    use super::*;

    #[test]
    fn the_table_is_the_integral() {
        let table = ScatteringTable::between(2e-6, 80.0);
        let mut worst: f64 = 0.0;
        for i in 0..60 {
            for k in 0..60 {
                let energy = 2.1e-6 * exp(0.29 * f64::from(i));
                let impact = 1.1e-3 * exp(0.158 * f64::from(k));
                let tangent = table.half_angle_tangent_squared(energy, impact);
                let found = tangent / (1.0 + tangent);
                let exact = half_angle_sine_squared(energy, impact);
                let error = (found - exact).abs() / (exact + 1e-7);
                assert!(error < 0.01, "{energy} {impact}: {found} for {exact}");
                worst = worst.max(error);
            }
        }
        assert!(1e-5 < worst, "a table cannot be so exact");
    }

    #[test]
    fn outside_the_table_its_edge_is_taken() {
        let table = ScatteringTable::between(1e-3, 10.0);
        let inside = table.half_angle_tangent_squared(1e-3, 1.0);
        assert!((table.half_angle_tangent_squared(1e-9, 1.0) / inside - 1.0).abs() < 0.2);
        let far = table.half_angle_tangent_squared(1.0, 1e9);
        assert!(far < table.half_angle_tangent_squared(1.0, 10.0));
        assert!(0.0 < far);
    }
}
