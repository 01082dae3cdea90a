//! A furnace that changes with time: temperature ramps, a growing oxide, injected point defects.

use super::flux::{Crystal, Species};

/// The most dopants that can diffuse together.
pub const MOST_SPECIES: usize = 5;

/// What the furnace does to the silicon at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Moment {
    /// Seconds that pass per second of the solver's clock.
    ///
    /// A schedule may run its clock by the heat instead of the time, so that no step of the
    /// solver can jump over a short hot stretch.
    pub pace: f64,
    /// The crystal at this temperature.
    pub crystal: Crystal,
    /// The dopants at this temperature, in the order of the solver's lists.
    pub species: Vec<Species>,
    /// Thickness of oxide on the silicon in cm.
    pub oxide_cm: f64,
    /// Equilibrium concentration in silicon over that in oxide, by dopant.
    pub segregation: Vec<f64>,
    /// Self-interstitials near the surface over their equilibrium; 1 where nothing injects them.
    pub supersaturation: f64,
}

/// The furnace along the solver's clock.
pub trait Schedule {
    /// The moment at a clock reading between 0 and the end of the anneal.
    fn at(&self, clock_s: f64) -> Moment;

    /// Share of each dopant that moves with self-interstitials; the rest moves with vacancies.
    /// Empty: no dopant feels the supersaturation.
    fn interstitial_share(&self) -> &[f64];
}

/// Down to this depth in cm injected self-interstitials are everywhere the same: 2 um (memory).
pub const INTERSTITIAL_REACH_CM: f64 = 2e-4;

/// Depth over which they fade below that in cm: 10 um in clean wafers (order of magnitude only;
/// memory).
pub const INTERSTITIAL_DECAY_CM: f64 = 1e-3;

/// Diffusivity over its equilibrium value at a supersaturation of self-interstitials.
///
/// # Model
/// `D/D* = f S + (1 - f)/S`: vacancies recombine with the interstitials to `CI CV = CI* CV*`.
#[must_use]
pub fn enhancement(interstitial_share: f64, supersaturation: f64) -> f64 {
    interstitial_share * supersaturation + (1.0 - interstitial_share) / supersaturation
}
