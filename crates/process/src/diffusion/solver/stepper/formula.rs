//! The backward difference formula of one step, for any steps before it.

/// The highest order in use. The formula of third order needs about half the steps of the second
/// one for the errors that matter here, and still damps whatever is fast.
pub(super) const HIGHEST_ORDER: usize = 3;
/// States that are kept: one more than the order, for the guess.
pub(super) const HISTORY: usize = HIGHEST_ORDER + 1;

/// What a step of one order takes from the states before it, newest first.
#[derive(Clone, Copy, Debug)]
pub(in super::super) struct Formula {
    /// Weight of the new state in `dt dC/dt = new C - sum of old C`.
    pub(in super::super) new: f64,
    /// Weights of the old states there.
    pub(in super::super) old: [f64; HISTORY],
    /// Weights of the old states in the polynomial of the same order that is carried on to the
    /// end of the step: the guess.
    pub(super) guess: [f64; HISTORY],
    /// Share of the miss of the guess that is the error of the step.
    pub(super) share: f64,
}

impl Formula {
    /// The formula of `order` for a step of `dt` after the steps `before`, newest first; of the
    /// guess only as much as `known` states allow.
    pub(super) fn new(
        order: usize,
        known: usize,
        dt: f64,
        before: [f64; HISTORY],
    ) -> Self {
        // Time from each old state to the end of the step.
        let mut age = [dt; HISTORY];
        for j in 1..HISTORY {
            age[j] = age[j - 1] + before[j - 1];
        }
        // Derivatives at the end of the Lagrange polynomials through the end and `order` states.
        let (mut new, mut old) = (0.0, [0.0; HISTORY]);
        for j in 0..order {
            new += dt / age[j];
            old[j] = dt / age[j];
            for m in (0..order).filter(|&m| m != j) {
                old[j] *= age[m] / (age[m] - age[j]);
            }
        }
        let points = known.min(order + 1);
        let mut guess = [0.0; HISTORY];
        for j in 0..points {
            guess[j] = 1.0;
            for m in (0..points).filter(|&m| m != j) {
                guess[j] *= age[m] / (age[m] - age[j]);
            }
        }
        // Both miss by a multiple of the derivative of order `order + 1`: the guess by the
        // product of all ages, the formula by that of the first ones times dt/new (interpolation
        // error; derived; for equal steps E. Hairer, S. P. Norsett, G. Wanner, Solving Ordinary
        // Differential Equations I, 1993, III.5).
        let share = if points == order + 1 { dt / (new * age[order]) } else { 0.3 };
        Self { new, old, guess, share }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn polynomials_of_its_order_are_exact_after_uneven_steps() {
        let (dt, before) = (1.3, [0.9, 1.1, 0.4, 0.0]);
        let times = [0.0, -0.9, -2.0, -2.4];
        for order in 1..=HIGHEST_ORDER {
            let formula = Formula::new(order, order + 1, dt, before);
            for power in 0..=3 {
                let at = |t: f64| (0..power).fold(1.0, |product, _| product * (t + 3.0));
                let sum = |weights: [f64; HISTORY]| -> f64 {
                    weights.iter().zip(times).map(|(w, t)| w * at(t)).sum()
                };
                let (exact, slope) = (at(dt), f64::from(power) * at(dt) / (dt + 3.0));
                let miss = sum(formula.guess) - exact;
                let error = formula.new * exact - sum(formula.old) - dt * slope;
                let degree = usize::try_from(power).unwrap();
                if degree <= order {
                    assert!(miss.abs() < 1e-10 && error.abs() < 1e-10, "{order} {power}");
                } else if degree == order + 1 {
                    // The error of the solution is the stated share of the miss.
                    let share = error / formula.new / -miss;
                    assert!((share.abs() / formula.share - 1.0).abs() < 1e-10);
                }
            }
        }
    }
}
