//! What a changing furnace adds to a step: the frame that moves with the oxide, the dopant that
//! the oxide takes up, and faster or slower diffusion under injected point defects.
//!
//! An oxide that grows by dX eats 0.44 dX of silicon. In the frame fixed to the interface the
//! silicon moves up at `v = 0.44 dX/dt`: the flux relative to the interface is `J - v C`. The
//! interface passes `(C(0)/m) dX/dt` into the oxide, in which nothing diffuses (10 to 1000
//! times slower than in silicon, and slower than the interface moves).

#![expect(
    clippy::needless_range_loop,
    reason = "dopant indices read as in the equations"
)]

use super::flux::{Crystal, Flux, Species};
use super::grid::Grid;
use super::schedule::{
    INTERSTITIAL_DECAY_CM, INTERSTITIAL_REACH_CM, Schedule, enhancement,
};
use super::stepper::Formula;
use crate::constants::SILICON_PER_OXIDE;
use crate::num::exp;

/// Oxide with the dopant that it holds at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct OxideSlice {
    /// Distance from the outer surface of the oxide in cm: the thickness when it formed.
    pub depth_cm: f64,
    /// Concentration of each dopant per cm3.
    pub concentration_cm3: Vec<f64>,
}

/// The part of a stepper's state that exists only in a changing furnace.
pub(super) struct Motion<'a, const K: usize> {
    schedule: &'a dyn Schedule,
    /// Oxide in cm: at the end of the step under way, now, and before.
    oxide_cm: [f64; 3],
    /// Dose in the oxide and dose of fresh silicon at the same times.
    taken: [[f64; K]; 3],
    fresh: [[f64; K]; 3],
    /// Growth of the oxide in cm/s during the step under way.
    growth_cm_s: f64,
    /// Reciprocal of the segregation coefficients in that step.
    per_segregation: [f64; K],
    /// Concentration of the silicon that moves up from below the grid.
    below_cm3: [f64; K],
    /// Factor on the flux at each face; empty: none.
    faster: Vec<[f64; K]>,
    /// How much is left of the injected interstitials at each face; empty: no dopant feels them.
    decay: Vec<f64>,
    share: [f64; K],
    slices: Vec<OxideSlice>,
}

impl<'a, const K: usize> Motion<'a, K> {
    pub(super) fn new(
        schedule: &'a dyn Schedule,
        grid: &Grid,
        start: &[[f64; K]],
    ) -> Self {
        let oxide_cm = schedule.at(0.0).oxide_cm;
        let shares = schedule.interstitial_share();
        let decay: Vec<f64> = if shares.is_empty() {
            Vec::new()
        } else {
            (0..grid.len() - 1)
                .map(|i| {
                    let below = (grid.face_cm(i) - INTERSTITIAL_REACH_CM).max(0.0);
                    exp(-below / INTERSTITIAL_DECAY_CM)
                })
                .collect()
        };
        Self {
            schedule,
            oxide_cm: [oxide_cm; 3],
            taken: [[0.0; K]; 3],
            fresh: [[0.0; K]; 3],
            growth_cm_s: 0.0,
            per_segregation: [0.0; K],
            below_cm3: start.last().copied().unwrap_or([0.0; K]),
            faster: vec![[1.0; K]; decay.len()],
            decay,
            share: core::array::from_fn(|k| shares.get(k).copied().unwrap_or(0.0)),
            slices: Vec::new(),
        }
    }

    /// Shortens the first step until the oxide grows by less than a tenth of `cell_cm` in it.
    pub(super) fn begin(&mut self, mut dt: f64, cell_cm: f64) -> f64 {
        let start_cm = self.oxide_cm[1];
        for _ in 0..60 {
            if self.schedule.at(dt).oxide_cm - start_cm <= 0.1 * cell_cm {
                break;
            }
            dt *= 0.5;
        }
        dt
    }

    /// Prepares a step of `clock_s` that ends at `end_s`; gives the pace of the clock and the
    /// crystal.
    pub(super) fn set(
        &mut self,
        end_s: f64,
        clock_s: f64,
        formula: &Formula,
        species: &mut [Species; K],
    ) -> (f64, Crystal) {
        let moment = self.schedule.at(end_s);
        for (species, now) in species.iter_mut().zip(&moment.species) {
            *species = *now;
        }
        self.oxide_cm[0] = moment.oxide_cm.max(self.oxide_cm[1]);
        // The growth as the time formula sees it, so that thickness and dose agree.
        let [next, now, before] = self.oxide_cm;
        let grown = formula.new * next - formula.old[0] * now - formula.old[1] * before;
        self.growth_cm_s = (grown / (clock_s * moment.pace)).max(0.0);
        for k in 0..K {
            let m = moment.segregation.get(k).copied().unwrap_or(f64::INFINITY);
            self.per_segregation[k] = 1.0 / m;
        }
        let injected = moment.supersaturation - 1.0;
        for (faster, decay) in self.faster.iter_mut().zip(&self.decay) {
            let s = 1.0 + injected * decay;
            *faster = core::array::from_fn(|k| enhancement(self.share[k], s));
        }
        (moment.pace, moment.crystal)
    }

    /// Turns a diffusion flux into the flux relative to the moving interface.
    ///
    /// The moving part takes the concentration from below with weight `(1 + P)/(2 + P)`, `P = v
    /// h/D`: the mean of both nodes where diffusion prevails, the lower node where motion does.
    /// Of second order, and no concentration becomes negative (`1/(2 + P) <= 1/P`; derived).
    pub(super) fn change(
        &self,
        flux: &mut Flux<K>,
        face: usize,
        above: &[f64; K],
        below: &[f64; K],
    ) {
        if let Some(faster) = self.faster.get(face) {
            for k in 0..K {
                flux.value[k] *= faster[k];
                for l in 0..K {
                    flux.by_above[k][l] *= faster[k];
                    flux.by_below[k][l] *= faster[k];
                }
            }
        }
        if self.growth_cm_s <= 0.0 {
            return;
        }
        let v = SILICON_PER_OXIDE * self.growth_cm_s;
        for k in 0..K {
            // D/h from both sides; the smaller one is the safer.
            let d_per_h = flux.by_above[k][k].min(-flux.by_below[k][k]).max(1e-12 * v);
            let from_above = d_per_h / (2.0 * d_per_h + v);
            let from_below = 1.0 - from_above;
            flux.value[k] -= v * (from_above * above[k] + from_below * below[k]);
            flux.by_above[k][k] -= v * from_above;
            flux.by_below[k][k] -= v * from_below;
        }
    }

    /// Speed in cm/s with which the oxide takes up the surface concentration.
    pub(super) fn uptake_cm_s(&self, k: usize) -> f64 {
        self.growth_cm_s * self.per_segregation[k]
    }

    /// Atoms per cm2 and s that move up with fresh silicon.
    pub(super) fn inflow(&self, k: usize) -> f64 {
        SILICON_PER_OXIDE * self.growth_cm_s * self.below_cm3[k]
    }

    /// Books a solved step of `dt` seconds in which the oxide took up `rate`.
    pub(super) fn book(&mut self, dt: f64, formula: &Formula, rate: [f64; K]) {
        for k in 0..K {
            let inflow = self.inflow(k);
            let carried = |list: &[[f64; K]; 3], rate: f64| {
                (formula.old[0] * list[1][k] + formula.old[1] * list[2][k] + dt * rate)
                    / formula.new
            };
            self.taken[0][k] = carried(&self.taken, rate[k]);
            self.fresh[0][k] = carried(&self.fresh, inflow);
        }
    }

    /// Takes the step over, which left `surface` per cm3 at the interface.
    pub(super) fn accept(&mut self, surface: &[f64; K]) {
        let grew = self.oxide_cm[1] < self.oxide_cm[0];
        self.oxide_cm = [self.oxide_cm[0], self.oxide_cm[0], self.oxide_cm[1]];
        self.taken = [self.taken[0], self.taken[0], self.taken[1]];
        self.fresh = [self.fresh[0], self.fresh[0], self.fresh[1]];
        if grew {
            let held = |k: usize| surface[k] * self.per_segregation[k];
            let concentration_cm3 = (0..K).map(held).collect();
            self.slices
                .push(OxideSlice { depth_cm: self.oxide_cm[0], concentration_cm3 });
        }
    }

    /// Dose of a dopant that the oxide has taken up.
    pub(super) fn taken(&self, k: usize) -> f64 {
        self.taken[1][k]
    }

    /// Dose of a dopant that came up with fresh silicon.
    pub(super) fn fresh(&self, k: usize) -> f64 {
        self.fresh[1][k]
    }

    pub(super) fn into_oxide(self) -> Vec<OxideSlice> {
        self.slices
    }
}
