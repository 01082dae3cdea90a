//! The textbook profiles of constant diffusivity: error function, Gaussian, and the two in turn.
//!
//! J. Crank, The Mathematics of Diffusion, 2nd ed. 1975, ch. 2 and 3 (memory).

use crate::num::{atan2, bisect, cos, erf, erfc, exp, ln};

/// Constant source: `C = Cs erfc(x / 2 sqrt(Dt))`. Lengths in um, doses per cm2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ConstantSource {
    /// Surface concentration per cm3.
    pub surface_cm3: f64,
    /// `sqrt(D t)` in um.
    pub root_dt_um: f64,
}

impl ConstantSource {
    /// Concentration per cm3 at a depth in um.
    #[must_use]
    pub fn concentration_cm3(&self, depth_um: f64) -> f64 {
        self.surface_cm3 * erfc(depth_um / (2.0 * self.root_dt_um))
    }

    /// Dose per cm2: `2 Cs sqrt(Dt/pi)`.
    #[must_use]
    pub fn dose_cm2(&self) -> f64 {
        2.0 * self.surface_cm3 * self.root_dt_um * 1e-4 / core::f64::consts::PI.sqrt()
    }

    /// Depth in um where the concentration equals that of the substrate: `2 sqrt(Dt)
    /// erfc^-1(Cb/Cs)`; `None` if the surface is not above it.
    #[must_use]
    pub fn junction_um(&self, background_cm3: f64) -> Option<f64> {
        inverse_erfc(background_cm3 / self.surface_cm3).map(|y| 2.0 * self.root_dt_um * y)
    }
}

/// Number `y` with `erfc(y) = value`, for values between 1e-300 and 1; `None` outside.
#[must_use]
pub fn inverse_erfc(value: f64) -> Option<f64> {
    if !(1e-300..1.0).contains(&value) {
        return None;
    }
    bisect(|y| erfc(y) - value, 0.0, 26.5).ok()
}

/// Limited source under a closed surface: a Gaussian and its mirror image. With range and
/// straggle zero it is the drive-in of a dose at the surface. Lengths in um, doses per cm2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LimitedSource {
    /// Dose per cm2.
    pub dose_cm2: f64,
    /// Depth of the peak at the start in um.
    pub range_um: f64,
    /// Half width at the end in um: `sqrt(straggle^2 + 2 D t)`.
    pub width_um: f64,
}

impl LimitedSource {
    /// Concentration per cm3 at a depth in um.
    #[must_use]
    pub fn concentration_cm3(&self, depth_um: f64) -> f64 {
        let peak =
            self.dose_cm2 / ((2.0 * core::f64::consts::PI).sqrt() * self.width_um * 1e-4);
        let bell = |x: f64| {
            let u = x / self.width_um;
            exp(-0.5 * u * u)
        };
        peak * (bell(depth_um - self.range_um) + bell(depth_um + self.range_um))
    }

    /// The largest concentration per cm3: at the surface or at the range.
    #[must_use]
    pub fn largest_cm3(&self) -> f64 {
        self.concentration_cm3(0.0).max(self.concentration_cm3(self.range_um))
    }

    /// Dose per cm2 above a depth in um.
    #[must_use]
    pub fn dose_above_cm2(&self, depth_um: f64) -> f64 {
        let part = |x: f64| erf(x / (core::f64::consts::SQRT_2 * self.width_um));
        0.5 * self.dose_cm2
            * (part(depth_um - self.range_um) + part(depth_um + self.range_um))
    }

    /// Deepest depth in um where the concentration equals that of the substrate; `None` if it
    /// stays below everywhere.
    #[must_use]
    pub fn junction_um(&self, background_cm3: f64) -> Option<f64> {
        let deep = self.range_um + 40.0 * self.width_um;
        let peak = if self.range_um < self.width_um { 0.0 } else { self.range_um };
        // Logarithms keep the bisection sharp over many decades.
        bisect(
            |x| ln(self.concentration_cm3(x).max(1e-290)) - ln(background_cm3),
            peak,
            deep,
        )
        .ok()
        .filter(|x| 0.0 < *x)
    }
}

/// Predeposition and drive-in with constant diffusivities and a closed surface during the second
/// step: exact for any two times, where the Gaussian needs a long second one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoStep {
    /// Surface concentration per cm3 of the predeposition.
    pub surface_cm3: f64,
    /// `sqrt(D1 t1)` of the predeposition in um.
    pub first_root_um: f64,
    /// `sqrt(D2 t2)` of the drive-in in um.
    pub second_root_um: f64,
}

impl TwoStep {
    /// Concentration per cm3 at a depth in um.
    ///
    /// # Model
    /// `C(x) = (2 Cs/pi) Int_0^U exp(-b (1 + u^2)) / (1 + u^2) du` with `U = sqrt(D1 t1/D2 t2)`
    /// and `b = x^2 / 4(D1 t1 + D2 t2)`; with `u = tan v` the integrand is smooth on a bounded
    /// range.
    ///
    /// # Source
    /// R. C. T. Smith 1953, quoted in R. C. Jaeger, Introduction to Microelectronic Fabrication
    /// (memory).
    #[must_use]
    pub fn concentration_cm3(&self, depth_um: f64) -> f64 {
        const INTERVALS: u32 = 200;
        let (a, b) = (self.first_root_um, self.second_root_um);
        let beta = depth_um * depth_um / (4.0 * (a * a + b * b));
        let end = atan2(a, b);
        let h = end / f64::from(INTERVALS);
        let value = |i: u32| {
            let cosine = cos(h * f64::from(i));
            exp(-beta / (cosine * cosine).max(1e-300))
        };
        let mut sum = value(0) + value(INTERVALS);
        for i in 1..INTERVALS {
            sum += if i % 2 == 1 { 4.0 } else { 2.0 } * value(i);
        }
        2.0 * self.surface_cm3 / core::f64::consts::PI * sum * h / 3.0
    }

    /// Concentration per cm3 at the surface: `(2 Cs/pi) atan U`.
    #[must_use]
    pub fn surface_after_cm3(&self) -> f64 {
        2.0 * self.surface_cm3 / core::f64::consts::PI
            * atan2(self.first_root_um, self.second_root_um)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doses_and_junctions_agree_with_the_profiles() {
        let source = ConstantSource { surface_cm3: 2e20, root_dt_um: 0.034_37 };
        let junction = source.junction_um(1e15).unwrap();
        assert!((source.concentration_cm3(junction) / 1e15 - 1.0).abs() < 1e-9);
        assert!(source.junction_um(3e20).is_none());
        let limited = LimitedSource { dose_cm2: 1e14, range_um: 0.2, width_um: 0.3 };
        assert!((limited.dose_above_cm2(30.0) / 1e14 - 1.0).abs() < 1e-12);
        let junction = limited.junction_um(1e15).unwrap();
        assert!((limited.concentration_cm3(junction) / 1e15 - 1.0).abs() < 1e-9);
        assert!(limited.junction_um(1e21).is_none());
    }

    #[test]
    fn the_two_step_integral_joins_both_textbook_profiles() {
        let source = ConstantSource { surface_cm3: 2e20, root_dt_um: 0.1 };
        let two = |second_root_um: f64| TwoStep {
            surface_cm3: 2e20,
            first_root_um: 0.1,
            second_root_um,
        };
        // Hardly driven in: still the error function.
        for x in [0.0, 0.1, 0.3] {
            let ratio = two(1e-5).concentration_cm3(x) / source.concentration_cm3(x);
            assert!((ratio - 1.0).abs() < 1e-3, "{x} {ratio}");
        }
        // Driven in far: the Gaussian of the same dose.
        let end = LimitedSource {
            dose_cm2: source.dose_cm2(),
            range_um: 0.0,
            width_um: 2.0_f64.sqrt() * 2.0,
        };
        for x in [0.0, 1.0, 4.0] {
            let ratio = two(2.0).concentration_cm3(x) / end.concentration_cm3(x);
            assert!((ratio - 1.0).abs() < 0.01, "{x} {ratio}");
        }
        let two = two(0.15);
        assert!(
            (two.concentration_cm3(0.0) / two.surface_after_cm3() - 1.0).abs() < 1e-12
        );
    }

    #[test]
    fn the_course_problem_is_solved() {
        // Boron 850 C 30 min at 2e20, then 1150 C 40 min, D = 1.0 exp(-3.46/kT), n 2e15.
        let d = |celsius: f64| {
            exp(-3.46 / crate::units::Temperature::celsius(celsius).to_kt_ev())
        };
        let root_dt_um = (d(850.0) * 1800.0).sqrt() * 1e4;
        let dose_cm2 = ConstantSource { surface_cm3: 2e20, root_dt_um }.dose_cm2();
        assert!((dose_cm2 / 1.653e14 - 1.0).abs() < 0.01);
        let width_um = (2.0 * d(1150.0) * 2400.0).sqrt() * 1e4;
        let driven = LimitedSource { dose_cm2, range_um: 0.0, width_um };
        assert!((driven.concentration_cm3(0.0) / 2.547e18 - 1.0).abs() < 0.01);
        assert!((driven.junction_um(2e15).unwrap() / 1.958 - 1.0).abs() < 0.01);
    }
}
