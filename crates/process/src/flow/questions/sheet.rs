//! Junctions, sheet resistance and dose at a place.

use serde::Serialize;

use super::super::{Flow, Snapshot};
use super::films::film_nm;
use super::profile::{active_cm3, profile_down};
use crate::deposition::resistivity_ohm_cm;
use crate::electrical::junction::junctions_um;
use crate::electrical::sheet_resistance::{ActiveDoping, SheetLayer, layers};
use crate::vocabulary::{Dopant, DopingType, Material, Substrate};

/// What conducts at a place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetAt {
    /// The layers of silicon between its junctions, from the surface down.
    pub layers: Vec<SheetLayer>,
    /// Sheet resistance of the polysilicon there in ohm per square; null without.
    pub polysilicon_ohm_sq: Option<f64>,
}

/// Depths in um, below the silicon's own surface, at which the net doping changes sign.
#[must_use]
pub fn junctions_at_um(flow: &Flow, snapshot: &Snapshot, x_um: f64) -> Vec<f64> {
    junctions_um(&profile_down(flow, snapshot, x_um), 0.0)
}

/// Sheet resistances at a place, of the active doping.
#[must_use]
pub fn sheet_at(flow: &Flow, snapshot: &Snapshot, x_um: f64) -> SheetAt {
    let profile = profile_down(flow, snapshot, x_um);
    let junctions = junctions_um(&profile, 0.0);
    let mut active: Vec<(Dopant, Vec<f64>)> = profile
        .dopants
        .iter()
        .map(|(dopant, list)| {
            let active_cm3 = active_cm3(flow, snapshot, *dopant);
            (*dopant, list.iter().map(|&c| active_cm3(c)).collect())
        })
        .collect();
    // The dopant that there is most of decides the mobility of its type.
    active.sort_by(|(_, a), (_, b)| peak(b).total_cmp(&peak(a)));
    // The substrate is among the dopants already.
    let none = Substrate { doping_type: DopingType::P, concentration_cm3: 0.0 };
    let doping = ActiveDoping::new(profile.depth_um, &active, none);
    let conductivity = doping.conductivity_s_cm(flow.settings.mobility());
    SheetAt {
        layers: layers(&doping, &conductivity, &junctions).0,
        polysilicon_ohm_sq: polysilicon_ohm_sq(flow, snapshot, x_um),
    }
}

fn peak(list: &[f64]) -> f64 {
    list.iter().copied().fold(0.0, f64::max)
}

/// Sheet resistance of polysilicon by the resistivity of its most abundant dopant.
fn polysilicon_ohm_sq(flow: &Flow, snapshot: &Snapshot, x_um: f64) -> Option<f64> {
    let section = &snapshot.section;
    let column = section.column_at(1e3 * x_um);
    let layer = section
        .layers(column)
        .iter()
        .find(|layer| layer.matter.material() == Some(Material::Polysilicon))?;
    let thickness_nm = film_nm(snapshot, x_um, Material::Polysilicon);
    let (dopant, concentration_cm3) = Dopant::ALL
        .iter()
        .map(|&dopant| (dopant, layer.dopants_cm3[dopant as usize]))
        .max_by(|(_, a), (_, b)| a.total_cmp(b))?;
    let active_cm3 = active_cm3(flow, snapshot, dopant)(concentration_cm3);
    // Below, the grain boundaries trap the carriers.
    (1e19 < active_cm3)
        .then(|| resistivity_ohm_cm(dopant, active_cm3) / (thickness_nm * 1e-7))
}

/// Atoms per cm2 of a dopant in the silicon at a place.
#[must_use]
pub fn dose_cm2(snapshot: &Snapshot, x_um: f64, dopant: Dopant) -> f64 {
    let section = &snapshot.section;
    let column = section.column_at(1e3 * x_um);
    // The ledger's dose of a column is per its width.
    section.silicon_dose_cm2(column, dopant)
}
