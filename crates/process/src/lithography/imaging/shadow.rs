//! Contact and proximity printing: the shadow of the mask, with its diffraction.

use super::fresnel::fresnel;
use super::mask::Window;
use crate::num;

/// A lamp behind a mask close to the wafer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shadow {
    /// Wavelength in um.
    pub wavelength_um: f64,
    /// Half angle of the lamp's light in rad.
    pub half_angle_rad: f64,
}

/// Intensity behind the edge of a half plane that is clear for positive `w`, with
/// `w = x sqrt(2 / (lambda z))`.
///
/// # Source
/// M. Born, E. Wolf, Principles of Optics, ch. 8 (memory).
#[must_use]
pub fn knife_edge(w: f64) -> f64 {
    let [c, s] = fresnel(w);
    0.5 * ((c + 0.5) * (c + 0.5) + (s + 0.5) * (s + 0.5))
}

/// Intensity behind a slit, `distance_um` from it and `x_um` from its middle.
#[must_use]
pub fn slit(width_um: f64, x_um: f64, distance_um: f64, wavelength_um: f64) -> f64 {
    let shadow = Shadow { wavelength_um, half_angle_rad: 0.0 };
    shadow.coherent(&[[-0.5 * width_um, 0.5 * width_um]], 0.0, x_um, distance_um)
}

impl Shadow {
    /// Intensity at the places `x_um`, a distance from the mask: that of the lamp's middle,
    /// averaged over the angles of its light.
    ///
    /// # Model
    /// Scalar Fresnel diffraction; a direction of the light shifts the shadow sideways, and the
    /// directions of a section fill the angle evenly.
    ///
    /// # Validity
    /// Distances above some wavelengths; closer, the shadow is sharper than the light is.
    #[must_use]
    pub fn image(&self, window: &Window, x_um: &[f64], distance_um: f64) -> Vec<f64> {
        let across =
            if window.squares { self.at(window, &[0.0], distance_um)[0] } else { 1.0 };
        self.at(window, x_um, distance_um).into_iter().map(|i| i * across).collect()
    }

    fn at(&self, window: &Window, x_um: &[f64], distance_um: f64) -> Vec<f64> {
        let (clear, rest) = self.spread_out(window, distance_um);
        let shift_um = distance_um * num::tan(self.half_angle_rad);
        let fringe_um = (self.wavelength_um * distance_um).sqrt();
        let point = |x: f64| self.coherent(&clear, rest, x, distance_um);
        let first = x_um.iter().copied().fold(f64::INFINITY, f64::min) - shift_um;
        let last = x_um.iter().copied().fold(f64::NEG_INFINITY, f64::max) + shift_um;
        let count =
            num::to_count((last - first) / (0.03 * fringe_um).max(1e-4)).min(3000);
        if count < 2 || shift_um < 0.02 * fringe_um {
            return x_um.iter().map(|&x| point(x)).collect();
        }
        // Running integral over the places that the directions reach.
        let fine = num::linspace(first, last, count + 1);
        let step = fine[1] - fine[0];
        let mut sums = vec![0.0; fine.len()];
        let mut left = point(fine[0]);
        for i in 1..fine.len() {
            let right = point(fine[i]);
            sums[i] = sums[i - 1] + 0.5 * step * (left + right);
            left = right;
        }
        let sum = |x: f64| {
            let place = ((x - first) / step).max(0.0);
            let i = num::to_count(place).min(sums.len() - 2);
            let part = place - place.floor();
            sums[i] + (sums[i + 1] - sums[i]) * part
        };
        x_um.iter()
            .map(|&x| (sum(x + shift_um) - sum(x - shift_um)) / (2.0 * shift_um))
            .collect()
    }

    /// The intervals that matter, and the mean transmission of a repeating mask beyond them.
    fn spread_out(&self, window: &Window, distance_um: f64) -> (Vec<[f64; 2]>, f64) {
        if !window.repeats {
            return (window.clear_um.clone(), 0.0);
        }
        let reach_um = 12.0 * (self.wavelength_um * distance_um).sqrt()
            + distance_um * num::tan(self.half_angle_rad);
        let period = window.period_um;
        let periods =
            f64::from(1 + u32::try_from(num::to_count(reach_um / period)).unwrap_or(0));
        let mut clear = Vec::new();
        let mut shift = -periods;
        while shift <= periods {
            clear.extend(
                window
                    .clear_um
                    .iter()
                    .map(|[a, b]| [a + shift * period, b + shift * period]),
            );
            shift += 1.0;
        }
        let open: f64 = window.clear_um.iter().map(|[a, b]| b - a).sum();
        let end = (periods + 0.5) * period;
        clear.push([f64::NEG_INFINITY, -end]);
        clear.push([end, f64::INFINITY]);
        (clear, open / period)
    }

    /// Intensity for light straight from above. With `rest` above 0 the last two intervals let
    /// only that share of the amplitude through.
    fn coherent(
        &self,
        clear: &[[f64; 2]],
        rest: f64,
        x_um: f64,
        distance_um: f64,
    ) -> f64 {
        let scale = (2.0 / (self.wavelength_um * distance_um.max(1e-9))).sqrt();
        let (mut re, mut im) = (0.0, 0.0);
        for (i, [a, b]) in clear.iter().enumerate() {
            let share = if 0.0 < rest && clear.len() <= i + 2 { rest } else { 1.0 };
            let [c1, s1] = fresnel(scale * (x_um - a));
            let [c2, s2] = fresnel(scale * (x_um - b));
            re += share * (c1 - c2);
            im += share * (s1 - s2);
        }
        0.5 * (re * re + im * im)
    }
}
