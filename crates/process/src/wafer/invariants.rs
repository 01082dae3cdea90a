//! What is true of every section after every operation.

use super::cells::FirstCell;
use super::layer::THINNEST_NM;
use super::section::Section;
use crate::vocabulary::Dopant;

/// Atoms that may be missing, as a share of all that were supplied.
pub(super) const IMBALANCE: f64 = 1e-9;

impl Section {
    /// Checks the section.
    ///
    /// # Errors
    /// A sentence that names the column and what is wrong with it: a mistake of the program,
    /// never of a person.
    pub fn check(&self) -> Result<(), String> {
        if self.edges_nm.windows(2).any(|pair| pair[1] <= pair[0]) {
            return Err("the edges of the columns do not ascend".to_owned());
        }
        if self.columns.len() + 1 != self.edges_nm.len() {
            return Err("columns and edges do not fit".to_owned());
        }
        for (i, column) in self.columns.iter().enumerate() {
            let wrong = |what: &str| Err(format!("column {i}: {what}"));
            if 0.0 < column.silicon_top_nm || !column.silicon_top_nm.is_finite() {
                return wrong("silicon stands above the original surface");
            }
            if FirstCell::below(-column.silicon_top_nm, &self.depths_nm).index
                != column.first.index
            {
                return wrong("the dopant mesh does not follow the silicon");
            }
            let mut floor_nm = column.silicon_top_nm;
            for layer in &column.layers {
                let thickness_nm = layer.top_nm - floor_nm;
                if thickness_nm.is_nan() || thickness_nm < 0.5 * THINNEST_NM {
                    return wrong("a layer has no thickness");
                }
                if layer.dopants_cm3.iter().any(|c| c.is_nan() || *c < 0.0) {
                    return wrong("a layer holds a negative concentration");
                }
                floor_nm = layer.top_nm;
            }
            if column.layers.windows(2).any(|pair| pair[0].matter == pair[1].matter) {
                return wrong("two neighboring layers are the same");
            }
            if column.layers.last().is_some_and(|layer| layer.matter.is_open()) {
                return wrong("open space is on top");
            }
        }
        for &dopant in Dopant::ALL {
            let values = self.silicon_cm3(dopant);
            if values.iter().any(|c| c.is_nan() || *c < 0.0) {
                return Err(format!("{} has a negative concentration", dopant.word()));
            }
            let imbalance = self.inventory(dopant).imbalance();
            if IMBALANCE < imbalance {
                return Err(format!("{}: {imbalance:e} of it is missing", dopant.word()));
            }
        }
        Ok(())
    }
}
