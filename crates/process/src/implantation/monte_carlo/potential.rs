//! The force between two atoms: Coulomb's law, screened by their electrons.

use crate::num::{exp, pow};

/// `e^2/(4 pi eps0)` in eV nm (exact constants of the SI and the permittivity of CODATA 2018;
/// memory).
pub(super) const COULOMB_EV_NM: f64 = 1.439_964_5;
/// Radius of the hydrogen atom in nm (CODATA 2018; memory).
pub(super) const BOHR_NM: f64 = 0.052_917_721;

/// Heights and slopes of the four exponentials of the universal screening function
/// (J. F. Ziegler, J. P. Biersack, U. Littmark, The Stopping and Range of Ions in Solids, vol. 1,
/// Pergamon, 1985, ch. 2; memory).
pub(super) const UNIVERSAL: [[f64; 2]; 4] =
    [[0.1818, 3.2], [0.5099, 0.9423], [0.2802, 0.4028], [0.02817, 0.2016]];

/// The universal screening function at a distance in screening lengths, and its slope.
pub(super) fn screening(distance: f64) -> [f64; 2] {
    UNIVERSAL.iter().fold([0.0, 0.0], |[value, slope], &[height, rate]| {
        let term = height * exp(-rate * distance);
        [value + term, slope - rate * term]
    })
}

/// Factor of the universal screening length (Ziegler, Biersack, Littmark 1985; memory).
pub(super) const SCREENING: f64 = 0.8854;
/// Power of the atomic numbers in it (same source).
pub(super) const SCREENING_POWER: f64 = 0.23;

/// Universal screening length in nm of two atoms with these numbers:
/// `0.8854 a0/(Z1^0.23 + Z2^0.23)` (Ziegler, Biersack, Littmark 1985; memory).
pub(super) fn screening_length_nm(first: f64, second: f64) -> f64 {
    SCREENING * BOHR_NM / (pow(first, SCREENING_POWER) + pow(second, SCREENING_POWER))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_screening_begins_at_one_and_falls() {
        let [at_zero, _] = screening(0.0);
        // The published heights sum to 1.00007.
        assert!((at_zero - 1.0).abs() < 1e-4);
        let mut last = at_zero;
        for k in 1..60 {
            let x = 0.5 * f64::from(k);
            let [value, slope] = screening(x);
            assert!(value < last && slope < 0.0);
            let h = 1e-5;
            let numeric = (screening(x + h)[0] - screening(x - h)[0]) / (2.0 * h);
            assert!((slope / numeric - 1.0).abs() < 1e-6);
            last = value;
        }
    }
}
