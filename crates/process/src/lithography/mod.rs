//! Lithography: resist on the wafer, its exposure through a mask, and what the developer leaves.

pub mod development;
pub mod exposure;
pub mod imaging;
mod resist;
pub mod spin_coating;

pub use resist::{Formulation, Resist, Tone};
pub use spin_coating::{
    SpinCoatingResults, SpinCurve, SpinTrace, run as run_spin_coating,
    schema as spin_coating_schema,
};
