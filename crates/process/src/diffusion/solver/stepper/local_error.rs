//! The guess for the next state, and what its miss tells of the error of a step.

use super::Stepper;

impl<const K: usize> Stepper<'_, K> {
    /// Puts a guess into `next`: the parabola through the last three states where it is tame.
    pub(super) fn predict(&mut self, dt: f64, accepted: usize) {
        self.next.clone_from(&self.now);
        if accepted < 2 {
            return;
        }
        let weights = self.weights(dt, accepted);
        for i in 0..self.next.len() {
            for k in 0..K {
                let guess = self.extrapolated(i, k, weights);
                let now = self.now[i][k];
                self.next[i][k] = guess.clamp(0.3 * now, 3.0 * now);
            }
        }
    }

    /// Weights of the last three states in a parabola carried on by `dt` (in a line after two
    /// steps).
    fn weights(&self, dt: f64, accepted: usize) -> [f64; 3] {
        let [h0, h1] = self.step_s;
        let line = dt / h0;
        if accepted < 2 {
            return [1.0 + line, -line, 0.0];
        }
        // Newton's form: first and second divided difference.
        let curve = dt * (dt + h0) / (h0 + h1);
        let (newer, older) = (curve / h0, curve / h1);
        [1.0 + line + newer, -line - newer - older, older]
    }

    /// The state at a node carried on with these weights.
    fn extrapolated(&self, i: usize, k: usize, [w0, w1, w2]: [f64; 3]) -> f64 {
        w0 * self.now[i][k] + w1 * self.before[i][k] + w2 * self.earlier[i][k]
    }

    /// The local error of the step that was just solved, relative to [`Self::scale`].
    pub(super) fn step_error(&self, dt: f64, accepted: usize) -> f64 {
        if accepted == 0 {
            return 0.0;
        }
        let [h0, h1] = self.step_s;
        let omega = dt / h0;
        // The predictor misses by C'''/6 dt (dt+h0) (dt+h0+h1); the formula by
        // C'''/6 dt (dt+h0)^2 / (2 + h0/dt) (E. Hairer, S. P. Norsett, G. Wanner, Solving
        // Ordinary Differential Equations I, 1993, III.5; derived for variable steps).
        let share = if accepted == 1 {
            0.3
        } else {
            (dt + h0) / ((2.0 + 1.0 / omega) * (dt + h0 + h1))
        };
        let weights = self.weights(dt, accepted);
        let mut worst = 0.0_f64;
        for i in 0..self.next.len() {
            for k in 0..K {
                if self.next[i][k] <= self.control.floor * self.largest[k] {
                    continue;
                }
                let miss =
                    share * (self.next[i][k] - self.extrapolated(i, k, weights)).abs();
                let scale = self.scale(i, k);
                if worst * scale < miss {
                    worst = miss / scale;
                }
            }
        }
        worst
    }
}
