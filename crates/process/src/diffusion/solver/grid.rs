//! The depth grid: nodes, the cells around them, and how fine they must be.

/// A one-dimensional vertex-centered grid from the surface down; lengths in cm.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    nodes_cm: Vec<f64>,
    spacing_cm: Vec<f64>,
    volume_cm: Vec<f64>,
}

/// No grid has more nodes than this, whatever is asked.
const MOST_NODES: usize = 1200;

impl Grid {
    /// Builds it from nodes that start at 0 and increase; `None` if they do not.
    #[must_use]
    pub fn from_nodes(nodes_cm: Vec<f64>) -> Option<Self> {
        let ordered = nodes_cm.windows(2).all(|w| w[0] < w[1]);
        if nodes_cm.len() < 3 || nodes_cm[0] != 0.0 || !ordered {
            return None;
        }
        Some(Self::from_ordered(nodes_cm))
    }

    fn from_ordered(nodes_cm: Vec<f64>) -> Self {
        let spacing_cm: Vec<f64> = nodes_cm.windows(2).map(|w| w[1] - w[0]).collect();
        let last = nodes_cm.len() - 1;
        let volume_cm = (0..=last)
            .map(|i| {
                let left = if i == 0 { 0.0 } else { spacing_cm[i - 1] };
                let right = if i == last { 0.0 } else { spacing_cm[i] };
                0.5 * (left + right)
            })
            .collect();
        Self { nodes_cm, spacing_cm, volume_cm }
    }

    /// Builds it from the wanted spacing at each depth (cm), down to `length_cm`.
    ///
    /// A wish for more than 1200 nodes is met with a proportionally coarser grid.
    #[must_use]
    pub fn graded(length_cm: f64, wanted_cm: impl Fn(f64) -> f64) -> Self {
        let mut coarser = 1.0;
        loop {
            let mut nodes = vec![0.0];
            let mut x = 0.0;
            while x < length_cm && nodes.len() <= MOST_NODES {
                // The step at the middle of the cell keeps neighbors alike where the wish falls.
                let h = coarser * wanted_cm(x).max(1e-9 * length_cm);
                let h = h.min(coarser * wanted_cm(x + h).max(1e-9 * length_cm));
                x += h;
                nodes.push(x);
            }
            if x < length_cm {
                coarser *= 1.5;
                continue;
            }
            while nodes.len() < 12 {
                let half: Vec<f64> =
                    nodes.windows(2).map(|w| 0.5 * (w[0] + w[1])).collect();
                nodes.extend(half);
                crate::num::sort_increasing(&mut nodes);
            }
            let stretch = length_cm / nodes[nodes.len() - 1];
            for node in &mut nodes {
                *node *= stretch;
            }
            return Self::from_ordered(nodes);
        }
    }

    /// Node depths in cm.
    #[must_use]
    pub fn nodes_cm(&self) -> &[f64] {
        &self.nodes_cm
    }

    /// Distance from each node to the next in cm.
    #[must_use]
    pub fn spacing_cm(&self) -> &[f64] {
        &self.spacing_cm
    }

    /// Thickness of the cell around each node in cm (half cells at both ends).
    #[must_use]
    pub fn volume_cm(&self) -> &[f64] {
        &self.volume_cm
    }

    /// Depth of the wall between node `i` and the next in cm.
    #[must_use]
    pub fn face_cm(&self, i: usize) -> f64 {
        0.5 * (self.nodes_cm[i] + self.nodes_cm[i + 1])
    }

    /// Number of nodes.
    #[must_use]
    pub fn len(&self) -> usize {
        self.nodes_cm.len()
    }

    /// Never true; a grid has at least three nodes.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.nodes_cm.is_empty()
    }

    /// Dose per cm2 of a concentration per cm3 given at the nodes.
    #[must_use]
    pub fn dose_cm2(&self, concentration_cm3: &[f64]) -> f64 {
        compensated_sum(self.volume_cm.iter().zip(concentration_cm3).map(|(v, c)| v * c))
    }
}

/// Sum with the rounding errors carried along (A. Neumaier, Z. Angew. Math. Mech. 54, 39,
/// 1974; memory): the dose ledger closes to round-off.
pub(crate) fn compensated_sum(values: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut lost) = (0.0_f64, 0.0_f64);
    for value in values {
        let next = sum + value;
        lost += if value.abs() <= sum.abs() {
            (sum - next) + value
        } else {
            (value - next) + sum
        };
        sum = next;
    }
    sum + lost
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_fill_the_depth_exactly() {
        let grid = Grid::graded(1e-4, |x| 1e-7 + 0.02 * x);
        let total: f64 = grid.volume_cm().iter().sum();
        assert!((total / 1e-4 - 1.0).abs() < 1e-12);
        assert!(grid.nodes_cm().windows(2).all(|w| w[0] < w[1]));
        assert!(Grid::graded(1e-4, |_| 1e-12).len() <= MOST_NODES + 2);
        assert!(Grid::from_nodes(vec![0.0, 2.0, 1.0]).is_none());
    }
}
