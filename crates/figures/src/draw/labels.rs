//! Finds a place for each label where it hides no curve and no other label.

use super::path::{Point, Rect, point_at, step};

/// The labels placed so far and the curves to keep clear of.
pub(crate) struct Placer {
    bounds: Rect,
    taken: Vec<Rect>,
    ink: Vec<Point>,
}

/// A place found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Place {
    pub(crate) rect: Rect,
    /// Whether the label is so far from its point that it needs a leader line.
    pub(crate) far: bool,
}

impl Place {
    /// The point of the label nearest to another: where its leader line ends.
    pub(crate) fn nearest(&self, to: Point) -> Point {
        [
            to[0].clamp(self.rect.left, self.rect.right),
            to[1].clamp(self.rect.top, self.rect.bottom),
        ]
    }
}

impl Placer {
    pub(crate) fn new(bounds: Rect) -> Self {
        Self { bounds, taken: Vec::new(), ink: Vec::new() }
    }

    /// Keeps labels off a curve.
    pub(crate) fn avoid(&mut self, line: &[Point]) {
        const EVERY: f64 = 4.0;
        for w in line.windows(2) {
            let length = step(w[0], w[1]);
            let mut along = 0.0;
            while along < length && self.ink.len() < 20_000 {
                let t = along / length;
                self.ink.push([
                    w[0][0] + t * (w[1][0] - w[0][0]),
                    w[0][1] + t * (w[1][1] - w[0][1]),
                ]);
                along += EVERY;
            }
        }
    }

    /// Keeps labels off a box.
    pub(crate) fn take(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// The best place for a label of a size beside a point.
    pub(crate) fn beside(&mut self, at: Point, size: [f64; 2]) -> Place {
        let mut candidates = Vec::new();
        for gap in [9.0, 18.0, 32.0, 50.0, 72.0, 100.0, 135.0] {
            candidates.extend(
                around(at, size, gap).map(|rect| Place { rect, far: 12.0 < gap }),
            );
        }
        let place = self.choose(&candidates);
        if place.far {
            self.avoid(&[at, place.nearest(at)]);
        }
        place
    }

    /// The best place for a label of a size along a line, preferring its end.
    pub(crate) fn along(&mut self, line: &[Point], size: [f64; 2]) -> Place {
        let mut candidates = Vec::new();
        for share in [1.0, 0.94, 0.86, 0.76, 0.65, 0.52, 0.4, 0.28, 0.16, 0.05] {
            if let Some(at) = point_at(line, share) {
                for gap in [7.0, 14.0] {
                    candidates.extend(
                        around(at, size, gap).map(|rect| Place { rect, far: false }),
                    );
                }
            }
        }
        self.choose(&candidates)
    }

    fn choose(&mut self, candidates: &[Place]) -> Place {
        let cost = |i: usize, rect: &Rect| {
            let inside = rect.overlap(&self.bounds);
            let outside = rect.width() * rect.height() - inside;
            let shared: f64 = self.taken.iter().map(|t| rect.grown(2.0).overlap(t)).sum();
            let near = rect.grown(2.0);
            let hits: f64 =
                self.ink.iter().map(|&p| if near.contains(p) { 1.0 } else { 0.0 }).sum();
            100.0 * outside + 20.0 * shared + 40.0 * hits + rank(i)
        };
        let best = candidates
            .iter()
            .enumerate()
            .map(|(i, place)| (cost(i, &place.rect), place))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, place)| *place);
        let mut place = best.unwrap_or(Place { rect: self.bounds, far: false });
        place.rect = pushed_inside(place.rect, &self.bounds);
        self.taken.push(place.rect);
        place
    }
}

/// A label of the given height beside each of these heights on a line, moved apart.
pub(crate) fn spread(wanted: &[f64], heights: &[f64], top: f64, bottom: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len().min(heights.len())).collect();
    order.sort_by(|&a, &b| wanted[a].total_cmp(&wanted[b]));
    let mut centers = wanted.to_vec();
    let mut floor = top;
    for &i in &order {
        centers[i] = centers[i].max(floor + heights[i] / 2.0);
        floor = centers[i] + heights[i] / 2.0;
    }
    let mut ceiling = bottom;
    for &i in order.iter().rev() {
        centers[i] = centers[i].min(ceiling - heights[i] / 2.0);
        ceiling = centers[i] - heights[i] / 2.0;
    }
    centers
}

#[expect(clippy::cast_precision_loss, reason = "a list of at most a few hundred places")]
fn rank(i: usize) -> f64 {
    i as f64 * 0.6
}

fn around(at: Point, [w, h]: [f64; 2], gap: f64) -> impl Iterator<Item = Rect> {
    let slant = gap * 0.75;
    [
        [at[0] + slant, at[1] - slant - h],
        [at[0] + gap, at[1] - h / 2.0],
        [at[0] + slant, at[1] + slant],
        [at[0] - slant - w, at[1] - slant - h],
        [at[0] - w / 2.0, at[1] - gap - h],
        [at[0] - slant - w, at[1] + slant],
        [at[0] - gap - w, at[1] - h / 2.0],
        [at[0] - w / 2.0, at[1] + gap],
    ]
    .into_iter()
    .map(move |[left, top]| Rect { left, top, right: left + w, bottom: top + h })
}

fn pushed_inside(rect: Rect, bounds: &Rect) -> Rect {
    let dx = (bounds.left - rect.left).max(0.0) - (rect.right - bounds.right).max(0.0);
    let dy = (bounds.top - rect.top).max(0.0) - (rect.bottom - bounds.bottom).max(0.0);
    Rect {
        left: rect.left + dx,
        right: rect.right + dx,
        top: rect.top + dy,
        bottom: rect.bottom + dy,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_do_not_cover_each_other_or_a_curve() {
        let bounds = Rect { left: 0.0, top: 0.0, right: 400.0, bottom: 200.0 };
        let mut placer = Placer::new(bounds);
        let curve = [[0.0, 100.0], [400.0, 100.0]];
        placer.avoid(&curve);
        let places: Vec<Rect> =
            (0..6).map(|_| placer.beside([200.0, 100.0], [60.0, 14.0]).rect).collect();
        for (i, a) in places.iter().enumerate() {
            assert!(a.overlap(&bounds) > 0.99 * a.width() * a.height());
            assert!(!a.contains([a.left, 100.0]), "{a:?} covers the curve");
            for b in &places[i + 1..] {
                assert!(a.overlap(b) < 1e-9, "{a:?} {b:?}");
            }
        }
    }

    #[test]
    fn margin_labels_are_moved_apart_and_stay_inside() {
        let centers = spread(&[50.0, 52.0, 198.0], &[16.0; 3], 0.0, 200.0);
        assert!(16.0 <= centers[1] - centers[0] + 1e-9);
        assert!(centers[2] <= 192.0);
    }
}
