//! The etch baths: what is in them, how hot they run, how their rate follows temperature.

use crate::bound::Bound;
use crate::vocabulary::words;

use super::request::{CONCENTRATION_PERCENT, TEMPERATURE_C};

words!(
    /// An etch bath.
    Etchant {
        /// Concentrated hydrofluoric acid.
        Hf49 = "hf_49", "HF 49 %";
        /// 25 parts of water to 1 of 49 % HF.
        Hf25 = "hf_25_1", "HF 25:1";
        /// 10 parts of water to 1 of 49 % HF.
        Hf10 = "hf_10_1", "HF 10:1";
        /// HF of any strength.
        HfDilute = "hf_dilute", "HF, chosen strength";
        /// 5 parts of 40 % NH4F to 1 of 49 % HF.
        Bhf5 = "bhf_5_1", "Buffered HF 5:1";
        /// 6 parts of 40 % NH4F to 1 of 49 % HF.
        Bhf6 = "bhf_6_1", "Buffered HF 6:1";
        /// 10 parts of 40 % NH4F to 1 of 49 % HF.
        Bhf10 = "bhf_10_1", "Buffered HF 10:1";
        /// Hot phosphoric acid.
        Phosphoric = "phosphoric_85", "Phosphoric acid 85 %, hot";
        /// H3PO4:HNO3:CH3COOH:H2O 16:1:1:2.
        AluminumEtch = "aluminum_etch", "Aluminum etch (16:1:1:2)";
        /// HNO3:H2O:NH4F 126:60:5.
        PolyEtch = "poly_etch", "Silicon etch (HNO₃:H₂O:NH₄F)";
        /// Potassium hydroxide, 30 % by weight.
        Koh30 = "koh_30", "KOH 30 %";
        /// Potassium hydroxide, 1:2 by weight.
        Koh33 = "koh_33", "KOH 33 %";
        /// Tetramethylammonium hydroxide, 25 % by weight.
        Tmah = "tmah_25", "TMAH 25 %";
        /// Sulfuric acid and hydrogen peroxide.
        Piranha = "piranha", "Piranha";
        /// Acetone.
        Acetone = "acetone", "Acetone";
    }
);

/// How a bath's rate on one film follows the temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Law {
    /// `exp[-(E/k)(1/T - 1/T_table)]` with `E` in eV.
    Arrhenius {
        /// Activation energy in eV.
        activation_ev: f64,
        /// Whether the law was measured on another film and is only borrowed.
        borrowed: bool,
        /// Where it comes from.
        source: &'static str,
    },
    /// Doubles per 10 C.
    Doubling {
        /// Where it comes from.
        source: &'static str,
    },
    /// No law is known: the table's rate is used at every temperature.
    Unknown,
}

impl Etchant {
    /// Temperature in C at which the rate table holds; also the default of a request.
    ///
    /// The tables say 20-25 C for the baths at room temperature: 21 C is taken, as on the
    /// run sheets of the lab.
    #[must_use]
    pub const fn table_temperature_c(self) -> f64 {
        match self {
            Self::Phosphoric => 160.0,
            Self::AluminumEtch => 50.0,
            Self::PolyEtch => 20.0,
            Self::Koh30 | Self::Koh33 | Self::Tmah => 80.0,
            Self::Piranha => 120.0,
            _ => 21.0,
        }
    }

    /// Temperatures at which the bath can be run, and where its law is known, in C.
    ///
    /// Limits: freezing and boiling with a margin; common practice.
    #[must_use]
    pub const fn temperature_bound(self) -> Bound {
        let (min, max, published) = match self {
            Self::Phosphoric => (100.0, 190.0, (140.0, 180.0)),
            Self::AluminumEtch => (15.0, 80.0, (25.0, 60.0)),
            Self::PolyEtch => (15.0, 40.0, (18.0, 25.0)),
            Self::Koh30 | Self::Koh33 => (20.0, 110.0, (20.0, 100.0)),
            Self::Tmah => (20.0, 95.0, (60.0, 90.0)),
            Self::Piranha => (60.0, 150.0, (90.0, 130.0)),
            Self::Acetone => (15.0, 50.0, (18.0, 25.0)),
            _ => (15.0, 60.0, (18.0, 40.0)),
        };
        Bound {
            min,
            max,
            published: Some(published),
            default: Some(self.table_temperature_c()),
            ..TEMPERATURE_C
        }
    }

    /// Strengths that can be asked for in percent; none if the bath has one strength only.
    ///
    /// `hf_dilute` counts volume percent of 49 % HF in water, KOH percent by weight.
    #[must_use]
    pub const fn concentration_bound(self) -> Option<Bound> {
        let (min, max, published, default) = match self {
            Self::HfDilute => (0.1, 100.0, (0.5, 100.0), 10.0),
            Self::Koh30 => (10.0, 60.0, (10.0, 60.0), 30.0),
            Self::Koh33 => (10.0, 60.0, (10.0, 60.0), 33.0),
            _ => return None,
        };
        Some(Bound {
            min,
            max,
            published: Some(published),
            default: Some(default),
            ..CONCENTRATION_PERCENT
        })
    }

    /// Whether the bath is hydrofluoric acid or buffered HF.
    #[must_use]
    pub const fn is_hf(self) -> bool {
        self.is_buffered()
            || matches!(self, Self::Hf49 | Self::Hf25 | Self::Hf10 | Self::HfDilute)
    }

    /// Whether the bath is buffered HF.
    #[must_use]
    pub const fn is_buffered(self) -> bool {
        matches!(self, Self::Bhf5 | Self::Bhf6 | Self::Bhf10)
    }

    /// Whether the bath is potassium hydroxide.
    #[must_use]
    pub const fn is_koh(self) -> bool {
        matches!(self, Self::Koh30 | Self::Koh33)
    }

    /// Whether the bath etches silicon along crystal planes.
    #[must_use]
    pub const fn is_anisotropic(self) -> bool {
        self.is_koh() || matches!(self, Self::Tmah)
    }
}
