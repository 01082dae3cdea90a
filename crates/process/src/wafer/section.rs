//! The cross-section itself and the only ways to change it.

use super::cells::FirstCell;
use super::inventory::Inventory;
use super::lattice::on_grid_nm;
use super::layer::{DOPANTS, Layer, Matter, Stack, tidied};
use super::shared::Shared;
use crate::vocabulary::{Dopant, Material};

/// Atoms per cm of page depth in one nm by one nm at one atom per cm3.
pub(super) const CM2_PER_NM2: f64 = 1e-14;

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    pub(super) silicon_top_nm: f64,
    pub(super) first: FirstCell,
    pub(super) layers: Stack,
}

/// What becomes of the dopants in silicon that goes away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Swept {
    /// They are pushed into what is now the first cell (oxidation; the caller then moves some of
    /// them into the oxide).
    IntoFirstCell,
    /// They leave with the silicon (etching, polishing).
    Removed,
}

/// A cross-section of the wafer.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Borders of the columns in nm.
    pub(super) edges_nm: Vec<f64>,
    /// The columns from left to right.
    pub(super) columns: Shared<Column>,
    /// Borders of the depth mesh below the original surface in nm.
    pub(super) depths_nm: Vec<f64>,
    /// Concentration in silicon per cm3 by dopant: `[column * cells + cell]`, or empty while the
    /// section has none of it.
    pub(super) silicon_cm3: [Shared<f64>; DOPANTS],
    /// What came and went, by dopant, in atoms per cm.
    pub(super) supplied_cm: [f64; DOPANTS],
    pub(super) removed_cm: [f64; DOPANTS],
}

impl Section {
    /// A bare wafer of uniform doping on the given borders of columns and depth cells, in nm;
    /// both ascend, the depths from 0.
    #[must_use]
    pub fn bare(edges_nm: Vec<f64>, depths_nm: Vec<f64>, doping: (Dopant, f64)) -> Self {
        let edges_nm: Vec<f64> = edges_nm.into_iter().map(on_grid_nm).collect();
        let first = FirstCell::below(0.0, &depths_nm);
        let column = Column { silicon_top_nm: 0.0, first, layers: Stack::new() };
        let columns = vec![column; edges_nm.len().saturating_sub(1)].into();
        let mut section = Self {
            edges_nm,
            columns,
            depths_nm,
            silicon_cm3: Default::default(),
            supplied_cm: [0.0; DOPANTS],
            removed_cm: [0.0; DOPANTS],
        };
        let (dopant, concentration_cm3) = doping;
        section.silicon_cm3_mut(dopant).fill(concentration_cm3);
        section.supplied_cm[dopant as usize] = section.silicon_amount_cm(dopant);
        section
    }

    /// Number of columns.
    #[must_use]
    pub fn columns(&self) -> usize {
        self.columns.len()
    }

    /// Number of depth cells.
    #[must_use]
    pub fn cells(&self) -> usize {
        self.depths_nm.len() - 1
    }

    /// Borders of the columns in nm.
    #[must_use]
    pub fn edges_nm(&self) -> &[f64] {
        &self.edges_nm
    }

    /// Borders of the depth cells below the original surface in nm.
    #[must_use]
    pub fn depths_nm(&self) -> &[f64] {
        &self.depths_nm
    }

    /// Width of a column in nm.
    #[must_use]
    pub fn width_nm(&self, column: usize) -> f64 {
        self.edges_nm[column + 1] - self.edges_nm[column]
    }

    /// Middle of a column in nm.
    #[must_use]
    pub fn center_nm(&self, column: usize) -> f64 {
        0.5 * (self.edges_nm[column + 1] + self.edges_nm[column])
    }

    /// The column at `x_nm`; the last one at the right border, the nearest one outside.
    #[must_use]
    pub fn column_at(&self, x_nm: f64) -> usize {
        let above = self.edges_nm.partition_point(|&edge| edge <= x_nm);
        above.saturating_sub(1).min(self.columns() - 1)
    }

    /// Height of the silicon's upper face in nm (0 or less).
    #[must_use]
    pub fn silicon_top_nm(&self, column: usize) -> f64 {
        self.columns[column].silicon_top_nm
    }

    /// The layers of a column from the silicon up.
    #[must_use]
    pub fn layers(&self, column: usize) -> &[Layer] {
        &self.columns[column].layers
    }

    /// Height of the highest face of a column in nm.
    #[must_use]
    pub fn top_nm(&self, column: usize) -> f64 {
        let column = &self.columns[column];
        column.layers.last().map_or(column.silicon_top_nm, |layer| layer.top_nm)
    }

    /// Lower face of a layer of a column in nm.
    #[must_use]
    pub fn floor_nm(&self, column: usize, layer: usize) -> f64 {
        let column = &self.columns[column];
        if layer == 0 { column.silicon_top_nm } else { column.layers[layer - 1].top_nm }
    }

    /// What is at the height `z_nm` of a column; silicon is a usual film of its material.
    #[must_use]
    pub fn matter_at(&self, column: usize, z_nm: f64) -> Matter {
        let column = &self.columns[column];
        if z_nm <= column.silicon_top_nm {
            return Matter::of(Material::Silicon);
        }
        let above = column.layers.partition_point(|layer| layer.top_nm < z_nm);
        column.layers.get(above).map_or(Matter::Open, |layer| layer.matter)
    }

    /// The first cell of a column that holds silicon, and the height of silicon in it in nm.
    #[must_use]
    pub fn first_cell(&self, column: usize) -> (usize, f64) {
        let first = self.columns[column].first;
        (first.index, first.height_nm)
    }

    /// Height of silicon in a cell of a column in nm; 0 above the surface.
    #[must_use]
    pub fn height_nm(&self, column: usize, cell: usize) -> f64 {
        let first = self.columns[column].first;
        if cell < first.index {
            0.0
        } else if cell == first.index {
            first.height_nm
        } else {
            self.depths_nm[cell + 1] - self.depths_nm[cell]
        }
    }

    /// Depth of the middle of the silicon in a cell, below the original surface, in nm.
    #[must_use]
    pub fn middle_nm(&self, column: usize, cell: usize) -> f64 {
        self.depths_nm[cell + 1] - 0.5 * self.height_nm(column, cell)
    }

    /// The dopants that the silicon has, in the vocabulary's order.
    #[must_use]
    pub fn dopants(&self) -> Vec<Dopant> {
        Dopant::ALL
            .iter()
            .copied()
            .filter(|&dopant| !self.silicon_cm3[dopant as usize].is_empty())
            .collect()
    }

    /// Concentrations of a dopant in silicon per cm3, `[column * cells + cell]`, 0 above the
    /// surface; empty if there is none of it.
    #[must_use]
    pub fn silicon_cm3(&self, dopant: Dopant) -> &[f64] {
        &self.silicon_cm3[dopant as usize]
    }

    /// The same, to be changed by an operation that books what it adds or takes
    /// ([`Section::book`]).
    pub fn silicon_cm3_mut(&mut self, dopant: Dopant) -> &mut [f64] {
        let size = self.columns.len() * (self.depths_nm.len() - 1);
        let values = &mut self.silicon_cm3[dopant as usize];
        if values.is_empty() {
            values.resize(size, 0.0);
        }
        values
    }

    /// Dopants of a layer per cm3, to be changed by an operation that books what it adds or
    /// takes ([`Section::book`]).
    pub fn layer_dopants_cm3_mut(
        &mut self,
        column: usize,
        layer: usize,
    ) -> &mut [f64; DOPANTS] {
        &mut self.columns[column].layers[layer].dopants_cm3
    }

    /// Books atoms of a dopant per cm of page depth: positive ones as supplied, negative ones as
    /// removed.
    pub fn book(&mut self, dopant: Dopant, amount_cm: f64) {
        let booked =
            if amount_cm < 0.0 { &mut self.removed_cm } else { &mut self.supplied_cm };
        booked[dopant as usize] += amount_cm.abs();
    }

    /// Gives a column a new stack. It is put in order: layers without thickness, open space on
    /// top and borders between equal neighbors go. Dopants that came or went with the layers are
    /// booked.
    pub fn set_layers(&mut self, column: usize, layers: &[Layer]) {
        let before = self.layers_amount_cm(column);
        let bottom_nm = self.columns[column].silicon_top_nm;
        self.columns[column].layers = tidied(bottom_nm, layers);
        let after = self.layers_amount_cm(column);
        for &dopant in Dopant::ALL {
            let change_cm = after[dopant as usize] - before[dopant as usize];
            if change_cm != 0.0 {
                self.book(dopant, change_cm);
            }
        }
    }

    /// Lowers the silicon of a column to the height `to_nm`. Its layers keep their upper faces:
    /// the lowest one then reaches down to the silicon, with its dopants diluted. An operation
    /// that leaves something else there says so with [`Section::set_layers`].
    pub fn lower_silicon(&mut self, column: usize, to_nm: f64, swept: Swept) {
        debug_assert!(
            to_nm <= self.columns[column].silicon_top_nm,
            "silicon does not grow"
        );
        let cells = self.cells();
        let old = self.columns[column].first;
        let new = FirstCell::below(-to_nm, &self.depths_nm);
        let width_nm = self.width_nm(column);
        let start = column * cells;
        let depths_nm = &self.depths_nm;
        let whole_nm = |cell: usize| depths_nm[cell + 1] - depths_nm[cell];
        for &dopant in Dopant::ALL {
            let values = &mut self.silicon_cm3[dopant as usize];
            if values.is_empty() {
                continue;
            }
            let cells_cm3 = &mut values[start..start + cells];
            let deeper: f64 = (old.index + 1..=new.index)
                .map(|cell| cells_cm3[cell] * whole_nm(cell))
                .sum();
            let before = cells_cm3[old.index] * old.height_nm + deeper;
            let after = match swept {
                Swept::IntoFirstCell => before,
                Swept::Removed if old.index == new.index => {
                    cells_cm3[new.index] * new.height_nm
                }
                // A sliver of the cell above may have joined the new first cell.
                Swept::Removed => {
                    let sliver_nm = new.height_nm - whole_nm(new.index);
                    let above_cm3 =
                        if 0.0 < sliver_nm { cells_cm3[new.index - 1] } else { 0.0 };
                    cells_cm3[new.index] * (new.height_nm - sliver_nm.max(0.0))
                        + above_cm3 * sliver_nm.max(0.0)
                }
            };
            cells_cm3[old.index..new.index].fill(0.0);
            cells_cm3[new.index] = after / new.height_nm;
            self.removed_cm[dopant as usize] += (before - after) * width_nm * CM2_PER_NM2;
        }
        let column = &mut self.columns[column];
        if let Some(lowest) = column.layers.first_mut() {
            let dilution =
                (lowest.top_nm - column.silicon_top_nm) / (lowest.top_nm - to_nm);
            for concentration_cm3 in &mut lowest.dopants_cm3 {
                *concentration_cm3 *= dilution;
            }
        }
        column.silicon_top_nm = to_nm;
        column.first = new;
    }

    /// The dose ledger of a dopant.
    #[must_use]
    pub fn inventory(&self, dopant: Dopant) -> Inventory {
        let layers_cm =
            (0..self.columns()).map(|i| self.layers_amount_cm(i)[dopant as usize]).sum();
        Inventory {
            silicon_cm: self.silicon_amount_cm(dopant),
            layers_cm,
            supplied_cm: self.supplied_cm[dopant as usize],
            removed_cm: self.removed_cm[dopant as usize],
        }
    }

    /// Area of a material in the section in nm2.
    #[must_use]
    pub fn area_nm2(&self, material: Material) -> f64 {
        let mut area_nm2 = 0.0;
        for i in 0..self.columns() {
            let mut floor_nm = self.columns[i].silicon_top_nm;
            if material == Material::Silicon {
                let bottom_nm = -self.depths_nm[self.cells()];
                area_nm2 += self.width_nm(i) * (floor_nm - bottom_nm);
            }
            for layer in &self.columns[i].layers {
                if layer.matter.material() == Some(material) {
                    area_nm2 += self.width_nm(i) * (layer.top_nm - floor_nm);
                }
                floor_nm = layer.top_nm;
            }
        }
        area_nm2
    }

    /// Atoms of a dopant in silicon per cm of page depth.
    fn silicon_amount_cm(&self, dopant: Dopant) -> f64 {
        let values = &self.silicon_cm3[dopant as usize];
        if values.is_empty() {
            return 0.0;
        }
        let cells = self.cells();
        let mut amount = 0.0;
        for column in 0..self.columns() {
            let mut per_nm = 0.0;
            for cell in self.columns[column].first.index..cells {
                per_nm += values[column * cells + cell] * self.height_nm(column, cell);
            }
            amount += per_nm * self.width_nm(column);
        }
        amount * CM2_PER_NM2
    }

    /// Atoms of every dopant in the layers of a column per cm of page depth.
    fn layers_amount_cm(&self, column: usize) -> [f64; DOPANTS] {
        let mut amounts = [0.0; DOPANTS];
        let width_nm = self.width_nm(column);
        let mut floor_nm = self.columns[column].silicon_top_nm;
        for layer in &self.columns[column].layers {
            let area_cm2 = width_nm * (layer.top_nm - floor_nm) * CM2_PER_NM2;
            for (amount, concentration_cm3) in amounts.iter_mut().zip(layer.dopants_cm3) {
                *amount += area_cm2 * concentration_cm3;
            }
            floor_nm = layer.top_nm;
        }
        amounts
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wafer() -> Section {
        let depths_nm = (0..=50).map(|k| f64::from(k) * 4.0).collect();
        Section::bare(vec![0.0, 100.0, 250.0], depths_nm, (Dopant::Boron, 1e16))
    }

    #[test]
    fn etched_silicon_takes_its_dopants_along() {
        let mut section = wafer();
        for to_nm in [-1.0, -3.5, -4.0, -11.0, -30.2] {
            section.lower_silicon(1, to_nm, Swept::Removed);
            let boron = section.inventory(Dopant::Boron);
            // Uniform doping stays uniform.
            let (first, _) = section.first_cell(1);
            let at = section.silicon_cm3(Dopant::Boron)[50 + first];
            assert!((at / 1e16 - 1.0).abs() < 1e-12, "{to_nm}: {at}");
            let expected_cm = -to_nm * 150.0 * 1e16 * CM2_PER_NM2;
            assert!((boron.removed_cm / expected_cm - 1.0).abs() < 1e-10);
            assert!(boron.imbalance() < 1e-14);
        }
    }

    #[test]
    fn oxidized_silicon_leaves_its_dopants_in_the_first_cell() {
        let mut section = wafer();
        section.lower_silicon(0, -10.0, Swept::IntoFirstCell);
        let (first, height_nm) = section.first_cell(0);
        let cell_end_nm = section.depths_nm()[first + 1];
        let at = section.silicon_cm3(Dopant::Boron)[first];
        assert!((at * height_nm / (1e16 * cell_end_nm) - 1.0).abs() < 1e-12);
        assert!(section.inventory(Dopant::Boron).imbalance() < 1e-14);
        assert!(
            (section.area_nm2(Material::Silicon) - (250.0 * 200.0 - 1000.0)).abs() < 1e-6
        );
    }

    #[test]
    fn a_column_is_asked_by_height() {
        let mut section = wafer();
        let oxide = Layer::new(Matter::of(Material::ThermalOxide), 20.0);
        let gap = Layer::new(Matter::Open, 60.0);
        let poly = Layer::new(Matter::of(Material::Polysilicon), 300.0);
        section.set_layers(0, &[oxide, gap, poly]);
        let asked = [
            (-1.0, Some(Material::Silicon)),
            (10.0, Some(Material::ThermalOxide)),
            (30.0, None),
            (200.0, Some(Material::Polysilicon)),
            (400.0, None),
        ];
        for (z_nm, material) in asked {
            assert_eq!(section.matter_at(0, z_nm).material(), material, "{z_nm}");
        }
        assert!((section.top_nm(0) - 300.0).abs() < 1e-12);
        assert_eq!(section.column_at(100.0), 1);
        assert_eq!(section.column_at(250.0), 1);
    }
}
