//! The guess for the next state, and what its miss tells of the error of a step.

use super::super::unrolled::each;
use super::Stepper;
use super::formula::{Formula, HISTORY};

impl<const K: usize> Stepper<'_, K> {
    /// Carries the old states on to the end of the step: what they add to the equations, and a
    /// guess, from which the solution starts where it is tame.
    pub(super) fn predict(&mut self, formula: &Formula) {
        for i in 0..self.next.len() {
            each!(k in K {
                let (mut guess, mut known) = (0.0, 0.0);
                for j in 0..HISTORY {
                    guess += formula.guess[j] * self.past[j][i][k];
                    known += formula.old[j] * self.past[j][i][k];
                }
                self.guess[i][k] = guess;
                self.known[i][k] = known;
                let now = self.past[0][i][k];
                self.next[i][k] = guess.clamp(0.3 * now, 3.0 * now);
            });
        }
    }

    /// The local error of the step that was just solved, relative to [`Self::scale`], where it
    /// is `share` of what the guess missed.
    pub(super) fn step_error(&self, share: f64) -> f64 {
        let mut worst = 0.0_f64;
        for i in 0..self.next.len() {
            for k in 0..K {
                if self.next[i][k] <= self.control.floor * self.largest[k] {
                    continue;
                }
                let miss = share * (self.next[i][k] - self.guess[i][k]).abs();
                let scale = self.scale(i, k);
                if worst * scale < miss {
                    worst = miss / scale;
                }
            }
        }
        worst
    }
}
