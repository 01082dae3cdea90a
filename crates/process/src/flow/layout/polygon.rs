//! Drawn figures, and where a straight line runs through them.

use crate::num::{atan2, sort_increasing};

/// A closed figure by its corners in um; the last is joined with the first.
#[derive(Clone, Debug, PartialEq)]
pub struct Polygon {
    corners_um: Vec<[f64; 2]>,
}

/// A straight cut through the layout.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Where it begins, in um.
    pub from_um: [f64; 2],
    /// Where it ends, in um.
    pub to_um: [f64; 2],
}

impl Line {
    /// Its length in um.
    #[must_use]
    pub fn length_um(&self) -> f64 {
        let [dx, dy] = self.along();
        (dx * dx + dy * dy).sqrt()
    }

    /// The place in the layout, in um, at a distance from the beginning.
    #[must_use]
    pub fn place_um(&self, x_um: f64) -> [f64; 2] {
        let [ux, uy] = self.direction();
        [self.from_um[0] + ux * x_um, self.from_um[1] + uy * x_um]
    }

    /// Its direction against the x axis of the layout, in degrees.
    #[must_use]
    pub fn angle_deg(&self) -> f64 {
        let [dx, dy] = self.along();
        atan2(dy, dx).to_degrees()
    }

    fn along(&self) -> [f64; 2] {
        [self.to_um[0] - self.from_um[0], self.to_um[1] - self.from_um[1]]
    }

    fn direction(&self) -> [f64; 2] {
        let [dx, dy] = self.along();
        let length = self.length_um();
        [dx / length, dy / length]
    }

    /// Distance along the line and to its left, in um.
    fn seen_from(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [ux, uy] = self.direction();
        let [rx, ry] = [x - self.from_um[0], y - self.from_um[1]];
        [rx * ux + ry * uy, ux * ry - uy * rx]
    }
}

impl Polygon {
    /// The figure with these corners in um, at least three.
    #[must_use]
    pub const fn new(corners_um: Vec<[f64; 2]>) -> Self {
        Self { corners_um }
    }

    /// The rectangle between two opposite corners in um.
    #[must_use]
    pub fn rectangle([x0, y0, x1, y1]: [f64; 4]) -> Self {
        Self { corners_um: vec![[x0, y0], [x1, y0], [x1, y1], [x0, y1]] }
    }

    /// Its corners in um.
    #[must_use]
    pub fn corners_um(&self) -> &[[f64; 2]] {
        &self.corners_um
    }

    /// Its sides.
    pub fn sides(&self) -> impl Iterator<Item = [[f64; 2]; 2]> + '_ {
        let n = self.corners_um.len();
        (0..n).map(move |i| [self.corners_um[i], self.corners_um[(i + 1) % n]])
    }

    /// Its area in um2; negative if its corners go round clockwise.
    #[must_use]
    pub fn signed_area_um2(&self) -> f64 {
        0.5 * self.sides().map(|[a, b]| a[0] * b[1] - a[1] * b[0]).sum::<f64>()
    }

    /// The smallest and the largest coordinates in um: `[x0, y0, x1, y1]`.
    #[must_use]
    pub fn bounds_um(&self) -> [f64; 4] {
        let start = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
        self.corners_um.iter().fold(start, |b, &[x, y]| {
            [b[0].min(x), b[1].min(y), b[2].max(x), b[3].max(y)]
        })
    }

    /// The figure with every side moved outward by `bias_um` (inward if negative), its corners
    /// sharp; none if nothing is left of it.
    #[must_use]
    pub fn biased(&self, bias_um: f64) -> Option<Self> {
        if bias_um == 0.0 {
            return Some(self.clone());
        }
        let area = self.signed_area_um2();
        let outward = bias_um * if area < 0.0 { -1.0 } else { 1.0 };
        // A side as a line: a normal and a distance.
        let lines: Vec<[f64; 3]> = self
            .sides()
            .filter_map(|[a, b]| {
                let [dx, dy] = [b[0] - a[0], b[1] - a[1]];
                let length = (dx * dx + dy * dy).sqrt();
                (0.0 < length).then(|| {
                    let [nx, ny] = [dy / length, -dx / length];
                    [nx, ny, nx * a[0] + ny * a[1] + outward]
                })
            })
            .collect();
        let n = lines.len();
        let corners_um = (0..n)
            .map(|i| {
                let ([a, b, c], [d, e, f]) = (lines[(i + n - 1) % n], lines[i]);
                let turn = a * e - b * d;
                if turn.abs() < 1e-9 {
                    // Two sides of one line meet where the drawing has a corner.
                    [0.5 * (a * c + d * f), 0.5 * (b * c + e * f)]
                } else {
                    [(c * e - b * f) / turn, (a * f - c * d) / turn]
                }
            })
            .collect();
        let moved = Self { corners_um };
        // A figure that is turned inside out, or whose sides changed places, is gone.
        let kept = area * moved.signed_area_um2() > 0.0
            && self.sides().zip(moved.sides()).all(|([a, b], [c, d])| {
                (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]) >= 0.0
            });
        kept.then_some(moved)
    }

    /// Where the line runs inside the figure: pairs of distances from its beginning in um,
    /// ascending, by the nonzero rule. The line is taken as endless.
    #[must_use]
    pub fn cut_um(&self, line: &Line) -> Vec<[f64; 2]> {
        let mut crossings: Vec<(f64, i32)> = Vec::new();
        for [a, b] in self.sides() {
            let ([ta, da], [tb, db]) = (line.seen_from(a), line.seen_from(b));
            if (da < 0.0) == (db < 0.0) {
                continue;
            }
            let share = da / (da - db);
            let turn = if da < 0.0 { 1 } else { -1 };
            crossings.push((ta + share * (tb - ta), turn));
        }
        crossings.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut inside = Vec::new();
        let (mut winding, mut entered) = (0, 0.0);
        for (t, turn) in crossings {
            let before = winding;
            winding += turn;
            if before == 0 {
                entered = t;
            } else if winding == 0 && entered < t {
                inside.push([entered, t]);
            }
        }
        inside
    }
}

/// The sides of figures that are sides of their union too, cut where figures meet.
#[must_use]
pub fn outline(figures: &[Polygon]) -> Vec<[[f64; 2]; 2]> {
    let mut outline = Vec::new();
    for (i, figure) in figures.iter().enumerate() {
        let turn = if figure.signed_area_um2() < 0.0 { -1.0 } else { 1.0 };
        for [a, b] in figure.sides() {
            let along = [b[0] - a[0], b[1] - a[1]];
            let length = (along[0] * along[0] + along[1] * along[1]).sqrt();
            if length <= 0.0 {
                continue;
            }
            let line = Line { from_um: a, to_um: b };
            // The outside lies to the right of a side that goes round counterclockwise.
            let out = [turn * along[1] / length, -turn * along[0] / length];
            let beside = Line {
                from_um: [a[0] + HAIR_UM * out[0], a[1] + HAIR_UM * out[1]],
                to_um: [b[0] + HAIR_UM * out[0], b[1] + HAIR_UM * out[1]],
            };
            let covered = figures
                .iter()
                .enumerate()
                .filter(|(j, _)| *j != i)
                .flat_map(|(_, other)| other.cut_um(&beside))
                .collect();
            for [from, to] in complement(&union(covered)) {
                let (from, to) = (from.max(0.0), to.min(length));
                if from < to {
                    outline.push([line.place_um(from), line.place_um(to)]);
                }
            }
        }
    }
    outline
}

/// A distance in um that no drawing has: what lies just outside a side.
const HAIR_UM: f64 = 1e-6;

/// Distance in um from a point to the nearest of some sides; infinite without any.
#[must_use]
pub fn distance_um([x, y]: [f64; 2], sides: &[[[f64; 2]; 2]]) -> f64 {
    let mut least = f64::INFINITY;
    for [a, b] in sides {
        let along = [b[0] - a[0], b[1] - a[1]];
        let length2 = along[0] * along[0] + along[1] * along[1];
        let share = if 0.0 < length2 {
            (((x - a[0]) * along[0] + (y - a[1]) * along[1]) / length2).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let [dx, dy] = [x - a[0] - share * along[0], y - a[1] - share * along[1]];
        least = least.min((dx * dx + dy * dy).sqrt());
    }
    least
}

/// The union of intervals, ascending; those that touch are joined.
#[must_use]
pub fn union(mut intervals: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    intervals.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut joined: Vec<[f64; 2]> = Vec::with_capacity(intervals.len());
    for [from, to] in intervals {
        match joined.last_mut() {
            Some(last) if from <= last[1] + 1e-9 => last[1] = last[1].max(to),
            _ => joined.push([from, to]),
        }
    }
    joined
}

/// What lies between ascending intervals, out to infinity.
#[must_use]
pub fn complement(intervals: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut ends: Vec<f64> = intervals.iter().flatten().copied().collect();
    ends.push(f64::NEG_INFINITY);
    ends.push(f64::INFINITY);
    sort_increasing(&mut ends);
    ends.chunks_exact(2).map(|pair| [pair[0], pair[1]]).filter(|p| p[0] < p[1]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(from_um: [f64; 2], to_um: [f64; 2]) -> Line {
        Line { from_um, to_um }
    }

    #[track_caller]
    fn check(polygon: &Polygon, cut: Line, expected: &[[f64; 2]]) {
        let found = polygon.cut_um(&cut);
        assert_eq!(found.len(), expected.len(), "{found:?}");
        for (a, b) in found.iter().flatten().zip(expected.iter().flatten()) {
            assert!((a - b).abs() < 1e-9, "{found:?}");
        }
    }

    #[test]
    fn a_line_of_any_direction_cuts_rectangles_and_polygons() {
        let square = Polygon::rectangle([2.0, 1.0, 6.0, 5.0]);
        check(&square, line([0.0, 3.0], [10.0, 3.0]), &[[2.0, 6.0]]);
        check(&square, line([10.0, 3.0], [0.0, 3.0]), &[[4.0, 8.0]]);
        check(&square, line([4.0, 0.0], [4.0, 9.0]), &[[1.0, 5.0]]);
        // A diagonal through (2, 2) and (5, 5): 3 sqrt 2 long.
        let root = 2.0_f64.sqrt();
        check(&square, line([0.0, 0.0], [8.0, 8.0]), &[[2.0 * root, 5.0 * root]]);
        // A U is cut twice.
        let u = Polygon::new(vec![
            [0.0, 0.0],
            [6.0, 0.0],
            [6.0, 4.0],
            [4.0, 4.0],
            [4.0, 2.0],
            [2.0, 2.0],
            [2.0, 4.0],
            [0.0, 4.0],
        ]);
        check(&u, line([-1.0, 3.0], [9.0, 3.0]), &[[1.0, 3.0], [5.0, 7.0]]);
        check(&u, line([-1.0, 1.0], [9.0, 1.0]), &[[1.0, 7.0]]);
        check(&u, line([-1.0, 9.0], [9.0, 9.0]), &[]);
    }

    #[test]
    fn a_bias_moves_every_side() {
        let square = Polygon::rectangle([0.0, 0.0, 4.0, 2.0]);
        let wider = square.biased(0.5).unwrap();
        assert!((wider.signed_area_um2() - 5.0 * 3.0).abs() < 1e-12);
        let narrower = square.biased(-0.5).unwrap();
        assert!((narrower.signed_area_um2() - 3.0).abs() < 1e-12);
        assert!(square.biased(-1.0).is_none() && square.biased(-3.0).is_none());
        // Clockwise corners make the same figure.
        let mut corners = square.corners_um().to_vec();
        corners.reverse();
        let turned = Polygon::new(corners).biased(0.5).unwrap();
        assert!((turned.signed_area_um2() + 15.0).abs() < 1e-12);
    }

    #[test]
    fn the_outline_of_a_union_leaves_inner_sides_out() {
        let l = [
            Polygon::rectangle([0.0, 0.0, 10.0, 4.0]),
            Polygon::rectangle([6.0, 4.0, 10.0, 9.0]),
        ];
        let sides = outline(&l);
        // The middle of the arm is 2 um from its sides, and not nearer to the inner one.
        assert!((distance_um([8.0, 4.0], &sides) - 2.0).abs() < 1e-9);
        assert!((distance_um([3.0, 1.0], &sides) - 1.0).abs() < 1e-9);
        assert!((distance_um([7.0, 4.0], &sides) - 1.0).abs() < 1e-9);
        let length: f64 =
            sides.iter().map(|[a, b]| (a[0] - b[0]).abs() + (a[1] - b[1]).abs()).sum();
        assert!((length - 38.0).abs() < 1e-4, "{length}");
        assert!(distance_um([0.0, 0.0], &[]).is_infinite());
    }

    #[test]
    fn unions_and_complements_of_intervals() {
        let joined = union(vec![[3.0, 4.0], [0.0, 1.0], [1.0, 2.0], [3.5, 3.7]]);
        assert_eq!(joined, [[0.0, 2.0], [3.0, 4.0]]);
        assert_eq!(
            complement(&joined),
            [[f64::NEG_INFINITY, 0.0], [2.0, 3.0], [4.0, f64::INFINITY]]
        );
        assert_eq!(complement(&[]), [[f64::NEG_INFINITY, f64::INFINITY]]);
    }
}
