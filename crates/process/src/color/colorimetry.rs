//! From a reflected spectrum to a color on the screen.

use super::data::OBSERVER;
use super::optical::OpticalMaterial;
use super::reflectance::Stack;
use crate::num;
use crate::units::Length;
use crate::vocabulary::words;

words!(
    /// The light under which the wafer is seen.
    Illuminant {
        /// Daylight, CIE D65.
        D65 = "d65", "daylight (CIE D65)";
        /// Cool white fluorescent lamp, CIE FL2.
        Fl2 = "fl2", "cool white fluorescent lamp (CIE FL2)";
        /// Daylight fluorescent lamp, CIE FL7: the light of the published chart.
        Fl7 = "fl7", "daylight fluorescent lamp (CIE FL7)";
    }
);

/// CIE 1931 tristimulus values, a perfect white having `y` = 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tristimulus {
    /// X.
    pub x: f64,
    /// Y, the luminance.
    pub y: f64,
    /// Z.
    pub z: f64,
}

/// The sums over the wavelengths that a color is made of.
#[derive(Clone, Copy, Default)]
struct SpectralSums {
    xyz: [f64; 3],
    white: f64,
}

impl SpectralSums {
    fn add(&mut self, wavelength_idx: usize, reflectance: f64, illuminant: Illuminant) {
        let [x_bar, y_bar, z_bar, d65, fl2, fl7] = OBSERVER[wavelength_idx];
        let power = match illuminant {
            Illuminant::D65 => d65,
            Illuminant::Fl2 => fl2,
            Illuminant::Fl7 => fl7,
        };
        let light = power * reflectance;
        self.xyz[0] += light * x_bar;
        self.xyz[1] += light * y_bar;
        self.xyz[2] += light * z_bar;
        self.white += power * y_bar;
    }

    fn tristimulus(&self) -> Tristimulus {
        let [x, y, z] = self.xyz.map(|sum| sum / self.white);
        Tristimulus { x, y, z }
    }
}

/// White of D65 as the 5 nm sums give it.
pub(super) const D65_WHITE: [f64; 3] = [0.950_43, 1.0, 1.088_80];

/// Luminance at which bare silicon is shown: the eye adapts to the wafer (model choice).
pub(super) const BARE_SILICON_LUMINANCE: f64 = 0.60;

/// Bradford cone response matrix: K. M. Lam, thesis, University of Bradford (1985), as used in
/// CIECAM97s (memory).
const BRADFORD: [[f64; 3]; 3] =
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]];

/// XYZ to linear sRGB: IEC 61966-2-1 (1999) (memory).
const TO_LINEAR_SRGB: [[f64; 3]; 3] = [
    [3.240_454_2, -1.537_138_5, -0.498_531_4],
    [-0.969_266_0, 1.876_010_8, 0.041_556_0],
    [0.055_643_4, -0.204_025_9, 1.057_225_2],
];

impl Tristimulus {
    /// Color of a stack under a light, against a perfect white.
    ///
    /// # Model
    /// `X = sum(R S x) / sum(S y)` and so on, sums in steps of 5 nm from 380 to 780 nm.
    ///
    /// # Validity
    /// Films up to about 3 um: beyond, real films show gray where the sums still show color.
    #[must_use]
    pub fn of_stack(stack: &Stack<'_>, illuminant: Illuminant) -> Self {
        let mut sums = SpectralSums::default();
        for idx in 0..OBSERVER.len() {
            sums.add(idx, stack.reflectance(idx), illuminant);
        }
        sums.tristimulus()
    }

    /// Colors of a stack with one more film on top, at `count` thicknesses from 0 in steps.
    pub(super) fn under_a_film(
        stack: &Stack<'_>,
        film: OpticalMaterial,
        step: Length,
        count: usize,
        illuminant: Illuminant,
    ) -> Vec<Self> {
        let mut sums = vec![SpectralSums::default(); count];
        for idx in 0..OBSERVER.len() {
            let reflectances = stack.under_a_film(film, step, count, idx);
            for (sum, reflectance) in sums.iter_mut().zip(reflectances) {
                sum.add(idx, reflectance, illuminant);
            }
        }
        sums.iter().map(SpectralSums::tristimulus).collect()
    }

    /// Color of bare silicon, seen vertically.
    #[must_use]
    pub fn of_bare_silicon(illuminant: Illuminant) -> Self {
        let bare =
            Stack { films: &[], substrate: OpticalMaterial::Silicon, angle_rad: 0.0 };
        Self::of_stack(&bare, illuminant)
    }

    /// The color as it looks to an eye adapted to bare silicon.
    ///
    /// # Model
    /// Bradford adaptation that turns bare silicon into the neutral of D65 at luminance 0.60.
    /// Absolute colors look dull and bluish beside what one sees at the bench.
    #[must_use]
    pub fn adapted_to_silicon(self, silicon: Self) -> Self {
        let source =
            multiply(&BRADFORD, [silicon.x / silicon.y, 1.0, silicon.z / silicon.y]);
        let white = multiply(&BRADFORD, D65_WHITE);
        let cone = multiply(&BRADFORD, [self.x, self.y, self.z]);
        let gain = BARE_SILICON_LUMINANCE / silicon.y;
        let scaled = [
            gain * cone[0] * white[0] / source[0],
            gain * cone[1] * white[1] / source[1],
            gain * cone[2] * white[2] / source[2],
        ];
        let [x, y, z] = multiply(&inverse(&BRADFORD), scaled);
        Self { x, y, z }
    }

    /// The color in sRGB, 8 bits a channel.
    ///
    /// Colors outside the gamut move toward the gray of the same luminance, then are cut off.
    #[must_use]
    pub fn to_srgb(self) -> [u8; 3] {
        self.to_srgb_shares().map(to_byte)
    }

    /// The color in sRGB, each channel from 0 to 1, moved into the gamut as in
    /// [`Self::to_srgb`].
    #[must_use]
    pub fn to_srgb_shares(self) -> [f64; 3] {
        let linear = multiply(&TO_LINEAR_SRGB, [self.x, self.y, self.z]);
        let mut t = 1.0_f64;
        for v in linear {
            let away = v - self.y;
            if 1.0 < v && 0.0 < away {
                t = t.min(((1.0 - self.y) / away).max(0.0));
            } else if v < 0.0 && away < 0.0 {
                t = t.min((-self.y / away).max(0.0));
            }
        }
        linear.map(|v| coded(self.y + t * (v - self.y)))
    }

    /// The color in sRGB as `#rrggbb`.
    #[must_use]
    pub fn to_hex(self) -> String {
        let [r, g, b] = self.to_srgb();
        format!("#{r:02x}{g:02x}{b:02x}")
    }

    /// CIELAB hue angle against the white of D65, in degrees from 0 to 360.
    ///
    /// CIE 015 (2004): `a* = 500 (f(X/Xn) - f(Y/Yn))`, `b* = 200 (f(Y/Yn) - f(Z/Zn))` (memory).
    #[must_use]
    pub fn hue_deg(self) -> f64 {
        let f = |v: f64| {
            if v > 216.0 / 24_389.0 {
                num::cbrt(v)
            } else {
                v * 24_389.0 / (27.0 * 116.0) + 16.0 / 116.0
            }
        };
        let (fx, fy, fz) = (
            f(self.x / D65_WHITE[0]),
            f(self.y / D65_WHITE[1]),
            f(self.z / D65_WHITE[2]),
        );
        num::atan2(200.0 * (fy - fz), 500.0 * (fx - fy)).to_degrees().rem_euclid(360.0)
    }
}

/// Linear light to an sRGB channel, cut off at 0 and 1 (IEC 61966-2-1, 1999; memory).
fn coded(linear: f64) -> f64 {
    let v = linear.clamp(0.0, 1.0);
    if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * num::pow(v, 1.0 / 2.4) - 0.055 }
}

/// A channel in 8 bits.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=255 first"
)]
fn to_byte(share: f64) -> u8 {
    (255.0 * share + 0.5).floor().clamp(0.0, 255.0) as u8
}

fn multiply(m: &[[f64; 3]; 3], v: [f64; 3]) -> [f64; 3] {
    m.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
}

/// Inverse of a 3 by 3 matrix by cofactors.
fn inverse(m: &[[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let minor = |r: usize, c: usize| {
        let (r1, r2, c1, c2) = ((r + 1) % 3, (r + 2) % 3, (c + 1) % 3, (c + 2) % 3);
        m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1]
    };
    let determinant =
        m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
    core::array::from_fn(|r| core::array::from_fn(|c| minor(c, r) / determinant))
}

#[cfg(test)]
mod tests {
    use super::super::data::COUNT;
    use super::*;

    #[test]
    fn the_white_is_that_of_the_tables() {
        let sums = OBSERVER.iter().fold([0.0; 3], |sum, row| {
            [sum[0] + row[3] * row[0], sum[1] + row[3] * row[1], sum[2] + row[3] * row[2]]
        });
        assert_eq!(OBSERVER.len(), COUNT);
        for (sum, white) in sums.iter().zip(D65_WHITE) {
            assert!((sum / sums[1] - white).abs() < 1e-5);
        }
    }

    #[test]
    fn bare_silicon_is_neutral_after_adaptation() {
        for illuminant in [Illuminant::D65, Illuminant::Fl2, Illuminant::Fl7] {
            let silicon = Tristimulus::of_bare_silicon(illuminant);
            let [r, g, b] = silicon.adapted_to_silicon(silicon).to_srgb();
            assert!(r.abs_diff(g) <= 1 && g.abs_diff(b) <= 1, "{r} {g} {b}");
        }
    }

    #[test]
    fn colors_outside_the_gamut_keep_their_luminance_direction() {
        let green = Tristimulus { x: 0.1, y: 0.6, z: 0.1 };
        let [r, g, b] = green.to_srgb();
        assert!(r < g && b < g);
        assert_eq!(Tristimulus { x: 5.0, y: 5.0, z: 5.0 }.to_srgb(), [255; 3]);
        assert_eq!(Tristimulus { x: 0.0, y: 0.0, z: 0.0 }.to_srgb(), [0; 3]);
    }
}
