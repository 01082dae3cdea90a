//! How much of the sky the top of a column sees.

use super::super::Section;
use super::walls::Facing;

/// Flux on the top of a column over that on open ground (0 to 1), for atoms that come from all
/// directions by the cosine law.
///
/// # Model
/// In a section of long features, `(sin a_left + sin a_right) / 2`, where `a` is the angle from
/// the upright to the nearest horizon on that side (derived from the cosine law).
#[must_use]
pub fn sky_share(section: &Section, column: usize) -> f64 {
    let (x_nm, z_nm) = (section.center_nm(column), section.top_nm(column));
    let edges_nm = section.edges_nm();
    let mut steepest = [0.0_f64; 2];
    for other in 0..section.columns() {
        let above_nm = section.top_nm(other) - z_nm;
        if above_nm <= 0.0 || other == column {
            continue;
        }
        let (side, away_nm) = if other < column {
            (0, x_nm - edges_nm[other + 1])
        } else {
            (1, edges_nm[other] - x_nm)
        };
        steepest[side] = steepest[side].max(above_nm / away_nm);
    }
    let sine = |slope: f64| 1.0 / (1.0 + slope * slope).sqrt();
    0.5 * (sine(steepest[0]) + sine(steepest[1]))
}

/// Flux on the wall of a column over that on open ground (0 to 0.5), at half the height that it
/// shows above its neighbor.
///
/// # Model
/// `(1 - sin b) / 2`, where `b` is the angle from the level up to the nearest horizon that the
/// wall looks at (derived from the cosine law for an upright surface).
pub(super) fn wall_share(section: &Section, column: usize, facing: Facing) -> f64 {
    let columns = section.columns();
    let edges_nm = section.edges_nm();
    let top_nm = section.top_nm(column);
    let next = match facing {
        Facing::Left => column.checked_sub(1),
        Facing::Right => Some(column + 1).filter(|&next| next < columns),
    };
    let Some(next) = next else { return 0.5 };
    let z_nm = 0.5 * (top_nm + section.top_nm(next).min(top_nm));
    let slope = |other: usize, away_nm: f64| {
        let above_nm = section.top_nm(other) - z_nm;
        if above_nm <= 0.0 { 0.0 } else { above_nm / away_nm.max(1e-9) }
    };
    let steepest = match facing {
        Facing::Left => (0..column)
            .map(|other| slope(other, edges_nm[column] - edges_nm[other + 1]))
            .fold(0.0, f64::max),
        Facing::Right => (column + 1..columns)
            .map(|other| slope(other, edges_nm[other] - edges_nm[column + 1]))
            .fold(0.0, f64::max),
    };
    0.5 * (1.0 - steepest / (1.0 + steepest * steepest).sqrt())
}
