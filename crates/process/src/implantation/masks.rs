//! How thick a mask must be.

use super::calculation::{Calculation, is_disputed, layer_distribution, stopping_layer};
use super::distribution::{DepthDistribution, Moments};
use super::ranges::{RangeTable, TargetKind};
use super::request::{ImplantationModel, Settings};
use super::results::MaskThickness;
use super::stack::{Slab, thickness_for_leak_nm};
use crate::vocabulary::Material;

/// What a mask is made of in a teaching cleanroom.
const MASKS: [Material; 5] = [
    Material::Resist,
    Material::ThermalOxide,
    Material::Nitride,
    Material::Polysilicon,
    Material::Aluminum,
];

/// The thickest of the layers above the target.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mask {
    /// Its place among the layers, from the top.
    pub(super) layer_idx: usize,
    /// The thickness in nm with which the layers let just the allowed share pass.
    pub(super) thickness_nm: f64,
}

/// The thickness that the thickest layer needs; `None` without layers.
pub(super) fn of_thickest(calculation: &Calculation) -> Option<Mask> {
    let settings = &calculation.settings;
    let layer_idx = settings
        .layers
        .iter()
        .enumerate()
        .max_by(|a, b| a.1.thickness_nm.total_cmp(&b.1.thickness_nm))
        .map(|(i, _)| i)?;
    let thickness_nm = models(settings.model)
        .iter()
        .map(|&model| {
            let mut slabs: Vec<Slab> = settings
                .layers
                .iter()
                .map(|given| Slab {
                    distribution: cautious(calculation, given.material, model),
                    thickness_nm: given.thickness_nm,
                })
                .collect();
            slabs.extend(calculation.slabs.last().cloned());
            thickness_for_leak_nm(&slabs, layer_idx, settings.mask_leak)
        })
        .fold(0.0, f64::max);
    Some(Mask { layer_idx, thickness_nm })
}

/// The thickness of a single mask of each usual material.
pub(super) fn of_each_material(calculation: &Calculation) -> Vec<MaskThickness> {
    let settings = &calculation.settings;
    MASKS
        .iter()
        .map(|&material| {
            let thickness_nm = models(settings.model)
                .iter()
                .map(|&model| {
                    let mut slabs = vec![Slab {
                        distribution: cautious(calculation, material, model),
                        thickness_nm: 0.0,
                    }];
                    slabs.extend(calculation.slabs.last().cloned());
                    thickness_for_leak_nm(&slabs, 0, settings.mask_leak)
                })
                .fold(0.0, f64::max);
            let moments = cautious_moments(calculation, material);
            MaskThickness {
                material,
                thickness_nm,
                range_depth_nm: moments.mean_nm,
                depth_straggle_nm: moments.sigma_nm,
            }
        })
        .collect()
}

/// The wider of two curves decides, unless a Gaussian is asked for.
const fn models(model: ImplantationModel) -> &'static [ImplantationModel] {
    match model {
        ImplantationModel::Gaussian => &[ImplantationModel::Gaussian],
        _ => &[ImplantationModel::Gaussian, ImplantationModel::Pearson],
    }
}

fn cautious(
    calculation: &Calculation,
    material: Material,
    model: ImplantationModel,
) -> DepthDistribution {
    layer_distribution(model, cautious_moments(calculation, material))
}

/// The moments of the longer range wherever the two tables disagree beyond reason.
fn cautious_moments(calculation: &Calculation, material: Material) -> Moments {
    let Settings { species, tilt_deg, range_table, .. } = calculation.settings;
    let (kind, energy_kev) = (TargetKind::of(material), calculation.atom_energy_kev);
    let layer = stopping_layer(species, kind, energy_kev, range_table, tilt_deg);
    if !is_disputed(species, kind, &layer.statistics) {
        return layer.moments;
    }
    let other = stopping_layer(species, kind, energy_kev, RangeTable::Computed, tilt_deg);
    let longer = layer.moments.mean_nm < other.moments.mean_nm;
    if longer { other.moments } else { layer.moments }
}

/// The share that a mask stops, in percent, with all its nines: `99.99`.
pub(super) fn stopped_percent(leak: f64) -> String {
    let mut digits = 0;
    let mut unit = 1e-2;
    while leak < unit * (1.0 - 1e-9) && digits < 6 {
        unit /= 10.0;
        digits += 1;
    }
    format!("{:.digits$}", 100.0 * (1.0 - leak))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_nine_is_written() {
        for (leak, text) in [
            (0.1, "90"),
            (0.01, "99"),
            (1e-3, "99.9"),
            (5e-4, "99.95"),
            (1e-4, "99.99"),
            (1e-6, "99.9999"),
        ] {
            assert_eq!(stopped_percent(leak), text);
        }
    }
}
