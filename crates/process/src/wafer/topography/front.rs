//! Where the front stands when the time is over: what is gone from a column, and where columns
//! are to be cut because a wall stands inside them.

use super::super::Section;
use super::super::lattice::on_grid_nm;
use super::arrival::Field;
use super::march::index;
use super::pieces::{Pieces, floor_nm, is_same, piece_at, walk};
use super::walls::{APART_NM, one_of_close_ones};

/// A wall in a column that shows less than this share of the reach is left to the column.
pub(super) const LOW_WALL: f64 = 0.2;

/// The front of a field at a time.
pub(super) struct Front<'a> {
    pub(super) field: &'a Field,
    pub(super) pieces: &'a Pieces,
    /// Which steps of the surface belong to a slope, by the column on their left.
    pub(super) stairs: &'a [bool],
    pub(super) time_min: f64,
    pub(super) reach_nm: f64,
}

/// When a front comes to a place, and whence.
#[derive(Clone, Copy, Debug)]
struct Arrival {
    time_min: f64,
    /// As the field numbers them; the place's own node if that is not known.
    origin: u32,
}

impl Field {
    fn arrival(&self, node: usize) -> Arrival {
        Arrival { time_min: self.time_min[node], origin: self.origin[node] }
    }
}

/// The way from a node to the next level up or down.
struct Cell {
    at: usize,
    level: usize,
    /// The level that it leads to, and the one on the other side.
    to: Option<usize>,
    from: Option<usize>,
    x_nm: f64,
    /// Whether that is not the column's middle.
    is_part: bool,
    /// Where it ends.
    end_nm: f64,
}

impl Front<'_> {
    /// Adds what is gone from a column of the field at its middle, or at `x_nm`.
    pub(super) fn gone(&self, at: usize, x_nm: Option<f64>, gone: &mut Vec<[f64; 2]>) {
        let levels_nm = &self.field.levels_nm;
        let here: Vec<Arrival> = (0..levels_nm.len())
            .map(|level| {
                let own = self.field.arrival(at * levels_nm.len() + level);
                x_nm.map_or(own, |x| self.arrival_at(at, level, x))
            })
            .collect();
        let is_part = x_nm.is_some();
        let x_nm = x_nm.unwrap_or(self.field.center_nm[at]);
        for level in 0..levels_nm.len() {
            if self.time_min < here[level].time_min {
                continue;
            }
            let above = (level + 1 < levels_nm.len()).then_some(level + 1);
            let below = level.checked_sub(1);
            for (to, from) in [(above, below), (below, above)] {
                let is_up = to == above;
                let end_nm = match (to, is_up) {
                    (Some(to), _) => levels_nm[to],
                    (None, true) => f64::INFINITY,
                    (None, false) => f64::NEG_INFINITY,
                };
                let way = Cell { at, level, to, from, x_nm, is_part, end_nm };
                self.gone_beyond(&way, &here, gone);
            }
        }
    }

    /// Adds what is gone between a node that the front has passed and the next level: in the
    /// node's own matter by the distance from where the front came, beyond it by the time that
    /// is left at the border.
    fn gone_beyond(&self, way: &Cell, here: &[Arrival], gone: &mut Vec<[f64; 2]>) {
        let field = self.field;
        let column = self.pieces.column(field.columns[way.at]);
        let node = way.at * field.levels() + way.level;
        let (z_nm, slowness) = (field.levels_nm[way.level], field.slowness[node]);
        let Arrival { time_min, origin } = here[way.level];
        let left_min = self.time_min - time_min;
        if slowness == 0.0 {
            walk(column, z_nm, way.end_nm, left_min, gone);
            return;
        }
        let piece = piece_at(column, z_nm);
        let is_up = z_nm < way.end_nm;
        let border_nm = if is_up {
            column[piece].top_nm.min(way.end_nm)
        } else {
            floor_nm(column, piece).max(way.end_nm)
        };
        let way_nm = (border_nm - z_nm).abs();
        // Time at the border.
        let latest_min = time_min + way_nm * slowness;
        let from_origin = || {
            let (start_min, away_nm) = field.origin_from(origin, [way.x_nm, border_nm]);
            start_min + away_nm * slowness
        };
        // Straight on from the level before.
        let straight_on = || {
            way.from.map_or(latest_min, |from| {
                let before_nm = (field.levels_nm[from] - z_nm).abs();
                time_min + (time_min - here[from].time_min) * way_nm / before_nm
            })
        };
        let is_known = origin as usize != node;
        let border_min = match way.to {
            Some(to) if is_same(field.levels_nm[to], border_nm) => here[to].time_min,
            // In a part of a column the front may have come from another side than in its middle.
            _ if is_known && way.is_part => from_origin().min(straight_on()),
            _ if is_known => from_origin(),
            _ => straight_on(),
        };
        let border_min = if border_min.is_nan() { latest_min } else { border_min };
        let border_min = border_min.clamp(time_min, latest_min);
        if border_min <= self.time_min {
            gone.push([z_nm.min(border_nm), z_nm.max(border_nm)]);
            if !is_same(border_nm, way.end_nm) {
                let left_min = self.time_min - border_min;
                walk(column, border_nm, way.end_nm, left_min, gone);
            }
            return;
        }
        let part_nm =
            self.reached_nm(way, origin, z_nm, left_min / (border_min - time_min));
        let part_nm = part_nm.clamp(left_min / slowness, way_nm);
        gone.push(if is_up { [z_nm, z_nm + part_nm] } else { [z_nm - part_nm, z_nm] });
    }

    /// How far the front has come from a node towards the next level, not as far as the border:
    /// on the circle about its origin, or a part of the way.
    fn reached_nm(&self, way: &Cell, origin: u32, z_nm: f64, part: f64) -> f64 {
        let field = self.field;
        let node = way.at * field.levels() + way.level;
        let slowness = field.slowness[node];
        let straight_nm = part * (way.end_nm - z_nm).abs();
        if origin as usize == node {
            return straight_nm;
        }
        let [dx, dz] = field.origin_sides(origin as usize, [way.x_nm, z_nm]);
        let (start_min, _) = field.origin_from(origin, [way.x_nm, z_nm]);
        let radius_nm = (self.time_min - start_min) / slowness;
        let height_nm = ((radius_nm - dx) * (radius_nm + dx)).max(0.0).sqrt();
        // dz is the way from the origin up to the node, with its sign.
        if z_nm < way.end_nm { height_nm - dz } else { height_nm + dz }
    }

    /// When the front comes to a place inside a column, at a level, and whence: from where it
    /// came to the column's middle, or to the middle of the column on that side.
    fn arrival_at(&self, at: usize, level: usize, x_nm: f64) -> Arrival {
        let field = self.field;
        let levels = field.levels();
        let node = at * levels + level;
        let own = field.arrival(node);
        let unknown = |time_min: f64| Arrival { time_min, origin: index(node) };
        let slowness = field.slowness[node];
        if field.is_source[node] || slowness == 0.0 || !slowness.is_finite() {
            return own;
        }
        let middle_nm = field.center_nm[at];
        let away_nm = (x_nm - middle_nm).abs();
        let beside = if x_nm < middle_nm {
            at.checked_sub(1).filter(|&left| field.linked[left])
        } else {
            field.linked.get(at).is_some_and(|&l| l).then_some(at + 1)
        };
        let Some(beside) = beside.filter(|_| 0.0 < away_nm) else { return own };
        let other = beside * levels + level;
        let edge_nm = field.half_nm[at] - away_nm;
        let others = field.arrival(other);
        if !is_same(field.slowness[other], slowness) {
            // From the border between the two, or from the middle.
            let border_min =
                others.time_min + field.half_nm[beside] * nothing_if_open(field, other);
            if !border_min.is_finite() {
                return own;
            }
            let from_border_min = border_min + edge_nm * slowness;
            let from_middle_min = own.time_min + away_nm * slowness;
            return if from_middle_min < from_border_min {
                Arrival { time_min: from_middle_min, ..own }
            } else if field.is_source[other] {
                Arrival { time_min: from_border_min, ..others }
            } else {
                unknown(from_border_min)
            };
        }
        let place = [x_nm, field.levels_nm[level]];
        let from = |node: usize| {
            let origin = field.origin[node];
            if !field.time_min[node].is_finite() || origin as usize == node {
                return f64::INFINITY;
            }
            let (start_min, away_nm) = field.origin_from(origin, place);
            start_min + away_nm * slowness
        };
        let (from_own_min, from_other_min) = (from(node), from(other));
        let whole_nm = field.half_nm[at] + field.half_nm[beside];
        let mut found = if from_own_min < from_other_min {
            Arrival { time_min: from_own_min, ..own }
        } else {
            Arrival { time_min: from_other_min, ..others }
        };
        let is_straight = found.time_min.is_finite();
        if !own.time_min.is_finite() {
            let late_min = others.time_min + (whole_nm - away_nm) * slowness;
            if late_min < found.time_min {
                found = unknown(late_min);
            }
            return found;
        }
        if !others.time_min.is_finite() {
            let late_min = own.time_min + away_nm * slowness;
            if late_min < found.time_min {
                found = unknown(late_min);
            }
            return found;
        }
        if !is_straight {
            let share = away_nm / whole_nm;
            found = unknown(own.time_min + share * (others.time_min - own.time_min));
        }
        let (low, high) =
            (own.time_min.min(others.time_min), own.time_min.max(others.time_min));
        Arrival { time_min: found.time_min.clamp(low, high), ..found }
    }

    /// Where a column of the field is to be cut: where a wall of the front, or its tip, stands
    /// inside it.
    pub(super) fn cuts_nm(&self, section: &Section, at: usize) -> Vec<f64> {
        let field = self.field;
        let i = field.columns[at];
        let (left_nm, right_nm) = (section.edges_nm()[i], section.edges_nm()[i + 1]);
        let right = field.linked.get(at).is_some_and(|&l| l).then_some(at + 1);
        let left = at.checked_sub(1).filter(|&left| field.linked[left]);
        let mut cuts_nm: Vec<f64> = Vec::new();
        for (a, b) in [(left, Some(at)), (Some(at), right)] {
            let (Some(a), Some(b)) = (a, b) else { continue };
            if self.stairs[field.columns[a]] {
                continue;
            }
            for x_nm in [self.wall_nm(a, b), self.wall_nm(b, a)].into_iter().flatten() {
                let is_inside = left_nm + APART_NM < x_nm && x_nm < right_nm - APART_NM;
                if is_inside {
                    cuts_nm.push(on_grid_nm(x_nm));
                }
            }
        }
        one_of_close_ones(&mut cuts_nm);
        cuts_nm
    }

    /// Where the front stands between the middles of two columns, going from the first into the
    /// second, if it is a wall there or a tip: the highest wall, at the mean of its levels.
    fn wall_nm(&self, from: usize, to: usize) -> Option<f64> {
        let field = self.field;
        let levels = field.levels();
        let is_gone = |node: usize| field.time_min[node] <= self.time_min;
        let mut best: Option<(f64, f64)> = None;
        let mut level = 0;
        while level < levels {
            // A run of levels that are gone in the first column.
            if !is_gone(from * levels + level) {
                level += 1;
                continue;
            }
            let start = level;
            while level < levels && is_gone(from * levels + level) {
                level += 1;
            }
            let is_tip = (start..level).all(|k| !is_gone(to * levels + k));
            // Within it, runs that are not gone in the second one.
            let mut wall = Wall::default();
            for k in start..=level {
                let stands = k < level && !is_gone(to * levels + k);
                let x_nm = if stands { self.stand_nm(from, to, k) } else { None };
                if let Some(x_nm) = x_nm {
                    wall.add(x_nm, self.height_nm(k));
                    continue;
                }
                if 0.0 < wall.height_nm
                    && (is_tip || LOW_WALL * self.reach_nm < wall.height_nm)
                {
                    let place_nm = if is_tip {
                        wall.farthest_nm(field.center_nm[from])
                    } else {
                        wall.sum / wall.height_nm
                    };
                    if best.is_none_or(|(height_nm, _)| height_nm < wall.height_nm) {
                        best = Some((wall.height_nm, place_nm));
                    }
                }
                wall = Wall::default();
            }
        }
        best.map(|(_, x_nm)| x_nm)
    }

    /// Height for which a level stands.
    fn height_nm(&self, level: usize) -> f64 {
        let levels_nm = &self.field.levels_nm;
        let low = levels_nm[level.saturating_sub(1)];
        let high = levels_nm[(level + 1).min(levels_nm.len() - 1)];
        0.5 * (high - low)
    }

    /// Where the front stands at a level between a column that it has passed and one that it has
    /// not; none at a border that it cannot pass.
    fn stand_nm(&self, from: usize, to: usize, level: usize) -> Option<f64> {
        let field = self.field;
        let levels = field.levels();
        let (a, b) = (from * levels + level, to * levels + level);
        let (slow_a, slow_b) = (field.slowness[a], field.slowness[b]);
        let (x_a, x_b) = (field.center_nm[from], field.center_nm[to]);
        let (half_a, half_b) = (field.half_nm[from], field.half_nm[to]);
        if !slow_b.is_finite() || !field.time_min[b].is_finite() {
            return None;
        }
        let left_min = self.time_min - field.time_min[a];
        let away_nm = if is_same(slow_a, slow_b) {
            let gap_min = field.time_min[b] - field.time_min[a];
            (half_a + half_b) * (left_min / gap_min)
        } else {
            // Through the rest of the first column, then into the second.
            let border_min = half_a * nothing_if_open(field, a);
            if left_min < border_min {
                return None;
            }
            half_a + ((left_min - border_min) / slow_b).min(half_b)
        };
        Some(if x_a < x_b { x_a + away_nm } else { x_a - away_nm })
    }
}

/// Minutes per nm; none where the etchant was from the start.
fn nothing_if_open(field: &Field, node: usize) -> f64 {
    if field.is_source[node] { 0.0 } else { field.slowness[node] }
}

/// A wall of the front between two columns.
#[derive(Clone, Copy, Debug, Default)]
struct Wall {
    height_nm: f64,
    /// Place times height.
    sum: f64,
    range_nm: Option<[f64; 2]>,
}

impl Wall {
    fn add(&mut self, x_nm: f64, height_nm: f64) {
        self.height_nm += height_nm;
        self.sum += x_nm * height_nm;
        let [low, high] = self.range_nm.unwrap_or([x_nm, x_nm]);
        self.range_nm = Some([low.min(x_nm), high.max(x_nm)]);
    }

    fn farthest_nm(&self, from_nm: f64) -> f64 {
        let [low, high] = self.range_nm.unwrap_or([from_nm, from_nm]);
        if high - from_nm < from_nm - low { low } else { high }
    }
}
