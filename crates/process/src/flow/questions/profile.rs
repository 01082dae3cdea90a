//! Doping along a line.

use serde::Serialize;

use super::super::{Flow, Snapshot};
use crate::diffusion::solubility::active_limit;
use crate::diffusion::solver::active_part;
use crate::num::pow;
use crate::profile::Profile;
use crate::units::Temperature;
use crate::vocabulary::Dopant;

/// Doping in silicon along a horizontal line; all lists have the same length.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct AcrossProfile {
    /// Depth below the original surface in um.
    pub depth_um: f64,
    /// Places in um from the beginning of the section line.
    pub x_um: Vec<f64>,
    /// Whether there is silicon at each place; where there is none all values are 0.
    pub in_silicon: Vec<bool>,
    /// Concentration per cm3 of each dopant.
    pub dopants: Vec<(Dopant, Vec<f64>)>,
    /// Donors less acceptors per cm3.
    pub net_cm3: Vec<f64>,
    /// The same of the active part.
    pub active_net_cm3: Vec<f64>,
}

/// What turns concentrations per cm3 of a dopant in a snapshot into active ones.
pub(super) fn active_cm3(
    flow: &Flow,
    snapshot: &Snapshot,
    dopant: Dopant,
) -> impl Fn(f64) -> f64 + use<> {
    let limit = snapshot
        .active_at_c
        .filter(|_| flow.settings.active_limit())
        .and_then(|celsius| active_limit(dopant, Temperature::celsius(celsius)))
        .map(|limit| limit.concentration_cm3);
    move |concentration_cm3| active_part(concentration_cm3, limit).0
}

/// Doping in silicon at a place, from the silicon's own surface down. Donors and acceptors of the
/// substrate are among the dopants.
#[must_use]
pub fn profile_down(flow: &Flow, snapshot: &Snapshot, x_um: f64) -> Profile {
    let section = &snapshot.section;
    let column = section.column_at(1e3 * x_um);
    let cells = section.cells();
    let (first, _) = section.first_cell(column);
    let surface_nm = -section.silicon_top_nm(column);
    let mut depth_um = vec![0.0];
    depth_um.extend(
        (first..cells).map(|cell| 1e-3 * (section.middle_nm(column, cell) - surface_nm)),
    );
    let dopants: Vec<(Dopant, Vec<f64>)> = section
        .dopants()
        .into_iter()
        .map(|dopant| {
            let values = section.silicon_cm3(dopant);
            let column_cm3 = &values[column * cells + first..(column + 1) * cells];
            let mut list = vec![at_surface_cm3(&depth_um, column_cm3)];
            list.extend_from_slice(column_cm3);
            (dopant, list)
        })
        .collect();
    let n = depth_um.len();
    let mut profile = Profile {
        depth_um,
        net_cm3: vec![0.0; n],
        active_net_cm3: vec![0.0; n],
        dopants,
    };
    for (dopant, list) in &profile.dopants {
        let active_cm3 = active_cm3(flow, snapshot, *dopant);
        for (k, &c) in list.iter().enumerate() {
            profile.net_cm3[k] += dopant.charge() * c;
            profile.active_net_cm3[k] += dopant.charge() * active_cm3(c);
        }
    }
    profile
}

/// The value at the surface, from the two uppermost cells, straight in the logarithm.
fn at_surface_cm3(depth_um: &[f64], cells_cm3: &[f64]) -> f64 {
    let (Some(&a), Some(&b)) = (cells_cm3.first(), cells_cm3.get(1)) else {
        return cells_cm3.first().copied().unwrap_or(0.0);
    };
    if a <= 0.0 || b <= 0.0 {
        return a;
    }
    // Half a cell is not far: a steeper change than twofold is that of the mesh.
    a * pow(a / b, depth_um[1] / (depth_um[2] - depth_um[1])).clamp(0.5, 2.0)
}

/// Doping along a horizontal line, at a depth below the original surface.
#[must_use]
pub fn profile_across(flow: &Flow, snapshot: &Snapshot, depth_um: f64) -> AcrossProfile {
    let section = &snapshot.section;
    let cells = section.cells();
    let depth_nm = 1e3 * depth_um;
    let below = section.depths_nm().partition_point(|&edge| edge <= depth_nm);
    let cell = below.saturating_sub(1).min(cells - 1);
    let columns = section.columns();
    let x_um = (0..columns).map(|i| 1e-3 * section.center_nm(i)).collect();
    let inside = |i: usize| section.silicon_top_nm(i) >= -depth_nm;
    // A sliver belongs to the cell below.
    let cell_of = |i: usize| cell.max(section.first_cell(i).0);
    let mut across = AcrossProfile {
        depth_um,
        x_um,
        in_silicon: (0..columns).map(inside).collect(),
        net_cm3: vec![0.0; columns],
        active_net_cm3: vec![0.0; columns],
        dopants: Vec::new(),
    };
    for dopant in section.dopants() {
        let values = section.silicon_cm3(dopant);
        let list: Vec<f64> = (0..columns)
            .map(|i| if inside(i) { values[i * cells + cell_of(i)] } else { 0.0 })
            .collect();
        let active_cm3 = active_cm3(flow, snapshot, dopant);
        for (i, &c) in list.iter().enumerate() {
            across.net_cm3[i] += dopant.charge() * c;
            across.active_net_cm3[i] += dopant.charge() * active_cm3(c);
        }
        across.dopants.push((dopant, list));
    }
    across
}
