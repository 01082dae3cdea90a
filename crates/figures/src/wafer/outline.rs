//! The outline of a strand: smooth between the middles of columns, upright at walls.

use super::spans::Pile;
use super::strands::Strand;

/// A face steeper than this may be a wall,
const STEEP: f64 = 1.0;

/// if it is also this much steeper than the face beside it.
const STEEPER: f64 = 3.0;

/// Faces beside a wall count at least as steep as this.
const LEAST: f64 = 0.3;

/// A strand that is this much thinner in its last column than in the one before ends in a point.
const TAPER: f64 = 0.4;

/// Whether a face may have walls: those of films do, those between dopings do not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Faces {
    /// Steep steps are upright walls.
    Walled,
    /// Steps are slopes, but for the surface of the silicon.
    Smooth,
}

/// A closed outline in nm: along the top from left to right, back along the bottom.
pub(super) fn outline<K>(
    piles: &[Pile<K>],
    strand: &Strand<K>,
    bottom: impl Fn(usize, usize) -> f64,
    faces: Faces,
) -> Vec<[f64; 2]> {
    let columns: Vec<&Pile<K>> =
        strand.places().map(|(column, _)| &piles[column]).collect();
    let top: Vec<f64> = strand.places().map(|(c, span)| piles[c].top_of(span)).collect();
    let low: Vec<f64> = strand.places().map(|(c, span)| bottom(c, span)).collect();
    let ends = ends(&top, &low, strand.first, strand.spans.len(), piles.len());
    let is_surface = strand.places().all(|(c, span)| span + 1 == piles[c].spans.len());
    let mut points = face(&columns, &top, ends, faces == Faces::Walled || is_surface);
    let mut back = face(&columns, &low, ends, faces == Faces::Walled);
    back.reverse();
    points.extend(back);
    points
}

/// The upper face of a strand in nm, from left to right.
pub(super) fn upper_face<K>(
    piles: &[Pile<K>],
    strand: &Strand<K>,
    faces: Faces,
) -> Vec<[f64; 2]> {
    let columns: Vec<&Pile<K>> =
        strand.places().map(|(column, _)| &piles[column]).collect();
    let top: Vec<f64> = strand.places().map(|(c, span)| piles[c].top_of(span)).collect();
    face(&columns, &top, [None, None], faces == Faces::Walled)
}

/// Heights of the points in which a strand ends at its left and right; none where it ends
/// with a wall or goes on outside the picture.
fn ends(
    top: &[f64],
    low: &[f64],
    first: usize,
    length: usize,
    columns: usize,
) -> [Option<f64>; 2] {
    let end = |at: usize, next: usize| {
        let (here, inner) = (top[at] - low[at], top[next] - low[next]);
        (2 < length && here < TAPER * inner).then(|| 0.5 * (top[at] + low[at]))
    };
    let last = length - 1;
    [
        if first == 0 { None } else { end(0, 1.min(last)) },
        if first + length == columns { None } else { end(last, last.saturating_sub(1)) },
    ]
}

/// A face through the middles of columns, with upright steps at walls.
fn face<K>(
    columns: &[&Pile<K>],
    z_nm: &[f64],
    ends: [Option<f64>; 2],
    walls: bool,
) -> Vec<[f64; 2]> {
    let slope = |k: usize| {
        let run = columns[k + 1].center_nm() - columns[k].center_nm();
        ((z_nm[k + 1] - z_nm[k]) / run).abs()
    };
    let (Some(first), Some(last)) = (columns.first(), columns.last()) else {
        return Vec::new();
    };
    let n = columns.len();
    let mut points = vec![[first.sides_nm[0], ends[0].unwrap_or(z_nm[0])]];
    for k in 0..n {
        points.push([columns[k].center_nm(), z_nm[k]]);
        if k + 1 < n {
            let here = slope(k);
            let left = if 0 < k { slope(k - 1) } else { 0.0 };
            let right = if k + 2 < n { slope(k + 1) } else { 0.0 };
            if walls && STEEP < here && STEEPER * left.max(right).max(LEAST) < here {
                let edge = columns[k].sides_nm[1];
                points.push([edge, z_nm[k]]);
                points.push([edge, z_nm[k + 1]]);
            }
        }
    }
    points.push([last.sides_nm[1], ends[1].unwrap_or(z_nm[n - 1])]);
    points
}

/// Leaves out points that are nearer than `tolerance` to the line between those kept: of every
/// stretch the point farthest from its chord is kept, until none is too far (Douglas and Peucker,
/// Cartographica 10, 112, 1973; memory).
pub(super) fn thinned(points: &[[f64; 2]], tolerance: f64) -> Vec<[f64; 2]> {
    let Some(last) = points.len().checked_sub(1) else { return Vec::new() };
    let mut kept = vec![false; points.len()];
    kept[0] = true;
    kept[last] = true;
    let mut stretches = vec![(0, last)];
    while let Some((from, to)) = stretches.pop() {
        let farthest = (from + 1..to)
            .map(|k| (away(points[k], points[from], points[to]), k))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((distance, k)) = farthest
            && tolerance <= distance
        {
            kept[k] = true;
            stretches.push((from, k));
            stretches.push((k, to));
        }
    }
    points.iter().zip(kept).filter(|(_, kept)| *kept).map(|(point, _)| *point).collect()
}

/// Distance of a point from the line through two others.
fn away(p: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    let length = (dx * dx + dy * dy).sqrt();
    let [px, py] = [p[0] - a[0], p[1] - a[1]];
    if length < 1e-12 {
        (px * px + py * py).sqrt()
    } else {
        (px * dy - py * dx).abs() / length
    }
}

#[cfg(test)]
mod tests {
    use super::super::strands::strands;
    use super::*;
    use barewafer_process::num::linspace;

    #[test]
    fn a_step_is_a_wall_and_a_curve_is_a_curve() {
        // Flat, a step of 400 at x = 200, then a quarter circle down.
        let piles: Vec<Pile<char>> = (0..60)
            .map(|k| {
                let sides_nm = [f64::from(k) * 10.0, f64::from(k + 1) * 10.0];
                let x = sides_nm[0] + 5.0;
                let top = if x < 200.0 {
                    100.0
                } else if x < 400.0 {
                    500.0
                } else {
                    500.0 - 200.0
                        + (200.0_f64 * 200.0 - (x - 400.0) * (x - 400.0)).max(0.0).sqrt()
                };
                Pile { sides_nm, floor_nm: 0.0, spans: vec![('o', top)] }
            })
            .collect();
        let strand = &strands(&piles)[0];
        let top = upper_face(&piles, strand, Faces::Walled);
        assert!(
            top.contains(&[200.0, 100.0]) && top.contains(&[200.0, 500.0]),
            "{top:?}"
        );
        // On the circle the line is within 1 nm of the circle (chords of 10 nm; not at its foot).
        for pair in top.windows(2).filter(|pair| 405.0 < pair[0][0] && pair[1][0] < 560.0)
        {
            for share in linspace(0.0, 1.0, 5) {
                let x = pair[0][0] + share * (pair[1][0] - pair[0][0]);
                let z = pair[0][1] + share * (pair[1][1] - pair[0][1]);
                let radius =
                    ((x - 400.0) * (x - 400.0) + (z - 300.0) * (z - 300.0)).sqrt();
                assert!((radius - 200.0).abs() < 1.0, "{x} {z}");
            }
        }
    }

    #[test]
    fn thinning_keeps_corners() {
        let points = [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [2.0, 1.0], [2.0, 2.0]];
        assert_eq!(thinned(&points, 0.01), [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0]]);
    }
}
