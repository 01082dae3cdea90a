//! A bound of transient enhanced diffusion: the damage of an implant sets silicon atoms free,
//! and these carry boron along until they are used up.

use super::calculation::Calculation;
use super::ranges::Species;
use super::results::TransientDiffusion;
use crate::num::{bisect, exp, linspace};
use crate::vocabulary::Material;

/// Usual extra `sqrt(2 D t)` in nm of boron at a dose of 1e14 per cm2, 800 to 900 C (A. E.
/// Michel et al., Appl. Phys. Lett. 50, 416, 1987; memory; 50 to 100 nm).
pub(super) const USUAL_NM: f64 = 60.0;
/// The longest of that range, in nm.
pub(super) const LONGEST_NM: f64 = 100.0;
/// Dose per cm2 from which on the extra length no longer grows (model choice).
pub(super) const SATURATING_CM2: f64 = 1e14;

/// Points of the profile that is spread.
const POINTS: usize = 241;

/// The bound; `None` for other dopants than boron and without silicon.
///
/// # Model
/// A variance of `(60 nm)^2 min(1, Q/1e14)`, at the most `(100 nm)^2 min(1, Q/1e14)`; the
/// junction is that of the profile spread by the longest length, the surface reflecting.
/// Boron above 5e18 per cm3 hardly moves; near the junction there is none of it.
pub(super) fn of(
    calculation: &Calculation,
    junction_um: Option<f64>,
) -> Option<TransientDiffusion> {
    let settings = &calculation.settings;
    if settings.species != Species::Boron || settings.target != Material::Silicon {
        return None;
    }
    let retained_cm2 = settings.dose_cm2 * calculation.target().stopped;
    let scale = (retained_cm2 / SATURATING_CM2).min(1.0).sqrt();
    let bound_nm = LONGEST_NM * scale;
    let junction_depth_um =
        junction_um.and_then(|um| spread_junction_um(calculation, 1e3 * um, bound_nm));
    Some(TransientDiffusion { length_nm: USUAL_NM * scale, bound_nm, junction_depth_um })
}

fn spread_junction_um(
    calculation: &Calculation,
    junction_nm: f64,
    length_nm: f64,
) -> Option<f64> {
    let level_cm3 = calculation.settings.substrate.concentration_cm3;
    let end_nm = calculation.reach_nm(level_cm3);
    let depths_nm = linspace(0.0, end_nm, POINTS);
    let step_nm = depths_nm.get(1).copied().unwrap_or(end_nm);
    if length_nm < step_nm {
        return Some(1e-3 * junction_nm);
    }
    let values: Vec<f64> =
        depths_nm.iter().map(|&nm| calculation.in_target_cm3(nm)).collect();
    let bell = |nm: f64| exp(-0.5 * (nm / length_nm) * (nm / length_nm));
    // 1/(sqrt(2 pi) L) of a bell at least one step wide, summed over the grid's cells.
    let norm = length_nm * (2.0 * core::f64::consts::PI).sqrt() / step_nm;
    let spread_cm3 = |at_nm: f64| -> f64 {
        let sum: f64 = depths_nm
            .iter()
            .zip(&values)
            .map(|(&nm, &cm3)| {
                let weight = if nm <= 0.0 { 0.5 } else { 1.0 };
                weight * cm3 * (bell(at_nm - nm) + bell(at_nm + nm))
            })
            .sum();
        sum / norm
    };
    bisect(|nm| spread_cm3(nm) - level_cm3, 0.5 * junction_nm, end_nm + 8.0 * length_nm)
        .ok()
        .map(|nm| 1e-3 * nm.max(junction_nm))
}
