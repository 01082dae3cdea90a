//! The aerial image: how much light each place of the resist gets through a mask.
//!
//! Lengths are on the wafer; an open frame has the intensity 1.

mod fresnel;
mod mask;
mod projection;
mod quality;
mod shadow;

pub use fresnel::fresnel;
pub use mask::{Mask, Pattern, Polarity, Window};
pub use projection::{Optics, SOURCE_RINGS};
pub use quality::{
    contrast, cut_off_per_um, depth_of_focus_um, incoherent_transfer, log_slope_per_um,
    proximity_resolution_um, resolution_um,
};
pub use shadow::{Shadow, knife_edge, slit};
