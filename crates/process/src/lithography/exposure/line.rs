//! The lines of a mercury lamp, and what resist and films are for them.

use crate::color::{fused_silica, nitride};
use crate::error::RequestError;
use crate::thin_film::Complex;
use crate::vocabulary::Material;

/// A line of a mercury lamp.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MercuryLine {
    /// 435.8 nm.
    G,
    /// 404.7 nm.
    H,
    /// 365.0 nm.
    I,
}

/// How light and resist act on each other (F. H. Dill, W. P. Hornberger, P. S. Hauge,
/// J. M. Shaw, IEEE Trans. Electron Devices ED-22, 445, 1975).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bleaching {
    /// Absorption that goes with the photoactive compound, `A`, in 1/um.
    pub bleachable_per_um: f64,
    /// Absorption that stays, `B`, in 1/um.
    pub residual_per_um: f64,
    /// Rate of the conversion, `C`, in cm2/mJ.
    pub bleach_rate_cm2_mj: f64,
    /// Real refractive index.
    pub index: f64,
}

/// What a refractive index beyond the line's own tables would need.
const NO_INDEX: &str = "silicon, polysilicon, thermal_oxide, deposited_oxide, phosphorus_glass, nitride, aluminum";

impl MercuryLine {
    /// All lines, the longest first.
    pub const ALL: [Self; 3] = [Self::G, Self::H, Self::I];

    /// Wavelength in nm (memory; standard spectral data).
    #[must_use]
    pub const fn wavelength_nm(self) -> f64 {
        match self {
            Self::G => 435.8,
            Self::H => 404.7,
            Self::I => 365.0,
        }
    }

    /// Its letter.
    #[must_use]
    pub const fn letter(self) -> &'static str {
        match self {
            Self::G => "g",
            Self::H => "h",
            Self::I => "i",
        }
    }

    /// The line within 1 nm of a wavelength.
    ///
    /// # Errors
    /// [`RequestError`]: resist and films are known here for the lines only.
    pub fn near(wavelength_nm: f64) -> Result<Self, RequestError> {
        let found = Self::ALL
            .into_iter()
            .find(|line| (line.wavelength_nm() - wavelength_nm).abs() < 1.0);
        found.ok_or_else(|| {
            RequestError::conflict(
                "wavelength_nm",
                &wavelength_nm.to_string(),
                "365, 405 or 436 nm",
                &format!(
                    "wavelength_nm: {wavelength_nm} nm is no line of a mercury lamp (allowed: 365, 405 or 436 nm)"
                ),
                "set wavelength_nm to 365 (i line), 405 (h line) or 436 (g line)",
            )
        })
    }

    /// The demo resist at this line.
    ///
    /// # Source
    /// 365 nm: model choice for the lab. The others: a novolac resist of the 1970s (Dill 1975;
    /// memory, 10 %).
    #[must_use]
    pub const fn demo_resist(self) -> Bleaching {
        let (bleachable_per_um, residual_per_um, bleach_rate_cm2_mj, index) = match self {
            Self::G => (0.54, 0.03, 0.014, 1.66),
            Self::H => (0.86, 0.07, 0.018, 1.68),
            Self::I => (0.80, 0.08, 0.016, 1.70),
        };
        Bleaching { bleachable_per_um, residual_per_um, bleach_rate_cm2_mj, index }
    }

    /// Refractive index `n - i k` of what lies below the resist.
    ///
    /// # Source
    /// Silicon: D. E. Aspnes, A. A. Studna, Phys. Rev. B 27, 985 (1983) (read: table; linear
    /// between its lines); polysilicon is taken as smooth silicon. Oxides: I. H. Malitson 1965;
    /// nitride: H. R. Philipp 1973, as in the colors. Aluminum: A. D. Rakic, Appl. Opt. 34,
    /// 4755 (1995) (read: the table of the colors; 365 nm continued from 380 nm in a straight
    /// line, derived).
    ///
    /// # Errors
    /// [`RequestError`] for resist, which cannot lie below itself.
    pub fn index(self, material: Material) -> Result<Complex, RequestError> {
        let um = 1e-3 * self.wavelength_nm();
        Ok(match material {
            Material::Silicon | Material::Polysilicon => match self {
                Self::G => Complex::new(4.848, -0.181),
                Self::H => Complex::new(5.445, -0.345),
                Self::I => Complex::new(6.527, -2.667),
            },
            Material::ThermalOxide
            | Material::DepositedOxide
            | Material::PhosphorusGlass => Complex::real(fused_silica(um * um)),
            Material::Nitride => Complex::real(nitride(um * um)),
            Material::Aluminum => match self {
                Self::G => Complex::new(0.586, -5.281),
                Self::H => Complex::new(0.499, -4.896),
                Self::I => Complex::new(0.399, -4.400),
            },
            Material::Resist => {
                return Err(RequestError::conflict(
                    "material",
                    material.word(),
                    NO_INDEX,
                    &format!(
                        "material: resist cannot lie below the resist (allowed: {NO_INDEX})"
                    ),
                    "leave resist out of the stack",
                ));
            }
        })
    }
}
