//! Oxidant under masks: how much of it reaches the silicon where the gas has no straight way.
//!
//! In oxide the oxidant diffuses and never piles up: its concentration solves Laplace's equation
//! on the oxide as it is, with the reaction at the silicon as a sink. The oxide of each column is
//! cut into a few cells, thin ones toward the gas, which exchange oxidant with the column's next
//! cells and with the same cells of the neighbors.

use crate::vocabulary::Material;
use crate::wafer::layer::Layer;
use crate::wafer::section::Section;

use super::super::Heated;

/// Cells in the oxide of a column (model choice: the beak is 1 % short of the converged one,
/// half of it by the columns).
pub(in crate::wafer::heat) const CELLS: usize = 6;

/// Each is thicker than the one above it by this factor: at the mask's edge the oxidant falls
/// steepest just below the gas (measured: even cells are off by 1.6 %, these by 0.5).
pub(in crate::wafer::heat) const GROWTH: f64 = 1.5;

/// Their shares of the oxide's thickness, from the silicon up.
const SHARES: [f64; CELLS] = shares();

const fn shares() -> [f64; CELLS] {
    let mut shares = [1.0; CELLS];
    let mut sum = 1.0;
    let mut k = CELLS - 1;
    while 0 < k {
        shares[k - 1] = shares[k] * GROWTH;
        sum += shares[k - 1];
        k -= 1;
    }
    while k < CELLS {
        shares[k] /= sum;
        k += 1;
    }
    shares
}

/// Oxide that carries oxidant is never thinner than this in nm: the native film.
const THINNEST_NM: f64 = 1000.0 * crate::oxidation::NATIVE_OXIDE_UM;

/// Supplies closer to that of an open surface than this are that.
pub(in crate::wafer::heat) const AS_OPEN: f64 = 1e-9;

/// Growth under a mask counts as beak from this share of the open growth on.
pub(in crate::wafer::heat) const BEAK: f64 = 0.1;

/// What lies on the oxide of a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Cover {
    /// The gas.
    Gas,
    /// Nitride.
    Nitride,
    /// Polysilicon, which takes oxidant itself.
    Polysilicon,
    /// Anything else that keeps the gas away.
    Other,
}

impl Cover {
    pub(super) fn of(above: Option<&Layer>, reached: bool) -> Self {
        if reached {
            return Self::Gas;
        }
        match above.and_then(|layer| layer.matter.material()) {
            Some(Material::Nitride) => Self::Nitride,
            Some(Material::Polysilicon) => Self::Polysilicon,
            _ => Self::Other,
        }
    }
}

/// Which spaces of each column the gas reaches: one entry a layer, and one for what is above.
pub(in crate::wafer::heat) fn reached_by_gas(section: &Section) -> Vec<Vec<bool>> {
    let columns = section.columns();
    let mut reached: Vec<Vec<bool>> =
        (0..columns).map(|i| vec![false; section.layers(i).len() + 1]).collect();
    let span = |i: usize, k: usize| {
        let layers = section.layers(i);
        let top_nm = layers.get(k).map_or(f64::INFINITY, |layer| layer.top_nm);
        (section.floor_nm(i, k), top_nm)
    };
    let is_space = |i: usize, k: usize| {
        section.layers(i).get(k).is_none_or(|layer| layer.matter.is_open())
    };
    let mut waiting: Vec<(usize, usize)> =
        (0..columns).map(|i| (i, section.layers(i).len())).collect();
    for &(i, k) in &waiting {
        reached[i][k] = true;
    }
    while let Some((i, k)) = waiting.pop() {
        let (low, high) = span(i, k);
        let neighbors = [i.checked_sub(1), (i + 1 < columns).then_some(i + 1)];
        for j in neighbors.into_iter().flatten() {
            for m in 0..reached[j].len() {
                let (floor, top) = span(j, m);
                if !reached[j][m] && is_space(j, m) && low.max(floor) < high.min(top) {
                    reached[j][m] = true;
                    waiting.push((j, m));
                }
            }
        }
    }
    reached
}

/// The oxide as a network of cells.
#[derive(Clone, Debug)]
pub(super) struct Network {
    cover: Vec<Cover>,
    /// The symmetric band matrix: diagonal, then coupling to the `d`-th cell after; eliminated
    /// in place.
    band: Vec<[f64; CELLS + 1]>,
    right: Vec<f64>,
    steep_at_x_nm: Option<f64>,
}

/// Oxidant at the lower and, under polysilicon, at the upper face of the oxide, over what it
/// would be with the gas on the other side.
#[derive(Clone, Debug, Default)]
pub(super) struct Supply {
    pub(super) silicon: Vec<f64>,
    pub(super) polysilicon: Vec<f64>,
}

impl Network {
    /// A network, if any of the silicon is covered and any is not.
    pub(super) fn new(section: &Section, cover: &[Cover]) -> Option<Self> {
        let open = cover.iter().filter(|&&cover| cover == Cover::Gas).count();
        if open == 0 || open == cover.len() {
            return None;
        }
        let unknowns = CELLS * section.columns();
        Some(Self {
            cover: cover.to_vec(),
            band: vec![[0.0; CELLS + 1]; unknowns],
            right: vec![0.0; unknowns],
            steep_at_x_nm: None,
        })
    }

    /// Solves for the oxidant.
    ///
    /// # Model
    /// Unit diffusivity; `D/k = A/2` at the silicon and `A'/2` at polysilicon; concentration 1 at
    /// the gas (the steady state of Deal and Grove's law: a flat film grows by `B/(2X + A)`).
    /// Between columns the way is along the middle of the oxide: `cos^2` of its slope.
    pub(super) fn supply(
        &mut self,
        section: &Section,
        oxide_nm: &[f64],
        a_nm: f64,
        a_polysilicon_nm: f64,
    ) -> Supply {
        let columns = section.columns();
        self.band.fill([0.0; CELLS + 1]);
        self.right.fill(0.0);
        let thick_nm = |i: usize| f64::max(oxide_nm[i], THINNEST_NM);
        // From a face of the oxide to the middle of the cell there.
        let bottom_nm = |i: usize| 0.5 * SHARES[0] * thick_nm(i);
        let top_nm = |i: usize| 0.5 * SHARES[CELLS - 1] * thick_nm(i);
        for i in 0..columns {
            let (width_nm, x_nm) = (section.width_nm(i), thick_nm(i));
            let first = CELLS * i;
            for k in 0..CELLS - 1 {
                let apart_nm = 0.5 * (SHARES[k] + SHARES[k + 1]) * x_nm;
                self.link(first + k, first + k + 1, width_nm / apart_nm);
            }
            self.band[first][0] += width_nm / (bottom_nm(i) + 0.5 * a_nm);
            let half_nm = top_nm(i);
            let last = first + CELLS - 1;
            match self.cover[i] {
                Cover::Gas => {
                    self.band[last][0] += width_nm / half_nm;
                    self.right[last] += width_nm / half_nm;
                }
                Cover::Polysilicon => {
                    self.band[last][0] += width_nm / (half_nm + 0.5 * a_polysilicon_nm);
                }
                Cover::Nitride | Cover::Other => {}
            }
            if i + 1 == columns {
                continue;
            }
            let apart_nm = section.center_nm(i + 1) - section.center_nm(i);
            let middle_nm = |i: usize| section.silicon_top_nm(i) + 0.5 * oxide_nm[i];
            let slope = (middle_nm(i + 1) - middle_nm(i)) / apart_nm;
            let masked = self.cover[i] != Cover::Gas || self.cover[i + 1] != Cover::Gas;
            if masked && 1.0 < slope.abs() && self.steep_at_x_nm.is_none() {
                self.steep_at_x_nm = Some(section.edges_nm()[i + 1]);
            }
            let along = 0.5 * (x_nm + thick_nm(i + 1)) / apart_nm / (1.0 + slope * slope);
            for (k, share) in SHARES.iter().enumerate() {
                self.link(first + k, first + CELLS + k, share * along);
            }
        }
        self.solve();
        let at_face = |c: f64, half_nm: f64, x_nm: f64, a_nm: f64| {
            let share = 0.5 * a_nm / (half_nm + 0.5 * a_nm);
            let relative = c * share * (1.0 + 2.0 * x_nm / a_nm);
            if (relative - 1.0).abs() < AS_OPEN { 1.0 } else { relative }
        };
        Supply {
            silicon: (0..columns)
                .map(|i| at_face(self.right[CELLS * i], bottom_nm(i), thick_nm(i), a_nm))
                .collect(),
            polysilicon: (0..columns)
                .map(|i| match self.cover[i] {
                    Cover::Polysilicon => {
                        let top = self.right[CELLS * i + CELLS - 1];
                        at_face(top, top_nm(i), thick_nm(i), a_polysilicon_nm)
                    }
                    _ => 0.0,
                })
                .collect(),
        }
    }

    /// Joins two cells.
    fn link(&mut self, low: usize, high: usize, conductance: f64) {
        self.band[low][0] += conductance;
        self.band[high][0] += conductance;
        self.band[low][high - low] -= conductance;
    }

    /// Solves in place by symmetric elimination; the result stands in `right`.
    fn solve(&mut self) {
        let n = self.right.len();
        for i in 0..n {
            let row = self.band[i];
            let per_pivot = 1.0 / row[0];
            let known = self.right[i];
            let within = CELLS.min(n - 1 - i);
            for a in 1..=within {
                let factor = row[a] * per_pivot;
                if factor == 0.0 {
                    continue;
                }
                self.right[i + a] -= factor * known;
                let target = &mut self.band[i + a];
                for b in a..=within {
                    target[b - a] -= factor * row[b];
                }
            }
        }
        for i in (0..n).rev() {
            let row = &self.band[i];
            let within = CELLS.min(n - 1 - i);
            let mut sum = self.right[i];
            for (coupling, known) in row[1..=within].iter().zip(&self.right[i + 1..]) {
                sum -= coupling * known;
            }
            self.right[i] = sum / row[0];
        }
    }

    /// How far the oxide reaches under masks.
    pub(super) fn report(
        &self,
        section: &Section,
        grown_nm: &[f64],
        heated: &mut Heated,
    ) {
        heated.steep_at_x_nm = heated.steep_at_x_nm.or(self.steep_at_x_nm);
        let columns = grown_nm.len();
        let open_nm = (0..columns)
            .filter(|&i| self.cover[i] == Cover::Gas)
            .map(|i| grown_nm[i])
            .fold(0.0, f64::max);
        let mut beak = |order: &mut dyn Iterator<Item = usize>, right: bool| {
            let mut edge_nm = None;
            for i in order {
                let (left_nm, right_nm) =
                    (section.edges_nm()[i], section.edges_nm()[i + 1]);
                if self.cover[i] == Cover::Gas {
                    edge_nm = Some(if right { right_nm } else { left_nm });
                } else if let Some(edge_nm) = edge_nm {
                    if grown_nm[i] < BEAK * open_nm {
                        continue;
                    }
                    let reach_nm = (section.center_nm(i) - edge_nm).abs();
                    heated.beak_nm = heated.beak_nm.max(reach_nm);
                }
            }
        };
        beak(&mut (0..columns), true);
        beak(&mut (0..columns).rev(), false);
    }
}
