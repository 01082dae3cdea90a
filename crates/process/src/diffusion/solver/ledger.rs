//! The dose ledger: what was there, what came in, what is found.

/// Dose of one dopant before, through the surface, and after; per cm2.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Ledger {
    /// Dose at the start.
    pub before_cm2: f64,
    /// Dose that came in through the surface (negative: left).
    pub gained_cm2: f64,
    /// Dose that round-off had made negative and that was set to zero.
    pub clipped_cm2: f64,
    /// Dose at the end.
    pub after_cm2: f64,
}

impl Ledger {
    /// Dose in, minus dose lost, minus dose found, relative to the largest of them.
    ///
    /// What was clipped is not forgiven: it counts as an error.
    #[must_use]
    pub fn balance(&self) -> f64 {
        let largest =
            self.before_cm2.abs().max(self.gained_cm2.abs()).max(self.after_cm2.abs());
        if largest == 0.0 {
            return 0.0;
        }
        (self.before_cm2 + self.gained_cm2 - self.after_cm2) / largest
    }
}
