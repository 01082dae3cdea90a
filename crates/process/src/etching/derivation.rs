//! The derivation of an etch with the reader's numbers put in.

use super::bath::Law;
use super::mask::Mask;
use super::rate_table::Basis;
use super::request::WetEtch;
use super::wet::{PLANE_RATIO, WetEtchResults};
use crate::constants::BOLTZMANN_EV_K;
use crate::num::show;
use crate::report::WorkingLine;
use crate::units::Temperature;

const GEOMETRY: &str = "geometry of the moving front (derived)";
const SPREAD: &str = "thickest film over slowest rate (derived)";

pub(super) fn working(etch: &WetEtch, results: &WetEtchResults) -> Vec<WorkingLine> {
    let mut lines = Vec::new();
    rate(etch, &mut lines);
    times(etch, results, &mut lines);
    depth(etch, results, &mut lines);
    widths(etch, results, &mut lines);
    lines
}

fn rate(etch: &WetEtch, lines: &mut Vec<WorkingLine>) {
    let Some(at) = etch.rate_at else {
        lines.push(WorkingLine::new(
            "R, given",
            format!("R = {}", show(etch.rate.rate_nm_min)),
            etch.rate.rate_nm_min,
            "nm/min",
            "given in the request",
        ));
        return;
    };
    let strength = etch
        .bath
        .concentration_percent
        .map_or_else(String::new, |percent| format!(", {} %", show(percent)));
    let basis = match at.table.basis {
        Basis::Measured => "",
        Basis::LowerBound => "at least ",
        Basis::Estimated => "about ",
        Basis::Given => "given ",
    };
    let table_nm_min = at.table.rate_nm_min;
    lines.push(WorkingLine::new(
        "R₀ of the rate table",
        format!(
            "R₀({} in {}{strength}, {} °C) = {basis}{}",
            etch.film.label(),
            etch.bath.etchant.label(),
            show(at.table_temperature_c),
            show(table_nm_min)
        ),
        table_nm_min,
        "nm/min",
        at.table.source,
    ));
    let (equation, factor, source) = match at.law {
        Law::Arrhenius { activation_ev, source, .. } => (
            "R = R₀ exp[−(E/k)(1/T − 1/T₀)]",
            format!(
                "exp[−({} / {}) (1/{} − 1/{})]",
                show(activation_ev),
                show(BOLTZMANN_EV_K),
                show(Temperature::celsius(etch.bath.temperature_c).to_kelvin()),
                show(Temperature::celsius(at.table_temperature_c).to_kelvin())
            ),
            source,
        ),
        Law::Doubling { source } => (
            "R = R₀ 2^((ϑ − ϑ₀)/10 °C)",
            format!(
                "2^(({} − {})/10)",
                show(etch.bath.temperature_c),
                show(at.table_temperature_c)
            ),
            source,
        ),
        Law::Unknown => {
            ("R = R₀, no temperature law known", "1".to_owned(), "model choice")
        }
    };
    lines.push(WorkingLine::new(
        equation,
        format!("R = {} · {factor}", show(table_nm_min)),
        at.here.rate_nm_min,
        "nm/min",
        source,
    ));
    if let Some(boron_cm3) = etch.boron_cm3 {
        lines.push(WorkingLine::new(
            "R_B = R / [1 + (C / C₀)⁴]",
            format!(
                "R_B = {} / [1 + ({} / 4.8e19)⁴]",
                show(at.here.rate_nm_min),
                show(boron_cm3)
            ),
            etch.rate.rate_nm_min,
            "nm/min",
            "H. Seidel et al., J. Electrochem. Soc. 137, 3626 (1990): fourth power; K. E. Petersen, Proc. IEEE 70, 420 (1982): 20 times at 1e20 (memory)",
        ));
    }
}

fn times(etch: &WetEtch, results: &WetEtchResults, lines: &mut Vec<WorkingLine>) {
    let (Some(clear_s), Some(everywhere_s)) =
        (results.time_to_clear_s, results.time_to_clear_everywhere_s)
    else {
        return;
    };
    let (d_nm, rate) = (etch.thickness_nm, etch.rate.rate_nm_min);
    lines.push(WorkingLine::new(
        "t_clear = 60 d / R",
        format!("t_clear = 60 · {} / {}", show(d_nm), show(rate)),
        clear_s,
        "s",
        "definition of the rate",
    ));
    lines.push(WorkingLine::new(
        "t_all = t_clear (1 + δ) / (1 − φ)",
        format!(
            "t_all = {} · (1 + {}) / (1 − {})",
            show(clear_s),
            show(etch.film_spread),
            show(etch.rate_spread)
        ),
        everywhere_s,
        "s",
        SPREAD,
    ));
    if let Some(percent) = results.over_etch_percent {
        lines.push(WorkingLine::new(
            "over-etch = t / t_clear − 1 (in percent)",
            format!("100 · ({} / {} − 1)", show(etch.time_s), show(clear_s)),
            percent,
            "%",
            "definition",
        ));
    }
}

fn depth(etch: &WetEtch, results: &WetEtchResults, lines: &mut Vec<WorkingLine>) {
    let (d_nm, rate) = (etch.thickness_nm, etch.rate.rate_nm_min);
    let stop = etch.stop_depth_nm(etch.time_s);
    let (equation, more) = match stop {
        Some(stop_nm) => ("x = min(R t / 60, d, w/√2)", format!(", {}", show(stop_nm))),
        None => ("x = min(R t / 60, d)", String::new()),
    };
    lines.push(WorkingLine::new(
        equation,
        format!(
            "x = min({} · {} / 60, {}{more})",
            show(rate),
            show(etch.time_s),
            show(d_nm)
        ),
        results.etched_nm,
        "nm",
        if stop.is_some() {
            "the (111) walls meet at w/√2 (derived)"
        } else {
            GEOMETRY
        },
    ));
    let (equation, substituted, source) = if etch.is_anisotropic() {
        (
            "u = R t / (60 s sin 54.74°), s = R(100)/R(111)",
            format!(
                "u = {} · {} / (60 · {} · 0.8165)",
                show(rate),
                show(etch.time_s),
                show(PLANE_RATIO)
            ),
            "(111) walls recede; ratio 30 to 100 and more (common practice), 50: model choice",
        )
    } else {
        (
            "u = R t / 60, sideways as fast as down",
            format!("u = {} · {} / 60", show(rate), show(etch.time_s)),
            GEOMETRY,
        )
    };
    lines.push(WorkingLine::new(
        equation,
        substituted,
        results.undercut_nm,
        "nm",
        source,
    ));
    if let Some(bottom_nm) = results.bottom_undercut_nm {
        lines.push(WorkingLine::new(
            "u_bottom = √((R t)² − d²), circle about the mask edge",
            format!("u_bottom = √({}² − {}²)", show(results.undercut_nm), show(d_nm)),
            bottom_nm,
            "nm",
            GEOMETRY,
        ));
    }
}

fn widths(etch: &WetEtch, results: &WetEtchResults, lines: &mut Vec<WorkingLine>) {
    let undercut_um = 1e-3 * results.undercut_nm;
    let (width_um, sign, result, bottom) = match etch.mask {
        Mask::None => return,
        Mask::Opening(width_um) => {
            (width_um, "+", results.opening_um, results.opening_bottom_um)
        }
        Mask::Line(width_um) => (width_um, "−", results.line_um, results.line_bottom_um),
    };
    let Some(result) = result else { return };
    let equation = if sign == "+" {
        "w_top = w_mask + 2 u"
    } else {
        "w_top = w_mask − 2 u, at least 0"
    };
    lines.push(WorkingLine::new(
        equation,
        format!("w_top = {} {sign} 2 · {}", show(width_um), show(undercut_um)),
        result,
        "µm",
        "two edges (derived)",
    ));
    if let (Some(bottom), true, "+") = (bottom, etch.is_anisotropic(), sign) {
        lines.push(WorkingLine::new(
            "w_bottom = w_top − 2 x / tan 54.74° = w_top − √2 x",
            format!(
                "w_bottom = {} − √2 · {}",
                show(result),
                show(1e-3 * results.etched_nm)
            ),
            bottom,
            "µm",
            "angle of (111) walls on (100), atan √2 (derived)",
        ));
    }
}
