//! Lithography: resist on the wafer, its exposure through a mask, and what the developer leaves.

pub mod bake;
pub mod development;
pub mod exposure;
pub mod imaging;
mod in_flow;
mod listed;
pub mod process_window;
mod resist;
pub mod spin_coating;

pub use bake::{BakeResults, run as run_bake, schema as bake_schema};
pub use development::{
    DevelopmentResults, run as run_development, schema as development_schema,
};
pub use exposure::{ExposureResults, run as run_exposure, schema as exposure_schema};
pub(crate) use in_flow::{
    FlowBake, FlowDevelopment, FlowExposure, FlowSpin, PrintedResist,
};
pub(crate) use listed::list;
pub use process_window::{
    ProcessWindowResults, run as run_process_window, schema as process_window_schema,
};
pub use resist::{Formulation, Resist, Tone};
pub use spin_coating::{
    SpinCoatingResults, SpinCurve, SpinTrace, run as run_spin_coating,
    schema as spin_coating_schema,
};
