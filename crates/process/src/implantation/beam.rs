//! A beam on many stacks of layers: the doors of this module for the wafer's cross-section.

use super::calculation::{
    BORON_SHARE_OF_BF2, channeled, layer_distribution, stopping_layer,
};
use super::distribution::{DepthDistribution, Moments};
use super::ranges::{RangeTable, Species, TargetKind};
use super::request::ImplantationModel;
use super::stack::{Slab, pass};
use crate::vocabulary::{Dopant, Ion, Material};

/// The materials that have range tables of their own.
const KINDS: [TargetKind; 5] = [
    TargetKind::Silicon,
    TargetKind::Oxide,
    TargetKind::Nitride,
    TargetKind::Resist,
    TargetKind::Aluminum,
];

/// A beam whose ranges in every material have been looked up.
#[derive(Clone, Debug)]
pub struct Beam {
    species: Species,
    silicon: Moments,
    /// In bare silicon, and in silicon below layers.
    targets: [DepthDistribution; 2],
    /// As a layer, in the order of the kinds.
    layers: Vec<DepthDistribution>,
}

/// What a stack does to a beam.
#[derive(Clone, Debug)]
pub struct Stopped {
    /// Share of the dose that leaves through the surface.
    pub lost: f64,
    /// Share that stops in each layer, from the top.
    pub layers: Vec<f64>,
    /// Share that arrives in the silicon.
    pub transmitted: f64,
    /// The layer in which half of what entered has stopped, and how far below its top in nm;
    /// none if that is in the silicon.
    pub half_way: Option<(usize, f64)>,
    factor: f64,
    entry_nm: f64,
    target: DepthDistribution,
}

impl Beam {
    /// A beam of an ion at an energy, tilted from the wafer's normal. Single ions are not
    /// followed here: for them the Pearson curve stands in.
    #[must_use]
    pub fn new(
        ion: Ion,
        energy_kev: f64,
        dose_cm2: f64,
        tilt_deg: f64,
        model: ImplantationModel,
        table: RangeTable,
    ) -> Self {
        let species = Species::of(ion);
        let atom_kev = match ion {
            Ion::Bf2 => energy_kev * BORON_SHARE_OF_BF2,
            _ => energy_kev,
        };
        let layer = |kind: TargetKind, tilt_deg: f64| {
            stopping_layer(species, kind, atom_kev, table, tilt_deg).moments
        };
        let layers = KINDS
            .iter()
            .map(|&kind| layer_distribution(model, layer(kind, tilt_deg)).tabulated())
            .collect();
        let silicon = layer(TargetKind::Silicon, tilt_deg);
        let target = |layered: bool| {
            if model == ImplantationModel::DualPearson {
                let along = layer(TargetKind::Silicon, 0.0);
                let (second, share) =
                    channeled(species, dose_cm2, tilt_deg, layered, along);
                DepthDistribution::dual(silicon, second.tilted(tilt_deg), share)
            } else {
                layer_distribution(model, silicon)
            }
            .tabulated()
        };
        Self { species, silicon, targets: [target(false), target(true)], layers }
    }

    /// The dopant that it brings.
    #[must_use]
    pub const fn dopant(&self) -> Dopant {
        self.species.dopant()
    }

    /// Straggle across the depth in silicon in nm.
    #[must_use]
    pub const fn lateral_nm(&self) -> f64 {
        self.silicon.lateral_nm
    }

    /// Sends the beam through layers, given from the top with their thickness in nm, into
    /// silicon.
    #[must_use]
    pub fn through(&self, layers: &[(Material, f64)]) -> Stopped {
        let target = &self.targets[usize::from(!layers.is_empty())];
        let mut slabs: Vec<Slab> = layers
            .iter()
            .map(|&(material, thickness_nm)| {
                let kind = TargetKind::of(material);
                let at = KINDS.iter().position(|&k| k == kind).unwrap_or(0);
                Slab { distribution: self.layers[at].clone(), thickness_nm }
            })
            .collect();
        slabs.push(Slab { distribution: target.clone(), thickness_nm: f64::INFINITY });
        let passage = pass(&slabs);
        let share = passage.target();
        let count = layers.len();
        let half = 0.5 * (1.0 - passage.lost);
        let mut above = 0.0;
        let mut half_way = None;
        for (i, (slab, share)) in slabs.iter().zip(&passage.shares[..count]).enumerate() {
            if half <= above + share.stopped {
                let own = &slab.distribution;
                let at = own.below(share.entry_nm) + (half - above) / share.factor;
                let depth_nm = own.depth_of_share_nm(at, 1.0 - at) - share.entry_nm;
                half_way = Some((i, depth_nm));
                break;
            }
            above += share.stopped;
        }
        Stopped {
            half_way,
            lost: passage.lost,
            layers: passage.shares[..count].iter().map(|share| share.stopped).collect(),
            transmitted: share.stopped,
            factor: share.factor,
            entry_nm: share.entry_nm,
            target: target.clone(),
        }
    }
}

impl Stopped {
    /// Share of the dose that stops beyond a depth below the silicon's surface, in nm.
    #[must_use]
    pub fn beyond(&self, depth_nm: f64) -> f64 {
        self.factor * self.target.beyond(self.entry_nm + depth_nm)
    }

    /// Share of the dose that stops above a depth below the silicon's surface, in nm.
    fn above(&self, depth_nm: f64) -> f64 {
        self.factor * self.target.below(self.entry_nm + depth_nm)
    }

    /// Share of the dose that stops between two depths below the silicon's surface, in nm.
    #[must_use]
    pub fn between(&self, from_nm: f64, to_nm: f64) -> f64 {
        if self.factor <= 0.0 {
            return 0.0;
        }
        // From the nearer end of the bell, so that neither tail loses its digits.
        let share = if self.entry_nm + from_nm < self.target.mode_nm() {
            self.above(to_nm) - self.above(from_nm)
        } else {
            self.beyond(from_nm) - self.beyond(to_nm)
        };
        share.max(0.0)
    }
}
