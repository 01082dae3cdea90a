//! Finer columns where an edge comes to lie that was not planned there: a mask printed off its
//! place.

use super::lattice::{EdgeKind, fill_interval, wanted_nm};
use super::section::{Column, Section};

/// A column this much wider than wanted stays as it is.
const WIDER: f64 = 1.25;

impl Section {
    /// Splits columns until they are as fine beside `edges` (in nm) as the mesh of a flow has
    /// them, with an edge at every one. Both halves of a column are the column, so nothing of the
    /// wafer changes. Nothing is done if that made more than `most` columns.
    ///
    /// Gives false if it was too many.
    pub fn refine_at(
        &mut self,
        edges: &[(f64, EdgeKind)],
        coarseness: f64,
        most: usize,
    ) -> bool {
        let wanted = |x_nm: f64| wanted_nm(x_nm, edges, coarseness);
        let mut borders_nm = vec![self.edges_nm[0]];
        let mut parts = Vec::with_capacity(self.columns());
        for pair in self.edges_nm.windows(2) {
            let before = borders_nm.len();
            let mut stops: Vec<f64> = edges
                .iter()
                .map(|&(x_nm, _)| x_nm)
                .filter(|x_nm| pair[0] + 0.5 < *x_nm && *x_nm < pair[1] - 0.5)
                .collect();
            stops.push(pair[1]);
            crate::num::sort_increasing(&mut stops);
            stops.dedup_by(|later, earlier| *later - *earlier < 0.5);
            let mut from_nm = pair[0];
            for to_nm in stops {
                let finest = wanted(from_nm).min(wanted(to_nm));
                let finest = finest.min(wanted(0.5 * (from_nm + to_nm)));
                if WIDER * finest < to_nm - from_nm {
                    fill_interval(&mut borders_nm, from_nm, to_nm, &wanted);
                } else {
                    borders_nm.push(to_nm);
                }
                from_nm = to_nm;
            }
            parts.push(borders_nm.len() - before);
        }
        if most < borders_nm.len() - 1 {
            return false;
        }
        if borders_nm.len() == self.edges_nm.len() {
            return true;
        }
        let cells = self.cells();
        let spread = |values: &[f64]| {
            let mut fine = Vec::with_capacity((borders_nm.len() - 1) * cells);
            for (column, &count) in values.chunks_exact(cells).zip(&parts) {
                for _ in 0..count {
                    fine.extend_from_slice(column);
                }
            }
            fine
        };
        for values in self.silicon_cm3.iter_mut().filter(|values| !values.is_empty()) {
            *values = spread(values).into();
        }
        let columns: Vec<Column> = self
            .columns
            .iter()
            .zip(&parts)
            .flat_map(|(column, &count)| std::iter::repeat_n(column.clone(), count))
            .collect();
        self.columns = columns.into();
        self.edges_nm = borders_nm;
        true
    }
}

#[cfg(test)]
mod tests {
    use super::super::column_edges_nm;
    use super::super::layer::{Layer, Matter};
    use super::*;
    use crate::vocabulary::{Dopant, Material};

    const PLANNED: [(f64, EdgeKind); 2] =
        [(4_000.0, EdgeKind::Gate), (6_000.0, EdgeKind::Gate)];
    const SHIFTED: [(f64, EdgeKind); 2] =
        [(4_730.0, EdgeKind::Gate), (6_730.0, EdgeKind::Gate)];

    fn wafer() -> Section {
        let depths_nm = (0..=40).map(|k| f64::from(k) * 4.0).collect();
        let borders_nm = column_edges_nm(10_000.0, &PLANNED, 1.0);
        let mut section = Section::bare(borders_nm, depths_nm, (Dopant::Boron, 1e16));
        for i in 0..section.columns() {
            let height_nm = 20.0 + 1e-3 * section.center_nm(i);
            section.set_layers(
                i,
                &[Layer::new(Matter::of(Material::ThermalOxide), height_nm)],
            );
        }
        section
    }

    #[test]
    fn columns_are_fine_where_the_edge_came_to_lie_and_the_wafer_is_the_same() {
        let before = wafer();
        let mut section = before.clone();
        assert!(section.refine_at(&SHIFTED, 1.0, 6000));
        for (x_nm, _) in SHIFTED {
            let at = section.column_at(x_nm);
            assert!((section.edges_nm()[at] - x_nm).abs() < 1e-9);
            for i in at - 10..at + 10 {
                assert!(section.width_nm(i) <= WIDER * 11.0, "{}", section.width_nm(i));
            }
        }
        for x_nm in (0..1000).map(|k| 10.0 * f64::from(k) + 0.3) {
            let (old, new) = (before.column_at(x_nm), section.column_at(x_nm));
            assert_eq!(before.layers(old), section.layers(new));
        }
        let (a, b) = (before.inventory(Dopant::Boron), section.inventory(Dopant::Boron));
        assert!((a.silicon_cm / b.silicon_cm - 1.0).abs() < 1e-13);
        // As fine everywhere as a mesh that was planned for both, and not much finer.
        let both: Vec<_> = PLANNED.into_iter().chain(SHIFTED).collect();
        let planned = column_edges_nm(10_000.0, &both, 1.0).len();
        assert!(section.columns() < planned + planned / 4, "{}", section.columns());
    }

    #[test]
    fn edges_that_are_there_already_and_too_many_columns_change_nothing() {
        let before = wafer();
        let mut section = before.clone();
        assert!(section.refine_at(&PLANNED, 1.0, 6000));
        assert_eq!(section, before);
        assert!(!section.refine_at(&SHIFTED, 1.0, before.columns() + 5));
        assert_eq!(section, before);
    }
}
