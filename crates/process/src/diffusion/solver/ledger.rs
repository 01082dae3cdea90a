//! The dose ledger: what was there, what came in, what is found.

/// Dose of one dopant before, through the surface, and after; per cm2.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Ledger {
    /// Dose in the silicon at the start.
    pub before_cm2: f64,
    /// Dose that came in through the surface (negative: left into the gas).
    pub gained_cm2: f64,
    /// Dose that moved up with fresh silicon from below the grid, as an oxide ate the surface.
    pub fresh_cm2: f64,
    /// Dose that the growing oxide has taken up.
    pub oxide_cm2: f64,
    /// Dose that round-off had made negative and that was set to zero.
    pub clipped_cm2: f64,
    /// Dose in the silicon at the end.
    pub after_cm2: f64,
}

impl Ledger {
    /// Dose in, minus dose lost, minus dose found in silicon and oxide, relative to the
    /// largest of them.
    ///
    /// What was clipped is not forgiven: it counts as an error.
    #[must_use]
    pub fn balance(&self) -> f64 {
        let parts = [
            self.before_cm2,
            self.gained_cm2,
            self.fresh_cm2,
            self.oxide_cm2,
            self.after_cm2,
        ];
        let largest =
            parts.iter().fold(0.0, |largest: f64, part| largest.max(part.abs()));
        if largest == 0.0 {
            return 0.0;
        }
        (self.before_cm2 + self.gained_cm2 + self.fresh_cm2
            - self.oxide_cm2
            - self.after_cm2)
            / largest
    }
}
