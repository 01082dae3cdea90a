//! The Fresnel integrals.

use core::f64::consts::PI;

use crate::num;
use crate::thin_film::Complex;

/// The integrals from 0 to `w` of `cos(pi t^2 / 2)` and of `sin(pi t^2 / 2)`.
///
/// # Model
/// Power series below 1.6; above, `C + i S = (1 + i)/2 erf(z)` with `z = (1 - i) w sqrt(pi)/2`,
/// the complement by its continued fraction. To 1e-12.
///
/// # Source
/// M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 7.3.11, 7.3.13, 7.3.22 and
/// 7.1.14 (memory); checked against numerical integration.
#[must_use]
pub fn fresnel(w: f64) -> [f64; 2] {
    let size = w.abs();
    let [c, s] = if size < 1.6 {
        series(size)
    } else if 1e5 < size {
        [0.5, 0.5]
    } else {
        fraction(size)
    };
    if w < 0.0 { [-c, -s] } else { [c, s] }
}

/// `C + i S = w sum (i pi w^2/2)^n / (n! (2n + 1))`.
fn series(w: f64) -> [f64; 2] {
    let step = Complex::new(0.0, 0.5 * PI * w * w);
    let (mut power, mut sum, mut n) = (Complex::ONE, Complex::ONE, 0.0);
    loop {
        n += 1.0;
        power = power * step * (1.0 / n);
        sum = sum + power * (1.0 / (2.0 * n + 1.0));
        if power.squared_size() < 1e-34 || 60.0 < n {
            return [w * sum.re, w * sum.im];
        }
    }
}

/// The continued fraction of the complement, by the modified Lentz method.
fn fraction(w: f64) -> [f64; 2] {
    let square = PI * w * w;
    let mut b = Complex::new(1.0, -square);
    let mut c = Complex::real(1e300);
    let mut d = Complex::ONE / b;
    let mut h = d;
    let mut n = -1.0;
    for _ in 0..200 {
        n += 2.0;
        let a = -n * (n + 1.0);
        b = b + Complex::real(4.0);
        d = Complex::ONE / (d * a + b);
        c = b + Complex::real(a) / c;
        let factor = c * d;
        h = h * factor;
        if (factor - Complex::ONE).squared_size() < 1e-30 {
            break;
        }
    }
    let tail = Complex::new(w, -w) * h;
    let turn = Complex::new(num::cos(0.5 * square), num::sin(0.5 * square));
    let sum = Complex::new(0.5, 0.5) * (Complex::ONE - turn * tail);
    [sum.re, sum.im]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Simpson's rule with 20000 intervals.
    fn integrated(w: f64) -> [f64; 2] {
        let n: u32 = 20_000;
        let h = w / f64::from(n);
        let mut sums = [0.0, 0.0];
        for i in 0..=n {
            let weight = match i {
                0 => 1.0,
                i if i == n => 1.0,
                i if i % 2 == 1 => 4.0,
                _ => 2.0,
            };
            let t = h * f64::from(i);
            let phase = 0.5 * PI * t * t;
            sums[0] += weight * num::cos(phase);
            sums[1] += weight * num::sin(phase);
        }
        sums.map(|sum| sum * h / 3.0)
    }

    #[test]
    fn both_forms_are_the_integral() {
        for w in [0.01, 0.5, 1.0, 1.59, 1.61, 2.5, 4.0, 6.0] {
            let (known, here) = (integrated(w), fresnel(w));
            for i in 0..2 {
                assert!((known[i] - here[i]).abs() < 1e-10, "{w}: {known:?} {here:?}");
                assert!((fresnel(-w)[i] + here[i]).abs() < 1e-15);
            }
        }
        let far = fresnel(f64::INFINITY);
        assert!((far[0] - 0.5).abs() + (far[1] - 0.5).abs() < 1e-15);
    }
}
