//! What a doped layer conducts: mobility, resistivity, sheet resistance, junctions.

pub mod depletion;
pub mod junction;
mod listed;
pub mod mobility;
pub mod probing;
pub mod resistivity;
pub mod sheet;
pub mod sheet_resistance;
pub(crate) mod wafer;

pub(crate) use listed::list;
pub use sheet::{SheetResults, run as run_sheet, schema as sheet_schema};
