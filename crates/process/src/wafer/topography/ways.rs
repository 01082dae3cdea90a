//! The ways on which a front comes to a node: along one axis, and from both.

use super::arrival::Field;
use super::march::ROUNDING;
use super::pieces::is_same;

/// The way to a node along one axis.
#[derive(Clone, Copy)]
pub(super) struct Way {
    /// Time of the neighbor from which the front comes,
    pub(super) upwind_min: f64,
    /// time it needs from there,
    pub(super) step_min: f64,
    /// and the same two of the second order.
    pub(super) second: Option<(f64, f64)>,
}

impl Way {
    /// Whether the front comes earlier by this way; of two that are equal but for rounding, by
    /// the second order.
    fn is_before(&self, other: &Self) -> bool {
        let (own, others) =
            (self.upwind_min + self.step_min, other.upwind_min + other.step_min);
        if (own - others).abs() <= ROUNDING * others {
            let late = f64::INFINITY;
            let second = |way: &Self| way.second.map_or(late, |(time, step)| time + step);
            return second(self) < second(other);
        }
        own < others
    }
}

impl Field {
    /// Time and distance data of the way along x.
    pub(super) fn way_across(&self, node: usize) -> Option<Way> {
        let levels = self.levels();
        let slowness = self.slowness[node];
        let [left, right, ..] = self.neighbors(node);
        let mut best: Option<Way> = None;
        for (side, beside) in [left, right].into_iter().enumerate() {
            let Some(beside) = beside else { continue };
            if !self.is_final[beside] || self.is_source[beside] {
                continue;
            }
            let rest_min = if self.is_bared[beside] {
                0.0
            } else {
                self.half_nm[beside / levels] * self.slowness[beside]
            };
            let step_min = self.half_nm[node / levels] * slowness + rest_min;
            let mut second = None;
            if is_same(self.slowness[beside], slowness)
                && !self.is_bared[beside]
                && let Some(next) = self.neighbors(beside)[side]
                && is_same(self.slowness[next], slowness)
            {
                let x = |node: usize| self.center_nm[node / levels];
                let steps_nm = [(x(node) - x(beside)).abs(), (x(beside) - x(next)).abs()];
                second = self.second_order(beside, next, steps_nm, slowness);
            }
            let way = Way { upwind_min: self.time_min[beside], step_min, second };
            if best.is_none_or(|best| way.is_before(&best)) {
                best = Some(way);
            }
        }
        best
    }

    /// The same along z.
    pub(super) fn way_along(&self, node: usize) -> Option<Way> {
        let levels = self.levels();
        let slowness = self.slowness[node];
        let [_, _, below, above] = self.neighbors(node);
        let mut best: Option<Way> = None;
        for (side, beside) in [(2, below), (3, above)] {
            let Some(beside) = beside else { continue };
            let step_min = self.rise_min[node.min(beside)];
            if !self.is_final[beside] || self.is_source[beside] || !step_min.is_finite() {
                continue;
            }
            let mut second = None;
            if self.is_even[node.min(beside)]
                && let Some(next) = self.neighbors(beside)[side]
                && self.is_even[beside.min(next)]
            {
                let z = |node: usize| self.levels_nm[node % levels];
                let steps_nm = [(z(node) - z(beside)).abs(), (z(beside) - z(next)).abs()];
                second = self.second_order(beside, next, steps_nm, slowness);
            }
            let way = Way { upwind_min: self.time_min[beside], step_min, second };
            if best.is_none_or(|best| way.is_before(&best)) {
                best = Some(way);
            }
        }
        best
    }

    /// One-sided difference of the second order as an upwind time and a step.
    fn second_order(
        &self,
        beside: usize,
        next: usize,
        [near_nm, far_nm]: [f64; 2],
        slowness: f64,
    ) -> Option<(f64, f64)> {
        let (t1, t2) = (self.time_min[beside], self.time_min[next]);
        // One that is no later is final, or will be before anything else happens.
        if self.is_source[next] || t1 * (1.0 + ROUNDING) < t2 {
            return None;
        }
        let both_nm = near_nm + far_nm;
        let own = (near_nm + both_nm) / (near_nm * both_nm);
        let first = both_nm / (near_nm * far_nm);
        let second = near_nm / (far_nm * both_nm);
        Some(((first * t1 - second * t2) / own, slowness / own))
    }
}

/// `((T - a) / p)^2 + ((T - b) / q)^2 = 1`, the later solution, if the front then comes from
/// both sides.
pub(super) fn meet((a, p): (f64, f64), (b, q): (f64, f64), latest: f64) -> Option<f64> {
    let (u, v) = (1.0 / (p * p), 1.0 / (q * q));
    let sum = u + v;
    let middle = u * a + v * b;
    let gap = a - b;
    let inside = sum - u * v * gap * gap;
    if inside < 0.0 {
        return None;
    }
    let time = (middle + inside.sqrt()) / sum;
    (latest <= time).then_some(time)
}
