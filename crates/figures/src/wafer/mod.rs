//! The wafer in cross-section, as a picture: materials with their hatch, doping as a tint,
//! junctions, scale bars, labels with leader lines.

mod across;
mod anchors;
mod change;
mod contour;
mod doping;
mod layout;
mod order;
mod outline;
mod picture;
mod profile;
mod spans;
mod storyboard;
mod strands;
mod view;

pub use across::across;
pub use layout::{LayoutView, layout, layout_frame};
pub use picture::{changed_section, section, section_frame, thumbnail};
pub use profile::profile;
pub use storyboard::{FRAME_WIDTH, Frame, PICTURE_HEIGHT, storyboard};
pub use view::View;
