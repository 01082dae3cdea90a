//! Time stepping: the two-step backward difference formula with error control.
//!
//! Each step is solved by Newton's method with the analytic derivatives of the fluxes. The
//! error of a step is measured as it matters: as a shift in depth on steep flanks, as a
//! relative change on flat tops.

#![expect(
    clippy::needless_range_loop,
    reason = "dopant indices read as in the equations"
)]

mod assembly;
mod formula;
mod local_error;

use super::anneal::{Control, Outcome, Snapshot};
use super::block::{Reduced, substitute};
use super::boundary::Surface;
use super::flux::{Crystal, Flux, NodeState, Species};
use super::grid::Grid;
use super::ledger::Ledger;
use super::motion::Motion;
use super::schedule::Schedule;
use crate::num::larger;
pub(super) use formula::Formula;
use formula::{HIGHEST_ORDER, HISTORY};

const MOST_STEPS: usize = 4000;
const MOST_ITERATIONS: usize = 10;
/// Newton ends when the last correction changed no carrier density by more than this share:
/// the equations are linear but for the carriers, so half its square is what is left, and that
/// only at the steepest node of a front. With a tenth of it no reference depth changes by more
/// than 0.01 % (measured).
const NEWTON_END: f64 = 5e-2;
const LARGEST_GROWTH: f64 = 1.7;
/// Share of the largest concentration that is everywhere at the start.
const TRACE: f64 = 1e-24;

/// The state of an anneal under way.
pub(super) struct Stepper<'a, const K: usize> {
    grid: &'a Grid,
    crystal: Crystal,
    species: [Species; K],
    surface: [Surface; K],
    control: Control,
    /// The last accepted states, newest first, and the steps between them.
    past: [Vec<[f64; K]>; HISTORY],
    step_s: [f64; HISTORY],
    /// Dose gained until each of them.
    gained: [[f64; K]; HISTORY],
    clipped: [f64; K],
    /// What a changing furnace adds; none at constant temperature without oxide.
    motion: Option<Motion<'a, K>>,
    /// The linear system, eliminated, and its solution.
    rows: Vec<Reduced<K>>,
    correction: Vec<[f64; K]>,
    /// The nodes of `next` and the fluxes between them.
    nodes: Vec<NodeState<K>>,
    faces: Vec<Flux<K>>,
    per_spacing: Vec<f64>,
    /// Depth of each node over the distance between its neighbors.
    reach: Vec<f64>,
    next: Vec<[f64; K]>,
    /// What the old states foretell, and what they add to the equations.
    guess: Vec<[f64; K]>,
    known: Vec<[f64; K]>,
    largest: [f64; K],
    solves: usize,
}

impl<'a, const K: usize> Stepper<'a, K> {
    /// Ready to run from `start`, one list of node concentrations per dopant.
    pub(super) fn new(
        grid: &'a Grid,
        crystal: Crystal,
        species: [Species; K],
        surface: [Surface; K],
        start: &[Vec<f64>],
        control: Control,
        schedule: Option<&'a dyn Schedule>,
    ) -> Self {
        let n = grid.len();
        // A trace far below one atom per wafer keeps the tail out of the denormal numbers, with
        // which processors are slow. It is lost in the rounding of the dose.
        let trace: [f64; K] = core::array::from_fn(|k| {
            let list = start.get(k).map_or(&[][..], Vec::as_slice);
            TRACE * list.iter().copied().fold(0.0, f64::max)
        });
        let now: Vec<[f64; K]> = (0..n)
            .map(|i| {
                core::array::from_fn(|k| {
                    let given = start.get(k).and_then(|list| list.get(i)).copied();
                    given.unwrap_or(0.0) + trace[k]
                })
            })
            .collect();
        let motion = schedule.map(|schedule| Motion::new(schedule, grid, &now));
        Self {
            grid,
            crystal,
            species,
            surface,
            control,
            next: now.clone(),
            guess: now.clone(),
            known: now.clone(),
            past: core::array::from_fn(|_| now.clone()),
            step_s: [0.0; HISTORY],
            gained: [[0.0; K]; HISTORY],
            clipped: [0.0; K],
            motion,
            rows: vec![Reduced::default(); n],
            correction: vec![[0.0; K]; n],
            nodes: vec![NodeState::default(); n],
            faces: vec![Flux::default(); n - 1],
            reach: reach(grid),
            per_spacing: grid.spacing_cm().iter().map(|h| 1.0 / h).collect(),
            largest: [0.0; K],
            solves: 0,
        }
    }

    /// Follows the time to its end.
    pub(super) fn run(mut self, time_s: f64) -> Outcome {
        let before: [f64; K] = core::array::from_fn(|k| self.dose(k));
        for k in 0..K {
            if let Surface::Held(c) = self.surface[k] {
                // The source fills the half cell at the surface at once.
                let rise = (c - self.past[0][0][k]) * self.grid.volume_cm()[0];
                for gained in &mut self.gained {
                    gained[k] += rise;
                }
                self.past[0][0][k] = c;
            }
        }
        self.find_largest();
        let mut dt = self.first_step(time_s);
        if let Some(motion) = &mut self.motion {
            dt = motion.begin(dt, self.grid.volume_cm()[0]);
        }
        // An oxide that begins with the root of time would seem to shrink in a second step of a
        // higher order, and is no polynomial of time: the formula of second order errs with the
        // same sign in step after step, and is held to a third of the error.
        let (first_steps, highest, tolerance) = match &self.motion {
            None => (0, HIGHEST_ORDER, self.control.tolerance),
            Some(_) => (1, 2, 0.3 * self.control.tolerance),
        };
        let (mut elapsed, mut accepted) = (0.0, 0_usize);
        let mut tries = 0_usize;
        let mut snapshots = Vec::new();
        while elapsed < time_s * (1.0 - 1e-12) && tries < MOST_STEPS {
            tries += 1;
            let left = time_s - elapsed;
            if left <= dt {
                dt = left;
            } else if left < 2.0 * dt {
                dt = 0.5 * left;
            }
            let order = accepted.saturating_sub(first_steps).clamp(1, highest);
            let formula = Formula::new(order, accepted + 1, dt, self.step_s);
            let Some(gained) = self.solve_step(dt, elapsed + dt, &formula) else {
                dt *= 0.25;
                continue;
            };
            let error = if accepted == 0 { 0.0 } else { self.step_error(formula.share) };
            let factor = growth(tolerance / error.max(1e-300), order);
            if tolerance < error && factor < 0.95 {
                dt *= factor;
                continue;
            }
            self.accept(dt, gained);
            if let Some(motion) = &mut self.motion {
                motion.accept(&self.past[0][0]);
            }
            elapsed += dt;
            accepted += 1;
            if self.is_snapshot(snapshots.len(), elapsed / time_s) {
                snapshots.push(Snapshot {
                    time_s: elapsed,
                    concentration_cm3: self.concentrations(),
                });
            }
            dt *= factor;
        }
        let ledgers = (0..K)
            .map(|k| Ledger {
                before_cm2: before[k],
                gained_cm2: self.gained[0][k],
                fresh_cm2: self.motion.as_ref().map_or(0.0, |motion| motion.fresh(k)),
                oxide_cm2: self.motion.as_ref().map_or(0.0, |motion| motion.taken(k)),
                clipped_cm2: self.clipped[k],
                after_cm2: self.dose(k),
            })
            .collect();
        Outcome {
            concentration_cm3: self.concentrations(),
            ledgers,
            snapshots,
            oxide: self.motion.map_or_else(Vec::new, Motion::into_oxide),
            steps: accepted,
            solves: self.solves,
            finished: time_s * (1.0 - 1e-12) <= elapsed,
        }
    }

    fn concentrations(&self) -> Vec<Vec<f64>> {
        (0..K).map(|k| self.past[0].iter().map(|c| c[k]).collect()).collect()
    }

    /// True if the state after this share of the time is the next one to keep: no step is
    /// shortened for it, so that it comes a little late.
    fn is_snapshot(&self, taken: usize, share: f64) -> bool {
        let count = self.control.snapshots as usize;
        let next = (taken + 1) as f64 / (count + 1) as f64;
        taken < count && next * next <= share && share < 1.0 - 1e-9
    }

    fn dose(&self, k: usize) -> f64 {
        super::grid::compensated_sum(
            self.grid.volume_cm().iter().zip(&self.past[0]).map(|(v, c)| v * c[k]),
        )
    }

    fn find_largest(&mut self) {
        for k in 0..K {
            self.largest[k] = self.past[0].iter().map(|c| c[k]).fold(0.0, larger);
        }
    }

    /// The size that an error at a node is compared with: the concentration itself, or what
    /// a shift by the whole depth would change.
    fn scale(&self, i: usize, k: usize) -> f64 {
        let last = self.past[0].len() - 1;
        let (a, b) = (i.saturating_sub(1), (i + 1).min(last));
        let rise = (self.past[0][b][k] - self.past[0][a][k]).abs();
        larger(self.past[0][i][k], self.next[i][k]) + rise * self.reach[i]
    }

    /// A first step in which nothing changes by more than a few percent.
    fn first_step(&mut self, time_s: f64) -> f64 {
        self.next.clone_from(&self.past[0]);
        let n = self.grid.len();
        let mixture = self.mixture();
        self.find_nodes(&mixture);
        self.find_faces(&mixture);
        let mut fastest = 0.0_f64;
        let mut above = [0.0; K];
        for i in 0..n {
            let below = self.faces.get(i).map_or([0.0; K], |face| face.value);
            for k in 0..K {
                if self.control.floor.max(1e-4) * self.largest[k] < self.past[0][i][k] {
                    let rate = (above[k] - below[k]) / self.grid.volume_cm()[i];
                    fastest = fastest.max(rate.abs() / self.scale(i, k));
                }
            }
            above = below;
        }
        let by_rate = 0.3 * self.control.tolerance.sqrt() / fastest.max(1e-300);
        by_rate.clamp(1e-9 * time_s, 0.05 * time_s)
    }

    /// Solves one implicit step into `next` that ends at `end_s` on the clock; gives the dose
    /// gained until then.
    fn solve_step(&mut self, dt: f64, end_s: f64, formula: &Formula) -> Option<[f64; K]> {
        self.predict(formula);
        let mut dt = dt;
        if let Some(motion) = &mut self.motion {
            let (pace, crystal) = motion.set(end_s, dt, formula, &mut self.species);
            self.crystal = crystal;
            dt *= pace;
        }
        for _ in 0..MOST_ITERATIONS {
            self.solves += 1;
            self.assemble(dt, formula.new);
            substitute(&self.rows, &mut self.correction);
            let mut largest_change = 0.0_f64;
            for (changes, node) in self.correction.iter().zip(&self.nodes) {
                for change in changes {
                    largest_change =
                        larger(largest_change, change.abs() * node.sensitivity);
                }
            }
            if !largest_change.is_finite() {
                return None;
            }
            for (next, change) in self.next.iter_mut().zip(&self.correction) {
                for k in 0..K {
                    next[k] += change[k];
                }
            }
            if largest_change < NEWTON_END {
                return self.close(dt, formula);
            }
            // Far from the solution a correction may overshoot below zero: go on from zero.
            for next in &mut self.next {
                for value in next.iter_mut() {
                    *value = larger(*value, 0.0);
                }
            }
        }
        None
    }

    /// Speed in cm/s with which a growing oxide takes up the surface concentration.
    fn uptake_cm_s(&self, k: usize) -> f64 {
        self.motion.as_ref().map_or(0.0, |motion| motion.uptake_cm_s(k))
    }

    /// Books what came in and clips what round-off made negative.
    fn close(&mut self, dt: f64, formula: &Formula) -> Option<[f64; K]> {
        let mut gained = [0.0; K];
        for k in 0..K {
            // The inflow of the linear system that was solved, so that the balance tests it.
            let rate = match self.surface[k] {
                Surface::Held(_) => {
                    let face = &self.faces[0];
                    let mut rate = face.value[k];
                    for l in 0..K {
                        rate += face.by_above[k][l] * self.correction[0][l]
                            + face.by_below[k][l] * self.correction[1][l];
                    }
                    rate
                }
                Surface::Loss(speed) => -speed * self.next[0][k],
                _ => 0.0,
            };
            let old: f64 = formula
                .old
                .iter()
                .zip(&self.gained)
                .map(|(w, gained)| w * gained[k])
                .sum();
            gained[k] = (old + dt * rate) / formula.new;
            for i in 0..self.next.len() {
                let c = self.next[i][k];
                if c < 0.0 {
                    if c < -1e-9 * self.largest[k] {
                        return None;
                    }
                    self.clipped[k] -= c * self.grid.volume_cm()[i];
                    self.next[i][k] = 0.0;
                }
            }
        }
        if let Some(motion) = &mut self.motion {
            let share: [f64; K] = core::array::from_fn(|k| match self.surface[k] {
                Surface::Oxide => motion.uptake_cm_s(k) * self.next[0][k],
                _ => 0.0,
            });
            motion.book(dt, formula, share);
        }
        Some(gained)
    }

    fn accept(&mut self, dt: f64, gained: [f64; K]) {
        self.past.rotate_right(1);
        core::mem::swap(&mut self.past[0], &mut self.next);
        self.step_s.rotate_right(1);
        self.step_s[0] = dt;
        self.gained.rotate_right(1);
        self.gained[0] = gained;
        self.find_largest();
    }
}

/// Depth of each node over the distance between its neighbors.
fn reach(grid: &Grid) -> Vec<f64> {
    let x = grid.nodes_cm();
    let last = x.len() - 1;
    (0..=last).map(|i| x[i] / (x[(i + 1).min(last)] - x[i.saturating_sub(1)])).collect()
}

/// The factor for the next step after one with a formula of this order, kept in bounds.
fn growth(room: f64, order: usize) -> f64 {
    let root = match order {
        1 => room.sqrt(),
        2 => crate::num::cbrt(room),
        _ => room.sqrt().sqrt(),
    };
    (0.85 * root).clamp(0.2, LARGEST_GROWTH)
}
