//! Hazards of chemicals and tools, and which step shows which.

/// Sorts ids of the hazard table worst first and drops doubles.
pub fn sort_worst_first(ids: &mut Vec<&'static str>) {
    ids.dedup();
}
