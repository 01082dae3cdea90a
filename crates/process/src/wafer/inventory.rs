//! Where the atoms of a dopant are.

/// The dose ledger of one dopant, in atoms per cm of depth into the page.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Inventory {
    /// In silicon.
    pub silicon_cm: f64,
    /// In the layers above it.
    pub layers_cm: f64,
    /// Brought by sources, beams and films since the start, substrate included.
    pub supplied_cm: f64,
    /// Carried off with etched material, evaporated or stopped outside.
    pub removed_cm: f64,
}

impl Inventory {
    /// What is missing or too much, relative to all that was supplied.
    #[must_use]
    pub fn imbalance(&self) -> f64 {
        let error = self.silicon_cm + self.layers_cm + self.removed_cm - self.supplied_cm;
        error.abs() / self.supplied_cm.max(1.0)
    }
}
