//! The image of a projection lens by Abbe's sum over the points of the source.

use core::f64::consts::PI;

use super::mask::Window;
use crate::num;
use crate::thin_film::Complex;

/// Rings of source points unless asked otherwise; each has four times as many points on its
/// half circle. Within 2e-4 of eight times as many rings.
pub const SOURCE_RINGS: u32 = 24;

/// A lens with its condenser.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Optics {
    /// Wavelength in um.
    pub wavelength_um: f64,
    /// Numerical aperture on the wafer's side.
    pub numerical_aperture: f64,
    /// Aperture of the condenser over that of the lens.
    pub partial_coherence: f64,
    /// Distance of the wafer from the focus in um.
    pub defocus_um: f64,
    /// Rings of source points.
    pub source_rings: u32,
}

/// An image along the section as a cosine series.
#[derive(Clone, Debug)]
pub(crate) struct Harmonics {
    period_um: f64,
    /// `I(x) = sum over all k of I_k exp(2 pi i k x / L)`, of which `k >= 0` stand here.
    terms: Vec<Complex>,
}

impl Optics {
    /// Intensity at the places `x_um`.
    ///
    /// # Model
    /// `I(x) = sum_s w_s |sum_m c_m P(m/L + s) exp(2 pi i m x/L)|^2`; the pupil `P` is 1 up to
    /// `NA/lambda`, with the phase `2 pi dz (sqrt(1/lambda^2 - q^2) - 1/lambda)` of a defocus.
    /// The orders `c_m` of clear intervals are exact.
    ///
    /// # Source
    /// M. Born, E. Wolf, Principles of Optics, 10.5-10.6; H. H. Hopkins, Proc. R. Soc. A 217,
    /// 408 (1953) (memory).
    ///
    /// # Validity
    /// Scalar light, thin mask, no aberration, no obliquity: apertures below about 0.6.
    #[must_use]
    pub fn image(&self, window: &Window, x_um: &[f64]) -> Vec<f64> {
        let harmonics = self.harmonics(window);
        x_um.iter().map(|&x| harmonics.at(x)).collect()
    }

    pub(crate) fn harmonics(&self, window: &Window) -> Harmonics {
        let period_um = window.period_um;
        let cut_off = self.numerical_aperture / self.wavelength_um;
        let reach = whole((1.0 + self.partial_coherence) * cut_off * period_um) + 1;
        let orders: Vec<Complex> = (-reach..=reach).map(|m| order(window, m)).collect();
        let orders = Orders { orders, reach, squares: window.squares };
        let width = usize::try_from(whole(2.0 * cut_off * period_um)).unwrap_or(0) + 2;
        let mut terms = vec![Complex::ZERO; width];
        let mut amplitudes = Vec::with_capacity(width);
        let points = self.source();
        for &[sx, sy] in &points {
            self.amplitudes(&orders, period_um, [sx, sy], &mut amplitudes);
            let n = amplitudes.len();
            for (k, term) in terms.iter_mut().enumerate().take(n) {
                let (mut re, mut im) = (0.0, 0.0);
                for (a, b) in amplitudes[k..].iter().zip(&amplitudes) {
                    re += a.re * b.re + a.im * b.im;
                    im += a.im * b.re - a.re * b.im;
                }
                *term = *term + Complex::new(re, im);
            }
        }
        let weight = 1.0 / to_float(points.len());
        for term in &mut terms {
            *term = *term * weight;
        }
        Harmonics { period_um, terms }
    }

    /// Amplitudes of the orders that the lens takes in from one source point, lowest first.
    fn amplitudes(
        &self,
        orders: &Orders,
        period_um: f64,
        [sx, sy]: [f64; 2],
        amplitudes: &mut Vec<Complex>,
    ) {
        amplitudes.clear();
        let cut_off = self.numerical_aperture / self.wavelength_um;
        let rows = if orders.squares { -orders.reach..=orders.reach } else { 0..=0 };
        // With squares any row may be the widest: leave room for every order.
        let widest = if orders.squares { cut_off } else { half_chord(cut_off, sy) };
        let (first, last) =
            (-whole((widest + sx) * period_um), whole((widest - sx) * period_um));
        for m in first..=last {
            let qx = float(m) / period_um + sx;
            let mut sum = Complex::ZERO;
            for n in rows.clone() {
                let qy = float(n) / period_um + sy;
                let q2 = qx * qx + qy * qy;
                if q2 <= cut_off * cut_off {
                    let share = if orders.squares { orders.get(n).re } else { 1.0 };
                    sum = sum + self.pupil(q2) * share;
                }
            }
            amplitudes.push(sum * orders.get(m));
        }
    }

    /// The pupil's factor inside its rim, `q2` the squared spatial frequency.
    fn pupil(&self, q2: f64) -> Complex {
        if self.defocus_um == 0.0 {
            return Complex::ONE;
        }
        let full = 1.0 / self.wavelength_um;
        let phase =
            2.0 * PI * self.defocus_um * ((full * full - q2).max(0.0).sqrt() - full);
        Complex::new(num::cos(phase), num::sin(phase))
    }

    /// Equal-area points of the source's upper half: a mask that is the same across the section
    /// looks the same from the lower one.
    fn source(&self) -> Vec<[f64; 2]> {
        if self.partial_coherence == 0.0 {
            return vec![[0.0, 0.0]];
        }
        let radius =
            self.partial_coherence * self.numerical_aperture / self.wavelength_um;
        let (rings, spokes) = (f64::from(self.source_rings), 4 * self.source_rings);
        let mut points = Vec::new();
        for ring in 0..self.source_rings {
            let r = radius * ((f64::from(ring) + 0.5) / rings).sqrt();
            for spoke in 0..spokes {
                let angle = PI * (f64::from(spoke) + 0.5) / f64::from(spokes);
                points.push([r * num::cos(angle), r * num::sin(angle)]);
            }
        }
        points
    }
}

impl Harmonics {
    /// The intensity at a place.
    pub(crate) fn at(&self, x_um: f64) -> f64 {
        let angle = 2.0 * PI * x_um / self.period_um;
        let turn = Complex::new(num::cos(angle), num::sin(angle));
        let (mut power, mut sum) = (Complex::ONE, 0.0);
        for (k, term) in self.terms.iter().enumerate() {
            let share = term.re * power.re - term.im * power.im;
            sum += if k == 0 { share } else { 2.0 * share };
            power = power * turn;
        }
        sum.max(0.0)
    }
}

/// The Fourier coefficients of a mask from `-reach` to `reach`.
struct Orders {
    orders: Vec<Complex>,
    reach: i32,
    squares: bool,
}

impl Orders {
    fn get(&self, m: i32) -> Complex {
        let place = usize::try_from(m + self.reach).unwrap_or(usize::MAX);
        self.orders.get(place).copied().unwrap_or(Complex::ZERO)
    }
}

/// The Fourier coefficient `m` of the clear intervals of a period.
fn order(window: &Window, m: i32) -> Complex {
    let period = window.period_um;
    let turn = -2.0 * PI * float(m) / period;
    let mut sum = Complex::ZERO;
    for [a, b] in window.one_period() {
        if b <= a {
            continue;
        }
        sum = sum
            + if m == 0 {
                Complex::real((b - a) / period)
            } else {
                let half = 0.5 * turn * (b - a);
                let (size, angle) =
                    (num::sin(half) / (half * period) * (b - a), 0.5 * turn * (a + b));
                Complex::new(size * num::cos(angle), size * num::sin(angle))
            };
    }
    sum
}

fn half_chord(radius: f64, off: f64) -> f64 {
    (radius * radius - off * off).max(0.0).sqrt()
}

/// The largest whole number not above, for the counts of orders.
#[expect(clippy::cast_possible_truncation, reason = "clamped first")]
fn whole(value: f64) -> i32 {
    value.floor().clamp(-1e6, 1e6) as i32
}

fn float(value: i32) -> f64 {
    f64::from(value)
}

#[expect(clippy::cast_precision_loss, reason = "some thousand points")]
fn to_float(count: usize) -> f64 {
    count as f64
}
