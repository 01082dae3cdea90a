//! Warnings and hazards of a diffusion step.

use super::answer::Answered;
use super::drive_in::DriveIn;
use super::layer::Layer;
use super::point_defects::{
    SUPERSATURATION_SOURCE, VANISHES_ABOVE_C, interstitial_share,
};
use super::predeposition::Predeposition;
use super::request::TEMPERATURE;
use super::simulated::Simulated;
use super::solubility::{active_limit, solubility};
use super::solver::enhancement;
use super::start::Shape;
use crate::num::show;
use crate::report::Warning;
use crate::vocabulary::{Ambient, AnnealAmbient, DiffusionSolution};

/// Warnings that a predeposition alone can have.
pub(super) fn of_predeposition(done: &Predeposition) -> Vec<Warning> {
    let mut warnings = Vec::new();
    if let Some(limit) = solubility(done.dopant, done.simulated.conditions.temperature)
        && 1.001 * limit.concentration_cm3 < done.supply.surface_cm3
    {
        warnings.push(Warning::new(
            "above_solubility",
            "surface_concentration_cm3",
            &format!(
                "{} per cm3 is above the solubility of {} per cm3 at this temperature ({}, ±30 %)",
                show(done.supply.surface_cm3),
                show(limit.concentration_cm3),
                limit.source
            ),
            "a source cannot hold the surface above the solubility: lower the surface concentration",
        ));
    }
    warn_glass(done, &mut warnings);
    warn_tail(done, &mut warnings);
    warnings.extend(done.mask.warnings.iter().cloned());
    warn_constant(done.solution, &done.simulated, &mut warnings);
    warnings
}

/// Warns where a glass film does not stay the constant source that it is taken for.
fn warn_glass(done: &Predeposition, warnings: &mut Vec<Warning>) {
    let Some(glass) = done.supply.glass else { return };
    let given = done.simulated.layers.first().map_or(0.0, Layer::dose_cm2);
    let limiting = done.supply.limiting_glass().is_some();
    if limiting && done.solution == DiffusionSolution::ClosedForm {
        return;
    }
    let left = if limiting { glass.left() } else { 1.0 };
    if 0.95 <= left && given < 0.5 * glass.content_cm2() {
        return;
    }
    warnings.push(Warning::new(
        "glass_depleted",
        "glass.thickness_nm",
        &format!(
            "the silicon takes {} of the {} per cm2 that the glass holds, while this solution keeps the surface at its first concentration: the film would run low",
            show(given),
            show(glass.content_cm2())
        ),
        "thicken the glass, or use the closed form, which follows the film as it empties",
    ));
}

/// Warns of how far kink and tail can be trusted.
fn warn_tail(done: &Predeposition, warnings: &mut Vec<Warning>) {
    let Some(tail) = done.simulated.tail else { return };
    let celsius = done.simulated.conditions.temperature.to_celsius();
    let (message, hint) = if !tail.has_kink() {
        (
            format!(
                "{} electrons per cm3 at the surface stay below the {} of the kink: there is no tail",
                show(tail.surface_electrons_cm3),
                show(tail.kink_cm3)
            ),
            "raise the surface concentration to see kink and tail",
        )
    } else {
        let outside = if (900.0..=1050.0).contains(&celsius) {
            ""
        } else {
            ", and this temperature lies outside its 900 to 1050 °C"
        };
        (
            format!(
                "kink and tail follow Fair and Tsai 1977, whose constants carry ±40 %{outside}: the tail is illustrative"
            ),
            "compare with phosphorus_tail false",
        )
    };
    warnings.push(Warning::new("phosphorus_tail", "phosphorus_tail", &message, hint));
}

/// Warnings that a drive-in alone can have.
pub(super) fn of_drive_in(done: &DriveIn) -> Vec<Warning> {
    let mut warnings = Vec::new();
    of_oxide(done, &mut warnings);
    if let (Some(given), before) = (Some(done.simulated.substrate), done.start.substrate)
        && before.is_some_and(|before| before != given)
    {
        warnings.push(Warning::new(
            "substrate_differs",
            "substrate",
            "the step before was computed in another substrate than this drive-in",
            "give the same substrate to both steps",
        ));
    }
    let root = done.simulated.root_dt_um;
    match done.start.shape {
        Shape::Predeposition { root_dt_um, .. }
            if done.solution == DiffusionSolution::ClosedForm
                && root < 4.0 * root_dt_um =>
        {
            warnings.push(Warning::new(
                "drive_in_too_short",
                "time_min",
                &format!(
                    "sqrt(Dt) of {} um is less than 4 times the {} um of the predeposition: the Gaussian does not hold yet",
                    show(root),
                    show(root_dt_um)
                ),
                "drive in longer or hotter, or use the numerical solution",
            ));
        }
        _ => {}
    }
    let deepest = done
        .start
        .layers
        .iter()
        .map(|(_, layer)| layer.depth_where_below(1e-3 * layer.largest_cm3()) * 1e4)
        .fold(0.0, f64::max);
    if root < 0.03 * deepest {
        warnings.push(Warning::new(
            "start_deeper_than_diffusion",
            "time_min",
            &format!(
                "the start reaches {} um deep while sqrt(Dt) is only {} um: it will hardly change",
                show(deepest),
                show(root)
            ),
            "drive in longer or hotter to move it",
        ));
    }
    warn_constant(done.solution, &done.simulated, &mut warnings);
    warnings
}

/// Warnings about any result.
pub(super) fn of_result(simulated: &Simulated, answered: &Answered) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let conditions = &simulated.conditions;
    TEMPERATURE.warn_outside(
        conditions.temperature.to_celsius(),
        conditions.set.source(),
        &mut warnings,
    );
    for (dopant, c) in &simulated.dopants {
        if dopant.is_diffusion_only() {
            warnings.push(Warning::new(
                "seldom_used_dopant",
                "dopant",
                &format!(
                    "{} is seldom used: its diffusivity is known to a factor of 2 and its solubility only as a maximum",
                    dopant.word()
                ),
                "read depths and surface concentration as orders of magnitude",
            ));
        }
        let largest = c.iter().copied().fold(0.0, f64::max);
        let Some(limit) = active_limit(*dopant, conditions.temperature) else { continue };
        if !conditions.limited
            && simulated.tail.is_none()
            && 1.001 * limit.concentration_cm3 < largest
        {
            warnings.push(Warning::new(
                "above_active_limit",
                "active_limit",
                &format!(
                    "{} per cm3 of {} is above the {} per cm3 that can be electrically active ({}); all of it is counted as active, so the layer comes out too deep and too conductive",
                    show(largest),
                    dopant.word(),
                    show(limit.concentration_cm3),
                    limit.source
                ),
                "set active_limit to true",
            ));
        }
    }
    if answered.junctions_um.is_empty() {
        let same = simulated
            .dopants
            .iter()
            .all(|(dopant, _)| dopant.doping_type() == simulated.substrate.doping_type);
        let (message, hint) = if same {
            (
                "there is no junction: the dopant makes the same type as the substrate",
                "choose a substrate of the opposite type",
            )
        } else {
            (
                "there is no junction: the dopant stays below the doping of the substrate",
                "raise the dose or use a lighter doped substrate",
            )
        };
        warnings.push(Warning::new("no_junction", "substrate", message, hint));
    }
    warnings
}

/// Warns where one diffusivity is used although carriers of the dopant would raise it.
fn warn_constant(
    solution: DiffusionSolution,
    simulated: &Simulated,
    warnings: &mut Vec<Warning>,
) {
    let conditions = &simulated.conditions;
    let closed = solution == DiffusionSolution::ClosedForm;
    if !closed && !conditions.set.is_constant() {
        return;
    }
    let ni = super::diffusivity::intrinsic_cm3(conditions.temperature);
    let largest =
        simulated.dopants.iter().flat_map(|(_, c)| c.iter().copied()).fold(0.0, f64::max);
    if ni < largest {
        warnings.push(Warning::new(
            "diffusivity_not_constant",
            if closed { "solution" } else { "diffusivity" },
            &format!(
                "{} per cm3 is above the intrinsic density of {} per cm3: the true diffusivity rises with the concentration and the true profile is deeper and more box-like",
                show(largest),
                show(ni)
            ),
            "compare with solution numerical and diffusivity plummer_2000",
        ));
    }
}

/// Rows of the hazard table that a drive-in or an anneal shows, with those of the steps before.
pub(super) fn heating_hazards(done: &DriveIn) -> Vec<&'static str> {
    let mut hazards: Vec<&'static str> = match done.ambient {
        AnnealAmbient::Inert => vec!["N2", "HEAT"],
        AnnealAmbient::Dry => vec!["O2", "N2", "HEAT"],
        AnnealAmbient::Wet | AnnealAmbient::Steam => vec!["H2", "O2", "N2", "HEAT"],
        AnnealAmbient::FormingGas => vec!["H2", "N2", "HEAT"],
    };
    for hazard in &done.start.hazards {
        if !hazards.contains(hazard) {
            hazards.push(hazard);
        }
    }
    hazards
}

/// Warnings about a growing oxide and the interstitials that it injects.
fn of_oxide(done: &DriveIn, warnings: &mut Vec<Warning>) {
    let asked = done.recipe.enhanced;
    if done.recipe.ambient == Ambient::Inert {
        if asked {
            warnings.push(Warning::new(
                "nothing_oxidizes",
                "oxidation_enhanced_diffusion",
                "nothing oxidizes in this gas: the diffusion is not enhanced",
                "choose the ambient dry, wet or steam to see it",
            ));
        }
        return;
    }
    let Some(furnace) = &done.furnace else { return };
    let (_, s) = furnace.at_the_end();
    let celsius = done.simulated.conditions.temperature.to_celsius();
    if asked {
        if VANISHES_ABOVE_C < celsius {
            warnings.push(Warning::new(
                "supersaturation_uncertain",
                "oxidation_enhanced_diffusion",
                &format!(
                    "above {VANISHES_ABOVE_C} °C oxidation hardly supersaturates silicon, and chlorine of 1 % or more in the gas has the same effect: the enhancement of {} is too large",
                    show(s)
                ),
                "leave oxidation_enhanced_diffusion out",
            ));
        }
        return;
    }
    let felt = done
        .simulated
        .dopants
        .iter()
        .map(|(dopant, _)| (*dopant, enhancement(interstitial_share(*dopant), s)));
    for (dopant, factor) in felt {
        if (0.8..1.25).contains(&factor) || VANISHES_ABOVE_C < celsius {
            continue;
        }
        warnings.push(Warning::new(
            "enhancement_left_out",
            "oxidation_enhanced_diffusion",
            &format!(
                "the interstitials that this oxidation injects change the diffusivity of {} by a factor of about {} ({SUPERSATURATION_SOURCE}), which is left out",
                dopant.word(),
                show(factor)
            ),
            "set oxidation_enhanced_diffusion to true",
        ));
    }
}
