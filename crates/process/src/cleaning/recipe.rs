//! The recipes: which baths, how long, what for.

use crate::etching::{Bath as EtchBath, Etchant, Film, rate_at};
use crate::vocabulary::{Material, words};

words!(
    /// A recipe of baths, with rinses in water between them.
    Recipe {
        /// The whole clean before a furnace.
        Full = "piranha_sc1_hf_sc2", "piranha, SC-1, HF dip, SC-2";
        /// Sulfuric acid and hydrogen peroxide.
        Piranha = "piranha", "piranha";
        /// Ammonia, hydrogen peroxide and water.
        Sc1 = "sc1", "SC-1 (ammonia and peroxide)";
        /// Hydrochloric acid, hydrogen peroxide and water.
        Sc2 = "sc2", "SC-2 (hydrochloric acid and peroxide)";
        /// HF in water.
        HfDip = "hf_dip", "HF dip 50:1";
        /// Acetone, then alcohol.
        Solvent = "solvent", "solvent (acetone, then alcohol)";
        /// Ultraviolet light and the ozone it makes.
        UvOzone = "uv_ozone", "UV and ozone";
    }
);

words!(
    /// A bath of a recipe.
    Bath {
        /// Sulfuric acid and hydrogen peroxide.
        Piranha = "piranha", "piranha";
        /// Ammonia, hydrogen peroxide and water.
        Sc1 = "sc1", "SC-1";
        /// HF in water.
        Hf = "hf", "HF 50:1";
        /// Hydrochloric acid, hydrogen peroxide and water.
        Sc2 = "sc2", "SC-2";
        /// Acetone, then alcohol.
        Solvent = "solvent", "solvent";
        /// Light and ozone, no liquid.
        UvOzone = "uv_ozone", "UV and ozone";
    }
);

words!(
    /// What a clean takes away.
    Soil {
        /// Resist residues, grease, fingerprints.
        Organics = "organics", "organics";
        /// Particles.
        Particles = "particles", "particles";
        /// Traces of metals.
        Metals = "metals", "metals";
        /// The oxide that air grows on silicon.
        NativeOxide = "native_oxide", "native oxide";
    }
);

/// Oxide that an oxidizing bath leaves on bare silicon in nm.
pub const CHEMICAL_OXIDE_NM: f64 = 1.0;

pub(super) const CHEMICAL_OXIDE_SOURCE: &str = "oxide of about 1 nm from peroxide baths: W. Kern, D. A. Puotinen, RCA Rev. 31, 187 (1970) (memory)";

/// Strength of the HF dip in volume percent of 49 % HF in water: 50 parts of water to 1.
pub const HF_DIP_PERCENT: f64 = 100.0 / 51.0;

impl Bath {
    /// Whether it leaves an oxide of its own.
    pub(super) const fn oxidizes(self) -> bool {
        matches!(self, Self::Piranha | Self::Sc1 | Self::Sc2 | Self::UvOzone)
    }
}

impl Recipe {
    /// The baths and their usual times in min (common practice).
    pub(super) const fn baths(self) -> &'static [(Bath, f64)] {
        match self {
            Self::Full => &[
                (Bath::Piranha, 15.0),
                (Bath::Sc1, 12.0),
                (Bath::Hf, 1.0),
                (Bath::Sc2, 12.0),
            ],
            Self::Piranha => &[(Bath::Piranha, 15.0)],
            Self::Sc1 => &[(Bath::Sc1, 10.0)],
            Self::Sc2 => &[(Bath::Sc2, 10.0)],
            Self::HfDip => &[(Bath::Hf, 1.0)],
            Self::Solvent => &[(Bath::Solvent, 5.0)],
            Self::UvOzone => &[(Bath::UvOzone, 10.0)],
        }
    }

    /// The usual time of all baths in min.
    pub(super) fn usual_min(self) -> f64 {
        self.baths().iter().map(|(_, min)| min).sum()
    }

    /// What it takes away (Kern and Puotinen 1970; common practice).
    pub(super) const fn removed(self) -> &'static [Soil] {
        use Soil as S;
        match self {
            Self::Full => &[S::Organics, S::Particles, S::Metals, S::NativeOxide],
            Self::Piranha | Self::Solvent | Self::UvOzone => &[S::Organics],
            Self::Sc1 => &[S::Organics, S::Particles],
            Self::Sc2 => &[S::Metals],
            Self::HfDip => &[S::NativeOxide],
        }
    }
}

/// Rate of oxide in the dip in nm/min, and where it comes from: that of the Wet bench.
pub(super) fn hf_dip_rate() -> (f64, &'static str) {
    let bath = EtchBath {
        concentration_percent: Some(HF_DIP_PERCENT),
        ..EtchBath::usual(Etchant::HfDilute)
    };
    rate_at(bath, Film::usual(Material::ThermalOxide))
        .map_or((0.0, ""), |rate| (rate.here.rate_nm_min, rate.here.source))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_dip_clears_native_oxide_well_within_its_time() {
        // 50:1 HF takes about 6 to 8 nm of thermal oxide a minute (common practice).
        let (rate, source) = hf_dip_rate();
        assert!((5.0..10.0).contains(&rate), "{rate}");
        assert!(!source.is_empty());
    }

    #[test]
    fn the_whole_clean_takes_forty_minutes() {
        assert!((Recipe::Full.usual_min() - 40.0).abs() < 1e-12);
    }
}
