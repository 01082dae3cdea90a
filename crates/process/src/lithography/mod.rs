//! Lithography: resist on the wafer.

mod listed;
mod resist;
pub mod spin_coating;

pub(crate) use listed::list;
pub use resist::{Formulation, Resist};
pub use spin_coating::{
    SpinCoatingResults, SpinCurve, SpinTrace, run as run_spin_coating,
    schema as spin_coating_schema,
};
