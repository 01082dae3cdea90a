//! Faster and slower diffusion where an oxidation injects self-interstitials.

use super::lines::{LANES, Lines};
use super::moment::Moment;
use crate::diffusion::point_defects::interstitial_share;
use crate::diffusion::solver::{
    INTERSTITIAL_DECAY_CM, INTERSTITIAL_REACH_CM, enhancement,
};
use crate::num::exp;
use crate::vocabulary::Dopant;
use crate::wafer::section::Section;

/// nm in a cm.
const NM_PER_CM: f64 = 1e7;

/// Supersaturation of self-interstitials in the section.
#[derive(Clone, Debug, Default)]
pub(super) struct Boost {
    /// Excess over equilibrium near the surface of each column; empty: none anywhere.
    excess: Vec<f64>,
    /// What is left of it at the middle of each depth cell.
    left: Vec<f64>,
}

/// What is left of an excess at a distance: as in the one-dimensional solver.
fn left_at(distance_nm: f64) -> f64 {
    let beyond_nm = distance_nm - NM_PER_CM * INTERSTITIAL_REACH_CM;
    if beyond_nm <= 0.0 {
        1.0
    } else {
        exp(-beyond_nm / (NM_PER_CM * INTERSTITIAL_DECAY_CM))
    }
}

impl Boost {
    /// From the excess that each column's own surface injects.
    ///
    /// # Model
    /// Beside an oxidizing window the excess falls as it does below it (model choice: isotropic;
    /// the depth law is that of the one-dimensional solver).
    pub(super) fn new(section: &Section, injected: &[f64]) -> Self {
        if injected.iter().all(|&excess| excess <= 0.0) {
            return Self::default();
        }
        let mut excess = injected.to_vec();
        let columns = section.columns();
        let mut carry = |order: &mut dyn Iterator<Item = usize>| {
            let (mut source, mut at_nm) = (0.0, f64::NEG_INFINITY);
            for i in order {
                let here_nm = section.center_nm(i);
                let arriving = if 0.0 < source {
                    source * left_at((here_nm - at_nm).abs())
                } else {
                    0.0
                };
                if arriving <= injected[i] {
                    (source, at_nm) = (injected[i], here_nm);
                }
                excess[i] = f64::max(excess[i], arriving);
            }
        };
        carry(&mut (0..columns));
        carry(&mut (0..columns).rev());
        let depths_nm = section.depths_nm();
        let left = depths_nm.windows(2).map(|w| left_at(0.5 * (w[0] + w[1]))).collect();
        Self { excess, left }
    }

    /// Whether there is no excess anywhere.
    pub(super) fn is_none(&self) -> bool {
        self.excess.is_empty()
    }

    fn factor(&self, dopant: Dopant, column: usize, cell: usize) -> f64 {
        enhancement(
            interstitial_share(dopant),
            1.0 + self.excess[column] * self.left[cell],
        )
    }

    /// The largest factor on a dopant's diffusivity.
    pub(super) fn largest(&self, dopant: Dopant) -> f64 {
        let most = self.excess.iter().copied().fold(0.0, f64::max);
        enhancement(interstitial_share(dopant), 1.0 + most).max(1.0)
    }

    /// Sets the factors along eight columns from the cell `top` on.
    pub(super) fn fill_depth(
        &self,
        lines: &mut Lines,
        moment: &Moment,
        column: &[usize; LANES],
        top: usize,
        nodes: usize,
    ) {
        self.fill(lines, moment, nodes, |i, l| (column[l], top + i));
    }

    /// Sets the factors along eight rows, in some of their columns.
    pub(super) fn fill_row(
        &self,
        lines: &mut Lines,
        moment: &Moment,
        row: &[usize; LANES],
        columns: &[usize],
    ) {
        self.fill(lines, moment, columns.len(), |i, l| (columns[i], row[l]));
    }

    fn fill(
        &self,
        lines: &mut Lines,
        moment: &Moment,
        nodes: usize,
        place: impl Fn(usize, usize) -> (usize, usize),
    ) {
        lines.boost.clear();
        if self.excess.is_empty() {
            return;
        }
        for mobile in &moment.mobiles {
            let factors = (0..nodes).map(|i| {
                core::array::from_fn(|l| {
                    let (column, cell) = place(i, l);
                    self.factor(mobile.dopant, column, cell)
                })
            });
            lines.boost.push(factors.collect());
        }
    }
}
