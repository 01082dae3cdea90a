//! Refractive index of the materials of the stack in visible light.

use super::data::{FIRST_NM, OPTICAL, STEP_NM};
use crate::thin_film::Complex;

/// A material that light meets on a wafer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OpticalMaterial {
    /// Crystalline silicon; polysilicon is taken as smooth silicon.
    Silicon,
    /// Grown oxide.
    ThermalOxide,
    /// Stoichiometric silicon nitride.
    Nitride,
    /// Novolak-type photoresist, exposed.
    Resist,
    /// Aluminum.
    Aluminum,
}

impl OpticalMaterial {
    /// Refractive index `n - i k` at one wavelength of the tables.
    pub(super) fn index(self, wavelength_idx: usize) -> Complex {
        let [si_n, si_k, al_n, al_k, resist_k] = OPTICAL[wavelength_idx];
        let squared_um = squared_um(wavelength_idx);
        match self {
            Self::Silicon => Complex::new(si_n, -si_k),
            Self::Aluminum => Complex::new(al_n, -al_k),
            Self::ThermalOxide => Complex::real(fused_silica(squared_um)),
            Self::Nitride => Complex::real(nitride(squared_um)),
            Self::Resist => Complex::new(1.604_95 + 0.014_396_2 / squared_um, -resist_k),
        }
    }
}

/// The wavelength in nm at a place of the tables.
#[expect(clippy::cast_precision_loss, reason = "at most 81")]
pub(super) fn wavelength_nm(wavelength_idx: usize) -> f64 {
    FIRST_NM + STEP_NM * wavelength_idx as f64
}

fn squared_um(wavelength_idx: usize) -> f64 {
    let um = 1e-3 * wavelength_nm(wavelength_idx);
    um * um
}

/// Index of fused silica at 20 C against the squared wavelength in um2.
///
/// I. H. Malitson, J. Opt. Soc. Am. 55, 1205 (1965) (read: refractiveindex.info database).
/// Thermal oxide on silicon is 0.003 to 0.01 higher (common practice), which is neglected.
pub(crate) fn fused_silica(squared_um: f64) -> f64 {
    let term = |strength: f64, resonance_um: f64| {
        strength * squared_um / (squared_um - resonance_um * resonance_um)
    };
    (1.0 + term(0.696_166_3, 0.068_404_3)
        + term(0.407_942_6, 0.116_241_4)
        + term(0.897_479_4, 9.896_161))
    .sqrt()
}

/// Index of silicon nitride against the squared wavelength in um2.
///
/// H. R. Philipp, J. Electrochem. Soc. 120, 295 (1973), as fitted by T. Baak, Appl. Opt. 21,
/// 1069 (1982) (read: refractiveindex.info database).
pub(crate) fn nitride(squared_um: f64) -> f64 {
    (1.0 + 2.8939 * squared_um / (squared_um - 0.139_67 * 0.139_67)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(material: OpticalMaterial, at_nm: f64, n: f64) {
        let idx = crate::num::to_count((at_nm - FIRST_NM) / STEP_NM);
        assert!((material.index(idx).re - n).abs() < 2e-4, "{material:?} at {at_nm}");
    }

    #[test]
    fn indices_are_those_of_the_sources() {
        // Values of the cited papers at the wavelengths nearest to the usual laser lines.
        check(OpticalMaterial::ThermalOxide, 550.0, 1.4599);
        check(OpticalMaterial::ThermalOxide, 635.0, 1.4570);
        check(OpticalMaterial::Nitride, 560.0, 2.0214);
        check(OpticalMaterial::Silicon, 500.0, 4.294);
    }
}
