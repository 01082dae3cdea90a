//! What a reader should know before trusting an etch, and what goes wrong at the bench.

use super::bath::{Etchant, Law};
use super::mask::Mask;
use super::rate_table::Basis;
use super::request::{BORON_CM3, TIME_S, WetEtch};
use super::wet::WetEtchResults;
use crate::num::show;
use crate::report::Warning;
use crate::vocabulary::Material;

const SECONDS_PER_DAY: f64 = 86_400.0;

pub(super) fn warnings(etch: &WetEtch, results: &WetEtchResults) -> Vec<Warning> {
    let mut list = Vec::new();
    clearing(etch, results, &mut list);
    profile(etch, results, &mut list);
    resist(etch, results, &mut list);
    rate(etch, &mut list);
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

/// Whether the film is gone, here and everywhere.
fn clearing(etch: &WetEtch, results: &WetEtchResults, list: &mut Vec<Warning>) {
    if etch.rate.rate_nm_min <= 0.0 {
        return warn(
            list,
            "not_etched",
            "etchant",
            format!(
                "{} does not etch {}: the film stays {} nm thick",
                etch.bath.etchant.label(),
                etch.film.label(),
                show(results.thickness_nm)
            ),
            "choose a bath that etches this film",
        );
    }
    if results.time_to_clear_s.is_none() {
        let stop_nm = etch.stop_depth_nm(0.0).unwrap_or_default();
        return warn(
            list,
            "self_stopped",
            "mask",
            format!(
                "the (111) walls meet at a depth of {} nm in this opening: deeper is not etched",
                show(stop_nm)
            ),
            "open the mask to more than 1.41 times the depth",
        );
    }
    if TIME_S.max < results.time_s {
        warn(
            list,
            "too_slow",
            "thickness_nm",
            format!(
                "the etch would take {} days, longer than the {} days that a time may be here",
                show(results.time_s / SECONDS_PER_DAY),
                show(TIME_S.max / SECONDS_PER_DAY)
            ),
            "choose a faster bath or a thinner film",
        );
    }
    if 0.0 < results.remaining_nm {
        return warn(
            list,
            "not_cleared",
            "time_s",
            format!(
                "{} nm of {} are left; the nominal film clears after {} s",
                show(results.remaining_nm),
                etch.film.label(),
                show(results.time_to_clear_s.unwrap_or_default())
            ),
            "etch longer",
        );
    }
    if let Some(everywhere_s) = results.time_to_clear_everywhere_s
        && results.time_s < everywhere_s * (1.0 - 1e-9)
    {
        warn(
            list,
            "not_cleared_everywhere",
            "time_s",
            format!(
                "the thickest film at the slowest rate needs {} s, and only {} s are given",
                show(everywhere_s),
                show(results.time_s)
            ),
            "etch as long as the unluckiest place needs",
        );
    }
}

/// What is left under the mask.
fn profile(etch: &WetEtch, results: &WetEtchResults, list: &mut Vec<Warning>) {
    let undercut_um = 1e-3 * results.undercut_nm;
    match etch.mask {
        Mask::None => {}
        Mask::Line(width_um) if width_um <= 2.0 * undercut_um => warn(
            list,
            "line_gone",
            "mask",
            format!(
                "both edges of the {} µm line lose {} µm: nothing is left under the mask",
                show(width_um),
                show(undercut_um)
            ),
            "draw the line wider, etch shorter, or etch it dry",
        ),
        Mask::Line(_) | Mask::Opening(_) => {
            if 0.0 < results.remaining_nm || etch.is_anisotropic() {
                // Undercut as deep as the etch is the rule and no surprise.
            } else if 1.5 * results.thickness_nm < results.undercut_nm {
                warn(
                    list,
                    "large_undercut",
                    "time_s",
                    format!(
                        "the over-etch goes on sideways: {} µm under each mask edge, {} times the film",
                        show(undercut_um),
                        show(results.undercut_nm / results.thickness_nm)
                    ),
                    "stop sooner after clearing, or draw the mask for it",
                );
            }
        }
    }
    if etch.is_anisotropic() {
        warn(
            list,
            "anisotropic",
            "material",
            format!(
                "{} etches silicon (100) along crystal planes: walls at 54.74°, edges along <110>, almost no undercut; outer corners of the mask are attacked",
                etch.bath.etchant.label()
            ),
            "read the width at the bottom beside the width at the top",
        );
    }
}

/// Whether a mask of resist survives.
fn resist(etch: &WetEtch, results: &WetEtchResults, list: &mut Vec<Warning>) {
    let etchant = etch.bath.etchant;
    let masked = !matches!(etch.mask, Mask::None);
    if etchant == Etchant::Piranha && etch.film.material == Material::Resist {
        warn(
            list,
            "bulk_resist_in_piranha",
            "material",
            "piranha is for residues: a whole film of resist can make it boil over or explode"
                .to_owned(),
            "take the bulk off with solvent or plasma first, rinse and dry",
        );
    }
    if !masked {
        return;
    }
    match etchant {
        Etchant::Phosphoric
        | Etchant::Koh30
        | Etchant::Koh33
        | Etchant::Tmah
        | Etchant::Piranha
        | Etchant::Acetone => warn(
            list,
            "resist_dissolves",
            "mask",
            format!("{} dissolves resist: it is no mask here", etchant.label()),
            "mask with oxide or nitride; the widths hold for such a mask",
        ),
        Etchant::Hf49 => lifts(
            list,
            results.time_s,
            60.0,
            "HF 49 % lifts resist within 1 to 2 minutes",
        ),
        _ if etchant.is_buffered() => lifts(
            list,
            results.time_s,
            600.0,
            "resist lifts in buffered HF after 10 to 20 minutes",
        ),
        _ if etchant.is_hf() => {
            lifts(list, results.time_s, 600.0, "resist lifts in HF within 10 minutes");
        }
        _ => {}
    }
}

/// Endurance of resist: common practice.
fn lifts(list: &mut Vec<Warning>, time_s: f64, limit_s: f64, what: &str) {
    if limit_s < time_s {
        warn(
            list,
            "resist_lifts",
            "time_s",
            format!("{what}, and this etch takes {} min", show(time_s / 60.0)),
            "split the etch with a hard bake between, use a faster bath, or mask with another film",
        );
    }
}

/// How well the rate is known.
fn rate(etch: &WetEtch, list: &mut Vec<Warning>) {
    let bath = etch.bath;
    if let Some(boron_cm3) = etch.boron_cm3 {
        BORON_CM3.warn_outside(boron_cm3, "Seidel 1990", list);
        if bath.etchant == Etchant::Tmah {
            warn(
                list,
                "borrowed_boron_law",
                "boron_cm3",
                "the law of boron was measured in KOH; TMAH stops less well".to_owned(),
                "measure a test piece and give rate_nm_min",
            );
        }
    }
    let Some(rate_at) = etch.rate_at else { return };
    let off_c = (bath.temperature_c - rate_at.table_temperature_c).abs();
    if 0.0 < etch.rate.rate_nm_min && 1.0 < off_c {
        match rate_at.law {
            Law::Unknown => warn(
                list,
                "no_temperature_law",
                "temperature_c",
                format!(
                    "no temperature law of this bath on this film is known: the rate at {} °C is shown",
                    rate_at.table_temperature_c
                ),
                "stay at the temperature of the table, or give rate_nm_min",
            ),
            Law::Arrhenius { borrowed: true, .. } => warn(
                list,
                "borrowed_temperature_law",
                "temperature_c",
                "the temperature law was measured on another film or bath and is borrowed here"
                    .to_owned(),
                "stay near the temperature of the table, or give rate_nm_min",
            ),
            Law::Arrhenius { .. } | Law::Doubling { .. } => {}
        }
    }
    if !matches!(rate_at.law, Law::Unknown) {
        bath.etchant.temperature_bound().warn_outside(
            bath.temperature_c,
            "use of this bath",
            list,
        );
    }
    if let (Some(bound), Some(percent)) =
        (bath.etchant.concentration_bound(), bath.concentration_percent)
    {
        bound.warn_outside(percent, "strengths with a known rate", list);
        let law_holds = !bath.etchant.is_koh()
            || etch.film.is_oxide()
            || etch.film.material == Material::Silicon;
        let usual = bound.default.is_none_or(|usual| (percent - usual).abs() < 1e-9);
        if !law_holds && !usual {
            warn(
                list,
                "no_concentration_law",
                "concentration_percent",
                "the strength changes only silicon and oxide here: other films keep the rate of the 33 % bath"
                    .to_owned(),
                "give rate_nm_min from a test piece",
            );
        }
    }
    match rate_at.table.basis {
        Basis::Estimated if 0.0 < etch.rate.rate_nm_min => warn(
            list,
            "estimated_rate",
            "material",
            format!(
                "no measured rate of {} in this bath is at hand: {} nm/min is an estimate, {} to {} nm/min",
                etch.film.label(),
                show(etch.rate.rate_nm_min),
                show(etch.rate.low_nm_min),
                show(etch.rate.high_nm_min)
            ),
            "measure a test piece and give rate_nm_min",
        ),
        Basis::LowerBound => warn(
            list,
            "lower_bound_rate",
            "material",
            format!(
                "the published rate is a lower bound: at least {} nm/min",
                show(etch.rate.rate_nm_min)
            ),
            "expect it faster; measure a test piece and give rate_nm_min",
        ),
        _ => {}
    }
}
