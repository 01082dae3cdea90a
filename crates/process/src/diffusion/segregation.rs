//! How a dopant divides itself between silicon and the oxide that grows on it.

use crate::num::exp;
use crate::units::Temperature;
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
/// Donors, and gallium with 20: A. S. Grove, O. Leistiko, C. T. Sah, J. Appl. Phys. 35, 2695,
/// 1964 (memory, factor 3). Other acceptors go like boron, which also prefers the oxide (model choice; no published
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
    if dopant == Dopant::Gallium {
        return Segregation {
            prefactor: 20.0,
            energy_ev: 0.0,
            source: "Grove, Leistiko, Sah, J. Appl. Phys. 35, 2695, 1964 (20, within a factor of 3; gallium also escapes through the oxide)",
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
}
