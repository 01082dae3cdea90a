//! The dopants and the crystal at one temperature, as the lines need them.

use crate::diffusion::diffusivity::intrinsic_cm3;
use crate::diffusion::segregation::segregation;
use crate::diffusion::solubility::active_limit;
use crate::diffusion::solver::ChargeComponents;
use crate::units::Temperature;
use crate::vocabulary::{BoronSegregation, DiffusivitySet, Dopant, Orientation};

/// nm2 in a cm2.
const NM2_PER_CM2: f64 = 1e14;

/// Colder than this (C) nothing moves, as in the one-dimensional furnace.
pub(super) const COLDEST_C: f64 = 400.0;

/// The active part follows its equilibrium down to here (C), as in the one-dimensional furnace.
pub(super) const FREEZES_C: f64 = 700.0;

/// Which published coefficients move the dopants.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DopingModel {
    /// The set of diffusivities.
    pub diffusivity: DiffusivitySet,
    /// Atoms beyond the active limit neither move nor count as charges.
    pub active_limit: bool,
    /// Diffusion feels the interstitials that an oxidation injects.
    pub oxidation_enhanced: bool,
    /// The published segregation of boron.
    pub boron_segregation: BoronSegregation,
    /// Segregation coefficient of donors.
    pub donor_segregation: f64,
}

impl Default for DopingModel {
    fn default() -> Self {
        Self {
            diffusivity: DiffusivitySet::Plummer2000,
            active_limit: true,
            oxidation_enhanced: false,
            boron_segregation: BoronSegregation::Antoniadis1979,
            donor_segregation: 10.0,
        }
    }
}

/// A dopant that moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::wafer) struct Mobile {
    /// Which.
    pub(in crate::wafer) dopant: Dopant,
    /// Charge of the ion; 0 in a set of constant diffusivities.
    pub(in crate::wafer) charge: f64,
    /// Diffusivity in nm2/s by the charge of the defect.
    pub(in crate::wafer) neutral_nm2_s: f64,
    pub(in crate::wafer) single_nm2_s: f64,
    pub(in crate::wafer) double_nm2_s: f64,
    /// Active limit per cm3; 0 = none.
    pub(in crate::wafer) limit_cm3: f64,
    /// Concentration in silicon over that in oxide, in equilibrium.
    pub(in crate::wafer) segregation: f64,
}

impl Mobile {
    /// From the coefficients of the one-dimensional solver.
    #[must_use]
    pub(in crate::wafer) fn new(
        dopant: Dopant,
        charge: f64,
        diffusivity: ChargeComponents,
        limit_cm3: Option<f64>,
        segregation: f64,
    ) -> Self {
        Self {
            dopant,
            charge,
            neutral_nm2_s: NM2_PER_CM2 * diffusivity.neutral_cm2_s,
            single_nm2_s: NM2_PER_CM2 * diffusivity.single_cm2_s,
            double_nm2_s: NM2_PER_CM2 * diffusivity.double_cm2_s,
            limit_cm3: limit_cm3.unwrap_or(0.0),
            segregation,
        }
    }

    /// The factors of a face's flux for a time: of `1/(a + b)`, of 1, of
    /// `(a^2 + ab + b^2)/(a + b)`, as in the one-dimensional solver.
    pub(super) fn weights(&self, tau_s: f64) -> [f64; 3] {
        [
            2.0 * tau_s * self.neutral_nm2_s,
            tau_s * self.single_nm2_s,
            2.0 / 3.0 * tau_s * self.double_nm2_s,
        ]
    }

    /// The diffusivity in nm2/s at its own relative carrier density.
    pub(super) fn at(&self, m: f64) -> f64 {
        self.neutral_nm2_s + m * (self.single_nm2_s + m * self.double_nm2_s)
    }

    /// The dopant's own carriers at a ratio of electrons.
    pub(super) fn own_carriers(&self, ratio: f64) -> f64 {
        if 0.0 < self.charge {
            ratio
        } else if self.charge < 0.0 {
            1.0 / ratio
        } else {
            1.0
        }
    }

    /// The active limit, if there is one.
    pub(super) fn limit(&self) -> Option<f64> {
        (0.0 < self.limit_cm3).then_some(self.limit_cm3)
    }
}

/// Everything about the silicon at one temperature.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::wafer) struct Moment {
    /// Intrinsic carriers per cm3.
    pub(in crate::wafer) intrinsic_cm3: f64,
    /// The dopants that move; those without a diffusivity in the set are not among them.
    pub(in crate::wafer) mobiles: Vec<Mobile>,
}

impl Moment {
    /// The moment at a temperature for these dopants.
    #[must_use]
    pub(in crate::wafer) fn at(
        model: &DopingModel,
        orientation: Orientation,
        dopants: &[Dopant],
        celsius: f64,
    ) -> Self {
        let temperature = Temperature::celsius(celsius.max(COLDEST_C));
        let limit_at = Temperature::celsius(celsius.max(FREEZES_C));
        let mobiles = dopants
            .iter()
            .map(|&dopant| {
                let diffusivity = model
                    .diffusivity
                    .diffusivity(dopant)
                    .map_or_else(ChargeComponents::default, |d| {
                        d.components(temperature)
                    });
                let charge =
                    if model.diffusivity.is_constant() { 0.0 } else { dopant.charge() };
                let limit = active_limit(dopant, limit_at)
                    .filter(|_| model.active_limit)
                    .map(|limit| limit.concentration_cm3);
                let m = segregation(
                    dopant,
                    orientation,
                    model.boron_segregation,
                    model.donor_segregation,
                );
                Mobile::new(dopant, charge, diffusivity, limit, m.at(temperature))
            })
            .collect();
        Self { intrinsic_cm3: intrinsic_cm3(temperature), mobiles }
    }

    /// Simpson's mean of the diffusivities over a stretch whose start, middle and end are given;
    /// everything else as in the middle.
    #[must_use]
    pub(super) fn mean(start: &Self, middle: &Self, end: &Self) -> Self {
        middle.with_diffusivities(&[
            (start, 1.0 / 6.0),
            (middle, 4.0 / 6.0),
            (end, 1.0 / 6.0),
        ])
    }

    /// The same with diffusivities weighted over several moments.
    #[must_use]
    pub(super) fn with_diffusivities(&self, parts: &[(&Self, f64)]) -> Self {
        let mut mean = self.clone();
        for (k, mobile) in mean.mobiles.iter_mut().enumerate() {
            let sum = |of: fn(&Mobile) -> f64| {
                parts.iter().map(|(part, weight)| weight * of(&part.mobiles[k])).sum()
            };
            mobile.neutral_nm2_s = sum(|m| m.neutral_nm2_s);
            mobile.single_nm2_s = sum(|m| m.single_nm2_s);
            mobile.double_nm2_s = sum(|m| m.double_nm2_s);
        }
        mean
    }
}
