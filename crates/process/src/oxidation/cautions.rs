//! Warnings and hazards of an oxidation, and how far its numbers can be trusted.

use super::data::{DEAL_GROVE_SOURCE, DRY_EFFECTIVE_START_UM, MASSOUD_SOURCE};
use super::enhancement::{DOPING_SOURCE, HCL_SOURCE, PRESSURE_SOURCE};
use super::growth::Segment;
use super::law::{Conditions, Surface, asked_celsius};
use super::request::{Checked, DOPING, HCL, PRESSURE, Question, TEMPERATURE};
use crate::report::{Accuracy, Warning};
use crate::units::Length;
use crate::vocabulary::{Ambient, Orientation, OxidationModel};

/// Dry oxide below this thickness (nm) is thin: the linear-parabolic law alone fails there.
/// B. E. Deal, A. S. Grove, J. Appl. Phys. 36, 3770 (1965): verified from 30 nm (read:
/// abstract).
const THIN_NM: f64 = 30.0;

/// Upper end of the verified thicknesses in nm (same abstract).
const VERIFIED_UP_TO_NM: f64 = 2000.0;

/// Thickest dry oxide (nm) to which Massoud's constants are taken before they fade (model
/// choice; his data end near 50 nm, memory).
const MASSOUD_UP_TO_NM: f64 = 50.0;

/// Temperatures (C) at which thin dry oxide was measured: H. Z. Massoud, J. D. Plummer, E. A.
/// Irene, J. Electrochem. Soc. 132, 2685 (1985) (read: title and abstract in a reference list).
const MASSOUD_RANGE_C: (f64, f64) = (800.0, 1000.0);

/// Everything the reader should know about the request and its result.
pub(super) fn warnings(
    checked: &Checked,
    segments: &[Segment],
    oxide: Length,
) -> Vec<Warning> {
    let mut out = Vec::new();
    let conditions = &checked.conditions;
    let is_recipe = matches!(checked.question, Question::Recipe(_));
    for (i, segment) in segments.iter().enumerate() {
        if segment.ambient != Ambient::Inert {
            let path = if is_recipe { format!("segments[{i}].") } else { String::new() };
            temperature_warnings(segment, &path, &mut out);
        }
    }
    PRESSURE.warn_outside(conditions.pressure_atm, PRESSURE_SOURCE, &mut out);
    let uses = |ambient| segments.iter().any(|segment| segment.ambient == ambient);
    if uses(Ambient::Dry) {
        dry_warnings(conditions, segments, oxide.to_nm(), &mut out);
    } else if checked.names_model && conditions.model == OxidationModel::Massoud {
        out.push(Warning::new(
            "model_not_used",
            "model",
            "the model massoud concerns dry oxygen only; wet growth follows the linear-parabolic law",
            "leave model out, or oxidize in dry oxygen",
        ));
    }
    if checked.names_parameter_set && !uses(Ambient::Wet) {
        out.push(Warning::new(
            "parameter_set_not_used",
            "parameter_set",
            "parameter_set concerns wet oxygen only and changes nothing here",
            "leave parameter_set out, or choose the ambient wet",
        ));
    }
    if VERIFIED_UP_TO_NM < oxide.to_nm() {
        out.push(Warning::new(
            "thicker_than_verified",
            "",
            &format!(
                "an oxide of {:.0} nm is thicker than the {VERIFIED_UP_TO_NM} nm up to which the law was verified ({DEAL_GROVE_SOURCE})",
                oxide.to_nm()
            ),
            "expect somewhat less oxide, or shorten the step",
        ));
    }
    surface_warnings(conditions, uses(Ambient::Dry), &mut out);
    out
}

fn temperature_warnings(segment: &Segment, path: &str, out: &mut Vec<Warning>) {
    let mut found = Vec::new();
    TEMPERATURE.warn_outside(asked_celsius(segment.start), DEAL_GROVE_SOURCE, &mut found);
    if !segment.is_hold() {
        super::request::END_TEMPERATURE.warn_outside(
            asked_celsius(segment.end),
            DEAL_GROVE_SOURCE,
            &mut found,
        );
    }
    for mut warning in found {
        warning.field = format!("{path}{}", warning.field);
        out.push(warning);
    }
}

fn dry_warnings(
    conditions: &Conditions,
    segments: &[Segment],
    oxide_nm: f64,
    out: &mut Vec<Warning>,
) {
    let dry = || segments.iter().filter(|segment| segment.ambient == Ambient::Dry);
    let hottest_c = dry()
        .map(|segment| asked_celsius(segment.start).max(asked_celsius(segment.end)))
        .fold(f64::NEG_INFINITY, f64::max);
    let coldest_c = dry()
        .map(|segment| asked_celsius(segment.start).min(asked_celsius(segment.end)))
        .fold(f64::INFINITY, f64::min);
    if conditions.model == OxidationModel::DealGrove {
        if oxide_nm < THIN_NM {
            out.push(Warning::new(
                "deal_grove_too_thin",
                "model",
                &format!(
                    "a dry oxide of {oxide_nm:.1} nm is below the {THIN_NM} nm from which the closed law holds; its {:.0} nm at the start are a fitted number, not oxide",
                    1e3 * DRY_EFFECTIVE_START_UM
                ),
                "use the model auto for thin dry oxide",
            ));
        }
        return;
    }
    let (low_c, high_c) = MASSOUD_RANGE_C;
    if high_c < hottest_c && oxide_nm < THIN_NM {
        out.push(Warning::new(
            "thin_oxide_above_data",
            "temperature_c",
            &format!(
                "a dry oxide of {oxide_nm:.1} nm at {hottest_c:.0} °C: thin dry oxide was measured up to {high_c} °C ({MASSOUD_SOURCE}), this is an extrapolation"
            ),
            "grow thin oxide cooler, or calibrate the tube",
        ));
    }
    if coldest_c < low_c {
        out.push(Warning::new(
            "thin_oxide_below_data",
            "temperature_c",
            &format!(
                "dry oxidation at {coldest_c:.0} °C: thin dry oxide was measured from {low_c} °C up ({MASSOUD_SOURCE}); the result may be too high by a fourth"
            ),
            "compare with the model deal_grove, or go to 800 °C and above",
        ));
    }
    if conditions.model == OxidationModel::Massoud && MASSOUD_UP_TO_NM < oxide_nm {
        out.push(Warning::new(
            "massoud_too_thick",
            "model",
            &format!(
                "a dry oxide of {oxide_nm:.0} nm is thicker than the {MASSOUD_UP_TO_NM} nm that were measured ({MASSOUD_SOURCE})"
            ),
            "use the model auto, which goes over to the law of thick oxide",
        ));
    }
}

fn surface_warnings(conditions: &Conditions, is_dry: bool, out: &mut Vec<Warning>) {
    if conditions.surface == Surface::Crystal(Orientation::Face110) {
        out.push(Warning::new(
            "orientation_uncertain",
            "orientation",
            "the linear rate of <110> is taken as 1.45 times that of <100>; measured ratios run from 1.2 to 1.6, and more in cool dry oxygen",
            "treat thin oxide on <110> as a guess within 20 %",
        ));
    }
    if let Some(doping) = conditions.doping {
        DOPING.warn_outside(doping.concentration_cm3, DOPING_SOURCE, out);
        if 1e19 <= doping.concentration_cm3 {
            out.push(Warning::new(
                "doping_enhancement_uncertain",
                "doping",
                "the faster growth on heavily doped silicon is known to about half of the increment, and the parabolic constant is left as it is",
                "measure the oxide on a doped test wafer",
            ));
        }
    }
    if 0.0 < conditions.hcl_percent {
        HCL.warn_outside(conditions.hcl_percent, HCL_SOURCE, out);
        out.push(if is_dry {
            Warning::new(
                "hcl_uncertain",
                "hcl_percent",
                "the thickening by hydrogen chloride is a rough trend, known to about half of the increment, and constant above 3 %",
                "use chloride to bind sodium, not to time an oxide",
            )
        } else {
            Warning::new(
                "hcl_only_dilutes",
                "hcl_percent",
                "in wet oxygen and steam the chloride only dilutes the oxidant here",
                "leave hcl_percent out, or oxidize in dry oxygen",
            )
        });
    }
}

/// At and below this temperature (C) the wider band holds.
const COOL_C: f64 = 850.0;

/// The band around a result; `uncertain_part` is the share of it that chloride and doping add.
///
/// ±10 %, ±15 % at or below 850 C: residuals of the constants against the tabulated growth of
/// Deal and Grove (-7 to +8 %) and between two published forms of thin dry oxide (-12 to +4 %)
/// (computed).
pub(super) fn accuracy(segments: &[Segment], uncertain_part: f64) -> Accuracy {
    let is_cool = segments
        .iter()
        .filter(|segment| segment.ambient != Ambient::Inert)
        .any(|segment| {
            asked_celsius(segment.start).max(asked_celsius(segment.end)) <= COOL_C
        });
    let base = if is_cool { 0.15 } else { 0.10 };
    let source = "residuals against B. E. Deal, A. S. Grove (1965) and H. Z. Massoud, J. D. Plummer, E. A. Irene (1985)";
    if 1e-3 < uncertain_part {
        Accuracy {
            relative: base + 0.5 * uncertain_part,
            meaning: "scatter of published constants and between furnaces, and half of what doping or chloride add",
            source,
        }
    } else {
        Accuracy {
            relative: base,
            meaning: "scatter of published constants and between furnaces: ±10 %, ±15 % at or below 850 °C",
            source,
        }
    }
}

/// Ids of the rows of the hazard table.
///
/// Wet oxygen counts as made with a hydrogen torch, as in most tubes today: a bubbler has no
/// hydrogen, but a caution too many costs less than one too few.
pub(super) fn hazards(segments: &[Segment], hcl_percent: f64) -> Vec<&'static str> {
    let uses = |ambient| segments.iter().any(|segment| segment.ambient == ambient);
    let mut ids = Vec::new();
    if 0.0 < hcl_percent {
        ids.push("HCL");
    }
    if uses(Ambient::Wet) || uses(Ambient::Steam) {
        ids.push("H2");
    }
    if segments.iter().any(|segment| segment.ambient != Ambient::Inert) {
        ids.push("O2");
    }
    if uses(Ambient::Inert) {
        ids.push("N2");
    }
    ids.push("HEAT");
    ids
}
