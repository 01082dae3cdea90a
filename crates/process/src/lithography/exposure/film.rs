//! Light in a resist film: standing waves over the stack below.

use core::f64::consts::PI;

use super::line::Bleaching;
use crate::num;
use crate::thin_film::{Complex, Layer, Passage, Polarization, Wave};

/// A resist film on its stack.
#[derive(Clone, Debug)]
pub struct ResistFilm {
    /// Wavelength in nm.
    pub wavelength_nm: f64,
    /// What light and resist do to each other.
    pub bleaching: Bleaching,
    /// Thickness of the resist in um.
    pub thickness_um: f64,
    /// Sublayers in which light and photoactive compound are followed.
    pub cells: usize,
    /// Refractive index of the medium above: 1 for air.
    pub above: f64,
    /// Films below the resist, the uppermost first.
    pub below: Vec<Layer>,
    /// Index of what they lie on.
    pub substrate: Complex,
}

/// Light in a resist film, for a unit of intensity that falls on it.
#[derive(Clone, Debug)]
pub struct Light {
    /// Intensity in the middle of each sublayer, from the top: what drives the conversion.
    pub intensity: Vec<f64>,
    /// Share that is sent back.
    pub reflectance: f64,
}

impl ResistFilm {
    /// Height of a sublayer in um.
    #[must_use]
    pub fn cell_um(&self) -> f64 {
        self.thickness_um / float(self.cells)
    }

    /// Light for a remaining share of photoactive compound in each sublayer, from the top.
    ///
    /// # Model
    /// Characteristic matrices at normal incidence from the bottom up, with
    /// `k = lambda (A M + B) / (4 pi)`; `I(z) = n_r |E(z)|^2` for a unit that falls in.
    #[must_use]
    pub fn light(&self, pac: &[f64]) -> Light {
        let bottom = self.bottom();
        self.light_over(bottom, pac)
    }

    /// The fields at the resist's lower side, the electric one taken as 1.
    fn bottom(&self) -> [Complex; 2] {
        let wave = Wave::new(0.0, self.wavelength_nm, Polarization::Across);
        let mut pair = [Complex::ONE, self.substrate];
        for &layer in self.below.iter().rev() {
            let [b, c] = wave.through(layer).up(pair);
            // The ratio is all that matters: thick metal would grow beyond all numbers.
            pair = [Complex::ONE, c / b];
        }
        pair
    }

    fn light_over(&self, bottom: [Complex; 2], pac: &[f64]) -> Light {
        let half_nm = 500.0 * self.cell_um();
        let real = 2.0 * PI * self.bleaching.index * half_nm / self.wavelength_nm;
        let turn = [num::cos(real), num::sin(real)];
        let lambda_um = 1e-3 * self.wavelength_nm;
        let mut pair = bottom;
        let mut intensity = vec![0.0; pac.len()];
        for (i, &pac) in pac.iter().enumerate().rev() {
            let absorption_per_um =
                self.bleaching.bleachable_per_um * pac + self.bleaching.residual_per_um;
            let k = lambda_um * absorption_per_um / (4.0 * PI);
            let index = Complex::new(self.bleaching.index, -k);
            let im = -2.0 * PI * k * half_nm / self.wavelength_nm;
            let half = Passage::of_slab(turn, im, index);
            pair = half.up(pair);
            intensity[i] = pair[0].squared_size();
            pair = half.up(pair);
        }
        let [b, c] = pair;
        let above = Complex::real(self.above);
        let falling = (above * b + c) * (0.5 / self.above);
        let back = (above * b - c) * (0.5 / self.above);
        let scale = self.bleaching.index / (self.above * falling.squared_size());
        for value in &mut intensity {
            *value *= scale;
        }
        Light { intensity, reflectance: back.squared_size() / falling.squared_size() }
    }
}

/// Photoactive compound left in each sublayer after any dose: one column of the resist under an
/// open frame, marched in dose. Without sideways spreading of light every place of an image is
/// such a column at its own dose.
#[derive(Clone, Debug)]
pub struct BleachTable {
    film: ResistFilm,
    bottom: [Complex; 2],
    dose_mj_cm2: Vec<f64>,
    /// `-ln M`, one row a dose.
    turned: Vec<Vec<f64>>,
}

/// Steps of the dose: `E = (e^u - 1) / (2 C)` in equal steps of `u`.
const DOSE_STEP: f64 = 0.04;

impl BleachTable {
    /// The table of a film, not exposed yet.
    #[must_use]
    pub fn new(film: ResistFilm) -> Self {
        let bottom = film.bottom();
        let turned = vec![vec![0.0; film.cells]];
        Self { film, bottom, dose_mj_cm2: vec![0.0], turned }
    }

    /// The film.
    #[must_use]
    pub const fn film(&self) -> &ResistFilm {
        &self.film
    }

    /// The dose that is reached, in mJ/cm2.
    #[must_use]
    pub fn reached_mj_cm2(&self) -> f64 {
        self.dose_mj_cm2.last().copied().unwrap_or(0.0)
    }

    /// Marches on until a dose is reached.
    pub fn reach(&mut self, dose_mj_cm2: f64) {
        while self.reached_mj_cm2() < dose_mj_cm2 {
            self.step();
        }
    }

    /// One step by the midpoint rule: `d(-ln M)/dE = C I(z; M)`.
    pub fn step(&mut self) {
        let rate = self.film.bleaching.bleach_rate_cm2_mj;
        let scale = 0.5 / rate;
        let u = DOSE_STEP * float(self.dose_mj_cm2.len());
        let next = scale * num::expm1(u);
        let width = next - self.reached_mj_cm2();
        let Some(last) = self.turned.last() else { return };
        let remaining = |turned: &[f64]| -> Vec<f64> {
            turned.iter().map(|&turned| num::exp(-turned)).collect()
        };
        let advance = |light: &Light, width: f64| -> Vec<f64> {
            last.iter().zip(&light.intensity).map(|(t, i)| t + rate * width * i).collect()
        };
        let start = self.film.light_over(self.bottom, &remaining(last));
        let middle = advance(&start, 0.5 * width);
        let light = self.film.light_over(self.bottom, &remaining(&middle));
        let end = advance(&light, width);
        self.dose_mj_cm2.push(next);
        self.turned.push(end);
    }

    /// Writes the compound left after a dose, from the top down; the dose must be reached.
    pub fn pac(&self, dose_mj_cm2: f64, column: &mut [f64]) {
        let above = self.dose_mj_cm2.partition_point(|&known| known <= dose_mj_cm2);
        let i = above.clamp(1, (self.dose_mj_cm2.len() - 1).max(1)) - 1;
        let j = (i + 1).min(self.dose_mj_cm2.len() - 1);
        let span = self.dose_mj_cm2[j] - self.dose_mj_cm2[i];
        let part = if 0.0 < span {
            ((dose_mj_cm2 - self.dose_mj_cm2[i]) / span).clamp(0.0, 1.0)
        } else {
            0.0
        };
        for ((value, low), high) in
            column.iter_mut().zip(&self.turned[i]).zip(&self.turned[j])
        {
            *value = num::exp(-(low + (high - low) * part));
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "some thousand cells or steps")]
fn float(count: usize) -> f64 {
    count as f64
}
