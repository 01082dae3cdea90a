//! Where the dose goes: back out, into the layers, into the target.

use super::{GAUSSIAN, HOFKER};
use crate::implantation::ImplantationResults;
use crate::implantation::calculation::Calculation;
use crate::implantation::lateral::reach_under_mask_nm;
use crate::implantation::masks;
use crate::implantation::ranges::silicon_extras;
use crate::implantation::request::ImplantationModel;
use crate::num::{erfc, show};
use crate::report::WorkingLine;

const MATCHING: &str = "dose matching (H. Ryssel et al. 1983)";
const SQRT_2: f64 = core::f64::consts::SQRT_2;

/// Dose that stays below a bare surface.
pub(super) fn surface(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let (settings, moments) = (&calculation.settings, calculation.moments);
    let equation = match settings.model {
        ImplantationModel::Gaussian => "N = Q (1/2) erfc(-Rp'/(sqrt2 dRp'))",
        _ => "N = Q (1 - integral of f above the surface)",
    };
    let substituted = match settings.model {
        ImplantationModel::Gaussian => format!(
            "{} cm^-2 * 0.5 * erfc(-{}/(1.414 * {}))",
            show(settings.dose_cm2),
            show(moments.mean_nm),
            show(moments.sigma_nm)
        ),
        _ => format!(
            "{} cm^-2 * (1 - {})",
            show(settings.dose_cm2),
            show(results.lost_fraction)
        ),
    };
    lines.push(WorkingLine::new(
        equation,
        substituted,
        results.retained_dose_cm2,
        "cm^-2",
        "the part of the curve above the surface is lost, not put back",
    ));
    if calculation.statistics.is_some() {
        let extras = silicon_extras(settings.species, calculation.atom_energy_kev);
        lines.push(WorkingLine::new(
            "backscattered share of single-ion calculations in silicon, to compare",
            format!("the curve above loses {}", show(results.lost_fraction)),
            extras.backscattered,
            "",
            "computed: binary collisions, universal potential, 20 000 ions",
        ));
    }
}

/// Dose that passes the layers above.
pub(super) fn layers(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let settings = &calculation.settings;
    for (i, (layer, given)) in calculation.layers.iter().zip(&settings.layers).enumerate()
    {
        let word = given.material.label();
        let statistics = &layer.statistics;
        lines.push(WorkingLine::new(
            &format!("range in {word} (layer {}), with the tilt", i + 1),
            format!(
                "Rp {} nm, dRp {} nm along the beam; straggle along the depth {} nm",
                show(statistics.range_nm),
                show(statistics.straggle_nm),
                show(layer.moments.sigma_nm)
            ),
            layer.moments.mean_nm,
            "nm",
            statistics.table.source(),
        ));
        if let Some(next) = calculation.passage.shares.get(i + 1) {
            let entry_nm =
                calculation.passage.shares.get(i).map_or(0.0, |share| share.entry_nm);
            let exit_nm = entry_nm + given.thickness_nm;
            let (mean_nm, sigma_nm) = (layer.moments.mean_nm, layer.moments.sigma_nm);
            let erfc_text = format!(
                "0.5 * erfc(({} - {})/(1.414 * {}))",
                show(exit_nm),
                show(mean_nm),
                show(sigma_nm)
            );
            let gaussian = 0.5 * erfc((exit_nm - mean_nm) / (SQRT_2 * sigma_nm));
            if settings.model == ImplantationModel::Gaussian {
                lines.push(WorkingLine::new(
                    "T = (1/2) erfc((d - Rp')/(sqrt2 dRp')), d counted in this layer's own profile",
                    erfc_text,
                    next.arriving,
                    "",
                    GAUSSIAN,
                ));
            } else {
                lines.push(WorkingLine::new(
                    "T = integral of this layer's own curve beyond d",
                    format!(
                        "d = {} nm; a Gaussian would give {erfc_text} = {}",
                        show(exit_nm),
                        show(gaussian)
                    ),
                    next.arriving,
                    "",
                    HOFKER,
                ));
            }
        }
    }
    let target = calculation.target();
    lines.push(WorkingLine::new(
        "x* with integral of f from the surface to x* = dose stopped above",
        format!(
            "{} of the dose stopped above; the profile in the target starts at x*",
            show(1.0 - calculation.passage.lost - target.arriving)
        ),
        target.entry_nm,
        "nm",
        MATCHING,
    ));
    lines.push(WorkingLine::new(
        "C(x) = Q k f(x* + x) in the target, k for the dose that entered; its peak",
        format!("k = {}, x = {} nm", show(target.factor), show(results.peak_depth_nm)),
        results.peak_cm3,
        "cm^-3",
        MATCHING,
    ));
    lines.push(WorkingLine::new(
        "N = Q T",
        format!("{} cm^-2 * {}", show(settings.dose_cm2), show(target.arriving)),
        results.retained_dose_cm2,
        "cm^-2",
        "the dose is conserved: layers + target + loss through the surface = Q",
    ));
    if let Some(mask) = masks::of_thickest(calculation)
        && let (Some(layer), Some(given)) =
            (calculation.layers.get(mask.layer_idx), settings.layers.get(mask.layer_idx))
        && let Some(sigmas) = reach_under_mask_nm(settings.mask_leak, 1.0)
    {
        let (mean_nm, sigma_nm) = (layer.moments.mean_nm, layer.moments.sigma_nm);
        lines.push(WorkingLine::new(
            "d for the allowed T: about Rp' + k dRp' in one layer, (1/2) erfc(k/sqrt2) = T",
            format!(
                "T = {}, {}: {} + {} * {} = {} nm by this table; with the longer range where tables disagree, the wider curve and the other layers",
                show(settings.mask_leak),
                given.material.label(),
                show(mean_nm),
                show(sigmas),
                show(sigma_nm),
                show(mean_nm + sigmas * sigma_nm)
            ),
            mask.thickness_nm,
            "nm",
            GAUSSIAN,
        ));
    }
}
