//! A diffusion step that has been computed, before it is put into words.

use super::diffusivity::intrinsic_cm3;
use super::layer::Layer;
use super::phosphorus_tail::PhosphorusTail;
use super::request::{TEMPERATURE, TIME};
use super::snapshots::InTime;
use super::solubility::active_limit;
use super::solver::{Crystal, Ledger, Species, active_part};
use crate::error::RequestError;
use crate::units::Temperature;
use crate::vocabulary::{DiffusivitySet, Dopant, Substrate};

/// Temperature, time and models of a step, checked.
#[derive(Clone, Copy, Debug)]
pub(super) struct Conditions {
    pub(super) temperature: Temperature,
    pub(super) time_s: f64,
    pub(super) set: DiffusivitySet,
    pub(super) limited: bool,
}

impl Conditions {
    pub(super) fn check(
        temperature_c: f64,
        time_min: f64,
        set: Option<DiffusivitySet>,
        limited: Option<bool>,
    ) -> Result<Self, RequestError> {
        Ok(Self {
            temperature: Temperature::celsius(TEMPERATURE.check(temperature_c)?),
            time_s: 60.0 * TIME.check(time_min)?,
            set: set.unwrap_or(DiffusivitySet::Plummer2000),
            limited: limited.unwrap_or(false),
        })
    }

    /// The active limit of a dopant, if it is asked for.
    pub(super) fn limit_cm3(&self, dopant: Dopant) -> Result<Option<f64>, RequestError> {
        if !self.limited {
            return Ok(None);
        }
        match active_limit(dopant, self.temperature) {
            Some(limit) => Ok(Some(limit.concentration_cm3)),
            None => Err(RequestError::conflict(
                "active_limit",
                "true",
                "false",
                &format!(
                    "active_limit: no published limit for {} is at hand (allowed: false)",
                    dopant.word()
                ),
                "leave active_limit out",
            )),
        }
    }

    /// The dopant as the solver sees it.
    pub(super) fn species(&self, dopant: Dopant) -> Result<Species, RequestError> {
        self.set.species(dopant, self.temperature, self.limit_cm3(dopant)?)
    }

    pub(super) fn crystal(&self, substrate: Substrate) -> Crystal {
        Crystal {
            intrinsic_cm3: intrinsic_cm3(self.temperature),
            background_cm3: substrate.net_donors_cm3(),
        }
    }

    /// `sqrt(D t)` in um with the diffusivity in intrinsic silicon.
    pub(super) fn root_dt_um(&self, dopant: Dopant) -> Result<f64, RequestError> {
        let d_cm2_s = self.set.require(dopant)?.intrinsic_cm2_s(self.temperature);
        Ok((d_cm2_s * self.time_s).sqrt() * 1e4)
    }
}

/// What a step leaves in the silicon.
#[derive(Clone, Debug)]
pub(super) struct Simulated {
    pub(super) conditions: Conditions,
    pub(super) substrate: Substrate,
    /// Depths in um at which the concentrations stand.
    pub(super) depth_um: Vec<f64>,
    /// Chemical concentration per cm3 of each dopant at each depth.
    pub(super) dopants: Vec<(Dopant, Vec<f64>)>,
    /// The same with the exact doses, for the next step.
    pub(super) layers: Vec<Layer>,
    pub(super) ledgers: Vec<Ledger>,
    /// `sqrt(D t)` of the first dopant in um.
    pub(super) root_dt_um: f64,
    /// Time steps and linear systems it took.
    pub(super) steps: usize,
    /// The first dopant on the way.
    pub(super) snapshots: Vec<InTime>,
    /// What is active of heavy phosphorus, if kink and tail are asked for.
    pub(super) tail: Option<PhosphorusTail>,
}

impl Simulated {
    /// The dopants with their layers, to start the next step.
    pub(super) fn into_layers(self) -> Vec<(Dopant, Layer)> {
        self.dopants.into_iter().map(|(dopant, _)| dopant).zip(self.layers).collect()
    }

    /// Active concentration per cm3 of each dopant at each depth.
    pub(super) fn active(&self) -> Vec<(Dopant, Vec<f64>)> {
        self.dopants
            .iter()
            .map(|(dopant, c)| {
                if let Some(tail) = self.tail {
                    return (*dopant, c.iter().map(|&c| tail.active_cm3(c)).collect());
                }
                let limit = self.conditions.limit_cm3(*dopant).unwrap_or(None);
                (*dopant, c.iter().map(|&c| active_part(c, limit).0).collect())
            })
            .collect()
    }

    /// The worst dose balance of all dopants.
    pub(super) fn dose_balance(&self) -> f64 {
        let worst =
            self.ledgers.iter().map(Ledger::balance).fold(0.0, |worst, balance| {
                if f64::abs(worst) < f64::abs(balance) { balance } else { worst }
            });
        debug_assert!(f64::abs(worst) <= 1e-9, "dose balance {worst}");
        worst
    }
}
