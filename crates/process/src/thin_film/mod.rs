//! Plane waves in thin films by the characteristic matrix: what reflects a color from a wafer
//! and what makes standing waves in resist.

mod complex;

pub use complex::Complex;

use crate::num;

/// A layer that is the same all through.
#[derive(Clone, Copy, Debug)]
pub struct Layer {
    /// Refractive index `n - i k`.
    pub index: Complex,
    /// Thickness in nm.
    pub thickness_nm: f64,
}

/// The two ways light can swing against the plane of incidence.
#[derive(Clone, Copy, Debug)]
pub enum Polarization {
    /// Electric field across the plane of incidence.
    Across,
    /// Electric field in the plane of incidence.
    Within,
}

/// A plane wave in air.
#[derive(Clone, Copy, Debug)]
pub struct Wave {
    sine: f64,
    /// Wavelength in vacuum in nm.
    pub wavelength_nm: f64,
    polarization: Polarization,
}

impl Wave {
    /// A wave at an angle of incidence in air.
    #[must_use]
    pub fn new(angle_rad: f64, wavelength_nm: f64, polarization: Polarization) -> Self {
        Self { sine: num::sin(angle_rad), wavelength_nm, polarization }
    }

    /// `N cos` and the admittance in a medium of index `N`.
    #[must_use]
    pub fn admittance(&self, index: Complex) -> (Complex, Complex) {
        if self.sine == 0.0 {
            return (index, index);
        }
        let ratio = Complex::real(self.sine) / index;
        let cos = (Complex::ONE - ratio * ratio).sqrt();
        let n_cos = index * cos;
        // The wave fades in its direction of travel: the branch with Im(N cos) <= 0.
        let (cos, n_cos) = if 0.0 < n_cos.im {
            (Complex::ZERO - cos, Complex::ZERO - n_cos)
        } else {
            (cos, n_cos)
        };
        let eta = match self.polarization {
            Polarization::Across => n_cos,
            Polarization::Within => index / cos,
        };
        (n_cos, eta)
    }

    /// Cosine and sine of a layer's phase, and its admittance.
    #[must_use]
    pub fn through(&self, layer: Layer) -> Passage {
        let (n_cos, eta) = self.admittance(layer.index);
        let phase = n_cos
            * (2.0 * core::f64::consts::PI * layer.thickness_nm / self.wavelength_nm);
        let (cos, sin) = phase.cos_sin();
        Passage { cos, i_sin: Complex::I * sin, eta }
    }

    /// The pair `[B, C]` of electric and magnetic field at the top of layers that are given
    /// from the lowest upward.
    ///
    /// # Model
    /// Time convention `exp(+i w t)`, `N = n - i k`; each layer multiplies the pair, which
    /// starts as `[1, eta_substrate]`, by `[[cos d, i sin d / eta], [i eta sin d, cos d]]` with
    /// `d = 2 pi N t cos / lambda`.
    ///
    /// # Source
    /// H. A. Macleod, Thin-Film Optical Filters; M. Born, E. Wolf, Principles of Optics
    /// (memory).
    #[must_use]
    pub fn fields(
        &self,
        substrate: Complex,
        upward: impl Iterator<Item = Layer>,
    ) -> [Complex; 2] {
        let (_, eta_substrate) = self.admittance(substrate);
        let mut pair = [Complex::ONE, eta_substrate];
        for layer in upward {
            pair = self.through(layer).up(pair);
        }
        pair
    }
}

/// What a layer does to the fields.
#[derive(Clone, Copy, Debug)]
pub struct Passage {
    cos: Complex,
    i_sin: Complex,
    eta: Complex,
}

impl Passage {
    /// A thin slab met straight on, by cosine and sine of the real part of its phase, which many
    /// slabs of one index share, and by the small imaginary part (not above 0) of each.
    #[must_use]
    pub fn of_slab([cos, sin]: [f64; 2], im: f64, index: Complex) -> Self {
        let (cosh, sinh) = if im.abs() < 0.03 {
            let square = im * im;
            (
                1.0 + square * (0.5 + square * (1.0 / 24.0 + square / 720.0)),
                im * (1.0 + square * (1.0 / 6.0 + square / 120.0)),
            )
        } else {
            let im = im.clamp(-300.0, 300.0);
            (num::cosh(im), num::sinh(im))
        };
        // i sin(a + ib) = -cos a sinh b + i sin a cosh b.
        Self {
            cos: Complex::new(cos * cosh, -sin * sinh),
            i_sin: Complex::new(-cos * sinh, sin * cosh),
            eta: index,
        }
    }

    /// The fields above the layer from those below it.
    #[must_use]
    pub fn up(&self, [b, c]: [Complex; 2]) -> [Complex; 2] {
        [
            self.cos * b + self.i_sin * c / self.eta,
            self.i_sin * self.eta * b + self.cos * c,
        ]
    }
}
