//! How a dopant divides itself between silicon and the oxide that grows on it, and how slowly it
//! moves in that oxide.

use crate::num::{erfc, exp};
use crate::units::{Length, Temperature, Time};
use crate::vocabulary::{BoronSegregation, Dopant, DopingType, Orientation};

/// A segregation coefficient `m = C(silicon)/C(oxide)` with its formula and source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segregation {
    /// Prefactor of the Arrhenius form, or the coefficient itself.
    pub prefactor: f64,
    /// Energy in eV; 0 for a plain number.
    pub energy_ev: f64,
    /// Where it was published.
    pub source: &'static str,
}

impl Segregation {
    /// The coefficient at a temperature.
    #[must_use]
    pub fn at(&self, temperature: Temperature) -> f64 {
        if self.energy_ev == 0.0 {
            return self.prefactor;
        }
        self.prefactor * exp(-self.energy_ev / temperature.to_kt_ev())
    }
}

/// The segregation coefficient of a dopant at the interface.
///
/// # Model
/// Boron `m0 exp(-E/kT)`; donors one number.
///
/// # Source
/// `antoniadis_1979`: D. A. Antoniadis and co-workers, 1978 to 1979, (100), 1126 and 0.91 eV
/// (memory, 50 %); used for every face. `colby_katz_1976`: J. W. Colby, L. E. Katz, J.
/// Electrochem. Soc. 123, 409, 1976, 33.3 and 0.52 eV for (100), 20.0 for (111) (memory).
/// Donors: A. S. Grove, O. Leistiko, C. T. Sah, J. Appl. Phys. 35, 2695, 1964 (memory, factor
/// 3). Other acceptors go like boron, which also prefers the oxide (model choice; no published
/// form is at hand).
#[must_use]
pub fn segregation(
    dopant: Dopant,
    orientation: Orientation,
    boron: BoronSegregation,
    donors: f64,
) -> Segregation {
    if dopant.doping_type() == DopingType::N {
        return Segregation {
            prefactor: donors,
            energy_ev: 0.0,
            source: "Grove, Leistiko, Sah, J. Appl. Phys. 35, 2695, 1964 (10, within a factor of 3)",
        };
    }
    match boron {
        BoronSegregation::Antoniadis1979 => Segregation {
            prefactor: 1126.0,
            energy_ev: 0.91,
            source: "Antoniadis and co-workers, 1979 (±50 %)",
        },
        BoronSegregation::ColbyKatz1976 => Segregation {
            prefactor: if orientation == Orientation::Face111 { 20.0 } else { 33.3 },
            energy_ev: 0.52,
            source: "Colby, Katz, J. Electrochem. Soc. 123, 409, 1976",
        },
    }
}

/// Diffusivity of a dopant in oxide in cm2/s; `None` for indium, for which no value is at hand.
///
/// # Source
/// Ghezzo and Brown, J. Electrochem. Soc. 120, 146, 1973, and textbook tables (memory,
/// factor 3).
#[must_use]
pub fn oxide_diffusivity_cm2_s(dopant: Dopant, temperature: Temperature) -> Option<f64> {
    let (prefactor_cm2_s, energy_ev) = match dopant {
        Dopant::Boron => (3.16e-4, 3.53),
        Dopant::Phosphorus => (0.19, 4.03),
        Dopant::Arsenic => (250.0, 4.90),
        Dopant::Antimony => (1.31e16, 8.75),
        _ => return None,
    };
    Some(prefactor_cm2_s * exp(-energy_ev / temperature.to_kt_ev()))
}

/// The least oxide behind which a dopant from a source on top stays below `fraction` of its
/// concentration there.
///
/// # Model
/// `C/Cs = erfc(X / 2 sqrt(Dox t))`: diffusion in sound oxide alone. A source that turns the
/// oxide into glass gets through faster. `None` where no diffusivity is at hand or `fraction`
/// is not between 0 and 1.
#[must_use]
pub fn least_mask(
    dopant: Dopant,
    temperature: Temperature,
    time: Time,
    fraction: f64,
) -> Option<Length> {
    let d_cm2_s = oxide_diffusivity_cm2_s(dopant, temperature)?;
    let y = super::closed_form::inverse_erfc(fraction)?;
    debug_assert!((erfc(y) - fraction).abs() < 1e-6, "the inverse of erfc");
    Some(Length::cm(2.0 * (d_cm2_s * time.to_s()).sqrt() * y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn near(value: f64, expected: f64, tolerance: f64) {
        assert!((value / expected - 1.0).abs() < tolerance, "{value} {expected}");
    }

    #[test]
    fn boron_prefers_the_oxide_and_donors_the_silicon() {
        let m = |dopant, celsius, boron, orientation| {
            segregation(dopant, orientation, boron, 10.0)
                .at(Temperature::celsius(celsius))
        };
        let antoniadis = BoronSegregation::Antoniadis1979;
        let face = Orientation::Face100;
        for (celsius, expected) in [(900.0, 0.139), (1000.0, 0.281), (1100.0, 0.515)] {
            near(m(Dopant::Boron, celsius, antoniadis, face), expected, 0.01);
        }
        let colby = BoronSegregation::ColbyKatz1976;
        near(m(Dopant::Boron, 1000.0, colby, face), 0.291, 0.01);
        near(m(Dopant::Boron, 1000.0, colby, Orientation::Face111), 0.291 * 0.6, 0.01);
        near(m(Dopant::Arsenic, 1000.0, antoniadis, face), 10.0, 1e-12);
    }

    #[test]
    fn oxide_holds_dopants_back() {
        let t = Temperature::celsius(1000.0);
        for (dopant, expected) in [
            (Dopant::Boron, 3.4e-18),
            (Dopant::Phosphorus, 2.1e-17),
            (Dopant::Arsenic, 1.0e-17),
        ] {
            near(oxide_diffusivity_cm2_s(dopant, t).unwrap(), expected, 0.05);
        }
        // 2 sqrt(2.1e-17 * 3600) erfc^-1(1e-3): 2 * 2.75e-7 cm * 2.327 = 12.8 nm.
        let mask = least_mask(Dopant::Phosphorus, t, Time::h(1.0), 1e-3).unwrap();
        near(mask.to_nm(), 12.8, 0.02);
        assert!(least_mask(Dopant::Phosphorus, t, Time::h(1.0), 2.0).is_none());
    }
}
