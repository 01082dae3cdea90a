//! Block tridiagonal systems: one small dense block per node couples the dopants there.

#![expect(
    clippy::needless_range_loop,
    reason = "dopant indices read as in the equations"
)]

/// A dense block for `K` dopants.
pub(super) type Block<const K: usize> = [[f64; K]; K];

/// The linear system of one Newton step; `right` becomes the solution.
#[derive(Clone, Debug)]
pub(super) struct BlockTridiagonal<const K: usize> {
    /// Coupling to the node above.
    pub(super) lower: Vec<Block<K>>,
    /// Coupling at the node.
    pub(super) diagonal: Vec<Block<K>>,
    /// Coupling to the node below.
    pub(super) upper: Vec<Block<K>>,
    /// Right side, then the solution.
    pub(super) right: Vec<[f64; K]>,
}

impl<const K: usize> BlockTridiagonal<K> {
    /// An empty system for `nodes` nodes.
    pub(super) fn new(nodes: usize) -> Self {
        let zero = [[0.0; K]; K];
        Self {
            lower: vec![zero; nodes],
            diagonal: vec![zero; nodes],
            upper: vec![zero; nodes],
            right: vec![[0.0; K]; nodes],
        }
    }

    /// Solves in place by block elimination without pivoting (Thomas; textbook standard): safe
    /// for implicit diffusion, whose columns are diagonally dominant. Destroys the bands.
    pub(super) fn solve(&mut self) {
        let n = self.right.len();
        for i in 0..n {
            if 0 < i {
                let lower = self.lower[i];
                let (above_upper, above_right) = (self.upper[i - 1], self.right[i - 1]);
                let (diagonal, right) = (&mut self.diagonal[i], &mut self.right[i]);
                for a in 0..K {
                    for c in 0..K {
                        right[a] -= lower[a][c] * above_right[c];
                        for b in 0..K {
                            diagonal[a][b] -= lower[a][c] * above_upper[c][b];
                        }
                    }
                }
            }
            eliminate(&mut self.diagonal[i], &mut self.upper[i], &mut self.right[i]);
        }
        for i in (0..n.saturating_sub(1)).rev() {
            let below = self.right[i + 1];
            for a in 0..K {
                for b in 0..K {
                    self.right[i][a] -= self.upper[i][a][b] * below[b];
                }
            }
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
            system.lower[i] = [[-1.0, 0.2], [0.1, -0.7]];
            system.diagonal[i] = [[4.0, -0.5], [0.3, 3.0]];
            system.upper[i] = [[-1.1, 0.0], [0.2, -0.9]];
            for a in 0..2 {
                let mut sum = 0.0;
                for b in 0..2 {
                    sum += system.diagonal[i][a][b] * exact[i][b];
                    if 0 < i {
                        sum += system.lower[i][a][b] * exact[i - 1][b];
                    }
                    if i + 1 < n {
                        sum += system.upper[i][a][b] * exact[i + 1][b];
                    }
                }
                system.right[i][a] = sum;
            }
        }
        system.solve();
        for (found, expected) in system.right.iter().zip(&exact) {
            assert!((found[0] - expected[0]).abs() < 1e-12);
            assert!((found[1] - expected[1]).abs() < 1e-12);
        }
    }
}
