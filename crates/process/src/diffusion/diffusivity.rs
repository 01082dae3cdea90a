//! Diffusivities of dopants in silicon: three published sets, and the intrinsic density.

use crate::error::RequestError;
use crate::num::{exp, pow};
use crate::units::Temperature;
use crate::vocabulary::{DiffusivitySet, Dopant};

use super::solver::{ChargeComponents, Species};

/// A thermally activated constant: `D0 exp(-E/kT)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrhenius {
    /// Prefactor in cm2/s.
    pub prefactor_cm2_s: f64,
    /// Activation energy in eV.
    pub energy_ev: f64,
}

impl Arrhenius {
    /// From prefactor in cm2/s and energy in eV.
    #[must_use]
    pub const fn new(prefactor_cm2_s: f64, energy_ev: f64) -> Self {
        Self { prefactor_cm2_s, energy_ev }
    }

    /// Its value in cm2/s.
    #[must_use]
    pub fn at(&self, temperature: Temperature) -> f64 {
        self.prefactor_cm2_s * exp(-self.energy_ev / temperature.to_kt_ev())
    }
}

/// The diffusivity of one dopant in one published set.
///
/// Charge states count in the dopant's own carriers: `single` goes with n/ni for donors and
/// with p/ni for acceptors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DopantDiffusivity {
    /// With neutral point defects, or the whole of it in a constant-diffusivity set.
    pub neutral: Arrhenius,
    /// With singly charged ones.
    pub single: Option<Arrhenius>,
    /// With doubly charged ones.
    pub double: Option<Arrhenius>,
}

impl DopantDiffusivity {
    /// The components at a temperature.
    #[must_use]
    pub fn components(&self, temperature: Temperature) -> ChargeComponents {
        let at = |part: Option<Arrhenius>| part.map_or(0.0, |part| part.at(temperature));
        ChargeComponents {
            neutral_cm2_s: self.neutral.at(temperature),
            single_cm2_s: at(self.single),
            double_cm2_s: at(self.double),
        }
    }

    /// The diffusivity in intrinsic silicon (n = p = ni) in cm2/s.
    #[must_use]
    pub fn intrinsic_cm2_s(&self, temperature: Temperature) -> f64 {
        self.components(temperature).at(1.0)
    }
}

impl DiffusivitySet {
    /// The diffusivity of a dopant in this set, if the set has it.
    ///
    /// # Source
    /// `plummer_2000`: J. D. Plummer, M. D. Deal, P. B. Griffin, Silicon VLSI Technology, 2000,
    /// table 7-5 (memory; the arsenic row checked against the book's example at 1000 C).
    /// `fair_1981`: R. B. Fair in F. F. Y. Wang (ed.), Impurity Doping Processes in Silicon,
    /// 1981, ch. 7 (memory). `fuller_ditzenberger_1956`: C. S. Fuller, J. A. Ditzenberger,
    /// J. Appl. Phys. 27, 544, 1956 (read: abstract page); constant, no charge states. Gallium and
    /// aluminum are seldom used and known to a factor of 2.
    #[must_use]
    pub const fn diffusivity(self, dopant: Dopant) -> Option<DopantDiffusivity> {
        const fn one(neutral: (f64, f64)) -> DopantDiffusivity {
            DopantDiffusivity {
                neutral: Arrhenius::new(neutral.0, neutral.1),
                single: None,
                double: None,
            }
        }
        const fn two(neutral: (f64, f64), single: (f64, f64)) -> DopantDiffusivity {
            DopantDiffusivity {
                single: Some(Arrhenius::new(single.0, single.1)),
                ..one(neutral)
            }
        }
        const PHOSPHORUS: DopantDiffusivity = DopantDiffusivity {
            double: Some(Arrhenius::new(44.2, 4.37)),
            ..two((3.85, 3.66), (4.44, 4.00))
        };
        Some(match (self, dopant) {
            (Self::Plummer2000, Dopant::Boron) => two((0.05, 3.50), (0.95, 3.50)),
            (Self::Plummer2000, Dopant::Indium) => two((0.60, 3.50), (0.60, 3.50)),
            (Self::Plummer2000 | Self::Fair1981, Dopant::Phosphorus) => PHOSPHORUS,
            (Self::Plummer2000, Dopant::Arsenic) => two((0.011, 3.44), (31.0, 4.15)),
            (Self::Plummer2000 | Self::Fair1981, Dopant::Antimony) => {
                two((0.214, 3.65), (15.0, 4.08))
            }
            (Self::Fair1981, Dopant::Boron) => two((0.037, 3.46), (0.41, 3.46)),
            (Self::Fair1981, Dopant::Arsenic) => two((0.066, 3.44), (12.0, 4.05)),
            (Self::Fair1981, Dopant::Gallium) => two((0.37, 3.39), (28.5, 3.92)),
            (Self::Fair1981, Dopant::Aluminum) => two((1.39, 3.41), (2480.0, 4.20)),
            (Self::Fair1981, Dopant::Indium)
            | (Self::Plummer2000, Dopant::Gallium | Dopant::Aluminum) => return None,
            (Self::FullerDitzenberger1956, Dopant::Boron | Dopant::Phosphorus) => {
                one((10.5, 3.69))
            }
            (Self::FullerDitzenberger1956, Dopant::Arsenic) => one((0.32, 3.56)),
            (Self::FullerDitzenberger1956, Dopant::Antimony) => one((5.6, 3.95)),
            (Self::FullerDitzenberger1956, Dopant::Indium) => one((16.5, 3.90)),
            (Self::FullerDitzenberger1956, Dopant::Gallium) => one((3.6, 3.51)),
            (Self::FullerDitzenberger1956, Dopant::Aluminum) => one((8.0, 3.47)),
        })
    }

    /// The same, or an error that names the sets which have the dopant.
    ///
    /// # Errors
    /// [`RequestError`] `conflict` for a dopant that the set lacks.
    pub fn require(self, dopant: Dopant) -> Result<DopantDiffusivity, RequestError> {
        self.diffusivity(dopant).ok_or_else(|| {
            let having: Vec<&str> = Self::ALL
                .iter()
                .filter(|set| set.diffusivity(dopant).is_some())
                .map(|set| set.word())
                .collect();
            let having = having.join(", ");
            RequestError::conflict(
                "diffusivity",
                self.word(),
                &having,
                &format!(
                    "diffusivity: the set {} has no value for {} (allowed: {having})",
                    self.word(),
                    dopant.word()
                ),
                &format!("choose a set that has {}", dopant.word()),
            )
        })
    }

    /// True if the set is one number per temperature: no field, no charge states.
    #[must_use]
    pub const fn is_constant(self) -> bool {
        matches!(self, Self::FullerDitzenberger1956)
    }

    /// Where the set was published, for a working line.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Self::Plummer2000 => {
                "Plummer, Deal, Griffin, Silicon VLSI Technology, 2000, table 7-5"
            }
            Self::Fair1981 => {
                "Fair, in Impurity Doping Processes in Silicon, 1981, ch. 7"
            }
            Self::FullerDitzenberger1956 => {
                "Fuller, Ditzenberger, J. Appl. Phys. 27, 544, 1956"
            }
        }
    }

    /// The dopant as the solver sees it.
    ///
    /// # Errors
    /// As [`Self::require`].
    pub fn species(
        self,
        dopant: Dopant,
        temperature: Temperature,
        active_limit_cm3: Option<f64>,
    ) -> Result<Species, RequestError> {
        let diffusivity = self.require(dopant)?.components(temperature);
        // A constant diffusivity already contains the field in its measured value.
        let charge = if self.is_constant() { 0.0 } else { dopant.charge() };
        Ok(Species { charge, diffusivity, active_limit_cm3 })
    }
}

/// Intrinsic carrier density at diffusion temperatures per cm3.
///
/// # Model
/// `ni = 3.87e16 T^1.5 exp(-0.605 eV/kT)`.
///
/// # Source
/// F. J. Morin, J. P. Maita, Phys. Rev. 96, 28, 1954 (memory).
///
/// # Validity
/// Within 10 % at 900 to 1200 C; not for room temperature.
#[must_use]
pub fn intrinsic_cm3(temperature: Temperature) -> f64 {
    INTRINSIC_CM3
        * pow(temperature.to_kelvin(), 1.5)
        * exp(-INTRINSIC_EV / temperature.to_kt_ev())
}

/// Prefactor of [`intrinsic_cm3`] per cm3 and `K^1.5`.
pub(super) const INTRINSIC_CM3: f64 = 3.87e16;
/// Energy of [`intrinsic_cm3`] in eV.
pub(super) const INTRINSIC_EV: f64 = 0.605;

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn near(value: f64, expected: f64, tolerance: f64) {
        assert!((value / expected - 1.0).abs() < tolerance, "{value} {expected}");
    }

    #[test]
    fn intrinsic_values_at_1000_c_are_those_of_the_book() {
        let t = Temperature::celsius(1000.0);
        let set = DiffusivitySet::Plummer2000;
        for (dopant, expected) in [
            (Dopant::Boron, 1.397e-14),
            (Dopant::Phosphorus, 1.339e-14),
            (Dopant::Arsenic, 1.423e-15),
            (Dopant::Antimony, 1.822e-15),
        ] {
            near(set.diffusivity(dopant).unwrap().intrinsic_cm2_s(t), expected, 0.01);
        }
        // The book's example of arsenic at n = 1e20: 1.66e-14.
        let arsenic = set.diffusivity(Dopant::Arsenic).unwrap().components(t);
        near(arsenic.at(1e20 / intrinsic_cm3(t)), 1.66e-14, 0.01);
    }

    #[test]
    fn intrinsic_density_follows_the_table() {
        for (celsius, expected) in
            [(800.0, 1.961e18), (900.0, 3.915e18), (1000.0, 7.082e18), (1200.0, 1.863e19)]
        {
            near(intrinsic_cm3(Temperature::celsius(celsius)), expected, 1e-3);
        }
    }

    #[test]
    fn the_constant_set_gives_the_printed_values() {
        let set = DiffusivitySet::FullerDitzenberger1956;
        for (dopant, celsius, expected) in [
            (Dopant::Boron, 950.0, 6.564e-15),
            (Dopant::Phosphorus, 1100.0, 3.006e-13),
            (Dopant::Arsenic, 1000.0, 2.587e-15),
            (Dopant::Antimony, 1200.0, 1.717e-13),
        ] {
            let t = Temperature::celsius(celsius);
            near(set.diffusivity(dopant).unwrap().intrinsic_cm2_s(t), expected, 1e-3);
        }
    }
}
