//! Rows of the hazard table for the page.

use barewafer_process::hazards::{HazardRow, row};

/// The rows of the hazard table with these ids, in this order; unknown ids are left out.
pub(crate) fn rows(ids: &[String]) -> Vec<HazardRow> {
    ids.iter().take(1000).filter_map(|id| row(id)).collect()
}
