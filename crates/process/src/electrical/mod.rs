//! What a doped layer conducts: mobility, resistivity, sheet resistance, junctions.

pub mod junction;
pub mod mobility;
pub mod resistivity;
pub mod sheet_resistance;
