//! A film of doped glass as the source: it feeds the silicon through its own diffusion.
//!
//! Two media in contact (J. Crank, The Mathematics of Diffusion, 2nd ed. 1975, ch. 3; memory),
//! as used for doped oxides by M. L. Barry and P. Olofsen, J. Electrochem. Soc. 116, 854, 1969
//! (memory). While the glass is thick compared with its own diffusion the surface stays at
//! `Cs = Cg / (1/m + sqrt(D/Dg))`; then it falls. The film with a sealed top is summed as a
//! series of reflections (derived here by the Laplace transform).

use super::mask::oxide_diffusivity;
use super::segregation::segregation;
use crate::num::{erfc, exp};
use crate::units::Temperature;
use crate::vocabulary::{BoronSegregation, Dopant, Orientation};

/// Donors in silicon over donors in the glass (memory, factor 3; see `segregation`).
const DONORS: f64 = 10.0;

/// A doped glass film over silicon, both with constant diffusivity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GlassSource {
    /// Dopant in the glass per cm3.
    pub glass_cm3: f64,
    /// Thickness of the film in um.
    pub thickness_um: f64,
    /// `sqrt(Dg t)` in the glass in um.
    pub glass_root_um: f64,
    /// `sqrt(D t)` in the silicon in um.
    pub root_dt_um: f64,
    /// Concentration in the silicon over that in the glass at their contact.
    pub segregation: f64,
}

impl GlassSource {
    /// A film of `glass_cm3` and `thickness_um` over silicon in which the dopant spreads by
    /// `root_dt_um`; `None` for a dopant of which nothing is known in glass.
    pub(super) fn new(
        dopant: Dopant,
        temperature: Temperature,
        time_s: f64,
        (glass_cm3, thickness_um): (f64, f64),
        root_dt_um: f64,
    ) -> Option<Self> {
        if dopant.is_diffusion_only() {
            return None;
        }
        let boron = BoronSegregation::Antoniadis1979;
        let segregation =
            segregation(dopant, Orientation::Face100, boron, DONORS).at(temperature);
        let in_glass = oxide_diffusivity(dopant)?.at(temperature);
        let glass_root_um = (in_glass * time_s).sqrt() * 1e4;
        Some(Self { glass_cm3, thickness_um, glass_root_um, root_dt_um, segregation })
    }

    /// The same after the share `share` of the root of time.
    #[must_use]
    pub fn earlier(&self, share: f64) -> Self {
        Self {
            glass_root_um: share * self.glass_root_um,
            root_dt_um: share * self.root_dt_um,
            ..*self
        }
    }

    /// `sqrt(D/Dg)`.
    #[must_use]
    pub fn root_ratio(&self) -> f64 {
        self.root_dt_um / self.glass_root_um
    }

    /// Surface concentration per cm3 while the glass is thick.
    #[must_use]
    pub fn first_surface_cm3(&self) -> f64 {
        self.glass_cm3 / (1.0 / self.segregation + self.root_ratio())
    }

    /// Concentration per cm3 at a depth in um.
    #[must_use]
    pub fn concentration_cm3(&self, depth_um: f64) -> f64 {
        let x = depth_um / (2.0 * self.root_dt_um);
        self.sum(|behind| erfc(x + behind))
    }

    /// Dose per cm2 in the silicon.
    #[must_use]
    pub fn dose_cm2(&self) -> f64 {
        let root_pi = core::f64::consts::PI.sqrt();
        let length_cm = 2.0 * self.root_dt_um * 1e-4;
        length_cm * self.sum(|z| exp(-z * z) / root_pi - z * erfc(z))
    }

    /// All that the glass held per cm2.
    #[must_use]
    pub fn content_cm2(&self) -> f64 {
        self.glass_cm3 * self.thickness_um * 1e-4
    }

    /// Surface concentration at the end over that at the beginning.
    #[must_use]
    pub fn left(&self) -> f64 {
        self.concentration_cm3(0.0) / self.first_surface_cm3()
    }

    /// Sum over the reflections at the top of the film.
    fn sum(&self, part: impl Fn(f64) -> f64) -> f64 {
        let (inverse_m, k) = (1.0 / self.segregation, self.root_ratio());
        let reflected = (inverse_m - k) / (inverse_m + k);
        let step = self.thickness_um / self.glass_root_um;
        let (mut sum, mut weight, mut here) = (0.0, 1.0, part(0.0));
        for n in 1..2000_u32 {
            let next = part(f64::from(n) * step);
            sum += weight * (here - next);
            weight *= reflected;
            here = next;
            if next.abs() < 1e-13 || weight.abs() < 1e-13 {
                break;
            }
        }
        self.first_surface_cm3() * (sum + weight * here)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::num::linspace;

    fn film(thickness_um: f64) -> GlassSource {
        GlassSource {
            glass_cm3: 1e21,
            thickness_um,
            glass_root_um: 0.02,
            root_dt_um: 0.2,
            segregation: 10.0,
        }
    }

    #[test]
    fn thick_glass_is_a_constant_source() {
        let thick = film(1.0);
        // 1e21 / (0.1 + 10) = 9.90e19.
        assert!((thick.first_surface_cm3() / 9.901e19 - 1.0).abs() < 1e-4);
        assert!((thick.left() - 1.0).abs() < 1e-12);
        let erfc_dose =
            2.0 * thick.first_surface_cm3() * 0.2e-4 / core::f64::consts::PI.sqrt();
        assert!((thick.dose_cm2() / erfc_dose - 1.0).abs() < 1e-9);
    }

    #[test]
    fn thin_glass_gives_what_it_holds() {
        for thickness_um in [1.0, 0.05, 0.02, 0.005] {
            let film = film(thickness_um);
            let x = linspace(0.0, 2.4, 4001);
            let c: Vec<f64> = x.iter().map(|&x| film.concentration_cm3(x)).collect();
            let mut sum = 0.0;
            for (x, c) in x.windows(2).zip(c.windows(2)) {
                sum += 0.5 * (x[1] - x[0]) * 1e-4 * (c[0] + c[1]);
            }
            assert!((sum / film.dose_cm2() - 1.0).abs() < 1e-4, "{thickness_um}");
            assert!(film.dose_cm2() < film.content_cm2());
            assert!(c.windows(2).all(|c| c[1] <= c[0] * (1.0 + 1e-9)));
        }
        // Far beyond its own diffusion the film has given nearly all of its 5e14.
        let spent = film(0.002);
        assert!(0.95 < spent.dose_cm2() / spent.content_cm2());
        assert!(spent.left() < 0.3);
    }
}
