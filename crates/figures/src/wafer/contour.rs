//! Outlines of what exceeds a level in a field that is known along upright posts: marching
//! squares (Lorensen and Cline, Computer Graphics 21(4), 163, 1987, in two dimensions; memory).

use barewafer_process::num::{larger, smaller};

/// The field along an upright line. All posts of a field have as many knots.
#[derive(Clone, Debug)]
pub(super) struct Post {
    /// Where it stands.
    pub(super) x: f64,
    /// Height and value of every knot, from the top down. Heights may be equal: above its top a
    /// post has nothing.
    pub(super) knots: Vec<(f64, f64)>,
}

/// A level that a field may exceed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Level {
    /// The side of zero that is meant: 1.0, or -1.0 for values below the negative level.
    pub(super) sign: f64,
    /// The level itself; 0 or more.
    pub(super) least: f64,
}

impl Level {
    /// The value that it stands for.
    pub(super) fn value(self) -> f64 {
        self.sign * self.least
    }

    fn exceeded(self, value: f64) -> bool {
        self.least < self.sign * value
    }

    /// Where between a value beyond the level and one that is not the level lies, as a share:
    /// straight between the values, or between their logarithms if both are of one sign.
    fn share(self, beyond: f64, other: f64) -> f64 {
        let (beyond, other) = (self.sign * beyond, self.sign * other);
        let share = if 0.0 < self.least && 0.0 < other {
            let log = barewafer_process::num::log10;
            (log(beyond) - log(self.least)) / (log(beyond) - log(other))
        } else {
            (beyond - self.least) / (beyond - other)
        };
        share.clamp(0.0, 1.0)
    }
}

/// A closed outline; around what exceeds the level it runs clockwise as seen with heights upward.
#[derive(Clone, Debug)]
pub(super) struct Loop {
    pub(super) points: Vec<Corner>,
}

/// A point of an outline.
#[derive(Clone, Copy, Debug)]
pub(super) struct Corner {
    pub(super) at: [f64; 2],
    /// Whether the field ends here, rather than that the level is crossed.
    pub(super) border: bool,
}

impl Loop {
    /// Its area: positive around what exceeds the level, negative around a hole in it.
    pub(super) fn area(&self) -> f64 {
        let mut twice = 0.0;
        for (k, here) in self.points.iter().enumerate() {
            let next = self.points[(k + 1) % self.points.len()];
            twice += next.at[0] * here.at[1] - here.at[0] * next.at[1];
        }
        0.5 * twice
    }

    /// The parts that are crossings of the level, not borders of the field.
    pub(super) fn crossings(&self) -> Vec<Vec<[f64; 2]>> {
        let n = self.points.len();
        let Some(start) = self.points.iter().position(|corner| corner.border) else {
            let mut whole: Vec<[f64; 2]> = self.points.iter().map(|c| c.at).collect();
            whole.extend(whole.first().copied());
            return vec![whole];
        };
        let mut lines = Vec::new();
        let mut line = Vec::new();
        for k in 1..=n {
            let corner = self.points[(start + k) % n];
            if !corner.border {
                line.push(corner.at);
            } else if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
        }
        lines.retain(|line| 1 < line.len());
        lines
    }
}

/// A piece of an outline within one mesh of four knots, from one of its sides to another.
struct Piece {
    from: usize,
    to: usize,
    corner: Corner,
}

/// The outlines of what exceeds each level, for all levels in one pass; the largest first.
/// `levels` come in the order of the values that they stand for, from the most negative one.
pub(super) fn outlines(posts: &[Post], levels: &[Level]) -> Vec<Vec<Loop>> {
    debug_assert!(levels.is_sorted_by(|a, b| a.value() <= b.value()), "{levels:?}");
    let rows = posts.first().map_or(0, |post| post.knots.len());
    let mut pieces: Vec<Vec<Piece>> = levels.iter().map(|_| Vec::new()).collect();
    if rows == 0 {
        return pieces.iter().map(|_| Vec::new()).collect();
    }
    let mesh = Mesh { posts, rows };
    // The first level that is not below what was last seen: it seldom changes.
    let mut first = 0;
    for strip in 0..=posts.len() {
        for row in 0..=rows {
            let crossed = match mesh.range(strip, row) {
                Some([lowest, highest]) => {
                    while 0 < first && lowest <= levels[first - 1].value() {
                        first -= 1;
                    }
                    while first < levels.len() && levels[first].value() < lowest {
                        first += 1;
                    }
                    let many = levels[first..]
                        .iter()
                        .take_while(|level| level.value() <= highest)
                        .count();
                    first..first + many
                }
                None => 0..levels.len(),
            };
            if !crossed.is_empty() {
                mesh.cross(strip, row, &levels[crossed.clone()], &mut pieces[crossed]);
            }
        }
    }
    pieces.into_iter().map(joined).collect()
}

/// The knots with a frame of nothing around them: posts and rows are counted from 1.
struct Mesh<'a> {
    posts: &'a [Post],
    rows: usize,
}

impl Mesh<'_> {
    /// Place of a knot, and its value if there is one.
    fn knot(&self, post: usize, row: usize) -> ([f64; 2], Option<f64>) {
        let near = &self.posts[post.clamp(1, self.posts.len()) - 1];
        let (z, value) = near.knots[row.clamp(1, self.rows) - 1];
        let outside = post == 0 || self.posts.len() < post || row == 0 || self.rows < row;
        ([near.x, z], (!outside).then_some(value))
    }

    /// The lowest and the highest value within the mesh right of a post and below a row; none at
    /// the frame.
    fn range(&self, post: usize, row: usize) -> Option<[f64; 2]> {
        let inside =
            (1..self.posts.len()).contains(&post) && (1..self.rows).contains(&row);
        if !inside {
            return None;
        }
        let (left, right) = (&self.posts[post - 1].knots, &self.posts[post].knots);
        let [a, b, c, d] = [left[row - 1].1, right[row - 1].1, left[row].1, right[row].1];
        Some([smaller(smaller(a, b), smaller(c, d)), larger(larger(a, b), larger(c, d))])
    }

    /// Adds the pieces within the mesh right of a post and below a row.
    fn cross(
        &self,
        post: usize,
        row: usize,
        levels: &[Level],
        pieces: &mut [Vec<Piece>],
    ) {
        // Clockwise from the upper left.
        let knots = [(post, row), (post + 1, row), (post + 1, row + 1), (post, row + 1)]
            .map(|(post, row)| self.knot(post, row));
        let values = knots.map(|(_, value)| value);
        // Sides clockwise from the upper one. Each is known by its left or upper knot.
        let width = self.posts.len() + 2;
        let upright = |post: usize, row: usize| 2 * (row * width + post);
        let level_of = |post: usize, row: usize| 2 * (row * width + post) + 1;
        let sides = [
            level_of(post, row),
            upright(post + 1, row),
            level_of(post, row + 1),
            upright(post, row),
        ];
        for (level, pieces) in levels.iter().zip(pieces) {
            let beyond = values.map(|value| value.is_some_and(|v| level.exceeded(v)));
            if beyond == [beyond[0]; 4] {
                continue;
            }
            // What exceeds the level lies between the side where it begins and the side where
            // it ends; the piece goes back from there.
            for end in (0..4).filter(|&k| beyond[k] && !beyond[(k + 1) % 4]) {
                let begin = (0..4).map(|back| (end + 4 - back) % 4).find(|&k| !beyond[k]);
                let Some(begin) = begin else { continue };
                let (a, b) = (knots[end], knots[(end + 1) % 4]);
                let corner = match (a.1, b.1) {
                    (Some(inner), Some(outer)) => {
                        let share = level.share(inner, outer);
                        let at = [0, 1].map(|i| a.0[i] + share * (b.0[i] - a.0[i]));
                        Corner { at, border: false }
                    }
                    _ => Corner { at: a.0, border: true },
                };
                pieces.push(Piece { from: sides[end], to: sides[begin], corner });
            }
        }
    }
}

/// Pieces joined to loops, the largest first.
fn joined(mut pieces: Vec<Piece>) -> Vec<Loop> {
    pieces.sort_unstable_by_key(|piece| piece.from);
    let mut used = vec![false; pieces.len()];
    let mut loops = Vec::new();
    for start in 0..pieces.len() {
        let mut points = Vec::new();
        let mut here = start;
        while !used[here] {
            used[here] = true;
            points.push(pieces[here].corner);
            let to = pieces[here].to;
            // The side where one piece ends is the side where the next one begins.
            let Ok(next) = pieces.binary_search_by_key(&to, |piece| piece.from) else {
                break;
            };
            here = next;
        }
        if 2 < points.len() {
            loops.push(Loop { points });
        }
    }
    loops.sort_by(|a, b| b.area().abs().total_cmp(&a.area().abs()));
    loops
}

/// Outlines as single polygons: a hole is joined to what it lies in by a line there and back.
pub(super) fn with_holes(loops: &[Loop]) -> Vec<Vec<[f64; 2]>> {
    let mut polygons: Vec<Vec<[f64; 2]>> = Vec::new();
    for one in loops {
        let points: Vec<[f64; 2]> = one.points.iter().map(|corner| corner.at).collect();
        if 0.0 < one.area() {
            polygons.push(points);
            continue;
        }
        // The smallest one around it is the last: the largest come first.
        let around =
            polygons.iter_mut().rev().find(|polygon| contains(polygon, points[0]));
        if let Some(polygon) = around {
            let back = polygon[0];
            polygon.push(back);
            polygon.extend(&points);
            polygon.push(points[0]);
        }
    }
    polygons
}

/// Whether a point lies within a polygon (the ray to the right crosses it an odd number of
/// times).
fn contains(polygon: &[[f64; 2]], [x, z]: [f64; 2]) -> bool {
    let mut inside = false;
    for (k, a) in polygon.iter().enumerate() {
        let b = polygon[(k + 1) % polygon.len()];
        if (z < a[1]) != (z < b[1])
            && x < a[0] + (z - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        {
            inside = !inside;
        }
    }
    inside
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    const ABOVE: Level = Level { sign: 1.0, least: 0.0 };

    /// Posts at every 0.1 from -3 to 3, knots from 0 down to -4.
    fn field(value: impl Fn(f64, f64) -> f64) -> Vec<Post> {
        (-30..=30)
            .map(|k| {
                let x = 0.1 * f64::from(k);
                let knots = (0..=40)
                    .map(|j| {
                        let z = -0.1 * f64::from(j);
                        (z, value(x, z))
                    })
                    .collect();
                Post { x, knots }
            })
            .collect()
    }

    #[test]
    fn a_disc_has_the_outline_of_a_disc() {
        let posts = field(|x, z| 1.0 - (x * x + (z + 2.0) * (z + 2.0)).sqrt());
        let loops = &outlines(&posts, &[ABOVE])[0];
        assert_eq!(loops.len(), 1);
        assert!((loops[0].area() - PI).abs() < 0.01, "{}", loops[0].area());
        for corner in &loops[0].points {
            let [x, z] = corner.at;
            assert!(((x * x + (z + 2.0) * (z + 2.0)).sqrt() - 1.0).abs() < 2e-3);
            assert!(!corner.border);
        }
        // All of it is a junction, and it is closed.
        let lines = loops[0].crossings();
        assert_eq!(lines.len(), 1);
        assert_eq!(lines[0].first(), lines[0].last());
    }

    #[test]
    fn what_reaches_the_surface_is_closed_along_it() {
        let posts = field(|x, z| 1.0 - (x * x + z * z).sqrt());
        let loops = &outlines(&posts, &[ABOVE])[0];
        assert_eq!(loops.len(), 1);
        assert!((loops[0].area() - 0.5 * PI).abs() < 0.01, "{}", loops[0].area());
        let lines = loops[0].crossings();
        assert_eq!(lines.len(), 1, "the surface is no junction");
        for end in [lines[0][0], lines[0][lines[0].len() - 1]] {
            assert!(end[1].abs() < 1e-12 && (end[0].abs() - 1.0).abs() < 2e-3, "{end:?}");
        }
    }

    #[test]
    fn a_ring_is_an_outline_with_a_hole() {
        let posts = field(|x, z| {
            let r = (x * x + (z + 2.0) * (z + 2.0)).sqrt();
            (r - 0.5) * (1.5 - r)
        });
        let loops = &outlines(&posts, &[ABOVE])[0];
        let areas: Vec<f64> = loops.iter().map(Loop::area).collect();
        assert_eq!(areas.len(), 2);
        assert!((areas[0] - 2.25 * PI).abs() < 0.05, "{areas:?}");
        assert!((areas[1] + 0.25 * PI).abs() < 0.05, "{areas:?}");
        assert_eq!(with_holes(loops).len(), 1);
    }

    #[test]
    fn levels_of_one_sign_lie_straight_on_a_log_scale() {
        let posts = field(|_, z| barewafer_process::num::pow(10.0, 17.0 + z));
        let level = Level { sign: 1.0, least: barewafer_process::num::pow(10.0, 15.45) };
        let found = &outlines(&posts, &[level])[0];
        let lowest =
            found[0].points.iter().map(|corner| corner.at[1]).fold(f64::MAX, f64::min);
        assert!((lowest + 1.55).abs() < 1e-9, "{lowest}");
    }

    #[test]
    fn nothing_beyond_a_level_has_no_outline() {
        let posts = field(|_, _| -1.0);
        assert!(outlines(&posts, &[ABOVE])[0].is_empty());
        let all = &outlines(&posts, &[Level { sign: -1.0, least: 0.0 }])[0];
        assert!((all[0].area() - 24.0).abs() < 1e-9 && all[0].crossings().is_empty());
    }
}
