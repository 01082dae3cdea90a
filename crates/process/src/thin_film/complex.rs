//! Complex numbers, as far as optics needs them.

use core::ops::{Add, Div, Mul, Sub};

use crate::num;

/// A complex number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Complex {
    /// Real part.
    pub re: f64,
    /// Imaginary part.
    pub im: f64,
}

impl Complex {
    /// Nothing.
    pub const ZERO: Self = Self::new(0.0, 0.0);
    /// One.
    pub const ONE: Self = Self::new(1.0, 0.0);
    /// The imaginary unit.
    pub const I: Self = Self::new(0.0, 1.0);

    /// Builds it from its parts.
    #[must_use]
    pub const fn new(re: f64, im: f64) -> Self {
        Self { re, im }
    }

    /// A real number.
    #[must_use]
    pub const fn real(re: f64) -> Self {
        Self::new(re, 0.0)
    }

    /// The square of its size.
    #[must_use]
    pub fn squared_size(self) -> f64 {
        self.re * self.re + self.im * self.im
    }

    /// The number with the other sign of the imaginary part.
    #[must_use]
    pub const fn conjugate(self) -> Self {
        Self::new(self.re, -self.im)
    }

    /// The square root whose real part is not negative.
    #[must_use]
    pub fn sqrt(self) -> Self {
        let size = self.squared_size().sqrt();
        let re = (0.5 * (size + self.re)).max(0.0).sqrt();
        let im = (0.5 * (size - self.re)).max(0.0).sqrt();
        Self::new(re, if self.im < 0.0 { -im } else { im })
    }

    /// `e^(-i z)`, of which a lossy medium (`im` below 0) makes less than 1.
    #[must_use]
    pub fn turned_back(self) -> Self {
        let size = num::exp(self.im.min(0.0));
        Self::new(size * num::cos(self.re), -size * num::sin(self.re))
    }

    /// Cosine and sine of a phase.
    ///
    /// The imaginary part is held within 300, where a film is opaque by far and the
    /// hyperbolic functions are still finite.
    #[must_use]
    pub fn cos_sin(self) -> (Self, Self) {
        let (cos, sin) = (num::cos(self.re), num::sin(self.re));
        if self.im == 0.0 {
            return (Self::real(cos), Self::real(sin));
        }
        let im = self.im.clamp(-300.0, 300.0);
        let (cosh, sinh) = (num::cosh(im), num::sinh(im));
        (Self::new(cos * cosh, -sin * sinh), Self::new(sin * cosh, cos * sinh))
    }
}

impl Add for Complex {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.re + other.re, self.im + other.im)
    }
}

impl Sub for Complex {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.re - other.re, self.im - other.im)
    }
}

impl Mul for Complex {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::new(
            self.re * other.re - self.im * other.im,
            self.re * other.im + self.im * other.re,
        )
    }
}

impl Mul<f64> for Complex {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.re * factor, self.im * factor)
    }
}

impl Div for Complex {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let size = other.squared_size();
        Self::new(
            (self.re * other.re + self.im * other.im) / size,
            (self.im * other.re - self.re * other.im) / size,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Complex, b: Complex) -> bool {
        (a - b).squared_size() < 1e-24
    }

    #[test]
    fn root_and_quotient_undo_square_and_product() {
        let (a, b) = (Complex::new(3.0, -0.5), Complex::new(0.2, 4.0));
        assert!(near((a * a).sqrt(), a));
        assert!(near(a * b / b, a));
    }

    #[test]
    fn cosine_and_sine_of_a_complex_phase() {
        // cos^2 + sin^2 = 1 holds for complex phases too.
        let (cos, sin) = Complex::new(1.2, -0.7).cos_sin();
        assert!(near(cos * cos + sin * sin, Complex::ONE));
    }
}
