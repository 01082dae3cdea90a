//! How a spinning film thins: drain by the centrifugal force, drying by the air flow.
//!
//! # Model
//! State: film height `h` and solids height `S` (volume per area), `c = S/h`.
//!
//! ```text
//! Q     = 2 rho omega^2 h^3 / (3 eta(c))              drain
//! dS/dt = -c Q
//! dh/dt = -Q - E(c, omega)                            E: evaporation of solvent
//! ```
//!
//! The drain law without evaporation is that of Emslie, Bonner and Peck; evaporation was
//! added by Meyerhofer. Newtonian liquid, uniform height, no gravity, no surface tension.
//!
//! # Source
//! A. G. Emslie, F. T. Bonner, L. G. Peck, J. Appl. Phys. 29, 858 (1958);
//! D. Meyerhofer, J. Appl. Phys. 49, 3993 (1978) (equations from memory).

use super::laws::{
    DRY_SOLIDS_FRACTION, REFERENCE_SPEED_RPM, SKIN_SOLIDS_FRACTION,
    SOLVENT_VISCOSITY_MPA_S, drain_per_um2_s,
};
use super::speed::{SpeedPiece, SpeedProgram};
use crate::lithography::resist::Formulation;
use crate::num::bisect;

/// Relative error per step of the integrator. The answer then lies within 0.01 % of the
/// converged one, which a test holds.
pub const STEP_TOLERANCE: f64 = 1e-6;

/// Most steps of one integration: ten times what the hardest allowed request needs.
const MAX_STEPS: usize = 20_000;

/// A puddle of resist on a spinning wafer.
#[derive(Clone, Debug)]
pub struct Thinning {
    /// The liquid of the bottle.
    pub liquid: Formulation,
    /// Height of the liquid before the spin in um.
    pub start_um: f64,
    /// Evaporation at the reference speed in um/s.
    pub evaporation_um_s: f64,
    /// Exponent of the speed in the evaporation law; [`super::LAMINAR_EXPONENT`], or 0 for constant.
    pub evaporation_exponent: f64,
    /// Speed of the chuck.
    pub program: SpeedProgram,
    /// Relative error per step; [`STEP_TOLERANCE`].
    pub tolerance: f64,
}

/// The integrator gave up; it never does inside the allowed ranges.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("the film height did not converge: {time_s} s reached in {MAX_STEPS} steps")]
pub struct NotConverged {
    /// Time reached in s.
    pub time_s: f64,
}

/// A film at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Film {
    /// Height in um.
    pub height_um: f64,
    /// Volume fraction of solids.
    pub solids_fraction: f64,
}

impl Film {
    /// Solids per area in um.
    #[must_use]
    pub fn solids_um(&self) -> f64 {
        self.height_um * self.solids_fraction
    }
}

/// State of the integrator: `w = 1/h^2` in 1/um2 and `c`.
///
/// In `w` the pure drain is a straight line, so that the fast start takes few steps.
type State = [f64; 2];

#[derive(Clone, Copy, Debug)]
struct Knot {
    time_s: f64,
    state: State,
    slope: State,
}

/// The film over the whole spin.
#[derive(Clone, Debug)]
pub struct Thinned {
    thinning: Thinning,
    /// At least one knot; times never decrease.
    knots: Vec<Knot>,
}

impl Thinning {
    /// Viscosity in mPa s at a solids fraction.
    ///
    /// The power 2.5 follows Meyerhofer's fit (1978; memory). The divergence at the skin's
    /// solids fraction is a model choice: without it the film creeps on for a minute.
    #[must_use]
    pub fn viscosity_mpa_s(&self, solids_fraction: f64) -> f64 {
        let Formulation { solids_fraction: c0, viscosity_mpa_s: eta0 } = self.liquid;
        let ratio = solids_fraction / c0;
        let skin = (SKIN_SOLIDS_FRACTION - c0)
            / (SKIN_SOLIDS_FRACTION - solids_fraction).max(1e-9);
        SOLVENT_VISCOSITY_MPA_S
            + (eta0 - SOLVENT_VISCOSITY_MPA_S)
                * ratio
                * ratio
                * ratio.sqrt()
                * skin
                * skin
    }

    /// Evaporation in um/s at a speed and a solids fraction.
    ///
    /// It stops at the skin's solids fraction; the power 8 is a model choice.
    #[must_use]
    pub fn evaporation_at_um_s(&self, speed_rpm: f64, solids_fraction: f64) -> f64 {
        let share = solids_fraction / SKIN_SOLIDS_FRACTION;
        let share2 = share * share;
        let share4 = share2 * share2;
        let ratio = speed_rpm / REFERENCE_SPEED_RPM;
        // The two exponents that are used; a square root is much faster than a power.
        let wind = if self.evaporation_exponent == 0.0 {
            1.0
        } else if (self.evaporation_exponent - 0.5).abs() < 1e-12 {
            ratio.sqrt()
        } else {
            crate::num::pow(ratio, self.evaporation_exponent)
        };
        self.evaporation_um_s * wind * (1.0 - share4 * share4)
    }

    /// Drain of solvent less evaporation in um/s: positive while draining leads.
    fn drain_lead_um_s(&self, time_s: f64, film: Film) -> f64 {
        let rpm = self.program.speed_rpm(time_s);
        let h = film.height_um;
        let c = film.solids_fraction;
        (1.0 - c) * drain_per_um2_s(rpm, self.viscosity_mpa_s(c)) * h * h * h
            - self.evaporation_at_um_s(rpm, c)
    }

    /// `dw/dt = 2 k + 2 E w^(3/2)`, `dc/dt = c E w^(1/2)` with `k = Q/h^3`.
    fn slope(&self, speed_rpm: f64, [w, c]: State) -> State {
        let root = w.sqrt();
        let drain = drain_per_um2_s(speed_rpm, self.viscosity_mpa_s(c));
        let dry = self.evaporation_at_um_s(speed_rpm, c);
        [2.0 * drain + 2.0 * dry * w * root, c * dry * root]
    }

    /// Spins the film from rest to the end of the speed program.
    ///
    /// Runge-Kutta of orders 5 and 4 with step control (J. R. Dormand, P. J. Prince, J. Comp.
    /// Appl. Math. 6, 19, 1980; coefficients from memory, held by a convergence test), piece
    /// by piece of the speed program. It stops early when nothing changes any more.
    ///
    /// # Errors
    /// [`NotConverged`] if it needs more steps than any allowed request does.
    pub fn spin(self) -> Result<Thinned, NotConverged> {
        let mut state: State =
            [1.0 / (self.start_um * self.start_um), self.liquid.solids_fraction];
        let mut knots: Vec<Knot> = Vec::with_capacity(128);
        let mut budget = MAX_STEPS;
        let mut dt_s = 1e-3;
        for piece in &self.program.pieces {
            let mut time_s = piece.start_s;
            let mut slope = self.slope(piece.start_rpm, state);
            knots.push(Knot { time_s, state, slope });
            while time_s < piece.end_s {
                if budget == 0 {
                    return Err(NotConverged { time_s });
                }
                budget -= 1;
                let left_s = piece.end_s - time_s;
                let last = left_s <= dt_s * (1.0 + 1e-9);
                let step_s = if last { left_s } else { dt_s };
                let step = self.step(piece, time_s, state, slope, step_s);
                if step.error <= 1.0 {
                    time_s = if last { piece.end_s } else { time_s + step_s };
                    (state, slope) = (step.state, step.slope);
                    knots.push(Knot { time_s, state, slope });
                    if SKIN_SOLIDS_FRACTION - state[1] < 1e-7 {
                        break;
                    }
                }
                // 0.9 err^(-1/5) by square roots: err^(-1/4) is close and cheaper.
                let factor = 0.9 / step.error.max(1e-6).sqrt().sqrt();
                dt_s = (step_s * factor.clamp(0.2, 4.0)).max(1e-9);
            }
        }
        let end_s = self.program.end_s();
        if knots.last().is_none_or(|knot| knot.time_s < end_s) {
            knots.push(Knot { time_s: end_s, state, slope: [0.0, 0.0] });
        }
        Ok(Thinned { thinning: self, knots })
    }

    fn step(
        &self,
        piece: &SpeedPiece,
        time_s: f64,
        y: State,
        k1: State,
        dt_s: f64,
    ) -> Step {
        let at = |part: f64, y: State| {
            // A trial point may overshoot the skin: nothing flows or dries beyond it.
            let y = [y[0].max(1e-12), y[1].min(SKIN_SOLIDS_FRACTION)];
            self.slope(piece.speed_rpm(time_s + part * dt_s), y)
        };
        let sum = |terms: &[(f64, State)]| {
            let mut out = y;
            for (a, k) in terms {
                out[0] += dt_s * a * k[0];
                out[1] += dt_s * a * k[1];
            }
            out
        };
        let k2 = at(0.2, sum(&[(0.2, k1)]));
        let k3 = at(0.3, sum(&[(3.0 / 40.0, k1), (9.0 / 40.0, k2)]));
        let k4 = at(0.8, sum(&[(44.0 / 45.0, k1), (-56.0 / 15.0, k2), (32.0 / 9.0, k3)]));
        let k5 = at(
            8.0 / 9.0,
            sum(&[
                (19372.0 / 6561.0, k1),
                (-25360.0 / 2187.0, k2),
                (64448.0 / 6561.0, k3),
                (-212.0 / 729.0, k4),
            ]),
        );
        let k6 = at(
            1.0,
            sum(&[
                (9017.0 / 3168.0, k1),
                (-355.0 / 33.0, k2),
                (46732.0 / 5247.0, k3),
                (49.0 / 176.0, k4),
                (-5103.0 / 18656.0, k5),
            ]),
        );
        let mut state = sum(&[
            (35.0 / 384.0, k1),
            (500.0 / 1113.0, k3),
            (125.0 / 192.0, k4),
            (-2187.0 / 6784.0, k5),
            (11.0 / 84.0, k6),
        ]);
        state[1] = state[1].min(SKIN_SOLIDS_FRACTION);
        let slope = at(1.0, state);
        let error = (0..2)
            .map(|i| {
                let difference = dt_s
                    * (71.0 / 57600.0 * k1[i] - 71.0 / 16695.0 * k3[i]
                        + 71.0 / 1920.0 * k4[i]
                        - 17253.0 / 339_200.0 * k5[i]
                        + 22.0 / 525.0 * k6[i]
                        - slope[i] / 40.0);
                difference.abs() / (self.tolerance * state[i].abs().max(y[i].abs()))
            })
            .fold(0.0, f64::max);
        Step { state, slope, error }
    }
}

struct Step {
    state: State,
    slope: State,
    /// Estimated error over the allowed one.
    error: f64,
}

impl Thinned {
    /// The film at a time in s, by cubic interpolation between the integrator's steps.
    #[must_use]
    pub fn film(&self, time_s: f64) -> Film {
        let after = self.knots.partition_point(|knot| knot.time_s <= time_s);
        let before = &self.knots[after.saturating_sub(1)];
        let [w, c] = match self.knots.get(after) {
            Some(next) if before.time_s < next.time_s => between(before, next, time_s),
            _ => before.state,
        };
        Film { height_um: 1.0 / w.sqrt(), solids_fraction: c }
    }

    /// The film at the end of the spin.
    #[must_use]
    pub fn end(&self) -> Film {
        self.film(self.thinning.program.end_s())
    }

    /// Steps the integrator took.
    #[must_use]
    pub fn step_count(&self) -> usize {
        self.knots.len()
    }

    /// Last time in s at which draining of solvent falls below drying; none if it never does.
    #[must_use]
    pub fn transition_s(&self) -> Option<f64> {
        let lead = |time_s: f64| self.thinning.drain_lead_um_s(time_s, self.film(time_s));
        let pair = self
            .knots
            .windows(2)
            .rev()
            .find(|pair| 0.0 < lead(pair[0].time_s) && lead(pair[1].time_s) <= 0.0)?;
        bisect(lead, pair[0].time_s, pair[1].time_s).ok()
    }

    /// Time in s from which the film counts as dry; none if it is wet at the end.
    #[must_use]
    pub fn dry_s(&self) -> Option<f64> {
        let lack = |time_s: f64| self.film(time_s).solids_fraction - DRY_SOLIDS_FRACTION;
        let idx =
            self.knots.iter().position(|knot| DRY_SOLIDS_FRACTION <= knot.state[1])?;
        let first = self.knots.get(idx.checked_sub(1)?)?;
        bisect(lack, first.time_s, self.knots[idx].time_s).ok()
    }

    /// The speed of the chuck in rpm at a time in s.
    #[must_use]
    pub fn speed_rpm(&self, time_s: f64) -> f64 {
        self.thinning.program.speed_rpm(time_s)
    }
}

/// Cubic Hermite interpolation of the state.
fn between(a: &Knot, b: &Knot, time_s: f64) -> State {
    let dt_s = b.time_s - a.time_s;
    let t = ((time_s - a.time_s) / dt_s).clamp(0.0, 1.0);
    let (t2, t3) = (t * t, t * t * t);
    let value = |i: usize| {
        a.state[i] * (2.0 * t3 - 3.0 * t2 + 1.0)
            + a.slope[i] * dt_s * (t3 - 2.0 * t2 + t)
            + b.state[i] * (3.0 * t2 - 2.0 * t3)
            + b.slope[i] * dt_s * (t3 - t2)
    };
    let low = a.state[0].min(b.state[0]);
    [value(0).max(low), value(1).min(SKIN_SOLIDS_FRACTION)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lithography::spin_coating::laws::{
        EVAPORATION_UM_S, LAMINAR_EXPONENT, height_without_evaporation_um,
    };

    fn puddle(speed_rpm: f64) -> Thinning {
        Thinning {
            liquid: Formulation { solids_fraction: 0.22, viscosity_mpa_s: 14.0 },
            start_um: 100.0,
            evaporation_um_s: EVAPORATION_UM_S,
            evaporation_exponent: LAMINAR_EXPONENT,
            program: SpeedProgram::default().then(speed_rpm, 5000.0, 60.0),
            tolerance: STEP_TOLERANCE,
        }
    }

    #[test]
    fn a_film_on_a_resting_chuck_keeps_its_height() {
        let film = puddle(0.0).spin().unwrap().end();
        assert!((film.height_um - 100.0).abs() < 1e-9);
    }

    #[test]
    fn without_evaporation_the_closed_form_comes_back() {
        let thinning = Thinning {
            evaporation_um_s: 0.0,
            program: SpeedProgram::default().then(3000.0, 1e12, 10.0),
            ..puddle(0.0)
        };
        let film = thinning.spin().unwrap().film(7.0);
        let closed_um = height_without_evaporation_um(100.0, 14.0, 3000.0, 7.0);
        assert!((film.height_um / closed_um - 1.0).abs() < 1e-6);
        assert!((film.solids_fraction - 0.22).abs() < 1e-12);
    }

    #[test]
    fn without_drain_the_solids_stay() {
        let thinning = Thinning { evaporation_exponent: 0.0, ..puddle(0.0) };
        let thinned = thinning.spin().unwrap();
        for time_s in [1.0, 20.0, 59.0] {
            let solids_um = thinned.film(time_s).solids_um();
            assert!((solids_um / 22.0 - 1.0).abs() < 1e-5, "{solids_um} at {time_s} s");
        }
    }

    #[test]
    fn the_integrator_has_converged() {
        for speed_rpm in [500.0, 1000.0, 4000.0, 10_000.0] {
            let ours = puddle(speed_rpm).spin().unwrap().end().solids_um();
            let fine = Thinning { tolerance: 1e-11, ..puddle(speed_rpm) }.spin().unwrap();
            let error = ours / fine.end().solids_um() - 1.0;
            assert!(error.abs() < 1e-4, "{error} at {speed_rpm} rpm");
        }
    }
}
