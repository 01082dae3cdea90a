//! What goes wrong in a dry etch, and what the numbers leave out.

use super::DryEtchResults;
use super::request::DryEtch;
use crate::etching::request::TIME_S;
use crate::num::show;
use crate::report::Warning;
use crate::vocabulary::Material;

/// Depth over width of an opening above which narrow openings lag noticeably (common
/// practice; the lag is not computed).
const LAG_RATIO: f64 = 2.0;

pub(super) fn warnings(etch: &DryEtch, results: &DryEtchResults) -> Vec<Warning> {
    let mut list = Vec::new();
    let mut warn = |code: &'static str, field: &str, message: String, hint: &str| {
        list.push(Warning::new(code, field, &message, hint));
    };
    if TIME_S.max < results.time_s {
        warn(
            "too_slow",
            "thickness_nm",
            format!("the etch would take {} h", show(results.time_s / 3600.0)),
            "choose a thinner film or another way to remove it",
        );
    }
    if 0.0 < results.remaining_nm {
        warn(
            "not_cleared",
            "time_s",
            format!(
                "{} nm of {} are left; the flat film clears after {} s",
                show(results.remaining_nm),
                etch.film.label(),
                show(results.time_to_clear_s)
            ),
            "etch longer; a slow etcher may need half as long again",
        );
    } else if let Some(left_nm) = results.step_left_nm.filter(|&left| 0.0 < left) {
        warn(
            "stringer",
            "time_s",
            format!(
                "a fence of {} nm of {} stands along the step: there the film is {} nm thick from above, and clears after {} s",
                show(left_nm),
                etch.film.label(),
                show(etch.thickness_nm + etch.step_nm),
                show(results.time_to_clear_step_s.unwrap_or_default())
            ),
            "over-etch by the height of the step, or make the step slope",
        );
    }
    stop_layer(etch, results, &mut warn);
    mask(results, &mut warn);
    if etch.film.material == Material::Aluminum {
        warn(
            "corrosion",
            "chemistry",
            "chlorine left on the wafer corrodes aluminum within minutes in moist air"
                .to_owned(),
            "strip the resist and rinse at once, best without breaking the vacuum",
        );
    }
    list
}

fn stop_layer(
    etch: &DryEtch,
    results: &DryEtchResults,
    warn: &mut impl FnMut(&'static str, &str, String, &str),
) {
    let (loss_nm, worst_nm) =
        (results.stop_layer_loss_nm, results.stop_layer_worst_loss_nm);
    let stop = etch.stop.label();
    if etch.selectivity.value < 1.0 && 0.0 < loss_nm {
        warn(
            "not_selective",
            "stop.material",
            format!("{stop} goes faster than the film: nothing stops this etch"),
            "stop by the end-point signal, or put another layer below",
        );
    }
    let Some(thick_nm) = etch.stop_thickness_nm else { return };
    if thick_nm <= loss_nm {
        warn(
            "stop_layer_through",
            "stop.thickness_nm",
            format!(
                "{stop} of {} nm is gone: the loss would be {} nm",
                show(thick_nm),
                show(loss_nm)
            ),
            "over-etch less, use a more selective chemistry, or a thicker layer",
        );
    } else if thick_nm <= worst_nm {
        warn(
            "stop_layer_at_risk",
            "stop.thickness_nm",
            format!(
                "at the low end of the selectivity ({}) the loss is {} nm: {stop} of {} nm is gone",
                show(etch.selectivity.low),
                show(worst_nm),
                show(thick_nm)
            ),
            "measure the selectivity of your etcher before relying on it",
        );
    }
}

fn mask(
    results: &DryEtchResults,
    warn: &mut impl FnMut(&'static str, &str, String, &str),
) {
    let (Some(mask_nm), Some(loss_nm)) = (results.mask_nm, results.mask_loss_nm) else {
        return;
    };
    if mask_nm <= loss_nm {
        warn(
            "mask_too_thin",
            "mask.thickness_nm",
            format!(
                "the etch would take {} nm of a mask of {} nm: the film below it is etched too, and the widths no longer hold",
                show(loss_nm),
                show(mask_nm)
            ),
            "use thicker resist or a mask of another film",
        );
    }
    if results.line_um.is_some_and(|um| um <= 0.0) {
        warn(
            "line_gone",
            "mask",
            "the walls of the line have met: nothing is left under the mask".to_owned(),
            "draw the line wider, or use a more directional chemistry",
        );
    }
    if let Some(um) = results.mask_opening_um {
        let deep_um = 1e-3 * (results.etched_nm + mask_nm);
        if LAG_RATIO * um < deep_um {
            warn(
                "aspect_ratio",
                "mask.opening_um",
                format!(
                    "mask and film together stand {} times as high as the opening is wide: narrow openings etch slower, which is not computed",
                    show(deep_um / um)
                ),
                "expect a longer clear time; look at a section",
            );
        }
    }
}
