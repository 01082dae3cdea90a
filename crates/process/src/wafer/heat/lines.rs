//! Diffusion along eight lines at once: columns of cells in depth, or rows of cells in x.
//!
//! A line is a chain of cells with a volume each and a link between neighbors. Eight of them lie
//! side by side in memory, so that every loop over [`Lanes`] becomes a few vector instructions.
//! The flux is that of the one-dimensional solver: `J = -(D/m) d(A m)/dx` with the carriers `m`
//! that the dopant itself brings and its active part `A`, both taken from the pass before
//! (`carriers`). All matrices are M-matrices (`solve`), so that backward Euler keeps every
//! concentration positive, and each face's flux leaves one cell and enters the next, so that no
//! atom is lost.

use super::ends::End;
use super::moment::Moment;
use crate::num::smaller;

/// Lines that are solved together.
pub(super) const LANES: usize = 8;

/// One value for each of the lines.
pub(super) type Lanes = [f64; LANES];

/// `1 - 1/sqrt(2)`: the diagonal of the two-stage method of order two that damps every fast
/// mode (R. Alexander, SIAM J. Numer. Anal. 14, 1006, 1977; memory; order checked by test).
pub(super) const DIAGONAL: f64 = 1.0 - core::f64::consts::FRAC_1_SQRT_2;

/// Weight of the first stage's flux relative to what it did in its own time.
pub(super) const FIRST: f64 = (1.0 - DIAGONAL) / DIAGONAL;

/// Where a pass has changed the carriers by less than this share, one more would change the
/// diffusivities by no more than that: it is left out (model choice; measured with what the
/// steps in time leave open).
pub(super) const SETTLED: f64 = 2e-3;

/// A second stage changes at most this many times as much as the first: it is so many times as
/// long.
pub(super) const SECOND_OVER_FIRST: f64 = 4.0;

/// The state of eight lines.
#[derive(Clone, Debug, Default)]
pub(super) struct Lines {
    /// Volume of each cell.
    pub(super) volume: Vec<Lanes>,
    /// Area over distance between each cell and the next.
    pub(super) link: Vec<Lanes>,
    /// Concentration of each dopant per cm3.
    pub(super) values: Vec<Vec<Lanes>>,
    /// Factor on the diffusivity of each dopant at each cell; empty: 1.
    pub(super) boost: Vec<Vec<Lanes>>,
    pub(super) start: Vec<Vec<Lanes>>,
    pub(super) base: Vec<Vec<Lanes>>,
    kept: Vec<Vec<Lanes>>,
    /// Whether each dopant is near its active limit,
    pub(super) limited: Vec<bool>,
    /// and its active share there.
    pub(super) share: Vec<Vec<Lanes>>,
    /// Electrons over intrinsic carriers, and one over it.
    pub(super) ratio: Vec<Lanes>,
    pub(super) inverse: Vec<Lanes>,
    /// One over the sum of each in a cell and the next.
    pub(super) per_sum: Vec<Lanes>,
    pub(super) per_inverse_sum: Vec<Lanes>,
    /// Whether these belong to the present concentrations.
    pub(super) is_current: bool,
    /// What stands for these where a dopant feels no carriers.
    pub(super) ones: Vec<Lanes>,
    pub(super) halves: Vec<Lanes>,
    pub(super) product: Vec<Lanes>,
    pub(super) upper: Vec<Lanes>,
    pub(super) right: Vec<Lanes>,
}

impl Lines {
    /// Makes room for `nodes` cells and `dopants` dopants.
    pub(super) fn resize(&mut self, nodes: usize, dopants: usize) {
        let zero = [0.0; LANES];
        for list in [
            &mut self.volume,
            &mut self.link,
            &mut self.product,
            &mut self.upper,
            &mut self.right,
        ] {
            list.resize(nodes, zero);
        }
        for list in [&mut self.ratio, &mut self.inverse, &mut self.ones] {
            list.resize(nodes, [1.0; LANES]);
        }
        for list in [&mut self.per_sum, &mut self.per_inverse_sum, &mut self.halves] {
            list.resize(nodes, [0.5; LANES]);
        }
        for lists in [&mut self.values, &mut self.start, &mut self.base, &mut self.kept] {
            lists.resize(dopants, Vec::new());
            for list in lists {
                list.resize(nodes, zero);
            }
        }
        self.share.resize(dopants, Vec::new());
        for list in &mut self.share {
            list.resize(nodes, [1.0; LANES]);
        }
        self.is_current = false;
    }

    /// Takes a step of `dt_s` by two stages of second order, in each of which the carriers are
    /// brought up to date `passes` times. `reach[d]` is the number of cells of dopant `d` that
    /// change (0: none); `ends[d]` its surface. Gives what the sources supplied, by dopant and
    /// line, in volumes times concentration.
    pub(super) fn step(
        &mut self,
        moment: &Moment,
        dt_s: f64,
        passes: u32,
        reach: &[usize],
        ends: &[End],
    ) -> Vec<Lanes> {
        let dopants = moment.mobiles.len();
        let mut supplied = vec![[0.0; LANES]; dopants];
        for (d, &nodes) in reach.iter().enumerate() {
            self.start[d][..nodes].copy_from_slice(&self.values[d][..nodes]);
            self.base[d][..nodes].copy_from_slice(&self.values[d][..nodes]);
        }
        let stage_s = DIAGONAL * dt_s;
        let changed =
            self.stage(moment, stage_s, passes, reach, ends, FIRST, &mut supplied);
        for (d, &nodes) in reach.iter().enumerate() {
            let old_and_now = self.start[d][..nodes].iter().zip(&self.values[d]);
            for (base, (old, now)) in self.base[d].iter_mut().zip(old_and_now) {
                for l in 0..LANES {
                    base[l] = old[l] + FIRST * (now[l] - old[l]);
                }
            }
        }
        let passes = Self::passes_after(changed, passes);
        self.stage(moment, stage_s, passes, reach, ends, 1.0, &mut supplied);
        if self.negative_lanes(reach).iter().any(|&negative| negative) {
            self.repeat_negative(moment, dt_s, reach, ends, &mut supplied);
        }
        supplied
    }

    /// Passes of a second stage after a first one that changed the carriers by this share.
    pub(super) fn passes_after(changed: f64, passes: u32) -> u32 {
        if SECOND_OVER_FIRST * changed < SETTLED { 1 } else { passes }
    }

    /// Takes one stage from `base`. After the first pass only those lines are solved again whose
    /// carriers have changed, so that a line's answer does not hang on those beside it. Adds what
    /// the sources supplied, times `weight`; gives the largest change of the carriers in the
    /// first pass, or infinity if nobody looked.
    #[expect(clippy::too_many_arguments, reason = "those of the step, and its outcome")]
    pub(super) fn stage(
        &mut self,
        moment: &Moment,
        tau_s: f64,
        passes: u32,
        reach: &[usize],
        ends: &[End],
        weight: f64,
        supplied: &mut [Lanes],
    ) -> f64 {
        let widest = reach.iter().copied().max().unwrap_or(0);
        let mut flows = vec![[0.0; LANES]; moment.mobiles.len()];
        let mut first_change = f64::INFINITY;
        let mut again = [true; LANES];
        for pass in 0..passes {
            if pass == 0 {
                if !self.is_current {
                    self.carriers(moment, widest);
                }
            } else {
                let changed = self.carriers(moment, widest);
                if pass == 1 {
                    first_change = changed.iter().copied().fold(0.0, f64::max);
                }
                for (again, changed) in again.iter_mut().zip(changed) {
                    *again &= SETTLED < changed;
                }
            }
            if again == [false; LANES] {
                break;
            }
            let is_mixed = again != [true; LANES];
            for (d, &nodes) in reach.iter().enumerate().filter(|(_, nodes)| 0 < **nodes) {
                if is_mixed {
                    self.kept[d][..nodes].copy_from_slice(&self.values[d][..nodes]);
                }
                let flow = self.solve(d, moment, tau_s, nodes, &ends[d]);
                for l in (0..LANES).filter(|&l| again[l]) {
                    flows[d][l] = flow[l];
                }
                if is_mixed {
                    let kept = self.kept[d][..nodes].iter();
                    for (value, kept) in self.values[d].iter_mut().zip(kept) {
                        for l in 0..LANES {
                            value[l] = if again[l] { value[l] } else { kept[l] };
                        }
                    }
                }
            }
        }
        for (supplied, flow) in supplied.iter_mut().zip(flows) {
            for l in 0..LANES {
                supplied[l] += weight * flow[l];
            }
        }
        first_change
    }

    /// One backward Euler step from `start`.
    fn euler(
        &mut self,
        moment: &Moment,
        dt_s: f64,
        reach: &[usize],
        ends: &[End],
        supplied: &mut [Lanes],
    ) {
        let widest = reach.iter().copied().max().unwrap_or(0);
        self.carriers(moment, widest);
        for (d, &nodes) in reach.iter().enumerate() {
            if 0 < nodes {
                self.base[d][..nodes].copy_from_slice(&self.start[d][..nodes]);
                supplied[d] = self.solve(d, moment, dt_s, nodes, &ends[d]);
            }
        }
    }

    /// Which lines hold a negative concentration.
    pub(super) fn negative_lanes(&self, reach: &[usize]) -> [bool; LANES] {
        let mut least = [0.0_f64; LANES];
        for (d, &nodes) in reach.iter().enumerate() {
            for value in &self.values[d][..nodes] {
                for l in 0..LANES {
                    least[l] = smaller(least[l], value[l]);
                }
            }
        }
        least.map(|least| least < 0.0)
    }

    /// Takes the step again by backward Euler in the lines that came out negative.
    fn repeat_negative(
        &mut self,
        moment: &Moment,
        dt_s: f64,
        reach: &[usize],
        ends: &[End],
        supplied: &mut [Lanes],
    ) {
        let negative = self.negative_lanes(reach);
        let kept: Vec<Vec<Lanes>> = reach
            .iter()
            .enumerate()
            .map(|(d, &nodes)| self.values[d][..nodes].to_vec())
            .collect();
        for (d, &nodes) in reach.iter().enumerate() {
            self.values[d][..nodes].copy_from_slice(&self.start[d][..nodes]);
        }
        let mut again = vec![[0.0; LANES]; moment.mobiles.len()];
        self.euler(moment, dt_s, reach, ends, &mut again);
        for l in (0..LANES).filter(|&l| !negative[l]) {
            for (d, kept) in kept.iter().enumerate() {
                again[d][l] = supplied[d][l];
                for (value, kept) in self.values[d].iter_mut().zip(kept) {
                    value[l] = kept[l];
                }
            }
        }
        supplied.copy_from_slice(&again);
    }

    /// Electrons over intrinsic carriers in a cell of a line.
    pub(super) fn ratio_at(&self, node: usize, lane: usize) -> f64 {
        self.ratio[node][lane]
    }
}
