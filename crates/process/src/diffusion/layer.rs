//! One dopant in depth: points, and the dose above each of them, so that it can be carried
//! from one grid to another without losing an atom.

use super::solver::{Grid, SourceProfile};
use crate::num::{exp, expm1, ln};

/// Concentration of one dopant against depth with its running dose.
///
/// Between two points the concentration follows a straight line in the logarithm (a straight
/// line where one of them is zero), scaled to the dose between them. Below the last point
/// there is nothing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Layer {
    depth_cm: Vec<f64>,
    concentration_cm3: Vec<f64>,
    dose_above_cm2: Vec<f64>,
}

impl Layer {
    /// From points alone: the dose is the integral of the line between them.
    ///
    /// Above the first point the concentration is that of the first point.
    #[must_use]
    pub fn from_points(depth_cm: &[f64], concentration_cm3: &[f64]) -> Self {
        let (mut depth_cm, mut concentration_cm3) =
            (depth_cm.to_vec(), concentration_cm3.to_vec());
        if let (Some(&x), Some(&c)) = (depth_cm.first(), concentration_cm3.first())
            && 0.0 < x
        {
            depth_cm.insert(0, 0.0);
            concentration_cm3.insert(0, c);
        }
        let mut dose_above_cm2 = Vec::with_capacity(depth_cm.len());
        let mut sum = 0.0;
        for i in 0..depth_cm.len() {
            if 0 < i {
                let (a, b) = (concentration_cm3[i - 1], concentration_cm3[i]);
                sum += (depth_cm[i] - depth_cm[i - 1]) * logarithmic_mean(a, b);
            }
            dose_above_cm2.push(sum);
        }
        Self { depth_cm, concentration_cm3, dose_above_cm2 }
    }

    /// From the exact profile of a constant source.
    #[must_use]
    pub fn from_source(profile: &SourceProfile) -> Self {
        Self {
            depth_cm: profile.depth_cm.clone(),
            concentration_cm3: profile.concentration_cm3.clone(),
            dose_above_cm2: profile.dose_above_cm2.clone(),
        }
    }

    /// From the cells of a grid: each keeps its dose.
    #[must_use]
    pub fn from_cells(grid: &Grid, concentration_cm3: &[f64]) -> Self {
        let n = grid.len();
        let c = concentration_cm3;
        let mut layer = Self {
            depth_cm: vec![0.0],
            concentration_cm3: vec![c[0]],
            dose_above_cm2: vec![0.0],
        };
        let mut sum = 0.0;
        for i in 0..n {
            sum += grid.volume_cm()[i] * c[i];
            let last = i + 1 == n;
            let depth = if last { grid.nodes_cm()[i] } else { grid.face_cm(i) };
            let edge = if last { c[i] } else { 0.5 * (c[i] + c[i + 1]) };
            layer.depth_cm.push(depth);
            layer.concentration_cm3.push(edge);
            layer.dose_above_cm2.push(sum);
        }
        layer
    }

    /// The whole dose per cm2.
    #[must_use]
    pub fn dose_cm2(&self) -> f64 {
        self.dose_above_cm2.last().copied().unwrap_or(0.0)
    }

    /// The largest concentration per cm3.
    #[must_use]
    pub fn largest_cm3(&self) -> f64 {
        self.concentration_cm3.iter().copied().fold(0.0, f64::max)
    }

    /// The first depth in cm below which the concentration stays under `limit_cm3`.
    #[must_use]
    pub fn depth_where_below(&self, limit_cm3: f64) -> f64 {
        let last_above = self.concentration_cm3.iter().rposition(|&c| limit_cm3 < c);
        let Some(i) = last_above else { return 0.0 };
        let next = (i + 1).min(self.depth_cm.len() - 1);
        self.depth_cm[next]
    }

    /// The layer in at most `most` pieces of even concentration: from, to (in cm) and per cm3.
    /// Together they hold the whole dose.
    #[must_use]
    pub fn pieces(&self, most: usize) -> Vec<(f64, f64, f64)> {
        let n = self.depth_cm.len();
        let stride = n.div_ceil(most.max(1)).max(1);
        let mut ends: Vec<usize> = (0..n).step_by(stride).collect();
        if ends.last() != Some(&(n.saturating_sub(1))) && 0 < n {
            ends.push(n - 1);
        }
        ends.windows(2)
            .map(|end| {
                let (a, b) = (self.depth_cm[end[0]], self.depth_cm[end[1]]);
                let dose = self.dose_above_cm2[end[1]] - self.dose_above_cm2[end[0]];
                (a, b, dose / (b - a))
            })
            .collect()
    }

    /// Scales concentration and dose.
    #[must_use]
    pub fn scaled(mut self, factor: f64) -> Self {
        for value in self.concentration_cm3.iter_mut().chain(&mut self.dose_above_cm2) {
            *value *= factor;
        }
        self
    }

    /// The points: depth in cm and concentration per cm3.
    #[must_use]
    pub fn points(&self) -> (&[f64], &[f64]) {
        (&self.depth_cm, &self.concentration_cm3)
    }

    /// Concentration per cm3 at a depth in cm, between the points as the dose is counted.
    #[must_use]
    pub fn concentration_cm3(&self, x_cm: f64) -> f64 {
        let n = self.depth_cm.len();
        let i = self.depth_cm.partition_point(|&x| x <= x_cm);
        if n == 0 || (n <= i && self.depth_cm[n - 1] < x_cm) {
            return 0.0;
        }
        let (i, j) = (i.saturating_sub(1), i.min(n - 1));
        let (a, b) = (self.concentration_cm3[i], self.concentration_cm3[j]);
        if i == j {
            return a;
        }
        let t = (x_cm - self.depth_cm[i]) / (self.depth_cm[j] - self.depth_cm[i]);
        if 0.0 < a && 0.0 < b {
            exp(ln(a) * (1.0 - t) + ln(b) * t)
        } else {
            a + (b - a) * t
        }
    }

    /// Mean concentrations per cm3 in the cells of a grid; the dose down to the end of the grid
    /// is kept to round-off.
    #[must_use]
    pub fn on_grid(&self, grid: &Grid) -> Vec<f64> {
        let n = grid.len();
        let mut from = 0;
        let mut above = 0.0;
        (0..n)
            .map(|i| {
                let until = if i + 1 < n {
                    self.dose_above_from(grid.face_cm(i), &mut from)
                } else {
                    self.dose_above_from(grid.nodes_cm()[i], &mut from)
                };
                let mean = (until - above) / grid.volume_cm()[i];
                above = until;
                mean.max(0.0)
            })
            .collect()
    }

    /// Dose above a depth, searching on from point `from`.
    fn dose_above_from(&self, x_cm: f64, from: &mut usize) -> f64 {
        let n = self.depth_cm.len();
        while *from + 1 < n && self.depth_cm[*from + 1] <= x_cm {
            *from += 1;
        }
        let i = *from;
        if n <= i + 1 {
            return self.dose_cm2();
        }
        let t = (x_cm - self.depth_cm[i]) / (self.depth_cm[i + 1] - self.depth_cm[i]);
        let (a, b) = (self.concentration_cm3[i], self.concentration_cm3[i + 1]);
        let (low, high) = (self.dose_above_cm2[i], self.dose_above_cm2[i + 1]);
        low + (high - low) * share(a, b, t)
    }
}

/// Mean of a line in the logarithm from `a` to `b`; of a straight line if one is zero.
fn logarithmic_mean(a: f64, b: f64) -> f64 {
    let ratio = b / a;
    if !(1e-12..1e12).contains(&ratio) || (ratio - 1.0).abs() < 1e-3 {
        0.5 * (a + b)
    } else {
        (b - a) / ln(ratio)
    }
}

/// Share of the integral from `a` to `b` that lies in the first part `t` of the way.
fn share(a: f64, b: f64, t: f64) -> f64 {
    let ratio = b / a;
    if t <= 0.0 {
        0.0
    } else if 1.0 <= t {
        1.0
    } else if !(1e-12..1e12).contains(&ratio) || (ratio - 1.0).abs() < 1e-3 {
        let sum = a + b;
        if sum <= 0.0 { t } else { t * (2.0 * a + (b - a) * t) / sum }
    } else {
        let k = ln(ratio);
        expm1(k * t) / expm1(k)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn carrying_to_a_grid_keeps_every_atom() {
        let layer = Layer::from_points(&[0.0, 1e-5, 3e-5], &[1e20, 1e18, 0.0]);
        let grid = Grid::graded(4e-5, |_| 7e-7);
        let dose = grid.dose_cm2(&layer.on_grid(&grid));
        assert!((dose / layer.dose_cm2() - 1.0).abs() < 1e-14);
        let back = Layer::from_cells(&grid, &layer.on_grid(&grid));
        assert!((back.dose_cm2() / layer.dose_cm2() - 1.0).abs() < 1e-14);
    }
}
