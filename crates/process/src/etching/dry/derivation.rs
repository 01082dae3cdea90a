//! The derivation of a dry etch with the reader's numbers put in.

use super::DryEtchResults;
use super::request::DryEtch;
use crate::num::show;
use crate::report::WorkingLine;
use crate::vocabulary::Material;

const TABLE: &str = "common practice, ±50 %; default: model choice inside the range";
const GEOMETRY: &str = "geometry of the moving front (derived)";

pub(super) fn working(etch: &DryEtch, results: &DryEtchResults) -> Vec<WorkingLine> {
    let mut lines = Vec::new();
    let mut line = |equation: &str, substituted: String, value, unit, source: &str| {
        lines.push(WorkingLine::new(equation, substituted, value, unit, source));
    };
    let (rate, a) = (etch.row.rate_nm_min, etch.row.anisotropy);
    let (d, step) = (etch.thickness_nm, etch.step_nm);
    let film = etch.film.material.label();
    line(
        "R of the table",
        format!(
            "R({film} in {}) = {}, usually {} to {}",
            etch.chemistry.label(),
            show(rate.value),
            show(rate.low),
            show(rate.high)
        ),
        rate.value,
        "nm/min",
        TABLE,
    );
    line(
        "R_lateral = (1 − A) R",
        format!("R_lateral = (1 − {}) · {}", show(a.value), show(rate.value)),
        (1.0 - a.value) * rate.value,
        "nm/min",
        TABLE,
    );
    line(
        "t_clear = 60 d / R",
        format!("t_clear = 60 · {} / {}", show(d), show(rate.value)),
        results.time_to_clear_s,
        "s",
        "definition of the rate",
    );
    if let Some(step_s) = results.time_to_clear_step_s {
        line(
            "t_step = 60 min[(d + h) / R, d / R_lateral]",
            format!(
                "t_step = 60 · min[({} + {}) / {}, {} / {}]",
                show(d),
                show(step),
                show(rate.value),
                show(d),
                show((1.0 - a.value) * rate.value)
            ),
            step_s,
            "s",
            "the film covers an upright step evenly (derived)",
        );
    }
    if let Some(percent) = results.over_etch_percent {
        let last_s = results.time_to_clear_step_s.unwrap_or(results.time_to_clear_s);
        line(
            "over-etch = (t − t_last) / t_clear (in percent)",
            format!(
                "100 · ({} − {}) / {}",
                show(results.time_s),
                show(last_s),
                show(results.time_to_clear_s)
            ),
            percent,
            "%",
            "counted from where the last film is gone",
        );
    }
    line(
        "x = min(R t / 60, d)",
        format!(
            "x = min({} · {} / 60, {})",
            show(rate.value),
            show(results.time_s),
            show(d)
        ),
        results.etched_nm,
        "nm",
        GEOMETRY,
    );
    line(
        "u = (1 − A) R t / 60, sideways at the top",
        format!(
            "u = (1 − {}) · {} · {} / 60",
            show(a.value),
            show(rate.value),
            show(results.time_s)
        ),
        results.lateral_nm,
        "nm",
        GEOMETRY,
    );
    if let Some(left_nm) = results.step_left_nm {
        line(
            "fence = d + h − R t / 60 until t_step, then 0",
            format!(
                "{} + {} − {} · {} / 60",
                show(d),
                show(step),
                show(rate.value),
                show(results.time_s)
            ),
            left_nm,
            "nm",
            GEOMETRY,
        );
    }
    let basis = if etch.selectivity_given { "given in the request" } else { TABLE };
    line(
        "loss below = R (t − t_clear) / (60 S)",
        format!(
            "loss = {} · ({} − {}) / (60 · {}), at least 0",
            show(rate.value),
            show(results.time_s),
            show(results.time_to_clear_s),
            show(etch.selectivity.value)
        ),
        results.stop_layer_loss_nm,
        "nm",
        basis,
    );
    if let (Some(loss_nm), Some(to_resist)) =
        (results.mask_loss_nm, etch.row.selectivity_to(Material::Resist))
    {
        line(
            "mask loss = R t / (60 S_resist)",
            format!(
                "mask loss = {} · {} / (60 · {})",
                show(rate.value),
                show(results.time_s),
                show(to_resist.value)
            ),
            loss_nm,
            "nm",
            TABLE,
        );
    }
    lines
}
