//! Rows that change slowly exchange their atoms seldom, but for as long as all the others.
//!
//! Deep in the silicon only wells have flanks, micrometers long, and most steps in time change
//! nothing there that anybody could see. What they owe is kept by block of rows until it would
//! change some concentration by a share worth a solve, or until the segment ends.

use super::depth::FLAT_AT_CM3;
use super::lines::{LANES, Lanes, Lines};
use super::moment::Moment;
use crate::num::larger;

/// Rows wait while no concentration would change by more than this share (model choice: the
/// method's own error in one such step is its third power).
pub(super) const SLOW: f64 = 0.02;

/// Concentrations below this share of a row's largest may change faster, as in `depth`.
pub(super) const FAINT: f64 = 1e-5;

/// Cells between two looks at what is known already.
const STRETCH: usize = 32;

/// What each block of rows owes.
#[derive(Clone, Debug, Default)]
pub(super) struct Owed {
    blocks: Vec<Option<(Moment, f64)>>,
    /// Nothing may wait any longer.
    pub(super) is_due: bool,
}

impl Owed {
    /// All that a block owes with a further `dt_s`: at which mean moment, and for how long.
    pub(super) fn take(
        &mut self,
        block: usize,
        moment: &Moment,
        dt_s: f64,
    ) -> (Moment, f64) {
        match self.blocks.get_mut(block).and_then(Option::take) {
            None => (moment.clone(), dt_s),
            Some((before, before_s)) => {
                let whole_s = before_s + dt_s;
                let parts = [(&before, before_s / whole_s), (moment, dt_s / whole_s)];
                (moment.with_diffusivities(&parts), whole_s)
            }
        }
    }

    /// Lets a block wait.
    pub(super) fn put(&mut self, block: usize, moment: Moment, dt_s: f64) {
        if self.blocks.len() <= block {
            self.blocks.resize(block + 1, None);
        }
        self.blocks[block] = Some((moment, dt_s));
    }
}

impl Lines {
    /// Whether no concentration changes by more than a small share in `dt_s`: from the fluxes at
    /// the start, with the largest diffusivity that the carriers anywhere in the lines allow.
    pub(super) fn are_slow(
        &mut self,
        moment: &Moment,
        dt_s: f64,
        nodes: usize,
        largest: &[Lanes],
    ) -> bool {
        let half = &mut self.right[..nodes];
        half.fill([0.0; LANES]);
        let mut most = [0.0; LANES];
        for (mobile, values) in moment.mobiles.iter().zip(&self.values) {
            let factor = 0.5 * mobile.charge / moment.intrinsic_cm3;
            for (half, c) in half.iter_mut().zip(values) {
                for l in 0..LANES {
                    half[l] += factor * c[l];
                }
            }
        }
        for half in half.iter() {
            for l in 0..LANES {
                most[l] = larger(most[l], half[l].abs());
            }
        }
        let most = most.iter().copied().fold(0.0, f64::max);
        let is_fast = |excess: &Lanes| excess.iter().any(|&excess| 0.0 < excess);
        let carriers = most + (most * most + 1.0).sqrt();
        for (d, mobile) in moment.mobiles.iter().enumerate() {
            let dt_nm2 = dt_s * mobile.at(carriers);
            let drift = 0.5 * mobile.charge;
            let floor = largest[d].map(|most| FAINT * most.min(FLAT_AT_CM3));
            let values = &self.values[d][..nodes];
            let (mut before, mut excess) = ([0.0; LANES], [0.0; LANES]);
            for i in 0..nodes {
                let next = (i + 1).min(nodes - 1);
                let (here, there) = (&values[i], &values[next]);
                let (link, volume) = (&self.link[i], &self.volume[i]);
                for l in 0..LANES {
                    let field = drift * (half[next][l] - half[i][l]);
                    let flux =
                        link[l] * (there[l] - here[l] + field * (here[l] + there[l]));
                    let change = dt_nm2 * (flux - before[l]).abs();
                    let allowed = SLOW * volume[l] * (here[l] + floor[l]);
                    excess[l] = larger(excess[l], change - allowed);
                    before[l] = flux;
                }
                if i % STRETCH == 0 && is_fast(&excess) {
                    return false;
                }
            }
            if is_fast(&excess) {
                return false;
            }
        }
        true
    }
}
