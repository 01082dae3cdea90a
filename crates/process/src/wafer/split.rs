//! More and fewer columns: an edge where a wall moves to, one column where two are alike.

use super::lattice::on_grid_nm;
use super::layer::{DOPANTS, THINNEST_NM};
use super::section::{CM2_PER_NM2, Section};
use crate::vocabulary::Dopant;

/// A new edge closer than this to an old one is the old one, in nm.
pub(super) const SAME_EDGE_NM: f64 = 0.5;

/// Columns are alike if their faces differ by less than this, in nm: the thickness of a layer
/// that does not exist,
const ALIKE_NM: f64 = THINNEST_NM;

/// and their dopants by less than this share: what may be missing of them.
pub(super) const ALIKE_SHARE: f64 = 1e-9;

/// Concentrations below this do not keep columns apart, per cm3: far below any substrate.
pub(super) const FAINT_CM3: f64 = 1e10;

impl Section {
    /// Puts an edge at `x_nm`, unless one lies within half a nanometer of it or it is outside
    /// the section. Both halves of the column are the column.
    ///
    /// Gives true if there is a new edge.
    pub fn split_at(&mut self, x_nm: f64) -> bool {
        let x_nm = on_grid_nm(x_nm);
        let above = self.edges_nm.partition_point(|&edge| edge <= x_nm);
        if above == 0 || above == self.edges_nm.len() {
            return false;
        }
        let column = above - 1;
        if x_nm - self.edges_nm[column] < SAME_EDGE_NM
            || self.edges_nm[above] - x_nm < SAME_EDGE_NM
        {
            return false;
        }
        self.edges_nm.insert(above, x_nm);
        let copy = self.columns[column].clone();
        self.columns.insert(above, copy);
        let cells = self.cells();
        for values in self.silicon_cm3.iter_mut().filter(|values| !values.is_empty()) {
            let start = column * cells;
            let copied: Vec<f64> = values[start..start + cells].to_vec();
            values.splice(start + cells..start + cells, copied);
        }
        true
    }

    /// Joins neighboring columns that are alike, but never across one of the edges in
    /// `keep_nm` (ascending): takes back edges where a wall once stood, so that columns do not
    /// grow without end. Gives the number of columns that went.
    pub fn join_alike(&mut self, keep_nm: &[f64]) -> usize {
        let mut joined = 0;
        let mut column = 0;
        while column + 1 < self.columns() {
            let edge_nm = self.edges_nm[column + 1];
            let near = keep_nm.partition_point(|&keep| keep < edge_nm - SAME_EDGE_NM);
            let kept =
                keep_nm.get(near).is_some_and(|&keep| keep <= edge_nm + SAME_EDGE_NM);
            if !kept && self.are_alike(column) {
                self.join(column);
                joined += 1;
            } else {
                column += 1;
            }
        }
        joined
    }

    /// Whether a column and its right neighbor are alike.
    fn are_alike(&self, column: usize) -> bool {
        let (left, right) = (&self.columns[column], &self.columns[column + 1]);
        let alike_nm = |a: f64, b: f64| (a - b).abs() < ALIKE_NM;
        let alike_cm3 =
            |a: f64, b: f64| (a - b).abs() <= ALIKE_SHARE * a.max(b).max(FAINT_CM3);
        let stacks = left.layers.len() == right.layers.len()
            && alike_nm(left.silicon_top_nm, right.silicon_top_nm)
            && left.layers.iter().zip(&right.layers).all(|(a, b)| {
                a.matter == b.matter
                    && alike_nm(a.top_nm, b.top_nm)
                    && (0..DOPANTS).all(|d| alike_cm3(a.dopants_cm3[d], b.dopants_cm3[d]))
            });
        let cells = self.cells();
        let here = column * cells;
        stacks
            && left.first.index == right.first.index
            && self.silicon_cm3.iter().all(|values| {
                values.is_empty()
                    || (here..here + cells)
                        .all(|at| alike_cm3(values[at], values[at + cells]))
            })
    }

    /// Joins a column with its right neighbor, of the same layers: faces are averaged by width,
    /// dopants by volume.
    fn join(&mut self, column: usize) {
        let cells = self.cells();
        let (wide_l, wide_r) = (self.width_nm(column), self.width_nm(column + 1));
        let share = wide_r / (wide_l + wide_r);
        let mean = |left: f64, right: f64| left + share * (right - left);
        let height = |section: &Self, at: usize, layer: usize| {
            section.columns[at].layers[layer].top_nm - section.floor_nm(at, layer)
        };
        // Amounts first, then faces.
        let mut amounts = Vec::with_capacity(self.columns[column].layers.len());
        for layer in 0..self.columns[column].layers.len() {
            let (high_l, high_r) =
                (height(self, column, layer), height(self, column + 1, layer));
            let left = self.columns[column].layers[layer].dopants_cm3;
            let right = self.columns[column + 1].layers[layer].dopants_cm3;
            let mut amount = left;
            for (sum, r) in amount.iter_mut().zip(right) {
                *sum = mean(*sum * high_l, r * high_r);
            }
            amounts.push(amount);
        }
        let (first_l, first_r) =
            (self.columns[column].first, self.columns[column + 1].first);
        let right = self.columns.remove(column + 1);
        let left = &mut self.columns[column];
        left.silicon_top_nm = mean(left.silicon_top_nm, right.silicon_top_nm);
        left.first.height_nm = mean(first_l.height_nm, first_r.height_nm);
        let joined_height_nm = left.first.height_nm;
        let mut floor_nm = left.silicon_top_nm;
        for ((kept, gone), amount) in
            left.layers.iter_mut().zip(&right.layers).zip(amounts)
        {
            kept.top_nm = mean(kept.top_nm, gone.top_nm);
            for (concentration_cm3, sum) in kept.dopants_cm3.iter_mut().zip(amount) {
                *concentration_cm3 = sum / (kept.top_nm - floor_nm);
            }
            floor_nm = kept.top_nm;
        }
        let here = column * cells;
        let first = first_l.index;
        for values in self.silicon_cm3.iter_mut().filter(|values| !values.is_empty()) {
            for cell in 0..cells {
                let (a, b) = (values[here + cell], values[here + cells + cell]);
                values[here + cell] = if cell == first {
                    mean(a * first_l.height_nm, b * first_r.height_nm) / joined_height_nm
                } else {
                    mean(a, b)
                };
            }
            values.drain(here + cells..here + 2 * cells);
        }
        self.edges_nm.remove(column + 1);
    }

    /// Atoms per cm2 of a dopant in the silicon of one column.
    #[must_use]
    pub fn silicon_dose_cm2(&self, column: usize, dopant: Dopant) -> f64 {
        let values = self.silicon_cm3(dopant);
        if values.is_empty() {
            return 0.0;
        }
        let cells = self.cells();
        let per_nm: f64 = (self.columns[column].first.index..cells)
            .map(|cell| values[column * cells + cell] * self.height_nm(column, cell))
            .sum();
        per_nm * CM2_PER_NM2 * 1e7
    }
}

#[cfg(test)]
mod tests {
    use super::super::layer::{Layer, Matter};
    use super::super::section::Swept;
    use super::*;
    use crate::vocabulary::Material;

    fn wafer() -> Section {
        let depths_nm = (0..=25).map(|k| f64::from(k) * 4.0).collect();
        let mut section =
            Section::bare(vec![0.0, 100.0, 250.0], depths_nm, (Dopant::Boron, 1e16));
        section.lower_silicon(0, -5.0, Swept::IntoFirstCell);
        let mut oxide = Layer::new(Matter::of(Material::ThermalOxide), 6.0);
        oxide.dopants_cm3[Dopant::Boron as usize] = 3e16;
        section.set_layers(0, &[oxide]);
        section
    }

    #[test]
    fn a_split_changes_nothing_and_can_be_undone() {
        let before = wafer();
        let mut section = before.clone();
        assert!(section.split_at(40.0));
        assert!(!section.split_at(40.3), "as good as the edge that is there");
        assert!(!section.split_at(-5.0) && !section.split_at(250.0));
        assert_eq!(section.columns(), 3);
        let (a, b) = (before.inventory(Dopant::Boron), section.inventory(Dopant::Boron));
        assert!((a.silicon_cm / b.silicon_cm - 1.0).abs() < 1e-14);
        assert_eq!(section.join_alike(&[100.0]), 1);
        assert_eq!(section.edges_nm(), before.edges_nm());
        assert!(section.inventory(Dopant::Boron).imbalance() < 1e-14);
    }

    #[test]
    fn columns_of_other_stacks_and_kept_edges_stay() {
        let mut section = wafer();
        assert_eq!(section.join_alike(&[]), 0);
        section.split_at(40.0);
        assert_eq!(section.join_alike(&[40.0]), 0);
    }
}
