//! The ways of single ions in section: ink lines that end in a small ring.

use barewafer_process::implantation::ImplantationResults;
use barewafer_process::implantation::monte_carlo::{SingleIons, Track};

use super::doped::DepthScale;
use super::sketch::Sketch;
use crate::charts::doping::depth_of;
use crate::numbers::short;

/// Steps shorter than this in px are not drawn.
const FINEST: f64 = 1.2;
/// Radius in px of the ring where an ion rests.
const RING: f64 = 2.2;
/// Corners of a ring, on a circle of radius 1.
const OCTAGON: [[f64; 2]; 8] = [
    [1.0, 0.0],
    [0.707, 0.707],
    [0.0, 1.0],
    [-0.707, 0.707],
    [-1.0, 0.0],
    [-0.707, -0.707],
    [0.0, -1.0],
    [0.707, -0.707],
];

/// The small ring where an ion rests, as a closed line.
pub(super) fn ring([x, y]: [f64; 2]) -> Vec<[f64; 2]> {
    let corners = OCTAGON.iter().chain(&OCTAGON[..1]);
    corners.map(|[c, s]| [tenths(x + RING * c), tenths(y + RING * s)]).collect()
}

/// Depth in um that a picture of single ions shows. It follows from the range table, so that the
/// picture keeps its scale while the ions fly.
pub(crate) fn depth_shown_um(ions: &SingleIons) -> f64 {
    let table = &ions.table_profile;
    let highest = table.concentration_cm3.iter().copied().fold(0.0, f64::max);
    let reached = depth_of(&table.depth_um, &table.concentration_cm3, 1e-4 * highest)
        .unwrap_or(0.0);
    // Single ions go up to a fifth deeper than the published table says.
    1.2 * reached
}

/// Largest concentration by the range table, in cm-3: it stays while the ions fly. Counts lie up
/// to half above it.
pub(crate) fn highest_by_table(ions: &SingleIons) -> f64 {
    1.5 * ions.table_profile.concentration_cm3.iter().copied().fold(0.0, f64::max)
}

/// Draws the tracks into the section: all enter at one point of the surface, in the middle; the
/// scale across is that of the depth.
pub(super) fn draw(
    sketch: &mut Sketch,
    ions: &SingleIons,
    scale: DepthScale,
    [left, right]: [f64; 2],
    bottom: f64,
    beam_slope: f64,
) {
    let middle = 0.5 * (left + right);
    let inside = |[x, y]: [f64; 2]| left <= x && x <= right && y <= bottom;
    let px = |[across_nm, depth_nm]: [f64; 2]| {
        [
            tenths(middle + 1e-3 * across_nm * scale.px_per_um),
            tenths(scale.down(1e-3 * depth_nm)),
        ]
    };
    let mut lines = Vec::new();
    let mut rings = Vec::new();
    for track in &ions.tracks {
        lines.extend(pieces(track, px, inside));
        let end = track.points_nm.last().map(|&point| px(point));
        if let Some([x, y]) = end.filter(|&end| track.at_rest && inside(end)) {
            rings.push(ring([x, y]));
        }
    }
    sketch.strokes(lines, "mark");
    sketch.strokes(rings, "mark");
    let tip = [middle - 4.0 * beam_slope, scale.top - 4.0];
    // The arrow comes from where the beam comes, and stays above the section.
    let rise = (0.5 * (right - left) / beam_slope.abs().max(1e-9)).min(48.0);
    sketch.arrow([tip[0] - rise * beam_slope, tip[1] - rise], tip, "beam");
}

/// The parts of a track that lie in the section, without steps too small to be seen.
fn pieces(
    track: &Track,
    px: impl Fn([f64; 2]) -> [f64; 2],
    inside: impl Fn([f64; 2]) -> bool,
) -> Vec<Vec<[f64; 2]>> {
    let mut pieces: Vec<Vec<[f64; 2]>> = vec![Vec::new()];
    let last = track.points_nm.len().saturating_sub(1);
    for (i, &point) in track.points_nm.iter().enumerate() {
        let here = px(point);
        if !inside(here) {
            pieces.push(Vec::new());
            continue;
        }
        let Some(piece) = pieces.last_mut() else { continue };
        let seen = piece.last().is_none_or(|before: &[f64; 2]| {
            let [dx, dy] = [here[0] - before[0], here[1] - before[1]];
            FINEST * FINEST <= dx * dx + dy * dy
        });
        if seen || i == last {
            piece.push(here);
        }
    }
    pieces.retain(|piece| 1 < piece.len());
    pieces
}

/// What the tracks are, for the line below the picture.
pub(super) fn words(results: &ImplantationResults, ions: &SingleIons) -> String {
    let dopant = results.profile.dopants.first().map_or("", |(dopant, _)| dopant.label());
    format!(
        "{dopant} beam; the ways of {} of {} ions, across and down to the same scale",
        ions.tracks.len(),
        short(f64::from(ions.ions_done)),
    )
}

/// A picture needs no more than tenths of a pixel, and the answer gets shorter.
fn tenths(px: f64) -> f64 {
    (10.0 * px).round() / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_track_is_cut_at_the_edge_of_the_section() {
        let points_nm = vec![
            [0.0, 0.0],
            [0.0, 10.0],
            [0.2, 10.1],
            [30.0, 20.0],
            [5.0, 30.0],
            [4.0, 40.0],
        ];
        let mut track = Track::default();
        track.points_nm = points_nm;
        let found = pieces(&track, |point| point, |[x, _]| x < 20.0);
        let expected = [vec![[0.0, 0.0], [0.0, 10.0]], vec![[5.0, 30.0], [4.0, 40.0]]];
        assert_eq!(found, expected);
    }
}
