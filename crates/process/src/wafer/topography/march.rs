//! The front goes from node to node in the order of time.
//!
//! # Model
//! Eikonal equation `|grad T| = 1 / v`, by fast marching of the second order on columns and
//! levels (derived), with one addition: every node remembers where its front came from, a
//! rectangle of open space or a node behind a change of matter, and takes the exact distance
//! from there where that is seen. Circles under mask edges are then circles.

use core::cmp::Reverse;
use std::collections::BinaryHeap;

use super::super::Section;
use super::arrival::{Field, Rectangle};
use super::isotropic::Ions;
use super::pieces::{Pieces, floor_nm, is_same, piece_at};
use super::ways::{Way, meet};

/// Marching may be early by this share of a level where two ways meet; a source that is seen is
/// believed rather (model choice).
pub(super) const MARCHING: f64 = 0.2;

/// A node that is later than the straight way by more than this share does not see its end.
pub(super) const SIGHT: f64 = 1e-9;

/// Relative rounding that is let pass when times are compared.
pub(super) const ROUNDING: f64 = 1e-12;

type Heap = BinaryHeap<Reverse<(u64, u32)>>;

/// An earlier time of a node and whence the front came.
#[derive(Clone, Copy, Debug)]
struct Proposal {
    time_min: f64,
    origin: Origin,
}

/// Whence a front came.
#[derive(Clone, Copy, Debug)]
enum Origin {
    /// As the field numbers them.
    Known(u32),
    /// A corner that becomes an origin.
    Corner(Rectangle),
}

impl Proposal {
    /// Takes an earlier time.
    fn improve(&mut self, time_min: f64, origin: Origin) {
        if time_min < self.time_min * (1.0 - ROUNDING) {
            *self = Self { time_min, origin };
        }
    }
}

impl Field {
    /// Finds the times of all nodes that the front reaches within `until_min`.
    pub(super) fn march(
        &mut self,
        section: &Section,
        pieces: &Pieces,
        until_min: f64,
        ions: Option<&Ions<'_>>,
    ) {
        let mut heap = Heap::new();
        self.start_at_open_space(&mut heap);
        if let Some(ions) = ions {
            self.start_at_ions(section, ions, until_min, &mut heap);
        }
        let (mut together, mut touched) = (Vec::new(), Vec::new());
        let mut proposals: Vec<(usize, Proposal)> = Vec::new();
        while let Some(&Reverse((order, _))) = heap.peek() {
            // All that the front comes to at one time becomes final at once, and what it touches
            // is looked at before anything of it changes: no side comes first.
            self.pop_together(order, &mut heap, &mut together);
            if together.iter().any(|&at| until_min < self.time_min[at]) {
                break;
            }
            touched.clear();
            for &at in &together {
                for beside in self.neighbors(at).into_iter().flatten() {
                    // What is as early already gets no earlier from here.
                    if !self.is_final[beside]
                        && self.time_min[at] < self.time_min[beside]
                        && self.slowness[beside].is_finite()
                    {
                        touched.push(beside);
                    }
                }
            }
            touched.sort_unstable();
            touched.dedup();
            proposals.clear();
            for &node in &touched {
                proposals.extend(self.update(node, pieces).map(|new| (node, new)));
            }
            for &(node, proposal) in &proposals {
                let origin = match proposal.origin {
                    Origin::Known(origin) => origin,
                    Origin::Corner(corner) => self.new_rectangle(corner),
                };
                self.propose(node, proposal.time_min, origin, &mut heap);
            }
        }
    }

    /// Takes all nodes of one time out of the heap and makes them final.
    fn pop_together(&mut self, order: u64, heap: &mut Heap, together: &mut Vec<usize>) {
        together.clear();
        while let Some(&Reverse((next, node))) = heap.peek() {
            if next != order {
                return;
            }
            heap.pop();
            let at = node as usize;
            if !self.is_final[at] && order == in_order(self.time_min[at]) {
                self.is_final[at] = true;
                together.push(at);
            }
        }
    }

    /// The number of a new rectangle as an origin.
    fn new_rectangle(&mut self, rectangle: Rectangle) -> u32 {
        self.rectangles.push(rectangle);
        index(self.time_min.len() + self.rectangles.len() - 1)
    }

    /// Left, right, lower and upper neighbor of a node.
    pub(super) fn neighbors(&self, node: usize) -> [Option<usize>; 4] {
        let levels = self.levels();
        let (column, level) = (node / levels, node % levels);
        [
            (0 < column && self.linked[column - 1]).then(|| node - levels),
            self.linked.get(column).is_some_and(|&l| l).then(|| node + levels),
            (0 < level).then(|| node - 1),
            (level + 1 < levels).then_some(node + 1),
        ]
    }

    /// An earlier time of a node and whence the front came.
    fn propose(&mut self, node: usize, time_min: f64, origin: u32, heap: &mut Heap) {
        if time_min < self.time_min[node] * (1.0 - ROUNDING) {
            self.time_min[node] = time_min;
            self.origin[node] = origin;
            self.is_bared[node] = false;
            heap.push(Reverse((in_order(time_min), index(node))));
        }
    }

    /// The solid beside open space, from its walls, floors and roofs.
    fn start_at_open_space(&mut self, heap: &mut Heap) {
        let levels = self.levels();
        for node in 0..self.time_min.len() {
            if !self.is_source[node] {
                continue;
            }
            let [_, _, below, above] = self.neighbors(node);
            let ways = [(below, below), (above, Some(node))];
            for (beside, lower) in ways {
                let (Some(beside), Some(lower)) = (beside, lower) else { continue };
                let time_min = self.rise_min[lower];
                if self.is_source[beside]
                    || !time_min.is_finite()
                    || !self.slowness[beside].is_finite()
                {
                    continue;
                }
                // The rectangle is seen if all the way is in the node's own matter.
                let rectangle =
                    self.rectangles[self.origin[node] as usize - self.time_min.len()];
                let z_nm = self.levels_nm[beside % levels];
                let away_nm =
                    (rectangle.z_nm[0] - z_nm).max(z_nm - rectangle.z_nm[1]).max(0.0);
                let straight_min = away_nm * self.slowness[beside];
                let is_seen = (time_min - straight_min).abs() <= 1e-9 * time_min
                    && self.slowness[beside] != 0.0;
                let origin = if is_seen { self.origin[node] } else { index(beside) };
                self.propose(beside, time_min, origin, heap);
            }
        }
        // Walls after floors and roofs: of equal times the upright way counts, on either side.
        for node in 0..self.time_min.len() {
            if !self.is_source[node] {
                continue;
            }
            let [left, right, ..] = self.neighbors(node);
            for beside in [left, right].into_iter().flatten() {
                let slowness = self.slowness[beside];
                if !self.is_source[beside] && slowness.is_finite() {
                    let away_min = self.half_nm[beside / levels] * slowness;
                    self.propose(beside, away_min, self.origin[node], heap);
                }
            }
        }
    }

    /// What ions bare from above.
    fn start_at_ions(
        &mut self,
        section: &Section,
        ions: &Ions<'_>,
        until_min: f64,
        heap: &mut Heap,
    ) {
        let levels = self.levels();
        let edges_nm = section.edges_nm();
        for node in 0..self.time_min.len() {
            if self.is_source[node] || !self.slowness[node].is_finite() {
                continue;
            }
            let column = self.columns[node / levels];
            let z_nm = self.levels_nm[node % levels];
            let start_min = ions.at_min(column, z_nm);
            if start_min <= until_min && start_min < self.time_min[node] {
                let x_nm = [edges_nm[column], edges_nm[column + 1]];
                let floor = Rectangle { start_min, x_nm, z_nm: [z_nm, z_nm] };
                let origin = self.new_rectangle(floor);
                self.propose(node, start_min, origin, heap);
                self.is_bared[node] = true;
            }
        }
    }

    /// A new time of a node from all its neighbors that have theirs, if it is earlier.
    fn update(&self, node: usize, pieces: &Pieces) -> Option<Proposal> {
        let (across, along) = (self.way_across(node), self.way_along(node));
        let one =
            |way: Option<Way>| way.map_or(f64::INFINITY, |w| w.upwind_min + w.step_min);
        let mut time_min = one(across).min(one(along));
        let slowness = self.slowness[node];
        if !time_min.is_finite() {
            return None;
        }
        let mut best = Proposal {
            time_min: self.time_min[node],
            origin: Origin::Known(self.origin[node]),
        };
        let before_min = best.time_min;
        let from_here = Origin::Known(index(node));
        if slowness == 0.0 {
            best.improve(time_min, from_here);
        } else {
            let straight_min = time_min;
            if let (Some(a), Some(b)) = (across, along) {
                let latest_min = a.upwind_min.max(b.upwind_min);
                let first = ((a.upwind_min, a.step_min), (b.upwind_min, b.step_min));
                let second = (a.second.unwrap_or(first.0), b.second.unwrap_or(first.1));
                let both = meet(second.0, second.1, latest_min)
                    .or_else(|| meet(first.0, first.1, latest_min));
                time_min = both.map_or(time_min, |both| both.min(time_min));
            }
            match self.straight(node, time_min) {
                Some((seen_min, origin))
                    if seen_min <= straight_min * (1.0 + ROUNDING) =>
                {
                    best.improve(seen_min, Origin::Known(origin));
                }
                _ => best.improve(time_min, from_here),
            }
            self.around_corners(node, pieces, &mut best);
        }
        (best.time_min < before_min).then_some(best)
    }

    /// Ways to a node that lead around a corner of something slower beside it: the front starts
    /// anew from the corner.
    fn around_corners(&self, node: usize, pieces: &Pieces, best: &mut Proposal) {
        let levels = self.levels();
        let slowness = self.slowness[node];
        let [left, right, below, above] = self.neighbors(node);
        for (beside, side) in [(left, 0), (right, 1)] {
            for (along, up) in [(below, 2), (above, 3)] {
                let (Some(beside), Some(along)) = (beside, along) else { continue };
                let Some(diagonal) = self.neighbors(along)[side] else { continue };
                // One of the two is in the way.
                let (a, b) = (self.slowness[beside], self.slowness[along]);
                let (wall, free) = if slowness < a && is_same(b, slowness) {
                    (beside, along)
                } else if slowness < b && is_same(a, slowness) {
                    (along, beside)
                } else {
                    continue;
                };
                if !self.is_final[diagonal]
                    || self.is_source[diagonal]
                    || !is_same(self.slowness[diagonal], slowness)
                    || self.is_source[free]
                {
                    continue;
                }
                let middle_nm = self.center_nm[node / levels];
                let half_nm = self.half_nm[node / levels];
                let x_nm =
                    if side == 0 { middle_nm - half_nm } else { middle_nm + half_nm };
                // The wall's end, on the side of the free neighbor.
                let column = pieces.column(self.columns[wall / levels]);
                let piece = piece_at(column, self.levels_nm[wall % levels]);
                let is_top = (up == 3) == (wall == beside);
                let z_nm =
                    if is_top { column[piece].top_nm } else { floor_nm(column, piece) };
                let ends =
                    [self.levels_nm[node % levels], self.levels_nm[along % levels]];
                if z_nm < ends[0].min(ends[1]) || ends[0].max(ends[1]) < z_nm {
                    continue;
                }
                let (start_min, away_nm) =
                    self.origin_from(self.origin[diagonal], [x_nm, z_nm]);
                let start_min = start_min + away_nm * slowness;
                let dz = z_nm - ends[0];
                let time_min =
                    start_min + (half_nm * half_nm + dz * dz).sqrt() * slowness;
                if self.time_min[diagonal] <= time_min {
                    let (x_nm, z_nm) = ([x_nm, x_nm], [z_nm, z_nm]);
                    let corner = Rectangle { start_min, x_nm, z_nm };
                    best.improve(time_min, Origin::Corner(corner));
                }
            }
        }
    }

    /// The time by the straight way from a source that a neighbor remembers, if it is seen.
    fn straight(&self, node: usize, marched_min: f64) -> Option<(f64, u32)> {
        let levels = self.levels();
        let slowness = self.slowness[node];
        let spacing_min = self.spacing_nm * slowness;
        let place = [self.center_nm[node / levels], self.levels_nm[node % levels]];
        let mut best: Option<(f64, u32)> = None;
        for (side, beside) in self.neighbors(node).into_iter().enumerate() {
            let Some(beside) = beside else { continue };
            let is_one_matter = if side < 2 {
                is_same(self.slowness[beside], slowness)
            } else {
                self.is_even[node.min(beside)]
            };
            if !self.is_final[beside] || self.is_source[beside] || !is_one_matter {
                continue;
            }
            let origin = self.origin[beside];
            let (start_min, away_nm) = self.origin_from(origin, place);
            let seen_min = start_min + away_nm * slowness;
            if self.time_min[beside] <= seen_min * (1.0 + ROUNDING)
                && seen_min <= marched_min + MARCHING * spacing_min
                && best.is_none_or(|(best_min, _)| seen_min < best_min * (1.0 - ROUNDING))
                && self.is_seen(node, origin)
            {
                best = Some((seen_min, origin));
            }
        }
        best
    }

    /// Whether a node sees an origin: the neighbor that is nearest to the straight way there does,
    /// for its time is that of its own straight way, or earlier.
    fn is_seen(&self, node: usize, origin: u32) -> bool {
        let levels = self.levels();
        let place = [self.center_nm[node / levels], self.levels_nm[node % levels]];
        let [dx, dz] = self.origin_sides(origin as usize, place);
        let [left, right, below, above] = self.neighbors(node);
        let across = if dx > 0.0 { left } else { right };
        let along = if dz > 0.0 { below } else { above };
        // In steps of the mesh.
        let step =
            |to: Option<usize>, way_nm: f64, coordinate: fn(&Self, usize) -> f64| {
                to.map_or(0.0, |to| {
                    way_nm.abs() / (coordinate(self, to) - coordinate(self, node)).abs()
                })
            };
        let steps_x = step(across, dx, Self::x_nm);
        let steps_z = step(along, dz, Self::z_nm);
        if steps_x.max(steps_z) <= 1.0 + SIGHT {
            return true;
        }
        let is_flat = steps_z <= steps_x * (1.0 + SIGHT);
        let (Some(first), is_level) = (if is_flat {
            (across, 2.0 * steps_z <= steps_x * (1.0 + SIGHT))
        } else {
            (along, 2.0 * steps_x <= steps_z * (1.0 + SIGHT))
        }) else {
            return false;
        };
        let nearest = if is_level {
            first
        } else {
            let sides = self.neighbors(first);
            let side = if is_flat {
                if dz > 0.0 { 2 } else { 3 }
            } else {
                usize::from(dx <= 0.0)
            };
            match sides[side] {
                Some(diagonal) => diagonal,
                None => return false,
            }
        };
        if self.is_source[nearest] {
            return true;
        }
        let there = [self.x_nm(nearest), self.z_nm(nearest)];
        let (start_min, away_nm) = self.origin_from(origin, there);
        let straight_min = start_min + away_nm * self.slowness[node];
        is_same(self.slowness[nearest], self.slowness[node])
            && self.time_min[nearest] <= straight_min * (1.0 + SIGHT)
    }

    fn x_nm(&self, node: usize) -> f64 {
        self.center_nm[node / self.levels()]
    }

    fn z_nm(&self, node: usize) -> f64 {
        self.levels_nm[node % self.levels()]
    }

    /// Start of an origin in min, and its distance in nm from a place.
    pub(super) fn origin_from(&self, origin: u32, place_nm: [f64; 2]) -> (f64, f64) {
        let origin = origin as usize;
        let [dx, dz] = self.origin_sides(origin, place_nm);
        let start_min = match origin.checked_sub(self.time_min.len()) {
            Some(at) => self.rectangles[at].start_min,
            None => self.time_min[origin],
        };
        (start_min, (dx * dx + dz * dz).sqrt())
    }

    /// The way in nm from the nearest point of an origin to a place.
    pub(super) fn origin_sides(&self, origin: usize, [x_nm, z_nm]: [f64; 2]) -> [f64; 2] {
        if let Some(at) = origin.checked_sub(self.time_min.len()) {
            let Rectangle { x_nm: wide, z_nm: high, .. } = self.rectangles[at];
            [x_nm - x_nm.clamp(wide[0], wide[1]), z_nm - z_nm.clamp(high[0], high[1])]
        } else {
            let levels = self.levels();
            let middle_nm = self.center_nm[origin / levels];
            [x_nm - middle_nm, z_nm - self.levels_nm[origin % levels]]
        }
    }
}

/// A whole number in the order of times that are not negative, the same for two times that
/// differ by rounding: their bits without the last twelve.
fn in_order(time_min: f64) -> u64 {
    (time_min.to_bits() + 0x800) >> 12
}

/// A node as the heap keeps it.
pub(super) fn index(node: usize) -> u32 {
    u32::try_from(node).unwrap_or(u32::MAX)
}
