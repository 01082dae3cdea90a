//! What a doped layer conducts: mobility, sheet resistance, junctions.
