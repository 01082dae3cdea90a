//! What the reader should know before trusting a sheet resistance.

use super::Measured;
use super::request::ACTIVE_LIMIT;
use crate::num::show;
use crate::report::Warning;

/// Junctions above this depth lose a share of their layer to depletion that is felt.
const SHALLOW_UM: f64 = 0.3;
/// Above this voltage between the inner probes heating and injection are felt (common
/// practice).
const HIGH_VOLTAGE_MV: f64 = 200.0;
/// Masetti's rows, fitted up to about here for what is active (model choice).
const MASETTI_END_CM3: f64 = 3e20;

pub(super) fn of(measured: &Measured) -> Vec<Warning> {
    let (results, given) = (&measured.results, &measured.measurement);
    let mut warnings = Vec::new();
    if let Some(temperature) = given.limited_at {
        ACTIVE_LIMIT.warn_outside(
            temperature.to_celsius().round(),
            "active limits of Solmi and Nobili",
            &mut warnings,
        );
    }
    if measured.cut_off {
        warnings.push(Warning::new(
            "profile_cut_off",
            "profile",
            "the profile ends while its dopant still counts against the wafer: below its last point it is taken as zero",
            "measure or paste the profile down to a tenth of the wafer's doping",
        ));
    }
    if results.junctions_um.is_empty() && !results.profile.dopants.is_empty() {
        warnings.push(Warning::new(
            "no_junction",
            "substrate",
            "there is no junction: the current of the probes spreads through the whole wafer, and the doped skin cannot be measured alone",
            "choose a substrate of the opposite type to isolate the layer",
        ));
    }
    let probed = results.layers.get(given.layer);
    if let Some(layer) = probed {
        depletion(measured, layer, &mut warnings);
        if MASETTI_END_CM3 < layer.peak_cm3 {
            warnings.push(Warning::new(
                "outside_published_range",
                "mobility",
                &format!(
                    "an active doping of {} per cm3 is more than silicon keeps active: the mobility is extrapolated above {} per cm3",
                    show(layer.peak_cm3),
                    show(MASETTI_END_CM3)
                ),
                "set active_limit_c to the temperature of the last anneal",
            ));
        }
    }
    if given.layer != 0 {
        warnings.push(Warning::new(
            "buried_layer",
            "layer",
            "probes touch the surface only: a layer below a junction is measured through contacts of its own",
            "probe layer 1, or read this layer at a test structure",
        ));
    }
    if results.voltage_mv.is_some_and(|v| HIGH_VOLTAGE_MV < v) {
        warnings.push(Warning::new(
            "current_high",
            "current_ma",
            &format!(
                "{} mV between the inner probes heat the spot and can turn the junction on: the reading drifts with the current",
                show(results.voltage_mv.unwrap_or(0.0))
            ),
            "lower the current until halving it halves the voltage",
        ));
    }
    warnings
}

/// The part of a shallow layer that its junctions deplete.
fn depletion(
    measured: &Measured,
    layer: &crate::electrical::sheet_resistance::SheetLayer,
    warnings: &mut Vec<Warning>,
) {
    let shallow = measured
        .results
        .junctions_um
        .iter()
        .any(|&j| (j - layer.top_um).abs().min((j - layer.bottom_um).abs()) < 1e-9)
        && layer.bottom_um - layer.top_um < SHALLOW_UM;
    let Some(whole) = layer.sheet_resistance_ohm_sq.filter(|_| shallow) else { return };
    let message = match layer.undepleted_ohm_sq {
        Some(rest) => format!(
            "the junction depletes the edge of this shallow layer: {} ohm per square are left of it, {} % more than the {} of the whole layer",
            show(rest),
            show(100.0 * (rest / whole - 1.0)),
            show(whole)
        ),
        None => "the junction depletes this thin layer throughout: nothing of it conducts without a voltage".to_owned(),
    };
    warnings.push(Warning::new(
        "depletion_edge",
        "profile",
        &message,
        "use the corrected value for junctions above 0.3 µm",
    ));
}
