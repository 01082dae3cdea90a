//! What a reader should know before trusting a film.

use super::coverage::Arrival;
use super::recipe::{DepositedFilm, Method};
use super::request::{Deposition, PHOSPHORUS_PERCENT, PRESSURE_PA, TEMPERATURE_C};
use super::results::DepositionResults;
use crate::bound::Bound;
use crate::etching::Variant;
use crate::num::show;
use crate::report::Warning;

/// Deepest trench over its width to which the shadow of a half-sticking film is trusted.
const DEEPEST: f64 = 3.0;

/// Widest trench in um that a spun film still fills level (order of magnitude, common practice).
const LEVEL_UM: f64 = 10.0;

pub(super) fn warnings(
    deposition: &Deposition,
    results: &DepositionResults,
) -> Vec<Warning> {
    let mut list = Vec::new();
    settings(deposition, &mut list);
    growth(deposition, &mut list);
    film(deposition, &mut list);
    trench(deposition, results, &mut list);
    reflow(deposition, results, &mut list);
    list
}

fn warn(
    list: &mut Vec<Warning>,
    code: &'static str,
    field: &str,
    message: String,
    hint: &str,
) {
    list.push(Warning::new(code, field, &message, hint));
}

/// Settings outside what was published.
fn settings(deposition: &Deposition, list: &mut Vec<Warning>) {
    let recipe = deposition.recipe;
    let source = recipe.source.split(['(', ':']).next().unwrap_or("").trim();
    let bound = Bound { published: Some(recipe.published_c), ..TEMPERATURE_C };
    bound.warn_outside(deposition.conditions.temperature_c, source, list);
    if let Some(pressure_pa) = deposition.conditions.pressure_pa {
        PRESSURE_PA.warn_outside(pressure_pa, "0.1 to 0.5 Torr, common practice", list);
    }
    if let Some(percent) = deposition.phosphorus_percent {
        PHOSPHORUS_PERCENT.warn_outside(percent, "common practice", list);
    }
}

/// How the film grows.
fn growth(deposition: &Deposition, list: &mut Vec<Warning>) {
    let recipe = deposition.recipe;
    let (low_c, high_c) = recipe.published_c;
    let at_c = deposition.conditions.temperature_c;
    if recipe.activation_ev.is_some_and(|e| 0.5 < e) && high_c < at_c {
        warn(
            list,
            "supply_limited",
            "temperature_c",
            format!(
                "above {} °C the gas no longer arrives as fast as the surface could use it: the real rate is lower, and the film uneven",
                show(high_c)
            ),
            "stay where the surface reaction limits",
        );
    }
    if recipe.film == DepositedFilm::Polysilicon
        && (560.0..600.0).contains(&at_c)
        && low_c <= at_c
    {
        warn(
            list,
            "amorphous_or_mixed",
            "temperature_c",
            "below 600 °C the film is amorphous or mixed: grains, stress and roughness change with a few degrees".to_owned(),
            "use 610 to 640 °C for columnar polysilicon, or stay below 575 °C",
        );
    }
    if let Some((dopant, cm3)) = deposition.doping {
        warn(
            list,
            "doped_while_growing",
            "dopant",
            format!(
                "the gas of {} changes the rate and makes the film uneven over the wafer; the factor is an estimate",
                dopant.label()
            ),
            "dope gates after deposition, or measure the rate",
        );
        let limit = super::polysilicon::active_limit_cm3(dopant);
        if limit < cm3 {
            warn(
                list,
                "above_solubility",
                "concentration_cm3",
                format!(
                    "of {} cm⁻³ only {} stay active after an anneal at 1000 °C",
                    show(cm3),
                    show(limit)
                ),
                "more dopant will not make the film conduct better",
            );
        }
    }
    if deposition.thickness_nm < 2.0 {
        warn(
            list,
            "too_thin_for_a_film",
            "time_min",
            format!(
                "{} nm are a few atoms: such a film grows as islands after a delay, which is not modeled",
                show(deposition.thickness_nm)
            ),
            "deposit longer",
        );
    }
}

/// What the film does to the wafer.
fn film(deposition: &Deposition, list: &mut Vec<Warning>) {
    let t_nm = deposition.thickness_nm;
    let is = |film| deposition.recipe.film == film;
    let kind = deposition.variant;
    if is(DepositedFilm::Nitride) && kind == Some(Variant::Stoichiometric) && 200.0 < t_nm
    {
        warn(
            list,
            "film_may_crack",
            "film",
            "stoichiometric nitride of more than 200 to 250 nm on silicon cracks by its own tension".to_owned(),
            "make it thinner, put pad oxide below, or use the low-stress kind",
        );
    }
    if is(DepositedFilm::DepositedOxide) && kind == Some(Variant::Lto) && 1000.0 < t_nm {
        warn(
            list,
            "film_may_crack",
            "film",
            "low-temperature oxide of more than 1 µm may crack when it is heated"
                .to_owned(),
            "densify in steps, or use TEOS",
        );
    }
    if deposition.phosphorus_percent.is_some_and(|percent| 8.0 < percent) {
        warn(
            list,
            "glass_takes_up_water",
            "phosphorus_percent",
            "glass with more than 8 % phosphorus takes up water; the acid corrodes aluminum".to_owned(),
            "stay at or below 8 %",
        );
    }
    if is(DepositedFilm::Aluminum) && kind == Some(Variant::Pure) {
        warn(
            list,
            "junction_spiking",
            "variant",
            "pure aluminum dissolves silicon in the sinter and spikes through shallow junctions".to_owned(),
            "use aluminum with about 1 % silicon on contacts; keep every later step below 450 °C",
        );
    }
    if deposition.recipe.method == Method::Sputter {
        warn(
            list,
            "target_dependent",
            "method",
            "rate and angles depend on target, power, distance and gas pressure; the cosine law is the usual middle".to_owned(),
            "measure the rate of your own target",
        );
    }
}

/// What the section leaves out.
fn trench(deposition: &Deposition, results: &DepositionResults, list: &mut Vec<Warning>) {
    let (Some(trench), Some(film)) = (deposition.trench, &results.step_coverage) else {
        return;
    };
    if !results.voids.is_empty() {
        warn(
            list,
            "void",
            "trench.depth_um",
            "the film met over the trench before the trench was full: a void is shut in"
                .to_owned(),
            "use a conformal film, a wider trench, or a thinner film",
        );
    } else if film.closed {
        warn(
            list,
            "seam",
            "trench.width_um",
            format!(
                "the films on both walls have met ({} nm on each): a seam is left that later etches attack",
                show(film.side_nm.unwrap_or_default())
            ),
            "expect the seam to open in wet acid",
        );
    }
    match deposition.recipe.arrival {
        Arrival::Diffuse { .. } if DEEPEST < trench.aspect_ratio() => warn(
            list,
            "outside_model",
            "trench.depth_um",
            format!(
                "the trench is {} times deeper than wide: so deep, real films of this kind cover worse than shown",
                show(trench.aspect_ratio())
            ),
            "trust the picture to about three widths",
        ),
        Arrival::Beam if film.top_nm < 1e3 * trench.depth_um => warn(
            list,
            "film_broken",
            "trench.depth_um",
            format!(
                "the walls stay bare: metal on top and metal below do not touch over a step of {} nm",
                show(1e3 * trench.depth_um)
            ),
            "slope the step, turn the wafers during evaporation, or sputter",
        ),
        Arrival::Liquid if LEVEL_UM < trench.width_um => warn(
            list,
            "outside_model",
            "trench.width_um",
            format!(
                "a liquid does not level a trench of {} µm: real films sink into it",
                show(trench.width_um)
            ),
            "trust the level surface to about 10 µm",
        ),
        _ => {}
    }
}

fn reflow(deposition: &Deposition, results: &DepositionResults, list: &mut Vec<Warning>) {
    let (Some(reflow), Some((temperature_c, _))) = (results.reflow, deposition.reflow)
    else {
        return;
    };
    warn(
        list,
        "estimated_flow",
        "reflow.temperature_c",
        "the viscosity of the glass is an estimate: steam in the tube and the source of the phosphorus change it much".to_owned(),
        "use the slope to compare settings, not as a promise",
    );
    if temperature_c < reflow.flow_temperature_c - 1e-9 {
        warn(
            list,
            "does_not_flow",
            "reflow.temperature_c",
            format!(
                "this glass flows at about {} °C; at {} °C it hardly moves",
                show(reflow.flow_temperature_c),
                show(temperature_c)
            ),
            "go hotter, or put more phosphorus in",
        );
    }
}
