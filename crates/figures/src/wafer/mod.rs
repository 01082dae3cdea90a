//! The wafer in cross-section, as a picture: materials with their hatch, doping as a tint,
//! junctions, scale bars, labels with leader lines.

mod anchors;
mod doping;
mod layout;
mod order;
mod outline;
mod picture;
mod spans;
mod strands;
mod view;

pub use layout::{LayoutView, layout};
pub use picture::{section, thumbnail};
pub use view::View;
