//! Figures of merit of an image, and the rules of thumb of the tools.

use core::f64::consts::PI;

use crate::num;

/// `(Imax - Imin) / (Imax + Imin)`.
#[must_use]
pub fn contrast(intensity: &[f64]) -> f64 {
    let high = intensity.iter().copied().fold(0.0, f64::max);
    let low = intensity.iter().copied().fold(f64::INFINITY, f64::min);
    if 0.0 < high + low { (high - low) / (high + low) } else { 0.0 }
}

/// Size of the logarithmic slope `|dI/dx| / I` in 1/um, from the intensities at a place and
/// `step_um` to both sides of it.
#[must_use]
pub fn log_slope_per_um([left, middle, right]: [f64; 3], step_um: f64) -> f64 {
    if 0.0 < middle { ((right - left) / (2.0 * step_um * middle)).abs() } else { 0.0 }
}

/// Smallest line or space of a projection lens in um: `k1 lambda / NA`.
///
/// Lord Rayleigh (1879); `k1` 0.6-0.8 is common practice.
#[must_use]
pub fn resolution_um(k1: f64, wavelength_um: f64, numerical_aperture: f64) -> f64 {
    k1 * wavelength_um / numerical_aperture
}

/// Depth of focus to each side in um: `k2 lambda / NA^2` (Lord Rayleigh 1879; common practice).
#[must_use]
pub fn depth_of_focus_um(k2: f64, wavelength_um: f64, numerical_aperture: f64) -> f64 {
    k2 * wavelength_um / (numerical_aperture * numerical_aperture)
}

/// Smallest line or space of a shadow in um: `1.5 sqrt(lambda (s + z/2))`.
///
/// S. M. Sze (ed.), VLSI Technology; W. M. Moreau, Semiconductor Lithography (1988) (memory;
/// the factor depends on the criterion, 20 %).
#[must_use]
pub fn proximity_resolution_um(wavelength_um: f64, gap_um: f64, resist_um: f64) -> f64 {
    1.5 * (wavelength_um * (gap_um + 0.5 * resist_um)).sqrt()
}

/// Highest spatial frequency that a lens images, per um: `(1 + sigma) NA / lambda`.
#[must_use]
pub fn cut_off_per_um(
    partial_coherence: f64,
    wavelength_um: f64,
    numerical_aperture: f64,
) -> f64 {
    (1.0 + partial_coherence.min(1.0)) * numerical_aperture / wavelength_um
}

/// Modulation transfer of a round pupil in incoherent light, `nu` the spatial frequency over
/// `2 NA / lambda`: `(2/pi) (acos nu - nu sqrt(1 - nu^2))`.
///
/// J. W. Goodman, Introduction to Fourier Optics (memory).
#[must_use]
pub fn incoherent_transfer(nu: f64) -> f64 {
    if 1.0 <= nu.abs() {
        return 0.0;
    }
    let nu = nu.abs();
    2.0 / PI * (num::acos(nu) - nu * (1.0 - nu * nu).sqrt())
}
