//! Block tridiagonal systems: one small dense block per node couples the dopants there.

use super::flux::Flux;
use super::unrolled::each;

/// A dense block for `K` dopants.
pub(super) type Block<const K: usize> = [[f64; K]; K];

/// One node's equations: coupling to the node above, at the node, to the node below, right side.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row<const K: usize> {
    pub(super) lower: Block<K>,
    pub(super) diagonal: Block<K>,
    pub(super) upper: Block<K>,
    pub(super) right: [f64; K],
}

impl<const K: usize> Default for Row<K> {
    fn default() -> Self {
        let zero = [[0.0; K]; K];
        Self { lower: zero, diagonal: zero, upper: zero, right: [0.0; K] }
    }
}

/// A row once eliminated: coupling to the node below and right side, the node's own block
/// divided out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reduced<const K: usize> {
    upper: Block<K>,
    right: [f64; K],
}

impl<const K: usize> Default for Reduced<K> {
    fn default() -> Self {
        Self { upper: [[0.0; K]; K], right: [0.0; K] }
    }
}

impl<const K: usize> Row<K> {
    /// Adds the flux from the node to the one below.
    #[inline(always)]
    pub(super) fn leave(&mut self, flux: &Flux<K>) {
        each!(k in K {
            self.right[k] -= flux.value[k];
            each!(l in K {
                self.upper[k][l] = flux.by_below[k][l];
                self.diagonal[k][l] += flux.by_above[k][l];
            });
        });
    }

    /// Adds the flux from the node above.
    #[inline(always)]
    pub(super) fn enter(&mut self, flux: &Flux<K>) {
        each!(k in K {
            self.right[k] += flux.value[k];
            each!(l in K {
                self.lower[k][l] = -flux.by_above[k][l];
                self.diagonal[k][l] -= flux.by_below[k][l];
            });
        });
    }

    /// Eliminates the row after that of the node `above` (nothing at the surface), by block
    /// elimination without pivoting (Thomas; textbook standard): safe for implicit diffusion,
    /// whose columns are diagonally dominant.
    #[inline(always)]
    pub(super) fn eliminate(mut self, above: &Reduced<K>) -> Reduced<K> {
        each!(a in K {
            each!(c in K {
                let factor = self.lower[a][c];
                self.right[a] -= factor * above.right[c];
                each!(b in K {
                    self.diagonal[a][b] -= factor * above.upper[c][b];
                });
            });
        });
        if K == 1 {
            let inverse = 1.0 / self.diagonal[0][0];
            self.upper[0][0] *= inverse;
            self.right[0] *= inverse;
        } else if K == 2 {
            divide_pair(&self.diagonal, &mut self.upper, &mut self.right);
        } else {
            divide(&mut self.diagonal, &mut self.upper, &mut self.right);
        }
        Reduced { upper: self.upper, right: self.right }
    }
}

/// Solves from the last node up, once all rows are eliminated; `solution` takes the place of
/// the right sides.
pub(super) fn substitute<const K: usize>(rows: &[Reduced<K>], solution: &mut [[f64; K]]) {
    let mut below = [0.0; K];
    for (row, solution) in rows.iter().zip(solution).rev() {
        let mut here = row.right;
        each!(a in K {
            each!(b in K {
                here[a] -= row.upper[a][b] * below[b];
            });
        });
        *solution = here;
        below = here;
    }
}

/// Multiplies `upper` and `right` by the inverse of `block` of two dopants (Cramer), with one
/// division, for which the next row waits.
#[inline(always)]
fn divide_pair<const K: usize>(
    block: &Block<K>,
    upper: &mut Block<K>,
    right: &mut [f64; K],
) {
    let [a, b, c, d] = [block[0][0], block[0][1], block[1][0], block[1][1]];
    let inverse = 1.0 / (a * d - b * c);
    let [a, b, c, d] = [a * inverse, b * inverse, c * inverse, d * inverse];
    each!(l in K {
        let (first, second) = (upper[0][l], upper[1][l]);
        upper[0][l] = d * first - b * second;
        upper[1][l] = a * second - c * first;
    });
    let (first, second) = (right[0], right[1]);
    right[0] = d * first - b * second;
    right[1] = a * second - c * first;
}

/// Multiplies `upper` and `right` by the inverse of `block` (Gauss and Jordan).
fn divide<const K: usize>(
    block: &mut Block<K>,
    upper: &mut Block<K>,
    right: &mut [f64; K],
) {
    for pivot in 0..K {
        let inverse = 1.0 / block[pivot][pivot];
        for b in 0..K {
            block[pivot][b] *= inverse;
            upper[pivot][b] *= inverse;
        }
        right[pivot] *= inverse;
        for row in 0..K {
            if row == pivot {
                continue;
            }
            let factor = block[row][pivot];
            for b in 0..K {
                block[row][b] -= factor * block[pivot][b];
                upper[row][b] -= factor * upper[pivot][b];
            }
            right[row] -= factor * right[pivot];
        }
    }
}

#[cfg(test)]
#[expect(clippy::needless_range_loop, reason = "dopant indices read as in the equations")]
mod tests {
    use super::*;

    #[test]
    fn gives_back_a_known_solution_of_two_coupled_unknowns() {
        let n = 5;
        let mut rows = vec![Reduced::<2>::default(); n];
        let mut above = Reduced::default();
        let exact: Vec<[f64; 2]> =
            (0..n).map(|i| [1.0 + i as f64, 3.0 - 2.0 * i as f64]).collect();
        for i in 0..n {
            let mut row = Row {
                lower: [[-1.0, 0.2], [0.1, -0.7]],
                diagonal: [[4.0, -0.5], [0.3, 3.0]],
                upper: [[-1.1, 0.0], [0.2, -0.9]],
                right: [0.0; 2],
            };
            if i + 1 == n {
                row.upper = [[0.0; 2]; 2];
            }
            for a in 0..2 {
                for b in 0..2 {
                    row.right[a] += row.diagonal[a][b] * exact[i][b];
                    if 0 < i {
                        row.right[a] += row.lower[a][b] * exact[i - 1][b];
                    }
                    if i + 1 < n {
                        row.right[a] += row.upper[a][b] * exact[i + 1][b];
                    }
                }
            }
            above = row.eliminate(&above);
            rows[i] = above;
        }
        let mut solution = vec![[0.0; 2]; n];
        substitute(&rows, &mut solution);
        for (found, expected) in solution.iter().zip(&exact) {
            assert!((found[0] - expected[0]).abs() < 1e-12);
            assert!((found[1] - expected[1]).abs() < 1e-12);
        }
    }
}
