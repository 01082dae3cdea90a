//! The one-dimensional diffusion solver: grid, fluxes, boundary conditions, time stepping and
//! the dose ledger. It knows species, not chemistry: charges and diffusivities are given.

mod anneal;
mod block;
mod boundary;
mod flux;
mod grid;
mod ledger;
mod motion;
mod schedule;
mod similarity;
mod stepper;
mod unrolled;

pub use anneal::{Control, Outcome, Snapshot, anneal, anneal_through};
pub use boundary::Surface;
pub use flux::{ChargeComponents, Crystal, Species, active_part, electrons};
pub use grid::Grid;
pub use ledger::Ledger;
pub use motion::OxideSlice;
pub use schedule::{
    INTERSTITIAL_DECAY_CM, INTERSTITIAL_REACH_CM, MOST_SPECIES, Moment, Schedule,
    enhancement,
};
pub use similarity::{SourceProfile, constant_source, constant_source_with};
