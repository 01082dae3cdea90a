//! Kink and tail of heavily doped phosphorus.
//!
//! R. B. Fair, J. C. C. Tsai, J. Electrochem. Soc. 124, 1107, 1977 (memory, 40 %): near the
//! surface phosphorus moves with doubly charged defects; where the electrons fall below a limit
//! the defects let go of it and speed up the tail. Today the tail is seen as the work of the
//! interstitials that the surface zone sends out; the formulas still describe it.

use super::diffusivity::intrinsic_cm3;
use super::solver::{ChargeComponents, electrons};
use crate::num::exp;
use crate::units::Temperature;

/// The tail grows at most this much faster than intrinsic diffusion (project choice).
pub(super) const MOST: f64 = 100.0;
/// Inactive part of the surface zone: `C = n + 2.04e-41 n^3` (900 to 1050 C).
pub(super) const PAIRS_CM6: f64 = 2.04e-41;

/// The model at one temperature and surface concentration.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PhosphorusTail {
    /// Electrons at the kink per cm3.
    pub kink_cm3: f64,
    /// Electrons at the surface per cm3.
    pub surface_electrons_cm3: f64,
    /// Diffusivity in the tail over the intrinsic part `D0`; 1 without a tail.
    pub enhancement: f64,
    components: ChargeComponents,
    intrinsic_cm3: f64,
}

impl PhosphorusTail {
    /// The model for phosphorus of these components, held at `surface_cm3`.
    #[must_use]
    pub fn new(
        components: ChargeComponents,
        temperature: Temperature,
        surface_cm3: f64,
    ) -> Self {
        let kt = temperature.to_kt_ev();
        let ni = intrinsic_cm3(temperature);
        let kink_cm3 = 4.65e21 * exp(-0.39 / kt);
        let surface = electrons_of(surface_cm3);
        let d0 = components.neutral_cm2_s;
        let tail = d0
            + components.single_cm2_s * surface * surface * surface
                / (kink_cm3 * kink_cm3 * ni)
                * (1.0 + exp(0.3 / kt));
        let enhancement =
            if kink_cm3 < surface { (tail / d0).clamp(1.0, MOST) } else { 1.0 };
        Self {
            kink_cm3,
            surface_electrons_cm3: surface,
            enhancement,
            components,
            intrinsic_cm3: ni,
        }
    }

    /// True if the surface zone is heavy enough for a kink.
    #[must_use]
    pub fn has_kink(&self) -> bool {
        self.kink_cm3 < self.surface_electrons_cm3
    }

    /// Active part of a concentration per cm3.
    #[must_use]
    pub fn active_cm3(&self, concentration_cm3: f64) -> f64 {
        electrons_of(concentration_cm3)
    }

    /// `D` in `J = -D dC/dx`: plateau above the kink, tail below it.
    #[must_use]
    pub fn diffusivity_cm2_s(&self, concentration_cm3: f64, background_cm3: f64) -> f64 {
        let n = electrons_of(concentration_cm3);
        let (ratio, sensitivity) = electrons(n + background_cm3, self.intrinsic_cm3);
        let parts = &self.components;
        let d = if self.has_kink() && n < self.kink_cm3 {
            self.enhancement * parts.neutral_cm2_s
        } else if self.has_kink() {
            parts.neutral_cm2_s + parts.double_cm2_s * ratio * ratio
        } else {
            parts.at(ratio)
        };
        let slope = 1.0 / (1.0 + 3.0 * PAIRS_CM6 * n * n);
        d * slope * (1.0 + n * sensitivity)
    }
}

/// Electrons `n` with `C = n + 2.04e-41 n^3`.
fn electrons_of(concentration_cm3: f64) -> f64 {
    // Newton from above on a convex increasing function: falls monotonically to the root.
    let mut n = concentration_cm3;
    for _ in 0..60 {
        let step = (n + PAIRS_CM6 * n * n * n - concentration_cm3)
            / (1.0 + 3.0 * PAIRS_CM6 * n * n);
        n -= step;
        if step.abs() <= 1e-13 * n {
            break;
        }
    }
    n
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vocabulary::{DiffusivitySet, Dopant};

    #[test]
    fn kink_and_tail_at_1000_c() {
        let t = Temperature::celsius(1000.0);
        let parts = DiffusivitySet::Fair1981
            .diffusivity(Dopant::Phosphorus)
            .unwrap()
            .components(t);
        let tail = PhosphorusTail::new(parts, t, 4.7e20);
        assert!((tail.kink_cm3 / 1.3e20 - 1.0).abs() < 0.03);
        let n = tail.surface_electrons_cm3;
        assert!((n + 2.04e-41 * n * n * n - 4.7e20).abs() < 1e9);
        assert!(tail.has_kink());
        assert!((20.0..=100.0).contains(&tail.enhancement), "{}", tail.enhancement);
        // Below the kink the tail is faster than the plateau.
        assert!(
            10.0 * tail.diffusivity_cm2_s(1e18, 0.0) > tail.diffusivity_cm2_s(3e20, 0.0)
        );
        // A light surface has no kink and diffuses as always.
        let light = PhosphorusTail::new(parts, t, 5e19);
        assert!(!light.has_kink() && (light.enhancement - 1.0).abs() < 1e-12);
        assert!((light.diffusivity_cm2_s(1e15, 0.0) / parts.at(1.0) - 1.0).abs() < 1e-3);
    }
}
