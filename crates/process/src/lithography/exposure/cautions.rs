//! What a reader should know before trusting an exposure.

use super::bounds::{BAKE_TEMPERATURE_C, NUMERICAL_APERTURE};
use super::request::{Exposure, Tool};
use super::results::ExposureResults;
use crate::lithography::imaging::{Pattern, cut_off_per_um};
use crate::num::show;
use crate::report::Warning;

pub(super) fn warnings(exposure: &Exposure, results: &ExposureResults) -> Vec<Warning> {
    let mut list = Vec::new();
    let mask = &exposure.mask;
    let optics = exposure.optics;
    if exposure.tool == Tool::Projection {
        NUMERICAL_APERTURE.warn_outside(
            optics.numerical_aperture,
            "scalar images",
            &mut list,
        );
        let cut_off = cut_off_per_um(
            optics.partial_coherence,
            optics.wavelength_um,
            optics.numerical_aperture,
        );
        let repeats = matches!(mask.pattern, Pattern::LineSpace | Pattern::ContactArray);
        if repeats && cut_off * mask.pitch_um < 1.0 {
            list.push(Warning::new(
                "pitch_not_resolved",
                "mask.pitch_um",
                &format!(
                    "a pitch of {} µm is finer than {} µm, below which the lens takes in one order only: there is no image",
                    show(mask.pitch_um),
                    show(1.0 / cut_off)
                ),
                "widen the pitch, or take a larger aperture or a shorter wavelength",
            ));
        }
        if let Some(depth) = results.depth_of_focus_um
            && depth < optics.defocus_um.abs()
        {
            list.push(Warning::new(
                "out_of_focus",
                "defocus_um",
                &format!(
                    "{} µm is beyond the depth of focus of {} µm",
                    show(optics.defocus_um.abs()),
                    show(depth)
                ),
                "focus again, or take a smaller aperture",
            ));
        }
    }
    let finest = match mask.pattern {
        Pattern::LineSpace => mask.line_um().min(mask.opening_um),
        Pattern::Openings => {
            mask.openings_um.iter().map(|[a, b]| b - a).fold(f64::INFINITY, f64::min)
        }
        Pattern::Edge => f64::INFINITY,
        _ => mask.nominal_um(),
    };
    if finest < results.resolution_um {
        list.push(Warning::new(
            "below_resolution",
            "mask.opening_um",
            &format!(
                "{} µm is finer than the {} µm of the tool's rule: dose and focus leave little room",
                show(finest),
                show(results.resolution_um)
            ),
            "widen the drawing, or take a tool that resolves more",
        ));
    }
    if let Some(clear) = results.dose_to_clear_mj_cm2
        && exposure.dose_mj_cm2 < clear
    {
        list.push(Warning::new(
            "underexposed",
            "dose_mj_cm2",
            &format!(
                "{} mJ/cm² is below the {} mJ/cm² that clear an open frame in 60 s",
                show(exposure.dose_mj_cm2),
                show(clear)
            ),
            "raise the dose; features need more than an open frame",
        ));
    }
    match exposure.bake {
        Some([temperature_c, _]) => {
            BAKE_TEMPERATURE_C.warn_outside(temperature_c, "common practice", &mut list);
        }
        None if results.standing_wave_ratio < 0.5 => list.push(Warning::new(
            "standing_waves_stay",
            "post_exposure_bake",
            "without a bake after exposure the standing waves stay in the walls, and their dark layers hold the developer up",
            "bake after exposure",
        )),
        None => {}
    }
    list
}
