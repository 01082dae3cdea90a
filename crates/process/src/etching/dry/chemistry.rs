//! The plasmas of a dry etcher: which films each etches, how fast, how upright, how choosily.
//!
//! # Source
//! Common practice of teaching and research cleanrooms: a rate is good to ±50 % from tool to
//! tool. The defaults are a model choice inside the ranges.

use crate::vocabulary::{Material, words};

words!(
    /// The gases of a plasma etch.
    Chemistry {
        /// Trifluoromethane and oxygen.
        Chf3O2 = "chf3_o2", "CHF₃/O₂";
        /// Trifluoromethane and argon.
        Chf3Ar = "chf3_ar", "CHF₃/Ar";
        /// Tetrafluoromethane and hydrogen.
        Cf4H2 = "cf4_h2", "CF₄/H₂";
        /// Octafluorocyclobutane in a dense plasma.
        C4f8 = "c4f8", "C₄F₈";
        /// Sulfur hexafluoride.
        Sf6 = "sf6", "SF₆";
        /// Tetrafluoromethane and oxygen.
        Cf4O2 = "cf4_o2", "CF₄/O₂";
        /// Hydrogen bromide and chlorine.
        HbrCl2 = "hbr_cl2", "HBr/Cl₂";
        /// Boron trichloride and chlorine.
        Bcl3Cl2 = "bcl3_cl2", "BCl₃/Cl₂";
        /// Oxygen.
        Oxygen = "oxygen", "O₂";
    }
);

/// A value with the ends of its published or usual range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Default of the lab.
    pub value: f64,
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
}

const fn spread(value: f64, low: f64, high: f64) -> Spread {
    Spread { value, low, high }
}

/// What a plasma does to a film.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DryEtchRow {
    /// Vertical rate in nm/min.
    pub rate_nm_min: Spread,
    /// `A = 1 - lateral rate / vertical rate`.
    pub anisotropy: Spread,
    /// Film over oxide.
    to_oxide: Option<Spread>,
    /// Film over silicon or polysilicon.
    to_silicon: Option<Spread>,
    /// Film over resist.
    to_resist: Option<Spread>,
    /// What is watched for the end of the etch.
    pub end_point: EndPoint,
}

/// Light of the plasma that changes when the film is gone.
///
/// Wavelengths: common practice of end-point monitors; silicon chloride: memory.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct EndPoint {
    /// The species that shines.
    pub species: &'static str,
    /// Its wavelength in nm.
    pub wavelength_nm: f64,
    /// Whether the light rises (an etchant no longer used up) or falls (a product gone).
    pub rises: bool,
}

const fn falls(species: &'static str, wavelength_nm: f64) -> EndPoint {
    EndPoint { species, wavelength_nm, rises: false }
}

const OXIDE_SLOW: DryEtchRow = DryEtchRow {
    rate_nm_min: spread(50.0, 30.0, 80.0),
    anisotropy: spread(1.0, 0.9, 1.0),
    to_oxide: None,
    to_silicon: Some(spread(10.0, 5.0, 15.0)),
    to_resist: Some(spread(3.0, 2.0, 5.0)),
    end_point: falls("CO", 483.0),
};
/// Selectivity to resist: 1.9 of one process page (read); its range is a model choice.
const OXIDE_FAST: DryEtchRow = DryEtchRow {
    rate_nm_min: spread(300.0, 200.0, 500.0),
    anisotropy: spread(1.0, 0.95, 1.0),
    to_oxide: None,
    to_silicon: Some(spread(15.0, 10.0, 20.0)),
    to_resist: Some(spread(2.0, 1.5, 2.5)),
    end_point: falls("CO", 483.0),
};
const NITRIDE: DryEtchRow = DryEtchRow {
    rate_nm_min: spread(80.0, 50.0, 120.0),
    anisotropy: spread(0.75, 0.6, 0.9),
    to_oxide: Some(spread(2.5, 1.5, 4.0)),
    to_silicon: Some(spread(0.5, 0.3, 1.0)),
    to_resist: Some(spread(1.5, 1.0, 2.0)),
    // The carbon is that of the gas, or of the resist mask.
    end_point: falls("CN", 387.0),
};
/// Selectivity to resist: 1.4 of one process page (read) lies in its range.
const POLY_FLUORINE: DryEtchRow = DryEtchRow {
    rate_nm_min: spread(300.0, 100.0, 500.0),
    anisotropy: spread(0.25, 0.0, 0.5),
    to_oxide: Some(spread(10.0, 5.0, 20.0)),
    to_silicon: None,
    to_resist: Some(spread(2.0, 1.0, 3.0)),
    end_point: EndPoint { species: "F", wavelength_nm: 704.0, rises: true },
};
const POLY_BROMINE: DryEtchRow = DryEtchRow {
    rate_nm_min: spread(250.0, 150.0, 350.0),
    anisotropy: spread(1.0, 0.95, 1.0),
    to_oxide: Some(spread(30.0, 15.0, 100.0)),
    to_silicon: None,
    to_resist: Some(spread(5.0, 3.0, 8.0)),
    end_point: falls("SiCl", 287.0),
};
const METAL: DryEtchRow = DryEtchRow {
    rate_nm_min: spread(500.0, 300.0, 700.0),
    anisotropy: spread(1.0, 0.9, 1.0),
    to_oxide: Some(spread(10.0, 5.0, 20.0)),
    to_silicon: Some(spread(3.0, 2.0, 5.0)),
    to_resist: Some(spread(2.0, 1.5, 3.0)),
    end_point: falls("AlCl", 261.0),
};
/// Selectivities are "100 and more".
const RESIST: DryEtchRow = DryEtchRow {
    rate_nm_min: spread(300.0, 100.0, 500.0),
    anisotropy: spread(0.5, 0.0, 0.9),
    to_oxide: Some(spread(100.0, 100.0, 1000.0)),
    to_silicon: Some(spread(100.0, 100.0, 1000.0)),
    to_resist: None,
    end_point: falls("CO", 483.0),
};

/// Whether a material is oxide or glass.
const fn is_oxide(material: Material) -> bool {
    matches!(
        material,
        Material::ThermalOxide | Material::DepositedOxide | Material::PhosphorusGlass
    )
}

impl Chemistry {
    /// What the plasma does to a film; none if the lab knows no such process.
    #[must_use]
    pub const fn row(self, film: Material) -> Option<&'static DryEtchRow> {
        match (self, film) {
            (Self::Chf3O2 | Self::Chf3Ar, _) if is_oxide(film) => Some(&OXIDE_SLOW),
            (Self::Cf4H2 | Self::C4f8, _) if is_oxide(film) => Some(&OXIDE_FAST),
            (Self::Sf6 | Self::Cf4O2, Material::Nitride) => Some(&NITRIDE),
            (Self::Sf6 | Self::Cf4O2, Material::Polysilicon) => Some(&POLY_FLUORINE),
            (Self::HbrCl2, Material::Polysilicon) => Some(&POLY_BROMINE),
            (Self::Bcl3Cl2, Material::Aluminum) => Some(&METAL),
            (Self::Oxygen, Material::Resist) => Some(&RESIST),
            _ => None,
        }
    }
}

impl DryEtchRow {
    /// How many times faster the film goes than another material; none if not known.
    #[must_use]
    pub const fn selectivity_to(&self, other: Material) -> Option<Spread> {
        match other {
            Material::Silicon | Material::Polysilicon => self.to_silicon,
            Material::Resist => self.to_resist,
            _ if is_oxide(other) => self.to_oxide,
            _ => None,
        }
    }
}

/// The layer under a film, if none is named: thermal oxide, and silicon under an oxide.
#[must_use]
pub const fn usual_stop(film: Material) -> Material {
    if is_oxide(film) { Material::Silicon } else { Material::ThermalOxide }
}
