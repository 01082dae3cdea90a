//! What a doped layer conducts: mobility, resistivity, sheet resistance, junctions.

pub mod junction;
mod listed;
pub mod mobility;
pub mod resistivity;
pub mod sheet_resistance;

pub(crate) use listed::list;
