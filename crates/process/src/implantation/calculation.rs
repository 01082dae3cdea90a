//! One implantation: from energy and layers to concentrations.

use super::distribution::{DepthDistribution, Moments};
use super::pearson::PearsonShape;
use super::ranges::{RangeStatistics, RangeTable, Species, TargetKind, look_up};
use super::request::{ImplantationModel, Settings, usual_kurtosis};
use super::stack::{Passage, Share, Slab, pass};
use crate::num::{bisect, linspace};
use crate::vocabulary::Ion;

/// Boron's share of the mass and so of the energy of BF2: 11.009/49.006 (isotopes B-11 and
/// F-19, whose beam is used; atomic mass tables; memory). All atoms of a molecule have one speed.
pub(super) const BORON_SHARE_OF_BF2: f64 = 11.009 / 49.006;

/// Points of the profile in the target.
const PROFILE_POINTS: usize = 181;

/// Points of the bell in one layer, in the profile of the whole stack.
const LAYER_POINTS: usize = 41;

/// Points on which peaks and junctions are looked for.
const SEARCH_POINTS: usize = 401;

/// A layer above the target, with the statistics used in it.
#[derive(Clone, Debug)]
pub(super) struct StoppingLayer {
    pub(super) kind: TargetKind,
    pub(super) statistics: RangeStatistics,
    /// Along the depth.
    pub(super) moments: Moments,
}

/// An implantation with everything that its results are read from.
#[derive(Debug)]
pub(super) struct Calculation {
    pub(super) settings: Settings,
    /// Energy of the atom that stops, in keV.
    pub(super) atom_energy_kev: f64,
    /// What the table says of the target; `None` with given moments.
    pub(super) statistics: Option<RangeStatistics>,
    /// Along the beam.
    pub(super) beam_moments: Moments,
    /// Along the depth.
    pub(super) moments: Moments,
    /// How the target's curve is drawn; `None` for a Gaussian.
    pub(super) shape: Option<PearsonShape>,
    pub(super) layers: Vec<StoppingLayer>,
    pub(super) slabs: Vec<Slab>,
    pub(super) passage: Passage,
}

impl Calculation {
    pub(super) fn new(settings: Settings) -> Self {
        let atom_energy_kev = match settings.ion {
            Ion::Bf2 => settings.energy_kev * BORON_SHARE_OF_BF2,
            _ => settings.energy_kev,
        };
        let table = settings.range_table;
        let (species, tilt_deg) = (settings.species, settings.tilt_deg);
        let (statistics, beam_moments) = match settings.moments {
            Some(given) => (
                None,
                Moments {
                    mean_nm: given.range_nm,
                    sigma_nm: given.straggle_nm,
                    lateral_nm: given.lateral_nm,
                    skewness: given.skewness,
                    kurtosis: given.kurtosis,
                },
            ),
            None => {
                let kind = TargetKind::of(settings.target);
                let found = look_up(species, kind, atom_energy_kev, table);
                let moments = moments_of(&found);
                (Some(found), moments)
            }
        };
        let moments = beam_moments.tilted(tilt_deg);
        let layers: Vec<StoppingLayer> = settings
            .layers
            .iter()
            .map(|layer| {
                let kind = TargetKind::of(layer.material);
                stopping_layer(species, kind, atom_energy_kev, table, tilt_deg)
            })
            .collect();
        let mut slabs: Vec<Slab> = layers
            .iter()
            .zip(&settings.layers)
            .map(|(layer, given)| Slab {
                distribution: layer_distribution(settings.model, layer.moments),
                thickness_nm: given.thickness_nm,
            })
            .collect();
        let (distribution, shape) = match settings.model {
            ImplantationModel::Gaussian => (DepthDistribution::gaussian(moments), None),
            ImplantationModel::DualPearson => {
                let (second, share) = channeled_beside(&settings, beam_moments);
                let second = second.tilted(tilt_deg);
                (DepthDistribution::dual(moments, second, share), None)
            }
            _ => {
                let (distribution, shape) = DepthDistribution::pearson(moments);
                (distribution, Some(shape))
            }
        };
        slabs.push(Slab { distribution, thickness_nm: f64::INFINITY });
        let passage = pass(&slabs);
        Self {
            settings,
            atom_energy_kev,
            statistics,
            beam_moments,
            moments,
            shape,
            layers,
            slabs,
            passage,
        }
    }

    /// Index of the target among the slabs.
    fn target_idx(&self) -> usize {
        self.slabs.len() - 1
    }

    /// What the target gets of the dose.
    pub(super) fn target(&self) -> Share {
        self.passage.target()
    }

    /// The target's own distribution.
    pub(super) fn distribution(&self) -> &DepthDistribution {
        &self.slabs[self.target_idx()].distribution
    }

    /// Concentration in slab `i` (the target last), at a depth below its top, per cm3.
    pub(super) fn concentration_cm3(&self, i: usize, depth_nm: f64) -> f64 {
        // One per nm is 1e7 per cm.
        1e7 * self.settings.dose_cm2
            * self.passage.density_per_nm(&self.slabs, i, depth_nm)
    }

    /// Concentration in the target per cm3.
    pub(super) fn in_target_cm3(&self, depth_nm: f64) -> f64 {
        self.concentration_cm3(self.target_idx(), depth_nm)
    }

    /// Depth of the target in nm that a picture needs: below it the concentration is less than
    /// a third of `level_cm3`.
    pub(super) fn reach_nm(&self, level_cm3: f64) -> f64 {
        let (mode_nm, sigma_nm) =
            (self.distribution().deepest_mode_nm(), self.distribution().widest_nm());
        let at = |k: f64| (mode_nm + k * sigma_nm - self.target().entry_nm).max(sigma_nm);
        let mut k = 3.0;
        // 1.15^35 = 133: even the heaviest tail of a given kurtosis is small by then.
        for _ in 0..35 {
            if self.in_target_cm3(at(k)) < level_cm3 / 3.0 {
                break;
            }
            k *= 1.15;
        }
        at(k)
    }

    /// Largest concentration in the target per cm3 and its depth in nm.
    pub(super) fn peak(&self) -> (f64, f64) {
        let mode_nm = (self.distribution().mode_nm() - self.target().entry_nm).max(0.0);
        let mut best = (self.in_target_cm3(mode_nm), mode_nm);
        if self.settings.model == ImplantationModel::DualPearson {
            let end_nm = self.reach_nm(best.0 / 10.0);
            for depth_nm in linspace(0.0, end_nm, SEARCH_POINTS) {
                let here_cm3 = self.in_target_cm3(depth_nm);
                if best.0 < here_cm3 {
                    best = (here_cm3, depth_nm);
                }
            }
        }
        best
    }

    /// Depths in nm at which the concentration in the target crosses a level, from the surface.
    pub(super) fn crossings_nm(&self, level_cm3: f64) -> Vec<f64> {
        let (peak_cm3, peak_nm) = self.peak();
        if peak_cm3 <= level_cm3 {
            return Vec::new();
        }
        // The peak is among the points: a narrow bell cannot slip through them.
        let mut depths_nm = linspace(0.0, self.reach_nm(level_cm3), SEARCH_POINTS);
        depths_nm.push(peak_nm);
        crate::num::sort_increasing(&mut depths_nm);
        let excess = |depth_nm: f64| self.in_target_cm3(depth_nm) - level_cm3;
        let values: Vec<f64> = depths_nm.iter().map(|&depth| excess(depth)).collect();
        depths_nm
            .windows(2)
            .zip(values.windows(2))
            .filter(|(_, v)| (v[0] < 0.0) != (v[1] < 0.0))
            .filter_map(|(x, _)| bisect(excess, x[0], x[1]).ok())
            .collect()
    }

    /// Junctions with the substrate in um, from the surface down.
    pub(super) fn junctions_um(&self) -> Vec<f64> {
        let substrate = self.settings.substrate;
        let same = substrate.doping_type == self.settings.species.dopant().doping_type();
        if same || !self.settings.in_silicon() {
            return Vec::new();
        }
        let found = self.crossings_nm(substrate.concentration_cm3);
        found.into_iter().map(|depth_nm| 1e-3 * depth_nm).collect()
    }

    /// Depths in nm and concentrations per cm3 in the target.
    pub(super) fn profile(&self) -> (Vec<f64>, Vec<f64>) {
        let (peak_cm3, _) = self.peak();
        // Six decades of a profile are enough where no substrate ends it earlier.
        let level_cm3 = if self.settings.in_silicon() {
            self.settings.substrate.concentration_cm3.max(1e-9 * peak_cm3)
        } else {
            1e-6 * peak_cm3
        };
        let depths_nm = linspace(0.0, self.reach_nm(level_cm3), PROFILE_POINTS);
        let values = depths_nm.iter().map(|&depth| self.in_target_cm3(depth)).collect();
        (depths_nm, values)
    }

    /// Depths in um from the very top and concentrations per cm3, layer by layer; at each
    /// interface the depth stands twice, with the concentration on both sides.
    pub(super) fn stack_profile(&self) -> (Vec<f64>, Vec<f64>) {
        let (mut depth_um, mut values) = (Vec::new(), Vec::new());
        let mut top_nm = 0.0;
        for (i, layer) in self.settings.layers.iter().enumerate() {
            for depth_nm in self.layer_depths_nm(i, layer.thickness_nm) {
                depth_um.push(1e-3 * (top_nm + depth_nm));
                values.push(self.concentration_cm3(i, depth_nm));
            }
            top_nm += layer.thickness_nm;
        }
        let (depths_nm, target_cm3) = self.profile();
        depth_um.extend(depths_nm.iter().map(|depth_nm| 1e-3 * (top_nm + depth_nm)));
        values.extend(target_cm3);
        (depth_um, values)
    }

    /// Depths in layer `i` in nm, both faces included: close together in the bell, further and
    /// further apart in its tail.
    fn layer_depths_nm(&self, i: usize, thickness_nm: f64) -> Vec<f64> {
        let (Some(slab), Some(share)) = (self.slabs.get(i), self.passage.shares.get(i))
        else {
            return Vec::new();
        };
        let mode_nm = slab.distribution.mode_nm() - share.entry_nm;
        let sigma_nm = slab.distribution.widest_nm();
        let mut depths_nm = vec![0.0];
        depths_nm.extend(linspace(
            mode_nm - 5.0 * sigma_nm,
            mode_nm + 5.0 * sigma_nm,
            LAYER_POINTS,
        ));
        let mut tail = 5.0;
        for _ in 0..20 {
            tail *= 1.5;
            depths_nm.push(mode_nm + tail * sigma_nm);
        }
        depths_nm.retain(|&depth| 0.0 <= depth && depth < thickness_nm);
        depths_nm.push(thickness_nm);
        depths_nm
    }
}

/// Whether the published range of this ion in this material is contradicted by the computed
/// one by more than the models explain: phosphorus and arsenic in silicon dioxide.
pub(super) fn is_disputed(
    species: Species,
    kind: TargetKind,
    statistics: &RangeStatistics,
) -> bool {
    matches!(species, Species::Phosphorus | Species::Arsenic)
        && kind == TargetKind::Oxide
        && statistics.table == RangeTable::Gibbons1975
}

pub(super) fn stopping_layer(
    species: Species,
    kind: TargetKind,
    energy_kev: f64,
    table: RangeTable,
    tilt_deg: f64,
) -> StoppingLayer {
    let statistics = look_up(species, kind, energy_kev, table);
    let moments = moments_of(&statistics).tilted(tilt_deg);
    StoppingLayer { kind, statistics, moments }
}

fn moments_of(statistics: &RangeStatistics) -> Moments {
    Moments {
        mean_nm: statistics.range_nm,
        sigma_nm: statistics.straggle_nm,
        lateral_nm: statistics.lateral_nm,
        skewness: statistics.skewness,
        kurtosis: statistics.kurtosis,
    }
}

/// Layers have no channels: a single curve is drawn in them.
pub(super) fn layer_distribution(
    model: ImplantationModel,
    moments: Moments,
) -> DepthDistribution {
    match model {
        ImplantationModel::Gaussian => DepthDistribution::gaussian(moments),
        _ => DepthDistribution::pearson(moments).0,
    }
}

/// The channeled part of an implantation.
pub(super) fn channeled_of(calculation: &Calculation) -> (Moments, f64) {
    channeled_beside(&calculation.settings, calculation.beam_moments)
}

fn channeled_beside(settings: &Settings, first: Moments) -> (Moments, f64) {
    let Settings { species, dose_cm2, tilt_deg, .. } = *settings;
    channeled(species, dose_cm2, tilt_deg, !settings.layers.is_empty(), first)
}

/// Moments along the beam and share of the ions that run along channels.
///
/// # Model
/// Form of A. F. Tasch et al., J. Electrochem. Soc. 136, 810 (1989) (memory). The numbers are
/// no published fit but a model choice for teaching: range `1.4 Rp + 30 nm`, straggle `1.8 dRp`,
/// skewness 0.6, share `r0/(1 + Q/Qc)` with `r0` 0.15 along the channel, falling to 0.04 at
/// 7 degrees or below a layer; `Qc` 1e14 (boron), 3e13 (phosphorus), 1e13 (arsenic, antimony,
/// indium) per cm2: the damage of the dose closes the channels.
pub(super) fn channeled(
    species: Species,
    dose_cm2: f64,
    tilt_deg: f64,
    layered: bool,
    first: Moments,
) -> (Moments, f64) {
    let critical_cm2 = match species {
        Species::Boron => 1e14,
        Species::Phosphorus => 3e13,
        Species::Arsenic | Species::Antimony | Species::Indium => 1e13,
    };
    let off_axis = if layered { 1.0 } else { (tilt_deg / 7.0).min(1.0) };
    let share = (0.15 + (0.04 - 0.15) * off_axis) / (1.0 + dose_cm2 / critical_cm2);
    let second = Moments {
        mean_nm: 1.4 * first.mean_nm + 30.0,
        sigma_nm: 1.8 * first.sigma_nm,
        lateral_nm: first.lateral_nm,
        skewness: 0.6,
        kurtosis: usual_kurtosis(0.6),
    };
    (second, share)
}
