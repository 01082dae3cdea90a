//! What a snapshot of the wafer is asked: materials, profiles, junctions, films, words.
//!
//! Places are micrometers: x from the beginning of the section line, z up from the original
//! surface of the wafer.

mod at;
mod compare;
mod contours;
mod edges;
mod films;
pub(super) mod listed;
mod measured;
mod profile;
mod sentences;
mod sheet;

pub use at::{LayerAt, layers_at, material_at};
pub use compare::{Difference, compare, compare_runs};
pub use contours::{Contour, junction_contours};
pub use films::{
    Piece, film_nm, pieces_um, silicon_recess_nm, step_height_nm, thickness_range_nm,
};
pub use measured::measurements;
pub use profile::{AcrossProfile, profile_across, profile_down};
pub use sentences::describe;
pub use sheet::{SheetAt, dose_cm2, junctions_at_um, sheet_at};
