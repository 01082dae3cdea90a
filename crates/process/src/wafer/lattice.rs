//! The mesh of a section: columns that are fine where something happens, cells that are fine
//! near the surface.

/// Columns of the usual mesh are never wider than this in nm.
pub(super) const WIDEST_NM: f64 = 400.0;

/// Edges lie on multiples of this in nm: sums and differences of such numbers, and their halves,
/// are exact up to millimeters, so that a mirror image is one to the last bit and no tie between
/// left and right is broken by rounding.
pub(super) const GRID_NM: f64 = 1.0 / 1_073_741_824.0;

/// The nearest place where an edge can lie.
pub(super) fn on_grid_nm(x_nm: f64) -> f64 {
    (x_nm / GRID_NM).round() * GRID_NM
}

/// What happens at an edge: how fine the columns beside it must be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EdgeKind {
    /// A contact or a metal line.
    Contact,
    /// A well.
    Well,
    /// Active area against field oxide, a diffusion window.
    Active,
    /// A gate, with the implants that it masks.
    Gate,
}

/// How fine the columns are at an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Fineness {
    /// Width of a column at the edge in nm.
    pub(super) finest_nm: f64,
    /// As far as this from the edge they stay so, in nm;
    pub(super) flat_nm: f64,
    /// then each is wider than the one before by this factor.
    pub(super) growth: f64,
}

impl EdgeKind {
    /// Measured on profiles under mask edges: what gives 0.5 % of a junction's depth (model
    /// choice).
    pub(super) const fn fineness(self) -> Fineness {
        match self {
            Self::Gate => Fineness { finest_nm: 10.0, flat_nm: 150.0, growth: 1.1 },
            Self::Active => Fineness { finest_nm: 20.0, flat_nm: 100.0, growth: 1.2 },
            Self::Well => Fineness { finest_nm: 100.0, flat_nm: 0.0, growth: 1.2 },
            Self::Contact => Fineness { finest_nm: 40.0, flat_nm: 0.0, growth: 1.3 },
        }
    }
}

/// The borders of the columns from 0 to `width_nm`, with an edge at every place given.
///
/// `coarseness` multiplies every width: 1 is the usual mesh, 2 a quick one with half of its
/// columns.
#[must_use]
pub fn column_edges_nm(
    width_nm: f64,
    edges: &[(f64, EdgeKind)],
    coarseness: f64,
) -> Vec<f64> {
    let mut stops: Vec<f64> = edges
        .iter()
        .map(|&(x_nm, _)| x_nm)
        .filter(|&x_nm| 1.0 < x_nm && x_nm < width_nm - 1.0)
        .collect();
    stops.push(width_nm);
    crate::num::sort_increasing(&mut stops);
    stops.dedup_by(|later, earlier| *later - *earlier < 1.0);
    let wanted_nm = |x_nm: f64| wanted_nm(x_nm, edges, coarseness);
    let mut result = vec![0.0];
    let mut from_nm = 0.0;
    for to_nm in stops {
        fill_interval(&mut result, from_nm, to_nm, &wanted_nm);
        from_nm = to_nm;
    }
    result
}

/// How wide a column at a place may be, in nm.
pub(super) fn wanted_nm(x_nm: f64, edges: &[(f64, EdgeKind)], coarseness: f64) -> f64 {
    let usual_nm = edges.iter().fold(WIDEST_NM, |width, &(at_nm, kind)| {
        let fine = kind.fineness();
        let away_nm = ((x_nm - at_nm).abs() - fine.flat_nm).max(0.0);
        width.min(fine.finest_nm + (fine.growth - 1.0) * away_nm)
    });
    coarseness * usual_nm
}

/// Adds the borders between `from_nm` and `to_nm`, the last one included. The number of columns
/// is the integral of 1/width, rounded up; the borders stand at equal parts of it.
pub(super) fn fill_interval(
    borders_nm: &mut Vec<f64>,
    from_nm: f64,
    to_nm: f64,
    wanted_nm: &impl Fn(f64) -> f64,
) {
    // The integral on a trapezoid of steps well below any column's width.
    let steps =
        crate::num::to_count(((to_nm - from_nm) / 2.0).ceil().clamp(64.0, 100_000.0));
    let at_nm = crate::num::linspace(from_nm, to_nm, steps + 1);
    let mut sums = Vec::with_capacity(steps + 1);
    sums.push(0.0);
    let mut sum = 0.0;
    for pair in at_nm.windows(2) {
        let density = 0.5 * (1.0 / wanted_nm(pair[0]) + 1.0 / wanted_nm(pair[1]));
        sum += density * (pair[1] - pair[0]);
        sums.push(sum);
    }
    let columns = crate::num::to_count(sum.ceil().max(1.0));
    for part in
        crate::num::linspace(0.0, sum, columns + 1).into_iter().skip(1).take(columns - 1)
    {
        let above = sums.partition_point(|&s| s < part).max(1);
        let share = (part - sums[above - 1]) / (sums[above] - sums[above - 1]);
        borders_nm.push(at_nm[above - 1] + share * (at_nm[above] - at_nm[above - 1]));
    }
    borders_nm.push(to_nm);
}

/// The borders of the depth cells in nm: even near the surface, then growing.
#[must_use]
pub fn depth_edges_nm(mesh: DepthMesh) -> Vec<f64> {
    let mut edges_nm = vec![0.0];
    let (mut height_nm, mut depth_nm) = (mesh.finest_nm, 0.0);
    for _ in 0..mesh.cells {
        if mesh.even_nm <= depth_nm {
            height_nm *= mesh.growth;
        }
        depth_nm += height_nm;
        edges_nm.push(depth_nm);
    }
    edges_nm
}

/// How the depth cells grow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DepthMesh {
    /// Height of the cells near the surface in nm.
    pub finest_nm: f64,
    /// Down to this depth they stay so, in nm;
    pub even_nm: f64,
    /// then each is higher than the one above by this factor.
    pub growth: f64,
    /// How many there are.
    pub cells: usize,
}

impl DepthMesh {
    /// 180 cells down to about 9 um: junctions within 1.3 % (measured against the reference
    /// profiles).
    pub const USUAL: Self =
        Self { finest_nm: 4.0, even_nm: 300.0, growth: 1.045, cells: 180 };
    /// A quick one: errors 2.5 times as large.
    pub const QUICK: Self =
        Self { finest_nm: 8.0, even_nm: 300.0, growth: 1.05, cells: 130 };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mask_edges_are_column_edges_and_columns_are_fine_there() {
        let edges = [
            (14_000.0, EdgeKind::Active),
            (20_000.0, EdgeKind::Gate),
            (22_000.0, EdgeKind::Gate),
            (35_000.0, EdgeKind::Well),
        ];
        let borders = column_edges_nm(72_000.0, &edges, 1.0);
        assert!(borders.windows(2).all(|pair| pair[0] < pair[1]));
        for (x_nm, kind) in edges {
            let at = borders.iter().position(|&b| (b - x_nm).abs() < 1e-9).unwrap();
            let width = borders[at + 1] - borders[at];
            let finest_nm = kind.fineness().finest_nm;
            assert!(width <= 1.15 * finest_nm, "{kind:?}: {width}");
        }
        let widest = borders.windows(2).map(|pair| pair[1] - pair[0]).fold(0.0, f64::max);
        assert!(widest <= 1.01 * WIDEST_NM, "{widest}");
        // Up to the one that every interval rounds up to.
        let intervals = edges.len() + 1;
        for (coarseness, times) in [(0.5, 2), (0.25, 4)] {
            let finer = column_edges_nm(72_000.0, &edges, coarseness).len() - 1;
            let columns = times * (borders.len() - 1);
            assert!(finer <= columns && columns < finer + times * intervals, "{finer}");
        }
    }

    #[test]
    fn the_usual_depth_mesh_is_nine_micrometers_deep() {
        let edges_nm = depth_edges_nm(DepthMesh::USUAL);
        assert_eq!(edges_nm.len(), 181);
        assert!(
            (8500.0..10_500.0).contains(edges_nm.last().unwrap()),
            "{:?}",
            edges_nm.last()
        );
    }
}
