//! The cells of the depth mesh that a silicon surface cuts.

/// A first cell with less than this share of its height is joined with the cell below: smaller
/// ones make the matrices of diffusion stiff and add no accuracy (model choice).
pub(super) const SLIVER: f64 = 0.3;

/// The uppermost cell of a column that holds silicon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct FirstCell {
    /// Its place in the mesh.
    pub index: usize,
    /// Height of silicon in it, a joined sliver included, in nm.
    pub height_nm: f64,
}

impl FirstCell {
    /// The first cell below a surface at `depth_nm` on the mesh with these edges.
    pub(super) fn below(depth_nm: f64, edges_nm: &[f64]) -> Self {
        let cells = edges_nm.len() - 1;
        let above = edges_nm.partition_point(|&edge| edge <= depth_nm);
        let index = above.saturating_sub(1).min(cells - 1);
        let rest_nm = edges_nm[index + 1] - depth_nm;
        let whole_nm = edges_nm[index + 1] - edges_nm[index];
        if rest_nm < SLIVER * whole_nm && index + 1 < cells {
            Self { index: index + 1, height_nm: edges_nm[index + 2] - depth_nm }
        } else {
            Self { index, height_nm: rest_nm }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sliver_joins_the_cell_below() {
        let edges_nm = [0.0, 4.0, 8.0, 16.0];
        let cases =
            [(0.0, 0, 4.0), (1.0, 0, 3.0), (3.0, 1, 5.0), (4.0, 1, 4.0), (7.5, 2, 8.5)];
        for (depth_nm, index, height_nm) in cases {
            let cell = FirstCell::below(depth_nm, &edges_nm);
            assert_eq!(cell.index, index, "{depth_nm}");
            assert!((cell.height_nm - height_nm).abs() < 1e-12, "{depth_nm}");
        }
    }
}
