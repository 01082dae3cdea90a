//! How much of the sky the top of a column sees.

use super::super::Section;

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
