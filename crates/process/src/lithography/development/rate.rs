//! How fast the developer takes resist away.

use crate::constants::BOLTZMANN_EV_K;
use crate::num;
use crate::units::Temperature;

/// Rate of dissolution against the photoactive compound left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RateLaw {
    /// Rate of fully exposed resist in nm/s.
    pub fastest_nm_s: f64,
    /// Rate of unexposed resist in nm/s.
    pub slowest_nm_s: f64,
    /// Remaining share of the compound at which the rate bends most.
    pub threshold_pac: f64,
    /// How steeply it bends.
    pub order: f64,
}

impl RateLaw {
    /// The demo resist at 21 C (model choice).
    pub const DEMO: Self =
        Self { fastest_nm_s: 100.0, slowest_nm_s: 0.1, threshold_pac: 0.35, order: 5.0 };

    /// Rate in nm/s for a remaining share of photoactive compound.
    ///
    /// # Model
    /// `r = rmax (a + 1) (1 - M)^n / (a + (1 - M)^n) + rmin`,
    /// `a = (n + 1)/(n - 1) (1 - Mth)^n`.
    ///
    /// # Source
    /// C. A. Mack, J. Electrochem. Soc. 134, 148 (1987) (memory).
    #[must_use]
    pub fn nm_s(&self, pac: f64) -> f64 {
        let n = self.order;
        let a = (n + 1.0) / (n - 1.0) * num::pow(1.0 - self.threshold_pac, n);
        self.with(a, pac)
    }

    fn with(&self, a: f64, pac: f64) -> f64 {
        let exposed = power((1.0 - pac).clamp(0.0, 1.0), self.order);
        self.fastest_nm_s * (a + 1.0) * exposed / (a + exposed) + self.slowest_nm_s
    }

    /// Rates in nm/s of many places.
    #[must_use]
    pub fn all_nm_s(&self, pac: &[f64]) -> Vec<f64> {
        let n = self.order;
        let a = (n + 1.0) / (n - 1.0) * num::pow(1.0 - self.threshold_pac, n);
        pac.iter().map(|&pac| self.with(a, pac)).collect()
    }

    /// The law in a developer of another strength: the fastest rate by [`STRENGTH_POWER`] of the
    /// normality (model choice; it differs between resists).
    #[must_use]
    pub fn in_strength(self, normality: f64) -> Self {
        let ratio = normality / USUAL_NORMALITY;
        let factor = num::pow(ratio, STRENGTH_POWER);
        Self { fastest_nm_s: self.fastest_nm_s * factor, ..self }
    }

    /// The law at another temperature of the developer: the fastest rate by 0.2 eV (model
    /// choice; sign and size differ between resists).
    #[must_use]
    pub fn at(self, temperature: Temperature) -> Self {
        let inverse_k =
            1.0 / temperature.to_kelvin() - 1.0 / Temperature::celsius(21.0).to_kelvin();
        let factor = num::exp(-RATE_EV / BOLTZMANN_EV_K * inverse_k);
        Self { fastest_nm_s: self.fastest_nm_s * factor, ..self }
    }

    /// Time in s until a film of equal cells is gone, by the compound left in each.
    #[must_use]
    pub fn time_through_s(&self, pac: &[f64], cell_nm: f64) -> f64 {
        self.all_nm_s(pac).iter().map(|rate| cell_nm / rate).sum()
    }
}

/// `base^order`, by multiplication where the order is a small whole number: a section has ten
/// thousands of cells.
fn power(base: f64, order: f64) -> f64 {
    let whole = num::to_count(order);
    if (2..=30).contains(&whole) && order.fract() == 0.0 {
        (1..whole).fold(base, |product, _| product * base)
    } else {
        num::pow(base, order)
    }
}

/// Normality of the usual developer: 2.38 % of TMAH (common practice).
pub const USUAL_NORMALITY: f64 = 0.26;

/// Power of the normality in the fastest rate (model choice).
pub const STRENGTH_POWER: f64 = 5.0;

/// How the top of the resist resists the developer: `1 - (1 - r0) e^(-z/d)` (model choice).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inhibition {
    /// Rate at the very top over that deep down, `r0`.
    pub surface_ratio: f64,
    /// Depth in nm over which it wears off, `d`.
    pub depth_nm: f64,
}

impl Inhibition {
    /// None: the top dissolves as all else.
    pub const NONE: Self = Self { surface_ratio: 1.0, depth_nm: 100.0 };

    /// Factor of the rate at a depth.
    #[must_use]
    pub fn factor(self, depth_nm: f64) -> f64 {
        1.0 - (1.0 - self.surface_ratio) * num::exp(-depth_nm / self.depth_nm)
    }
}

/// Activation energy of the fastest rate in eV (model choice).
pub const RATE_EV: f64 = 0.2;

/// Contrast of a positive resist: `1 / log10(D100 / D0)`, `D0` the dose without loss and `D100`
/// the one that clears.
#[must_use]
pub fn resist_contrast(no_loss_mj_cm2: f64, clear_mj_cm2: f64) -> f64 {
    1.0 / num::log10(clear_mj_cm2 / no_loss_mj_cm2)
}

/// Contrast that an image must have for a resist: `(10^(1/g) - 1) / (10^(1/g) + 1)`.
#[must_use]
pub fn critical_modulation(resist_contrast: f64) -> f64 {
    let ratio = num::pow(10.0, 1.0 / resist_contrast);
    (ratio - 1.0) / (ratio + 1.0)
}
