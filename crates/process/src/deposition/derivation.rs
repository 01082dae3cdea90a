//! The derivation of a deposition with the reader's numbers put in.

use super::coverage::{Arrival, flat_share_at_bottom, flat_share_at_wall};
use super::polysilicon::{active_limit_cm3, doping_factor, mobility_cm2_v_s};
use super::rate::thermal_factor;
use super::reflow::{RIPPLE_MIN, VISCOSITY_EV};
use super::request::Deposition;
use super::results::DepositionResults;
use crate::constants::BOLTZMANN_EV_K;
use crate::num::show;
use crate::report::WorkingLine;
use crate::units::Temperature;

pub(super) fn working(
    deposition: &Deposition,
    results: &DepositionResults,
) -> Vec<WorkingLine> {
    let mut lines = Vec::new();
    growth(deposition, &mut lines);
    source(deposition, results, &mut lines);
    coverage(deposition, results, &mut lines);
    reflow(deposition, results, &mut lines);
    conduction(deposition, results, &mut lines);
    lines
}

fn growth(deposition: &Deposition, lines: &mut Vec<WorkingLine>) {
    let (Some(rate), Some(time_min)) = (deposition.rate, deposition.time_min) else {
        return;
    };
    let (recipe, at) = (deposition.recipe, &deposition.conditions);
    let mut factors = String::new();
    let mut equation = "R = R₀".to_owned();
    if let (Some((reference_pa, order)), Some(pressure_pa)) =
        (recipe.pressure, at.pressure_pa)
    {
        equation.push_str(" (P/P₀)^m");
        factors = format!(
            " · ({} / {})^{}",
            show(pressure_pa),
            show(reference_pa),
            show(order)
        );
    }
    if let Some((dopant, _)) = deposition.doping {
        let factor = doping_factor(dopant);
        lines.push(WorkingLine::new(
            "f, change of the rate by the dopant's gas",
            format!("f({}) = {}", dopant.label(), show(factor)),
            factor,
            "",
            "phosphine slows silane, diborane speeds it up, about ten times apart (read: DTU Nanolab, polysilicon page); split: model choice",
        ));
        equation.push_str(" f");
        factors.push_str(&format!(" · {}", show(factor)));
    }
    if recipe.activation_ev.is_some() {
        let kelvin = |c: f64| show(Temperature::celsius(c).to_kelvin());
        lines.push(WorkingLine::new(
            "a = exp[−(E/k)(1/T − 1/T₀)]",
            format!(
                "a = exp[−({} / {}) (1/{} − 1/{})]",
                show(at.activation_ev),
                show(BOLTZMANN_EV_K),
                kelvin(at.temperature_c),
                kelvin(recipe.reference_c)
            ),
            thermal_factor(at.activation_ev, at.temperature_c, recipe.reference_c),
            "",
            "law of Arrhenius: the reaction at the surface limits",
        ));
        equation.push_str(" a");
        factors.push_str(" · a");
    }
    lines.push(WorkingLine::new(
        &equation,
        format!("R = {}{factors}", show(recipe.rate_nm_min)),
        rate.nm_min,
        "nm/min",
        recipe.source,
    ));
    if deposition.asks_time {
        lines.push(WorkingLine::new(
            "t = d / R",
            format!("t = {} / {}", show(deposition.thickness_nm), show(rate.nm_min)),
            time_min,
            "min",
            "definition of the rate",
        ));
    } else {
        lines.push(WorkingLine::new(
            "d = R t",
            format!("d = {} · {}", show(rate.nm_min), show(time_min)),
            deposition.thickness_nm,
            "nm",
            "definition of the rate",
        ));
    }
}

fn source(
    deposition: &Deposition,
    results: &DepositionResults,
    lines: &mut Vec<WorkingLine>,
) {
    let (Some((height_mm, diameter_mm)), Some(ratio), Some(charge_g)) =
        (deposition.source, results.rim_to_center, results.charge_g)
    else {
        return;
    };
    const MAISSEL: &str = "small plane source, cosine law: L. I. Maissel, R. Glang, Handbook of Thin Film Technology (memory)";
    lines.push(WorkingLine::new(
        "d(l)/d(0) = [1 + (l/h)²]⁻²",
        format!("[1 + ({} / {})²]⁻²", show(0.5 * diameter_mm), show(height_mm)),
        ratio,
        "",
        MAISSEL,
    ));
    lines.push(WorkingLine::new(
        "m = π ρ h² d",
        format!(
            "m = π · {} · {}² · {} · 10⁻⁷",
            show(deposition.recipe.density_g_cm3.0),
            show(0.1 * height_mm),
            show(deposition.thickness_nm)
        ),
        charge_g,
        "g",
        MAISSEL,
    ));
}

fn coverage(
    deposition: &Deposition,
    results: &DepositionResults,
    lines: &mut Vec<WorkingLine>,
) {
    let (Some(trench), Some(film)) = (deposition.trench, &results.step_coverage) else {
        return;
    };
    let (w, h) = (trench.width_um, trench.depth_um);
    lines.push(WorkingLine::new(
        "aspect ratio = h / w",
        format!("{} / {}", show(h), show(w)),
        trench.aspect_ratio(),
        "",
        "definition",
    ));
    match deposition.recipe.arrival {
        Arrival::Everywhere => {
            lines.push(WorkingLine::new(
                "d_side = min(d, w/2); corner radius = d",
                format!("min({}, {})", show(film.top_nm), show(500.0 * w)),
                film.side_nm.unwrap_or_default(),
                "nm",
                "surface moved out by d everywhere (derived): molecules leave a wall many times before they react",
            ));
        }
        Arrival::Diffuse { everywhere } => {
            let share = |sky: f64| everywhere + (1.0 - everywhere) * sky;
            let (bottom, wall) =
                (flat_share_at_bottom(w, h), flat_share_at_wall(w, 0.5 * h));
            const LAW: &str = "view of the sky by the cosine law (derived); c of the film: model choice inside the usual step coverage";
            lines.push(WorkingLine::new(
                "bottom, first atoms: c + (1 − c) (w/2)/√((w/2)² + h²)",
                format!("{everywhere} + {} · {}", 1.0 - everywhere, show(bottom)),
                share(bottom),
                "",
                LAW,
            ));
            lines.push(WorkingLine::new(
                "wall at z = h/2, first atoms: c + (1 − c) (1 − z/√(z² + w²))/2",
                format!("{everywhere} + {} · {}", 1.0 - everywhere, show(wall)),
                share(wall),
                "",
                LAW,
            ));
            if let (Some(side_nm), Some(ratio)) = (film.side_nm, film.side_ratio) {
                lines.push(WorkingLine::new(
                    "wall of the film as it stands: d_side / d",
                    format!("{} / {}", show(side_nm), show(film.top_nm)),
                    ratio,
                    "",
                    "marched step by step; the growing film narrows the sky",
                ));
            }
        }
        Arrival::Beam => lines.push(WorkingLine::new(
            "wall: cos 90° = 0; bottom: cos 0° = 1",
            format!("{} · 0", show(film.top_nm)),
            film.side_nm.unwrap_or_default(),
            "nm",
            "straight paths to the wafer's center (derived)",
        )),
        Arrival::Liquid => lines.push(WorkingLine::new(
            "film over the trench = d + h − s h",
            format!(
                "{} + {} − {} · {}",
                show(film.top_nm),
                show(1e3 * h),
                super::results::CURE_SHRINK,
                show(1e3 * h)
            ),
            film.bottom_nm,
            "nm",
            "the liquid lies level, then loses the share s of its height in the cure: 5 to 15 % (common practice)",
        )),
    }
}

fn reflow(
    deposition: &Deposition,
    results: &DepositionResults,
    lines: &mut Vec<WorkingLine>,
) {
    let (Some(reflow), Some(percent), Some((temperature_c, time_min))) =
        (results.reflow, deposition.phosphorus_percent, deposition.reflow)
    else {
        return;
    };
    lines.push(WorkingLine::new(
        "flow temperature = 1100 − 50 (w_P − 6 %)",
        format!("1100 − 50 · ({} − 6)", show(percent)),
        reflow.flow_temperature_c,
        "°C",
        "6 to 8 % by weight flow at 1100 to 1000 °C (common practice); straight line: model choice",
    ));
    let kelvin = |c: f64| show(Temperature::celsius(c).to_kelvin());
    lines.push(WorkingLine::new(
        "b = (1 µm/2π)(t/t₁) exp[(E/k)(1/T_flow − 1/T)]",
        format!(
            "b = (1/2π) · ({} / {RIPPLE_MIN}) · exp[({VISCOSITY_EV} / {}) (1/{} − 1/{})]",
            show(time_min),
            show(BOLTZMANN_EV_K),
            kelvin(reflow.flow_temperature_c),
            kelvin(temperature_c)
        ),
        reflow.smoothing_um,
        "µm",
        "ripples die by surface tension as exp(−k b) on deep viscous glass (derived); t₁ and E: model choice",
    ));
}

fn conduction(
    deposition: &Deposition,
    results: &DepositionResults,
    lines: &mut Vec<WorkingLine>,
) {
    let (Some(rho), Some(sheet)) =
        (results.resistivity_ohm_cm, results.sheet_resistance_ohm_sq)
    else {
        return;
    };
    if let Some((dopant, cm3)) = deposition.doping {
        lines.push(WorkingLine::new(
            "ρ = 1/(q N µ), N at most what stays active",
            format!(
                "ρ = 1/(1.602e-19 · min({}, {}) · {})",
                show(cm3),
                show(active_limit_cm3(dopant)),
                show(mobility_cm2_v_s(dopant))
            ),
            rho,
            "Ω cm",
            "after an anneal at 900 to 1000 °C; mobility: J. Y. W. Seto, J. Appl. Phys. 46, 5247 (1975); T. I. Kamins (memory)",
        ));
    }
    lines.push(WorkingLine::new(
        "R_s = ρ / d",
        format!("R_s = {} / {}", show(rho), show(1e-7 * deposition.thickness_nm)),
        sheet,
        "Ω/□",
        if deposition.doping.is_some() {
            "definition"
        } else {
            "aluminum films 2.8 to 3.3 µΩ cm (common practice)"
        },
    ));
}
