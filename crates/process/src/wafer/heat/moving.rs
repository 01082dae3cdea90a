//! Depth lines whose upper face moves: silicon that an oxide eats.
//!
//! In a step the interface passes from one place in the mesh to another. All atoms above its
//! place stand in the first cell below it, so that none is lost; the two stages see the interface
//! where it is at their own moments, which keeps the method of second order.

use super::ends::End;
use super::lines::{DIAGONAL, FIRST, LANES, Lanes, Lines};
use super::moment::Moment;
use crate::wafer::cells::FirstCell;

/// The way of the interface through a step.
#[derive(Clone, Debug)]
pub(super) struct Passage {
    /// The first cells at the two stages.
    pub(super) tops: [[FirstCell; LANES]; 2],
    /// The parts of the grown oxide that take up at the concentrations of the two stages, in nm.
    pub(super) taking_nm: [Lanes; 2],
    /// The mesh cell at which the lines begin.
    pub(super) top: usize,
}

/// Passes in each stage.
const PASSES: u32 = 2;

impl Lines {
    /// Takes a step of `dt_s` through which the interface moves; `shape` lays out the cells for
    /// given first ones. Gives what came in through the interface, by dopant and line (negative:
    /// the oxide took it).
    pub(super) fn step_moving(
        &mut self,
        moment: &Moment,
        dt_s: f64,
        reach: &[usize],
        passage: &Passage,
        shape: impl Fn(&mut Self, &[FirstCell; LANES]),
    ) -> Vec<Lanes> {
        let dopants = moment.mobiles.len();
        let mut crossed = vec![[0.0; LANES]; dopants];
        self.keep_amounts(reach);
        let first_end = self.ends(passage, 0, passage.taking_nm[0].map(|nm| nm / FIRST));
        let last_end = self.ends(passage, 1, passage.taking_nm[1]);
        let mut passes = PASSES;
        for (stage, end) in [first_end, last_end].iter().enumerate() {
            self.amounts_of_stage(reach, if stage == 0 { 0.0 } else { FIRST });
            shape(self, &passage.tops[stage]);
            self.merge(reach, end);
            let (stage_s, ends) = (DIAGONAL * dt_s, vec![*end; dopants]);
            let weight = if stage == 0 { FIRST } else { 1.0 };
            let changed =
                self.stage(moment, stage_s, passes, reach, &ends, weight, &mut crossed);
            passes = Self::passes_after(changed, PASSES);
        }
        let negative = self.negative_lanes(reach);
        if negative.iter().any(|&negative| negative) {
            self.repeat_moving(moment, dt_s, reach, passage, &negative, &mut crossed);
        }
        crossed
    }

    /// Takes the step again by backward Euler in the lines that came out negative.
    fn repeat_moving(
        &mut self,
        moment: &Moment,
        dt_s: f64,
        reach: &[usize],
        passage: &Passage,
        negative: &[bool; LANES],
        crossed: &mut [Lanes],
    ) {
        let [first, last] = passage.taking_nm;
        let end = self.ends(passage, 1, core::array::from_fn(|l| first[l] + last[l]));
        let kept: Vec<Vec<Lanes>> = self.values.clone();
        self.amounts_of_stage(reach, 0.0);
        self.merge(reach, &end);
        for (d, &nodes) in reach.iter().enumerate() {
            self.values[d][..nodes].copy_from_slice(&self.base[d][..nodes]);
        }
        let widest = reach.iter().copied().max().unwrap_or(0);
        self.carriers(moment, widest);
        for (d, &nodes) in reach.iter().enumerate().filter(|(_, nodes)| 0 < **nodes) {
            let flow = self.solve(d, moment, dt_s, nodes, &end);
            for l in 0..LANES {
                if negative[l] {
                    crossed[d][l] = flow[l];
                } else {
                    for (value, kept) in self.values[d].iter_mut().zip(&kept[d]) {
                        value[l] = kept[l];
                    }
                }
            }
        }
    }

    /// Keeps the amounts in the cells at the start of the step.
    fn keep_amounts(&mut self, reach: &[usize]) {
        for (d, &nodes) in reach.iter().enumerate() {
            for i in 0..nodes {
                let (start, value) = (&mut self.start[d][i], &self.values[d][i]);
                for l in 0..LANES {
                    start[l] = self.volume[i][l] * value[l];
                }
            }
        }
    }

    /// Amounts from which a stage begins: those of the start and `weight` times what the stage
    /// before changed.
    fn amounts_of_stage(&mut self, reach: &[usize], weight: f64) {
        for (d, &nodes) in reach.iter().enumerate() {
            for i in 0..nodes {
                let (old, value) = (&self.start[d][i], &self.values[d][i]);
                let base = &mut self.base[d][i];
                for l in 0..LANES {
                    base[l] = old[l] + weight * (self.volume[i][l] * value[l] - old[l]);
                }
            }
        }
    }

    /// Turns amounts into concentrations, all that is above a first cell put into it.
    fn merge(&mut self, reach: &[usize], end: &End) {
        let End::Oxide { first, .. } = *end else { return };
        let widest = reach.iter().copied().max().unwrap_or(0);
        let per_volume = &mut self.upper[..widest];
        for (per_volume, volume) in per_volume.iter_mut().zip(&self.volume) {
            *per_volume = volume.map(|volume| 1.0 / volume);
        }
        for (d, &nodes) in reach.iter().enumerate().filter(|(_, nodes)| 0 < **nodes) {
            for l in 0..LANES {
                let above: f64 =
                    self.base[d][..first[l]].iter().map(|base| base[l]).sum();
                for i in 0..first[l] {
                    self.base[d][i][l] = 0.0;
                    self.values[d][i][l] = 0.0;
                }
                self.base[d][first[l]][l] += above;
            }
            for (base, per_volume) in self.base[d][..nodes].iter_mut().zip(&*per_volume) {
                for l in 0..LANES {
                    base[l] *= per_volume[l];
                }
            }
        }
    }

    /// The interface at a stage.
    fn ends(&self, passage: &Passage, stage: usize, grown_nm: Lanes) -> End {
        let first = passage.tops[stage].map(|first| first.index - passage.top);
        End::Oxide { grown_nm, first }
    }
}
