//! The shadows that walls throw in a tilted beam.

use super::super::section::Section;
use super::stacks::Stacks;
use crate::implantation::lateral::shadow_per_height;

/// Less shadow than this share of a column is none.
pub(super) const NOTHING: f64 = 1e-6;

/// Share of each column's width that lies in a shadow.
///
/// # Model
/// A stack is opaque up to the height at which half of the ions have stopped in it; from there
/// its shadow falls along the beam (model choice: a sharp edge).
pub(super) fn shares(
    section: &Section,
    stacks: &Stacks,
    tilt_deg: f64,
    rotation_deg: f64,
) -> Vec<f64> {
    let columns = section.columns();
    let mut shares = vec![0.0; columns];
    let slope = shadow_per_height(tilt_deg, rotation_deg);
    // How far the shadows thrown so far reach at height 0, along the beam's way.
    let mut reach_nm = f64::NEG_INFINITY;
    for n in 0..columns {
        let (i, sign) = if 0.0 <= slope { (n, 1.0) } else { (columns - 1 - n, -1.0) };
        let edges_nm = section.edges_nm();
        let (near, far) = if 0.0 <= slope {
            (edges_nm[i], edges_nm[i + 1])
        } else {
            (-edges_nm[i + 1], -edges_nm[i])
        };
        let height_nm = stacks.at(i).opaque_nm;
        let fall_nm = sign * slope * height_nm;
        let share = ((reach_nm - fall_nm - near) / (far - near)).clamp(0.0, 1.0);
        shares[i] = if share < NOTHING { 0.0 } else { share };
        reach_nm = reach_nm.max(far + fall_nm);
    }
    shares
}
