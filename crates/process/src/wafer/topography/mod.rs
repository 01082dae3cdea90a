//! What changes the shape of a section's layers: films that grow and flow, etching, polishing,
//! resist.
//!
//! Every operation works from the section as it was when the operation began: a film of a
//! thickness is one set of circles about the old surface, an etch of a time one field of arrival
//! times. Repeating small steps would lose the circles between the columns.
//!
//! Edges of columns are put where walls come to stand, so that an upright wall moves by exactly
//! what it should however wide the columns are; [`super::Section::join_alike`] takes back what is
//! no longer needed.

mod arrival;
mod closing;
mod deposition;
mod directional;
mod discs;
mod front;
mod isotropic;
mod leveling;
mod listed;
mod march;
mod paint;
mod pieces;
mod polishing;
mod rates;
mod removal;
mod resist;
mod sky;
mod slopes;
mod spans;
mod strip;
#[cfg(test)]
mod times;
mod walls;
mod ways;

pub use deposition::{Added, Addition, Coverage, deposit};
pub use directional::etch_directional;
pub use isotropic::etch_isotropic;
pub use leveling::{coat, reflow};
pub(super) use listed::list;
pub use polishing::{polish_by, polish_to};
pub use rates::Rates;
pub use removal::Removed;
pub use resist::{ResistSurface, carve_resist, pattern_resist};
pub use sky::sky_share;
pub use strip::strip;
