//! Block tridiagonal systems: one small dense block per node couples the dopants there.

#![expect(
    clippy::needless_range_loop,
    reason = "dopant indices read as in the equations"
)]

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

/// The linear system of one Newton step, eliminated row by row as it is laid out, so that only
/// what the way back needs is kept; `right` becomes the solution.
#[derive(Clone, Debug)]
pub(super) struct BlockTridiagonal<const K: usize> {
    /// Coupling to the node below, the node's own block divided out.
    upper: Vec<Block<K>>,
    /// Right side, then the solution.
    pub(super) right: Vec<[f64; K]>,
}

impl<const K: usize> BlockTridiagonal<K> {
    /// An empty system for `nodes` nodes.
    pub(super) fn new(nodes: usize) -> Self {
        Self { upper: vec![[[0.0; K]; K]; nodes], right: vec![[0.0; K]; nodes] }
    }

    /// Takes the row of node `i`, after that of the node above, by block elimination without
    /// pivoting (Thomas; textbook standard): safe for implicit diffusion, whose columns are
    /// diagonally dominant.
    #[inline]
    pub(super) fn eliminate(&mut self, i: usize, mut row: Row<K>) {
        if 0 < i {
            let (above_upper, above_right) = (&self.upper[i - 1], &self.right[i - 1]);
            for a in 0..K {
                for c in 0..K {
                    let factor = row.lower[a][c];
                    row.right[a] -= factor * above_right[c];
                    for b in 0..K {
                        row.diagonal[a][b] -= factor * above_upper[c][b];
                    }
                }
            }
        }
        eliminate(&mut row.diagonal, &mut row.upper, &mut row.right);
        self.upper[i] = row.upper;
        self.right[i] = row.right;
    }

    /// Solves from the last node up, once all rows are in.
    pub(super) fn substitute(&mut self) {
        let mut below = [0.0; K];
        for (right, upper) in self.right.iter_mut().zip(&self.upper).rev() {
            for a in 0..K {
                for b in 0..K {
                    right[a] -= upper[a][b] * below[b];
                }
            }
            below = *right;
        }
    }
}

/// Multiplies `upper` and `right` by the inverse of `block` (Gauss and Jordan).
#[inline]
fn eliminate<const K: usize>(
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
mod tests {
    use super::*;

    #[test]
    fn gives_back_a_known_solution_of_two_coupled_unknowns() {
        let n = 5;
        let mut system = BlockTridiagonal::<2>::new(n);
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
            system.eliminate(i, row);
        }
        system.substitute();
        for (found, expected) in system.right.iter().zip(&exact) {
            assert!((found[0] - expected[0]).abs() < 1e-12);
            assert!((found[1] - expected[1]).abs() < 1e-12);
        }
    }
}
