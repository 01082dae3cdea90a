//! The derivation of a profile with the reader's numbers put in.

use super::rate::{Inhibition, RATE_EV, USUAL_NORMALITY};
use super::request::Development;
use super::results::DevelopmentResults;
use crate::num::{pow, show};
use crate::report::WorkingLine;

const MACK: &str =
    "C. A. Mack, J. Electrochem. Soc. 134, 148 (1987) (memory); numbers: model choice";

pub(super) fn working(
    development: &Development,
    results: &DevelopmentResults,
) -> Vec<WorkingLine> {
    let law = development.rate_law();
    let n = law.order;
    let a = (n + 1.0) / (n - 1.0) * pow(1.0 - law.threshold_pac, n);
    let mut lines = vec![
        WorkingLine::new(
            "r_max(N, T) = r_max (N/N₀)⁵ exp[−(Eₐ/k)(1/T − 1/294 K)]",
            format!(
                "r_max = {} nm/s · ({}/{})⁵ at {} °C, Eₐ = {} eV",
                show(development.law.fastest_nm_s),
                show(development.normality),
                show(USUAL_NORMALITY),
                show(development.temperature_c),
                show(RATE_EV)
            ),
            law.fastest_nm_s,
            "nm/s",
            "model choice",
        ),
        WorkingLine::new(
            "a = (n + 1)/(n − 1) · (1 − M_th)ⁿ",
            format!(
                "a = {} / {} · (1 − {})^{}",
                show(n + 1.0),
                show(n - 1.0),
                show(law.threshold_pac),
                show(n)
            ),
            a,
            "",
            MACK,
        ),
        WorkingLine::new(
            "r(M) = r_max (a + 1)(1 − M)ⁿ / [a + (1 − M)ⁿ] + r_min",
            format!("r(M_th = {})", show(law.threshold_pac)),
            law.nm_s(law.threshold_pac),
            "nm/s",
            MACK,
        ),
        WorkingLine::new(
            "dark loss = r_min t",
            format!("{} · {}", show(law.slowest_nm_s), show(results.time_s)),
            law.slowest_nm_s * results.time_s,
            "nm",
            "rate times time (derived)",
        ),
    ];
    let inhibition = development.inhibition;
    if inhibition.surface_ratio < Inhibition::NONE.surface_ratio {
        lines.push(WorkingLine::new(
            "r(M, z) = r(M) [1 − (1 − r₀) e^(−z/d)], the top of the resist dissolves more slowly",
            format!(
                "at z = 0: factor {}, d = {} nm",
                show(inhibition.surface_ratio),
                show(inhibition.depth_nm)
            ),
            inhibition.factor(0.0),
            "",
            "model choice",
        ));
    }
    lines.push(WorkingLine::new(
        "t_open = Σ Δz / r(M(z)), a wide field",
        format!(
            "{} nm of resist in cells of {} nm",
            show(results.thickness_nm),
            show(results.cell_nm[1])
        ),
        results.open_clear_s,
        "s",
        "|∇T| = 1/r in one dimension (derived)",
    ));
    if let Some(clear_s) = results.time_to_clear_s {
        lines.push(WorkingLine::new(
            "|∇T| = 1/r, T = 0 on the top",
            format!(
                "cells of {} by {} nm",
                show(results.cell_nm[0]),
                show(results.cell_nm[1])
            ),
            clear_s,
            "s",
            "fast marching: J. A. Sethian, Proc. Natl. Acad. Sci. 93, 1591 (1996) (memory)",
        ));
    }
    if let Some(deg) = results.sidewall_deg {
        lines.push(WorkingLine::new(
            "θ = atan[0.8 h / ((w₁₀ − w₉₀)/2)], h = the height that is left",
            format!("h = {} nm", show(results.remaining_nm)),
            deg,
            "°",
            "definition",
        ));
    }
    lines
}
