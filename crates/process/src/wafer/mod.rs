//! The wafer as a two-dimensional cross-section: columns of layers, and dopants on a mesh.
//!
//! A [`Section`] is a row of columns on a non-uniform grid of x. Each column has a silicon top
//! and, from there up, an ordered stack of [`Layer`]s with absolute tops; open space can be a
//! layer, so that undercuts and overhangs are represented. Dopants in silicon sit on one depth
//! mesh that all columns share, in depth below the original surface; the silicon surface may cut
//! through a cell.
//!
//! Lengths are nanometers, z points up and is 0 at the original surface; concentrations are
//! atoms per cm3; amounts in the dose ledger are atoms per centimeter of depth into the page.
//!
//! Nothing here knows a recipe: the operations in the rooms beside it are told rates, thicknesses
//! and diffusivities, and change the section.

mod cells;
mod earlier;
pub mod heat;
pub mod implant;
mod invariants;
mod inventory;
mod lattice;
mod layer;
mod listed;
mod refine;
mod section;
mod shared;
mod split;
pub mod topography;

pub use inventory::Inventory;
pub use lattice::{DepthMesh, EdgeKind, column_edges_nm, depth_edges_nm};
pub use layer::{DOPANTS, Layer, Matter, Stack};
pub(crate) use listed::list;
pub use section::{Column, Section, Swept};
