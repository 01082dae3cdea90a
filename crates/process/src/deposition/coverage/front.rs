//! The moving surface of a film: the left half of a symmetric section, point by point.

use super::Trench;
use super::shadow::Sky;

/// A surface that grows. The first point stands on flat ground, the last one in the middle.
#[derive(Clone, Debug)]
pub(super) struct Front {
    pub(super) points: Vec<[f64; 2]>,
    /// How long its pieces are.
    pub(super) mesh: Mesh,
}

/// Lengths of pieces in um: fine near the trench's edge and foot, where the surface bends.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mesh {
    corners: [[f64; 2]; 2],
    pub(super) fine_um: f64,
    pub(super) coarse_um: f64,
}

/// Length of a piece over its distance from the nearest corner.
const GRADING: f64 = 0.15;

/// Share of a bump that a step takes away.
const RELAXATION: f64 = 0.1;

impl Mesh {
    /// Pieces for a trench under a film.
    pub(super) fn of(trench: &Trench, t_um: f64) -> Self {
        let Trench { width_um, depth_um } = *trench;
        let coarse_um = (width_um / 24.0).max((depth_um + 0.5 * width_um) / 110.0);
        Self {
            corners: [[-0.5 * width_um, 0.0], [-0.5 * width_um, -depth_um]],
            fine_um: (t_um / 6.0).min(depth_um / 6.0).clamp(coarse_um / 16.0, coarse_um),
            coarse_um,
        }
    }

    /// Length of a piece at a point: walls that face each other are never coarse.
    fn at(&self, p: [f64; 2]) -> f64 {
        let [edge, _] = self.corners;
        let [a, b] = self.corners.map(|corner| length(minus(p, corner)));
        let inside = edge[0] + 0.5 * edge[0] < p[0];
        let coarse_um = if inside { self.coarse_um } else { f64::INFINITY };
        (GRADING * a.min(b)).min(coarse_um).max(self.fine_um)
    }
}

fn minus(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

fn length(a: [f64; 2]) -> f64 {
    (a[0] * a[0] + a[1] * a[1]).sqrt()
}

fn cross(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

/// Unit normal to the left of a piece, where the gas is.
fn normal(from: [f64; 2], to: [f64; 2]) -> [f64; 2] {
    let d = minus(to, from);
    let l = length(d).max(1e-30);
    [-d[1] / l, d[0] / l]
}

impl Front {
    /// The bare trench. Five points stand at its edge, from which the film turns around it.
    pub(super) fn bare(trench: &Trench, t_um: f64, mesh: Mesh) -> Self {
        let (half_um, depth_um) = (0.5 * trench.width_um, trench.depth_um);
        let edge = 1e-3 * mesh.fine_um.min(t_um);
        let corners = [
            [trench.left_um(t_um), 0.0],
            [-half_um - 2.0 * edge, 0.0],
            [-half_um - edge, 0.0],
            [-half_um - 0.293 * edge, -0.293 * edge],
            [-half_um, -edge],
            [-half_um, -2.0 * edge],
            [-half_um, -depth_um],
            [0.0, -depth_um],
        ];
        let mut front = Self { points: corners.to_vec(), mesh };
        // Halved until every piece is short enough.
        let mut count = 0;
        while count < front.points.len() {
            count = front.points.len();
            front.split();
        }
        front
    }

    /// Moves every point by a step of flat growth.
    ///
    /// # Model
    /// Along the normal at `c + (1 - c) S`, S the share of the sky (`everywhere` = c). In a
    /// corner that turns inward, both sides move and the point goes where they meet.
    pub(super) fn grow(&mut self, step_um: f64, everywhere: f64) {
        let old = &self.points;
        let last = old.len() - 1;
        let speed =
            |sky: Sky, n: [f64; 2]| everywhere + (1.0 - everywhere) * sky.share(n);
        let mut moved = Vec::with_capacity(old.len());
        for (i, &p) in old.iter().enumerate() {
            let velocity = if i == 0 {
                [0.0, 1.0]
            } else if i == last {
                // The mirror image meets it here.
                let n = normal(old[i - 1], p);
                [0.0, speed(Sky::over(old, i), n) / n[1].max(0.3)]
            } else {
                let (before, after) = (normal(old[i - 1], p), normal(p, old[i + 1]));
                let sky = Sky::over(old, i);
                let turn = cross(before, after);
                if 0.3 < turn {
                    // Inward: u.n1 = v1 and u.n2 = v2.
                    let (v1, v2) = (speed(sky, before), speed(sky, after));
                    let u = [
                        (v1 * after[1] - v2 * before[1]) / turn,
                        (v2 * before[0] - v1 * after[0]) / turn,
                    ];
                    let too_far = (length(u) / (3.0 * v1.max(v2)).max(1e-30)).max(1.0);
                    [u[0] / too_far, u[1] / too_far]
                } else {
                    // Exact on a circle, however long the two pieces are.
                    let (d, e) =
                        (length(minus(p, old[i - 1])), length(minus(old[i + 1], p)));
                    let sum =
                        [e * before[0] + d * after[0], e * before[1] + d * after[1]];
                    let l = length(sum).max(1e-30);
                    let n = [sum[0] / l, sum[1] / l];
                    let v = speed(sky, n);
                    [v * n[0], v * n[1]]
                }
            };
            moved.push([p[0] + step_um * velocity[0], p[1] + step_um * velocity[1]]);
        }
        relax(&mut moved);
        // No place grows faster than flat ground: a corner may not run ahead of it.
        let highest = moved.first().map_or(0.0, |p| p[1]);
        for point in &mut moved {
            point[1] = point[1].min(highest);
        }
        if let Some(end) = moved.last_mut() {
            end[0] = 0.0;
        }
        self.points = moved;
    }

    /// Cuts off what lies beyond the middle: the lip of the film has met its mirror image.
    /// Gives the gas that is shut in below, from its top to its bottom.
    pub(super) fn cut_at_middle(&mut self) -> Option<Vec<[f64; 2]>> {
        let inner = 1..self.points.len() - 1;
        let first = inner.clone().find(|&i| 0.0 <= self.points[i][0])?;
        let middle = |a: [f64; 2], b: [f64; 2]| {
            let s = if (b[0] - a[0]).abs() < 1e-30 { 0.0 } else { -a[0] / (b[0] - a[0]) };
            [0.0, a[1] + s * (b[1] - a[1])]
        };
        let top = middle(self.points[first - 1], self.points[first]);
        let mut shut_in = Vec::new();
        if let Some(back) = (first..self.points.len()).find(|&i| self.points[i][0] < 0.0)
        {
            shut_in.push(middle(self.points[back - 1], self.points[back]));
            shut_in.extend_from_slice(&self.points[back..]);
        }
        self.points.truncate(first);
        self.points.push(top);
        Some(shut_in)
    }

    /// Cuts off loops, drops points that have come too close, splits pieces that have grown.
    /// Gives the loops: corners that were swallowed, and gas that was shut in.
    pub(super) fn mend(&mut self) -> Vec<Vec<[f64; 2]>> {
        let loops = self.cut_loops();
        let mut i = 1;
        while i + 1 < self.points.len() {
            let (a, b) = (self.points[i - 1], self.points[i]);
            // Where the surface has come level it runs to the right only.
            let highest = self.points.first().map_or(0.0, |p| p[1]);
            if b[0] <= a[0] && highest <= a[1].min(b[1]) {
                self.points.remove(i);
                continue;
            }
            if length(minus(b, a)) < 0.06 * self.mesh.at(b) {
                // Of the two points the one at the sharper corner stays.
                let keeps_before = i == 1 || self.turn(i).abs() < self.turn(i - 1).abs();
                self.points.remove(if keeps_before { i } else { i - 1 });
                continue;
            }
            i += 1;
        }
        self.split();
        loops
    }

    /// Splits pieces that are too long in the middle: of the chord at a corner, of the curve
    /// through the four nearest points where the surface is round.
    fn split(&mut self) {
        let mut split = Vec::with_capacity(2 * self.points.len());
        for (i, pair) in self.points.windows(2).enumerate() {
            let (a, b) = (pair[0], pair[1]);
            let mut middle = [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
            split.push(a);
            if length(minus(b, a)) <= 1.5 * self.mesh.at(middle) {
                continue;
            }
            let (before, after) = (self.turn(i), self.turn(i + 1));
            let round = 0.0 < before * after && before.abs().max(after.abs()) < 0.6;
            if let (true, Some(&c), Some(&d)) =
                (round, self.points.get(i.wrapping_sub(1)), self.points.get(i + 2))
            {
                for k in 0..2 {
                    middle[k] += (a[k] + b[k] - c[k] - d[k]) / 16.0;
                }
            }
            split.push(middle);
        }
        split.extend(self.points.last());
        self.points = split;
    }

    /// Sine of the turn at a point, 0 if straight, positive inward.
    fn turn(&self, i: usize) -> f64 {
        match (
            self.points.get(i.wrapping_sub(1)),
            self.points.get(i),
            self.points.get(i + 1),
        ) {
            (Some(&a), Some(&b), Some(&c)) => {
                let (d, e) = (minus(b, a), minus(c, b));
                cross(d, e) / (length(d) * length(e)).max(1e-30)
            }
            _ => 0.0,
        }
    }

    /// Where the surface crosses itself, two parts of it have met: what lies between is inside.
    fn cut_loops(&mut self) -> Vec<Vec<[f64; 2]>> {
        let mut loops = Vec::new();
        let mut i = 0;
        while i + 3 < self.points.len() {
            let (a, b) = (self.points[i], self.points[i + 1]);
            let crossing = (i + 2..self.points.len() - 1).rev().find_map(|j| {
                meeting(a, b, self.points[j], self.points[j + 1]).map(|p| (j, p))
            });
            if let Some((j, p)) = crossing {
                let mut cut: Vec<[f64; 2]> = self.points.splice(i + 1..=j, [p]).collect();
                cut.insert(0, p);
                loops.push(cut);
            }
            i += 1;
        }
        loops
    }
}

/// Takes away a part of every bump of one piece: a shadow makes bumps grow, and those of the
/// chain mean nothing. Even curvature is no bump and stays; so do corners.
fn relax(points: &mut [[f64; 2]]) {
    // Curvature at each smooth point, and the product of the pieces beside it.
    let mut bend = vec![None; points.len()];
    for (i, p) in points.windows(3).enumerate() {
        let (d, e, chord) = (minus(p[1], p[0]), minus(p[2], p[1]), minus(p[2], p[0]));
        let pieces = length(d) * length(e);
        if cross(d, e).abs() < 0.6 * pieces {
            let off = cross(chord, d) / length(chord).max(1e-30);
            bend[i + 1] = Some((off / pieces.max(1e-30), pieces));
        }
    }
    let old = points.to_vec();
    for i in 1..old.len().saturating_sub(1) {
        if let (Some((before, _)), Some((here, pieces)), Some((after, _))) =
            (bend[i - 1], bend[i], bend[i + 1])
        {
            let bump = pieces * (here - 0.5 * (before + after));
            let n = normal(old[i - 1], old[i + 1]);
            points[i][0] -= RELAXATION * bump * n[0];
            points[i][1] -= RELAXATION * bump * n[1];
        }
    }
}

/// The point where two pieces cross.
fn meeting(a: [f64; 2], b: [f64; 2], c: [f64; 2], d: [f64; 2]) -> Option<[f64; 2]> {
    let apart =
        |k: usize| a[k].max(b[k]) < c[k].min(d[k]) || c[k].max(d[k]) < a[k].min(b[k]);
    if apart(0) || apart(1) {
        return None;
    }
    let (u, v, w) = (minus(b, a), minus(d, c), minus(c, a));
    let area = cross(u, v);
    if area.abs() < 1e-30 {
        return None;
    }
    let (s, t) = (cross(w, v) / area, cross(w, u) / area);
    ((0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t))
        .then(|| [a[0] + s * u[0], a[1] + s * u[1]])
}
