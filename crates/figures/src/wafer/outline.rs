//! The outline of a strand: smooth between the middles of columns, upright at walls.

use barewafer_process::num::larger;

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

/// What looks like a flight of at least this many steps is a slope: a column that was wide when
/// a curved surface formed keeps one height when it is split later.
const FLIGHT: usize = 3;

/// Steps of a flight lie no farther apart than this, in nm,
const TREAD_NM: f64 = 160.0;

/// and none is this many times as high as the one beside it.
const ALIKE: f64 = 4.0;

/// How two columns beside each other join.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Joint {
    /// By a slope between their middles.
    Slope,
    /// By an upright wall on their border.
    Wall,
}

/// A closed outline in nm: along the top from left to right, back along the bottom.
pub(super) fn outline<K>(
    piles: &[Pile<K>],
    strand: &Strand<K>,
    bottom: impl Fn(usize, usize) -> f64,
) -> Vec<[f64; 2]> {
    let columns: Vec<&Pile<K>> =
        strand.places().map(|(column, _)| &piles[column]).collect();
    let sides: Vec<[f64; 2]> = columns.iter().map(|pile| pile.sides_nm).collect();
    let top: Vec<f64> = strand.places().map(|(c, span)| piles[c].top_of(span)).collect();
    let low: Vec<f64> = strand.places().map(|(c, span)| bottom(c, span)).collect();
    let ends = ends(&top, &low, strand.first, strand.spans.len(), piles.len());
    let mut points = face(&columns, &eased(&sides, &top), ends);
    let mut back = face(&columns, &eased(&sides, &low), ends);
    back.reverse();
    points.extend(back);
    points
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
fn face<K>(columns: &[&Pile<K>], z_nm: &[f64], ends: [Option<f64>; 2]) -> Vec<[f64; 2]> {
    let (Some(first), Some(last)) = (columns.first(), columns.last()) else {
        return Vec::new();
    };
    let centers: Vec<f64> = columns.iter().map(|pile| pile.center_nm()).collect();
    let joints = joints(&centers, z_nm);
    let n = columns.len();
    let mut points = vec![[first.sides_nm[0], ends[0].unwrap_or(z_nm[0])]];
    for k in 0..n {
        points.push([centers[k], z_nm[k]]);
        if k + 1 < n && joints[k] == Joint::Wall {
            let edge = columns[k].sides_nm[1];
            points.push([edge, z_nm[k]]);
            points.push([edge, z_nm[k + 1]]);
        }
    }
    points.push([last.sides_nm[1], ends[1].unwrap_or(z_nm[n - 1])]);
    points
}

/// How each column joins the next one: by a wall where the face is steep and much steeper than
/// on both sides of it.
pub(super) fn joints(centers_nm: &[f64], z_nm: &[f64]) -> Vec<Joint> {
    let steepness: Vec<f64> = centers_nm
        .windows(2)
        .zip(z_nm.windows(2))
        .map(|(x, z)| ((z[1] - z[0]) / (x[1] - x[0])).abs())
        .collect();
    let at = |k: Option<usize>| k.and_then(|k| steepness.get(k)).copied().unwrap_or(0.0);
    (0..steepness.len())
        .map(|k| {
            let beside = larger(at(k.checked_sub(1)), larger(at(Some(k + 1)), LEAST));
            if STEEP < steepness[k] && STEEPER * beside < steepness[k] {
                Joint::Wall
            } else {
                Joint::Slope
            }
        })
        .collect()
}

/// Heights of columns with flights of steps made even: straight from the middle of each step to
/// that of the next one.
pub(super) fn eased(sides_nm: &[[f64; 2]], z_nm: &[f64]) -> Vec<f64> {
    let centers: Vec<f64> = sides_nm.iter().map(|[a, b]| 0.5 * (a + b)).collect();
    // Border and height of every step.
    let steps: Vec<(usize, f64)> = joints(&centers, z_nm)
        .into_iter()
        .enumerate()
        .filter(|(_, joint)| *joint == Joint::Wall)
        .map(|(k, _)| (k, z_nm[k + 1] - z_nm[k]))
        .collect();
    let goes_on = |a: (usize, f64), b: (usize, f64)| {
        let tread_nm = sides_nm[b.0][1] - sides_nm[a.0][1];
        let alike = 0.0 < a.1 * b.1 && (a.1 / b.1).abs().max((b.1 / a.1).abs()) < ALIKE;
        alike && tread_nm < TREAD_NM && a.1.abs().min(b.1.abs()) < tread_nm
    };
    let mut eased = z_nm.to_vec();
    let mut from = 0;
    while from < steps.len() {
        let mut to = from;
        while to + 1 < steps.len() && goes_on(steps[to], steps[to + 1]) {
            to += 1;
        }
        if FLIGHT <= to + 1 - from {
            ease(sides_nm, z_nm, &steps[from..=to], &mut eased);
        }
        from = to + 1;
    }
    eased
}

/// Makes one flight of steps even.
fn ease(sides_nm: &[[f64; 2]], z_nm: &[f64], steps: &[(usize, f64)], eased: &mut [f64]) {
    let edge = |(k, _): (usize, f64)| sides_nm[k][1];
    let middle = |(k, _): (usize, f64)| [sides_nm[k][1], 0.5 * (z_nm[k] + z_nm[k + 1])];
    let (first, last) = (steps[0], steps[steps.len() - 1]);
    let outer =
        |step: (usize, f64), next: (usize, f64)| 0.5 * (edge(step) - edge(next)).abs();
    let start = edge(first) - outer(first, steps[1]);
    let end = edge(last) + outer(last, steps[steps.len() - 2]);
    let mut line = vec![[start, z_nm[first.0]]];
    line.extend(steps.iter().map(|&step| middle(step)));
    line.push([end, z_nm[last.0 + 1]]);
    for (k, [a, b]) in sides_nm.iter().enumerate() {
        let x = 0.5 * (a + b);
        let next = line.partition_point(|point| point[0] <= x);
        if let (Some(left), Some(right)) =
            (next.checked_sub(1).and_then(|k| line.get(k)), line.get(next))
        {
            let share = (x - left[0]) / (right[0] - left[0]);
            eased[k] = left[1] + share * (right[1] - left[1]);
        }
    }
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
        let top = outline(&piles, strand, |_, _| 0.0);
        assert!(
            top.contains(&[200.0, 100.0]) && top.contains(&[200.0, 500.0]),
            "{top:?}"
        );
        // On the circle the line is within 1 nm of the circle (chords of 10 nm; not at its foot).
        let rightward = |pair: &&[[f64; 2]]| pair[0][0] < pair[1][0];
        for pair in top
            .windows(2)
            .filter(rightward)
            .filter(|pair| 405.0 < pair[0][0] && pair[1][0] < 560.0)
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
    fn a_flight_of_steps_is_a_slope_and_a_lone_step_a_wall() {
        // Down by 18 every 60, each tread split in four; then flat, and a step up.
        let sides: Vec<[f64; 2]> =
            (0..60).map(|k| [15.0 * f64::from(k), 15.0 * f64::from(k + 1)]).collect();
        let z: Vec<f64> = (0..60)
            .map(|k| {
                let tread = f64::from((k / 4).min(10));
                if k < 50 { -18.0 * tread } else { -140.0 }
            })
            .collect();
        let eased = eased(&sides, &z);
        for (k, [a, b]) in sides.iter().enumerate().take(38).skip(2) {
            let slope = -0.3 * (0.5 * (a + b) - 30.0);
            assert!((eased[k] - slope).abs() < 1e-9, "{k}: {} {slope}", eased[k]);
        }
        assert_eq!(eased[42..], z[42..]);
        let centers: Vec<f64> = sides.iter().map(|[a, b]| 0.5 * (a + b)).collect();
        let walls = joints(&centers, &eased);
        assert_eq!(walls.iter().filter(|joint| **joint == Joint::Wall).count(), 1);
    }

    #[test]
    fn thinning_keeps_corners() {
        let points = [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [2.0, 1.0], [2.0, 2.0]];
        assert_eq!(thinned(&points, 0.01), [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0]]);
    }
}
