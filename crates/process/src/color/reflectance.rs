//! How much light a stack of films sends back, at the wavelengths of the tables.

use super::data::{COUNT, FIRST_NM, STEP_NM};
use super::optical::{OpticalMaterial, wavelength_nm};
use crate::num;
use crate::thin_film::{Complex, Layer, Polarization, Wave};
use crate::units::Length;

/// One film of a stack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Film {
    /// What it is made of.
    pub material: OpticalMaterial,
    /// How thick it is.
    pub thickness: Length,
}

/// Films on a thick substrate, in air.
#[derive(Clone, Copy, Debug)]
pub struct Stack<'a> {
    /// The films, the uppermost first.
    pub films: &'a [Film],
    /// What they lie on.
    pub substrate: OpticalMaterial,
    /// Angle of incidence and of view against the normal in rad.
    pub angle_rad: f64,
}

impl Stack<'_> {
    /// Reflectance of unpolarized light at one wavelength of the tables (0 to 1).
    ///
    /// # Model
    /// Time convention `exp(+i w t)`, `N = n - i k`; each film multiplies the pair `[B, C]`,
    /// which starts as `[1, eta_substrate]`, by
    /// `[[cos d, i sin d / eta], [i eta sin d, cos d]]` with `d = 2 pi N t cos / lambda`;
    /// `r = (eta_0 B - C) / (eta_0 B + C)`, `R = |r|^2`.
    ///
    /// # Source
    /// H. A. Macleod, Thin-Film Optical Filters; M. Born, E. Wolf, Principles of Optics
    /// (memory).
    pub(super) fn reflectance(&self, wavelength_idx: usize) -> f64 {
        let across = self.polarized(wavelength_idx, Polarization::Across);
        if self.angle_rad == 0.0 {
            return across;
        }
        0.5 * (across + self.polarized(wavelength_idx, Polarization::Within))
    }

    /// Reflectance of unpolarized light at the place of the 5 nm tables (380 to 780 nm) that is
    /// nearest to a wavelength in nm.
    #[must_use]
    pub fn reflectance_at_nm(&self, wavelength_nm: f64) -> f64 {
        let place = num::to_count((wavelength_nm - FIRST_NM) / STEP_NM + 0.5);
        self.reflectance(place.min(COUNT - 1))
    }

    fn polarized(&self, wavelength_idx: usize, polarization: Polarization) -> f64 {
        let wave = Wave::new(self.angle_rad, wavelength_nm(wavelength_idx), polarization);
        let (_, eta_0) = wave.admittance(Complex::ONE);
        let [b, c] = self.fields(&wave, wavelength_idx);
        let r = (eta_0 * b - c) / (eta_0 * b + c);
        r.squared_size()
    }

    /// The pair `[B, C]` at the top of the stack.
    fn fields(&self, wave: &Wave, wavelength_idx: usize) -> [Complex; 2] {
        let upward = self.films.iter().rev().map(|film| Layer {
            index: film.material.index(wavelength_idx),
            thickness_nm: film.thickness.to_nm(),
        });
        wave.fields(self.substrate.index(wavelength_idx), upward)
    }

    /// Reflectance at one wavelength with one more film on top, at `count` thicknesses from 0
    /// in equal steps.
    ///
    /// # Model
    /// `r = (r01 + r12 e^-2id) / (1 + r01 r12 e^-2id)`, `r12` being what the film sees of all
    /// below it: the same as the matrix, with one turn of the phase a step.
    pub(super) fn under_a_film(
        &self,
        film: OpticalMaterial,
        step: Length,
        count: usize,
        wavelength_idx: usize,
    ) -> Vec<f64> {
        let mut sums = vec![0.0; count];
        let views: &[Polarization] = if self.angle_rad == 0.0 {
            &[Polarization::Across]
        } else {
            &[Polarization::Across, Polarization::Within]
        };
        for &polarization in views {
            let wave =
                Wave::new(self.angle_rad, wavelength_nm(wavelength_idx), polarization);
            let (_, eta_0) = wave.admittance(Complex::ONE);
            let (n_cos, eta) = wave.admittance(film.index(wavelength_idx));
            let [b, c] = self.fields(&wave, wavelength_idx);
            let r01 = (eta_0 - eta) / (eta_0 + eta);
            let r12 = (eta * b - c) / (eta * b + c);
            let turn = (n_cos
                * (4.0 * core::f64::consts::PI * step.to_nm() / wave.wavelength_nm))
                .turned_back();
            let mut phase = Complex::ONE;
            for sum in &mut sums {
                let below = r12 * phase;
                let r = (r01 + below) / (Complex::ONE + r01 * below);
                *sum += r.squared_size() / to_float(views.len());
                phase = phase * turn;
            }
        }
        sums
    }
}

#[expect(clippy::cast_precision_loss, reason = "1 or 2")]
fn to_float(count: usize) -> f64 {
    count as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The formula of a single film at normal incidence, derived apart from the matrix.
    fn single_film(thickness_nm: f64, idx: usize) -> f64 {
        let film = OpticalMaterial::ThermalOxide.index(idx);
        let base = OpticalMaterial::Silicon.index(idx);
        let r01 = (Complex::ONE - film) / (Complex::ONE + film);
        let r12 = (film - base) / (film + base);
        let twice =
            4.0 * core::f64::consts::PI * film.re * thickness_nm / wavelength_nm(idx);
        let turn = Complex::new(num::cos(twice), -num::sin(twice));
        ((r01 + r12 * turn) / (Complex::ONE + r01 * r12 * turn)).squared_size()
    }

    #[test]
    fn one_film_agrees_with_its_closed_formula() {
        for thickness_nm in [0.0, 10.0, 123.0, 500.0, 2000.0] {
            let films = [Film {
                material: OpticalMaterial::ThermalOxide,
                thickness: Length::nm(thickness_nm),
            }];
            let stack = Stack {
                films: &films,
                substrate: OpticalMaterial::Silicon,
                angle_rad: 0.0,
            };
            for idx in 0..COUNT {
                let error = stack.reflectance(idx) - single_film(thickness_nm, idx);
                assert!(error.abs() < 1e-12, "{thickness_nm} nm, {idx}");
            }
        }
    }

    #[test]
    fn the_view_tends_to_the_vertical_one_and_to_a_mirror() {
        let films =
            [Film { material: OpticalMaterial::Nitride, thickness: Length::nm(80.0) }];
        let at = |angle_rad: f64| {
            Stack { films: &films, substrate: OpticalMaterial::Silicon, angle_rad }
                .reflectance(30)
        };
        assert!((at(1e-5) - at(0.0)).abs() < 1e-9);
        assert!(
            0.999 < at(core::f64::consts::FRAC_PI_2 - 1e-6),
            "grazing light is reflected"
        );
    }

    #[test]
    fn a_very_thick_metal_film_is_the_bulk() {
        let films =
            [Film { material: OpticalMaterial::Aluminum, thickness: Length::um(50.0) }];
        let film =
            Stack { films: &films, substrate: OpticalMaterial::Silicon, angle_rad: 0.0 };
        let bulk =
            Stack { films: &[], substrate: OpticalMaterial::Aluminum, angle_rad: 0.0 };
        assert!((film.reflectance(40) - bulk.reflectance(40)).abs() < 1e-9);
    }
}
