//! The film across the wafer: turbulent air outside, and the bead that surface tension holds at
//! the edge.

use serde::Serialize;

use super::request::Spin;
use super::{AIR_VISCOSITY_M2_S, TURBULENT_REYNOLDS, angular_rad_s, baked_um};
use crate::error::RequestError;
use crate::num::{self, linspace};

/// Length in mm over which the bead falls off inward (model choice; 0.5 to 1 mm, and rings of 1
/// to 5 mm in all, are common practice).
pub const BEAD_LENGTH_MM: f64 = 0.8;

/// The bead stands so many film thicknesses above the film for each um of film, from 1 to 4
/// (model choice).
pub const BEAD_PER_UM: f64 = 1.0;

/// By how much turbulent air dries faster, far out (model choice).
pub const TURBULENT_DRYING: f64 = 0.4;

/// The bead counts as wide as it stands more than so much above the film.
const BEAD_SHARE: f64 = 0.1;

/// Ring at the edge that no dies are counted in, in mm (common practice: 3 to 5).
pub const EDGE_EXCLUSION_MM: f64 = 5.0;

/// Radii outside the turbulent one at which the film is spun anew.
const TURBULENT_RADII: usize = 8;

/// The film across the wafer.
#[derive(Clone, Debug, Default, Serialize)]
pub struct AcrossWafer {
    /// Distances from the center in mm.
    pub radius_mm: Vec<f64>,
    /// Thickness there after the soft bake in nm; 0 where the edge is washed clean.
    pub thickness_nm: Vec<f64>,
    /// Thickness on top of the bead in nm, before it is washed off.
    pub bead_nm: f64,
    /// How high it stands above the film, in film thicknesses.
    pub bead_ratio: f64,
    /// Width of the ring in which the bead stands more than 10 % above the film, in mm.
    pub bead_width_mm: f64,
    /// Width of the ring that is washed clean in mm.
    pub removed_mm: f64,
    /// Radius from which the air is turbulent in mm; null if that is beyond the edge.
    pub turbulent_radius_mm: Option<f64>,
    /// Half the range of thickness over its mean in percent, 5 mm of edge left out.
    pub uniformity_percent: f64,
}

/// How high a bead stands above the film, in film thicknesses.
#[must_use]
pub fn bead_ratio(thickness_um: f64) -> f64 {
    (BEAD_PER_UM * thickness_um).clamp(1.0, 4.0)
}

/// Radius in mm from which the air over a spinning wafer is turbulent.
#[must_use]
pub fn turbulent_radius_mm(speed_rpm: f64) -> f64 {
    1e3 * (TURBULENT_REYNOLDS * AIR_VISCOSITY_M2_S / angular_rad_s(speed_rpm)).sqrt()
}

impl Spin {
    /// The film from the center, where it is `thickness_um` thick, to the edge.
    pub(super) fn across(&self, thickness_um: f64) -> Result<AcrossWafer, RequestError> {
        let edge_mm = 0.5 * self.wafer_diameter_mm;
        let turbulent_mm = turbulent_radius_mm(self.speed_rpm);
        let is_turbulent = turbulent_mm < edge_mm;
        // The film without a bead, at the radii where it changes.
        let mut known = vec![(0.0, thickness_um)];
        if is_turbulent {
            known.push((turbulent_mm, thickness_um));
            for radius_mm in
                linspace(turbulent_mm, edge_mm, TURBULENT_RADII + 1).into_iter().skip(1)
            {
                let ratio = turbulent_mm / radius_mm;
                let drying = 1.0 + TURBULENT_DRYING * (1.0 - ratio * ratio);
                let film = self.thin_in_wind(self.speed_rpm, drying)?.end();
                known.push((radius_mm, baked_um(film.solids_um())));
            }
        } else {
            known.push((edge_mm, thickness_um));
        }
        let film_um = |radius_mm: f64| {
            known.windows(2).find(|pair| radius_mm <= pair[1].0).map_or(
                known[known.len() - 1].1,
                |pair| {
                    let ((r0, h0), (r1, h1)) = (pair[0], pair[1]);
                    h0 + (h1 - h0) * ((radius_mm - r0) / (r1 - r0).max(1e-9)).max(0.0)
                },
            )
        };
        let outer_um = film_um(edge_mm);
        let ratio = bead_ratio(outer_um);
        let bead = |radius_mm: f64| {
            1.0 + ratio * num::exp(-(edge_mm - radius_mm) / BEAD_LENGTH_MM)
        };
        let kept_mm = edge_mm - self.bead_removal_mm;
        let mut radius_mm = linspace(0.0, edge_mm, 41);
        radius_mm
            .extend(linspace(0.0, 8.0 * BEAD_LENGTH_MM, 33).iter().map(|d| edge_mm - d));
        radius_mm.extend(is_turbulent.then_some(turbulent_mm));
        radius_mm.retain(|&r| 0.0 <= r);
        num::sort_increasing(&mut radius_mm);
        radius_mm.dedup_by(|b, a| *b - *a < 1e-6);
        if 0.0 < self.bead_removal_mm {
            // A wall at the end of the ring that is washed clean.
            radius_mm.retain(|&r| 1e-6 < (r - kept_mm).abs());
            radius_mm.extend([kept_mm, kept_mm + 1e-6]);
            num::sort_increasing(&mut radius_mm);
        }
        let thickness_nm: Vec<f64> = radius_mm
            .iter()
            .map(|&r| if kept_mm < r { 0.0 } else { 1e3 * film_um(r) * bead(r) })
            .collect();
        let counted_mm = (edge_mm - EDGE_EXCLUSION_MM).max(0.5 * edge_mm).min(kept_mm);
        let counted: Vec<f64> = radius_mm
            .iter()
            .zip(&thickness_nm)
            .filter(|(r, _)| **r <= counted_mm)
            .map(|(_, &h)| h)
            .chain([1e3 * film_um(counted_mm) * bead(counted_mm)])
            .collect();
        let least = counted.iter().copied().fold(f64::INFINITY, f64::min);
        let most = counted.iter().copied().fold(0.0, f64::max);
        Ok(AcrossWafer {
            bead_nm: 1e3 * outer_um * bead(edge_mm),
            bead_ratio: ratio,
            bead_width_mm: BEAD_LENGTH_MM * num::ln(ratio / BEAD_SHARE),
            removed_mm: self.bead_removal_mm,
            turbulent_radius_mm: is_turbulent.then_some(turbulent_mm),
            uniformity_percent: 100.0 * (most - least) / (most + least),
            radius_mm,
            thickness_nm,
        })
    }
}
