//! Two shapes that need no marching: an upright beam and a liquid.

use super::{Covered, Trench};

/// Atoms that fall straight down: a step in the film at each edge, nothing on the walls.
pub(super) fn beam(trench: &Trench, t_um: f64) -> Covered {
    let half_um = 0.5 * trench.width_um;
    let bottom_z = t_um - trench.depth_um;
    Covered {
        surface: vec![
            [trench.left_um(t_um), t_um],
            [-half_um, t_um],
            [-half_um, bottom_z],
            [0.0, bottom_z],
        ],
        side_um: Some(0.0),
        bottom_um: t_um,
        ..Covered::default()
    }
}

/// A liquid that lies level when it sets and then loses a share of its height everywhere: over
/// the trench, where it is deeper, it sinks by `shrink` times the depth.
///
/// Holds while the trench is narrow beside the length over which the liquid flows (some 10 um)
/// and a rare one, so that filling it takes nothing from the ground around it.
pub(super) fn liquid(trench: &Trench, t_um: f64, shrink: f64) -> Covered {
    let half_um = 0.5 * trench.width_um;
    let over_z = t_um - shrink * trench.depth_um;
    Covered {
        surface: vec![
            [trench.left_um(t_um), t_um],
            [-half_um, t_um],
            [-half_um, over_z],
            [0.0, over_z],
        ],
        bottom_um: trench.depth_um + over_z,
        ..Covered::default()
    }
}
