//! The demo resists of the lab: invented liquids, named after their thickness at 4000 rpm.

use crate::vocabulary::words;

words!(
    /// A demo resist. The number is ten times its thickness in um at 4000 rpm.
    Resist {
        /// Thin positive resist.
        P08 = "demo-p08", "Demo-P08 (positive, 0.8 µm)";
        /// The resist of most steps.
        P12 = "demo-p12", "Demo-P12 (positive, 1.2 µm)";
        /// Positive resist.
        P15 = "demo-p15", "Demo-P15 (positive, 1.5 µm)";
        /// Positive resist.
        P20 = "demo-p20", "Demo-P20 (positive, 2.0 µm)";
        /// Thick positive resist.
        P40 = "demo-p40", "Demo-P40 (positive, thick)";
        /// Negative resist.
        N13 = "demo-n13", "Demo-N13 (negative, 1.3 µm)";
    }
);

/// What of a liquid resist decides its thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Formulation {
    /// Volume fraction of solids in the bottle.
    pub solids_fraction: f64,
    /// Viscosity in the bottle in mPa s.
    pub viscosity_mpa_s: f64,
}

/// What exposed resist does in the developer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Tone {
    /// It dissolves.
    Positive,
    /// It cross-links and stays.
    Negative,
}

impl Resist {
    /// Positive or negative.
    #[must_use]
    pub const fn tone(self) -> Tone {
        match self {
            Self::N13 => Tone::Negative,
            _ => Tone::Positive,
        }
    }

    /// Solids and viscosity of the bottle.
    ///
    /// # Source
    /// Model choice: invented liquids in the range of commercial novolac resists (15-35 % of
    /// solids, 5-100 mPa s; common practice). They are nobody's product.
    #[must_use]
    pub const fn formulation(self) -> Formulation {
        let (solids_fraction, viscosity_mpa_s) = match self {
            Self::P08 => (0.18, 8.0),
            Self::P12 => (0.22, 14.0),
            Self::P15 => (0.24, 20.0),
            Self::P20 => (0.27, 28.0),
            Self::P40 => (0.34, 90.0),
            Self::N13 => (0.23, 15.0),
        };
        Formulation { solids_fraction, viscosity_mpa_s }
    }
}
