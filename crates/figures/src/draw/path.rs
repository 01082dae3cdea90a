//! Lines in CSS pixels: clipped, thinned, dashed, hatched.

use crate::palette::Hatch;

/// A point in CSS pixels.
pub(crate) type Point = [f64; 2];

/// A box in CSS pixels.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Rect {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
}

impl Rect {
    pub(crate) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(crate) fn height(&self) -> f64 {
        self.bottom - self.top
    }

    pub(crate) fn grown(&self, by: f64) -> Self {
        Self {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    pub(crate) fn contains(&self, [x, y]: Point) -> bool {
        self.left <= x && x <= self.right && self.top <= y && y <= self.bottom
    }

    /// Area shared with another box.
    pub(crate) fn overlap(&self, other: &Self) -> f64 {
        let width = self.right.min(other.right) - self.left.max(other.left);
        let height = self.bottom.min(other.bottom) - self.top.max(other.top);
        width.max(0.0) * height.max(0.0)
    }
}

/// The part of a segment inside a box (M. Cyrus and J. Beck, Comput. Graph. 3, 23 (1978), in
/// the form for upright boxes; memory).
pub(crate) fn clip_segment(a: Point, b: Point, rect: &Rect) -> Option<(Point, Point)> {
    let [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in [
        (-dx, a[0] - rect.left),
        (dx, rect.right - a[0]),
        (-dy, a[1] - rect.top),
        (dy, rect.bottom - a[1]),
    ] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    let at = |t: f64| [a[0] + t * dx, a[1] + t * dy];
    (from <= to).then(|| (at(from), at(to)))
}

/// The pieces of a line inside a box; `None` in the line is a gap.
pub(crate) fn clip(line: &[Option<Point>], rect: &Rect) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for pair in line.windows(2) {
        let (Some(&Some(a)), Some(&Some(b))) = (pair.first(), pair.get(1)) else {
            open = false;
            continue;
        };
        let Some((from, to)) = clip_segment(a, b, rect) else {
            open = false;
            continue;
        };
        let joins = open
            && pieces.last().and_then(|p| p.last()).is_some_and(|&last| {
                (last[0] - from[0]).abs() < 1e-6 && (last[1] - from[1]).abs() < 1e-6
            });
        if joins {
            if let Some(piece) = pieces.last_mut() {
                piece.push(to);
            }
        } else {
            pieces.push(vec![from, to]);
        }
        open = true;
    }
    pieces
}

/// The line without the points that lie within `tolerance` of it (D. Douglas, T. Peucker,
/// Cartographica 10, 112 (1973); memory). Back ends round to whole pixels: with fewer
/// corners the rounding does not show as a staircase.
pub(crate) fn thin(line: &[Point], tolerance: f64) -> Vec<Point> {
    let n = line.len();
    if n < 3 {
        return line.to_vec();
    }
    let mut keep = vec![false; n];
    keep[0] = true;
    keep[n - 1] = true;
    let mut spans = vec![(0, n - 1)];
    while let Some((first, last)) = spans.pop() {
        let (a, b) = (line[first], line[last]);
        let farthest = (first + 1..last)
            .map(|i| (distance(line[i], a, b), i))
            .max_by(|x, y| x.0.total_cmp(&y.0));
        if let Some((_, i)) = farthest.filter(|&(d, _)| tolerance < d) {
            keep[i] = true;
            spans.push((first, i));
            spans.push((i, last));
        }
    }
    line.iter().zip(keep).filter_map(|(&p, keep)| keep.then_some(p)).collect()
}

fn distance(p: Point, a: Point, b: Point) -> f64 {
    let [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    let [px, py] = [p[0] - a[0], p[1] - a[1]];
    let length2 = dx * dx + dy * dy;
    let t =
        if length2 > 0.0 { ((px * dx + py * dy) / length2).clamp(0.0, 1.0) } else { 0.0 };
    let [ex, ey] = [px - t * dx, py - t * dy];
    (ex * ex + ey * ey).sqrt()
}

/// Length of a line.
pub(crate) fn length(line: &[Point]) -> f64 {
    line.windows(2).map(|w| step(w[0], w[1])).sum()
}

pub(crate) fn step(a: Point, b: Point) -> f64 {
    let [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    (dx * dx + dy * dy).sqrt()
}

/// The point at a share of the length of a line.
pub(crate) fn point_at(line: &[Point], share: f64) -> Option<Point> {
    let mut left = share.clamp(0.0, 1.0) * length(line);
    for w in line.windows(2) {
        let here = step(w[0], w[1]);
        if left <= here && 0.0 < here {
            let t = left / here;
            return Some([
                w[0][0] + t * (w[1][0] - w[0][0]),
                w[0][1] + t * (w[1][1] - w[0][1]),
            ]);
        }
        left -= here;
    }
    line.last().copied()
}

/// The dashes of a line: the pattern is dash, gap, dash, gap... in pixels.
pub(crate) fn dashes(line: &[Point], pattern: &[f64]) -> Vec<Vec<Point>> {
    if pattern.is_empty() || !pattern.iter().all(|&p| 0.1 <= p) || 1e5 < length(line) {
        return vec![line.to_vec()];
    }
    let mut out: Vec<Vec<Point>> = Vec::new();
    let mut index = 0;
    let mut left = pattern[0];
    let mut drawing = true;
    let mut dash: Vec<Point> = line.first().copied().into_iter().collect();
    for w in line.windows(2) {
        let total = step(w[0], w[1]);
        let mut done = 0.0;
        while left < total - done {
            done += left;
            let t = done / total;
            let cut =
                [w[0][0] + t * (w[1][0] - w[0][0]), w[0][1] + t * (w[1][1] - w[0][1])];
            if drawing {
                dash.push(cut);
                out.push(std::mem::take(&mut dash));
            } else {
                dash = vec![cut];
            }
            drawing = !drawing;
            index = (index + 1) % pattern.len();
            left = pattern[index];
        }
        left -= total - done;
        if drawing {
            dash.push(w[1]);
        }
    }
    if drawing && 1 < dash.len() {
        out.push(dash);
    }
    out
}

/// The strokes of a hatch inside a box; a stroke of one point is a dot.
pub(crate) fn hatch(rect: &Rect, kind: Hatch) -> Vec<Vec<Point>> {
    match kind {
        Hatch::Plain => Vec::new(),
        Hatch::Wide45 => slanted(rect, 10.0, true),
        Hatch::Dense135 => slanted(rect, 5.0, false),
        Hatch::Crossed => {
            let mut lines = slanted(rect, 9.0, true);
            lines.extend(slanted(rect, 9.0, false));
            lines
        }
        Hatch::Dotted45 => slanted(rect, 10.0, true)
            .iter()
            .flat_map(|line| dashes(line, &[1.5, 3.5]))
            .collect(),
        Hatch::Level => {
            rows(rect, 7.0).map(|y| vec![[rect.left, y], [rect.right, y]]).collect()
        }
        Hatch::LevelDashes => marks(rect, |x, y| vec![[x - 3.0, y], [x + 3.0, y]]),
        Hatch::UprightTicks => marks(rect, |x, y| vec![[x, y - 3.0], [x, y + 3.0]]),
        Hatch::Dots => marks(rect, |x, y| vec![[x, y]]),
    }
}

fn rows(rect: &Rect, gap: f64) -> impl Iterator<Item = f64> + use<> {
    let (top, bottom) = (rect.top, rect.bottom);
    (0..2000_u16)
        .map(move |i| top + (f64::from(i) + 0.5) * gap)
        .take_while(move |&y| y < bottom)
}

fn marks(rect: &Rect, mark: impl Fn(f64, f64) -> Vec<Point>) -> Vec<Vec<Point>> {
    let inner = rect.grown(-1.0);
    let mut out = Vec::new();
    for (row, y) in rows(rect, 8.0).enumerate() {
        let shift = if row % 2 == 0 { 4.0 } else { 9.0 };
        let mut x = rect.left + shift;
        while x < rect.right && out.len() < 5000 {
            let stroke = mark(x, y);
            if stroke.iter().all(|&p| inner.contains(p)) {
                out.push(stroke);
            }
            x += 10.0;
        }
    }
    out
}

fn slanted(rect: &Rect, gap: f64, rising: bool) -> Vec<Vec<Point>> {
    let mut out = Vec::new();
    // Anchored to the frame, not to the box: neighboring boxes of one material join up.
    let reach = rect.height();
    let first = ((rect.left - reach) / gap).floor() * gap;
    let mut x = first;
    while x < rect.right && out.len() < 2000 {
        let (a, b) = if rising {
            ([x, rect.bottom], [x + reach, rect.top])
        } else {
            ([x, rect.top], [x + reach, rect.bottom])
        };
        if let Some((a, b)) = clip_segment(a, b, rect) {
            out.push(vec![a, b]);
        }
        x += gap;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOX: Rect = Rect { left: 0.0, top: 0.0, right: 100.0, bottom: 50.0 };

    #[test]
    fn a_line_is_cut_at_the_box_and_at_gaps() {
        let line = [
            Some([-50.0, 25.0]),
            Some([50.0, 25.0]),
            None,
            Some([60.0, 25.0]),
            Some([200.0, 25.0]),
        ];
        let pieces = clip(&line, &BOX);
        assert_eq!(
            pieces,
            vec![vec![[0.0, 25.0], [50.0, 25.0]], vec![[60.0, 25.0], [100.0, 25.0]]]
        );
        assert!(clip(&[Some([0.0, 60.0]), Some([100.0, 70.0])], &BOX).is_empty());
    }

    #[test]
    fn dashes_have_the_lengths_asked_for() {
        let line = [[0.0, 0.0], [40.0, 0.0], [40.0, 50.0]];
        let parts = dashes(&line, &[6.0, 3.0]);
        assert_eq!(parts.len(), 10);
        for part in &parts {
            assert!((length(part) - 6.0).abs() < 1e-9, "{part:?}");
        }
        // A dash that goes round the corner keeps the corner.
        assert!(parts.iter().any(|p| p.len() == 3));
        assert_eq!(dashes(&line, &[]).len(), 1);
        assert_eq!(dashes(&line, &[0.0]).len(), 1);
    }

    #[test]
    fn thinning_keeps_corners_and_drops_the_rest() {
        let mut line: Vec<Point> = (0..50).map(|i| [f64::from(i), 0.0]).collect();
        line.extend((0..50).map(|i| [49.0, f64::from(i)]));
        assert_eq!(thin(&line, 0.1), vec![[0.0, 0.0], [49.0, 0.0], [49.0, 49.0]]);
    }

    #[test]
    fn every_hatch_stays_inside() {
        for kind in [
            Hatch::LevelDashes,
            Hatch::UprightTicks,
            Hatch::Wide45,
            Hatch::Dotted45,
            Hatch::Level,
            Hatch::Dense135,
            Hatch::Crossed,
            Hatch::Dots,
        ] {
            let strokes = hatch(&BOX, kind);
            assert!(!strokes.is_empty(), "{kind:?}");
            assert!(strokes.iter().flatten().all(|&p| BOX.grown(1e-6).contains(p)));
        }
    }
}
