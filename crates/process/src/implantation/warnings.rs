//! What a reader should know before trusting an implantation.

use super::ImplantationResults;
use super::bounds::{ENERGY, GIVEN_SKEWNESS};
use super::calculation::{Calculation, is_disputed};
use super::damage::amorphizing_dose_cm2;
use super::masks;
use super::ranges::{RangeStatistics, Substitution, TargetKind};
use super::request::ImplantationModel;
use crate::num::show;
use crate::report::Warning;
use crate::vocabulary::{Ion, Material};

/// Tilt in degrees below which a beam runs along the channels of a <100> wafer; 7 is usual
/// (common practice).
const CHANNELING_TILT_DEG: f64 = 5.0;

/// Dose per cm2 from which on the loss of surface atoms counts (common practice).
pub(super) const SPUTTERING_CM2: f64 = 1e16;

/// Atoms of silicon per cm3 (2.329 g/cm3, 28.086 g/mol; standard data).
pub(super) const SILICON_ATOMS_CM3: f64 = 4.994e22;

/// All warnings, the most important first.
pub(super) fn all(
    calculation: &Calculation,
    results: &ImplantationResults,
) -> Vec<Warning> {
    let mut warnings = Vec::new();
    mask(calculation, results, &mut warnings);
    junction(calculation, results, &mut warnings);
    ranges(calculation, &mut warnings);
    damage(calculation, results, &mut warnings);
    shape(calculation, &mut warnings);
    channels(calculation, &mut warnings);
    transient(calculation, results, &mut warnings);
    loss(calculation, results, &mut warnings);
    idle(calculation, &mut warnings);
    warnings
}

/// The warnings that a result needs whatever model it comes from.
pub(super) fn of_any_model(
    calculation: &Calculation,
    results: &ImplantationResults,
    warnings: &mut Vec<Warning>,
) {
    mask(calculation, results, warnings);
    damage(calculation, results, warnings);
    channels(calculation, warnings);
    loss(calculation, results, warnings);
    idle(calculation, warnings);
}

fn idle(calculation: &Calculation, warnings: &mut Vec<Warning>) {
    for field in &calculation.settings.idle_fields {
        warnings.push(Warning::new(
            "field_without_effect",
            field,
            &format!("{field} changes nothing with these settings"),
            &format!("leave {field} out"),
        ));
    }
}

fn mask(
    calculation: &Calculation,
    results: &ImplantationResults,
    warnings: &mut Vec<Warning>,
) {
    let Some(mask) = masks::of_thickest(calculation) else { return };
    let settings = &calculation.settings;
    let passed = results.transmitted_fraction;
    let Some(layer) = settings.layers.get(mask.layer_idx) else { return };
    // A mask of just the stated thickness is thick enough, whatever its last digit.
    if passed <= settings.mask_leak * 1.001 {
        return;
    }
    let word = layer.material.label();
    warnings.push(Warning::new(
        "mask_too_thin",
        "through",
        &format!(
            "{} % of the dose ({} per cm2) passes the layers into the silicon below",
            show(100.0 * passed),
            show(results.retained_dose_cm2)
        ),
        &format!(
            "if they are meant as a mask, make the {word} {} nm thick instead of {} nm to stop {} %; if they are a thin screen, this is as intended",
            show(mask.thickness_nm.ceil()),
            show(layer.thickness_nm),
            masks::stopped_percent(settings.mask_leak)
        ),
    ));
}

fn junction(
    calculation: &Calculation,
    results: &ImplantationResults,
    warnings: &mut Vec<Warning>,
) {
    let settings = &calculation.settings;
    // Below a mask that does its work nothing is expected.
    let masked = results.transmitted_fraction <= settings.mask_leak;
    if !settings.in_silicon() || results.junction_depth_um.is_some() || masked {
        return;
    }
    let substrate = settings.substrate;
    let dopant = settings.species.dopant();
    if substrate.doping_type == dopant.doping_type() {
        warnings.push(Warning::new(
            "no_junction",
            "substrate",
            &format!(
                "{} makes silicon {}, and so is the substrate: there is no junction",
                dopant.label(),
                dopant.doping_type().label()
            ),
            "choose a substrate of the other type to see a junction",
        ));
    } else {
        warnings.push(Warning::new(
            "no_junction",
            "dose_cm2",
            &format!(
                "the peak of {} per cm3 stays below the substrate's {}: there is no junction",
                show(results.peak_cm3),
                show(substrate.concentration_cm3)
            ),
            "raise the dose, thin the layers, or take a lighter doped substrate",
        ));
    }
}

fn ranges(calculation: &Calculation, warnings: &mut Vec<Warning>) {
    let settings = &calculation.settings;
    let energy_kev = calculation.atom_energy_kev;
    let mut seen: Vec<TargetKind> = Vec::new();
    let target = calculation
        .statistics
        .iter()
        .map(|statistics| (TargetKind::of(settings.target), settings.target, statistics));
    let layers = calculation
        .layers
        .iter()
        .zip(&settings.layers)
        .map(|(layer, given)| (layer.kind, given.material, &layer.statistics));
    for (kind, material, statistics) in target.chain(layers) {
        if seen.contains(&kind) {
            continue;
        }
        seen.push(kind);
        substitution(material, energy_kev, statistics, warnings);
        if is_disputed(settings.species, kind, statistics) {
            warnings.push(Warning::new(
                "range_in_oxide_uncertain",
                "range_table",
                &format!(
                    "the published range of {} in silicon dioxide ({} nm) is a quarter shorter than the computed one; until one of them is measured it is good to 35 %",
                    settings.species.dopant().label(),
                    show(statistics.range_nm)
                ),
                "lay out masks with the longer, computed range (range_table computed); the mask thickness given here does",
            ));
        }
    }
    let first = ENERGY.published.map_or(ENERGY.min, |(low, _)| low);
    if calculation.statistics.as_ref().is_some_and(|found| found.extrapolated) {
        let atom = if settings.ion == Ion::Bf2 { "the boron atom's " } else { "" };
        warnings.push(Warning::new(
            "outside_published_range",
            "energy_kev",
            &format!(
                "{atom}energy of {} keV is below the tables' first row of {} keV; the range is an extrapolation",
                show(energy_kev),
                show(first)
            ),
            "treat range and straggle as a guess",
        ));
    }
}

fn substitution(
    material: Material,
    energy_kev: f64,
    statistics: &RangeStatistics,
    warnings: &mut Vec<Warning>,
) {
    let word = material.label();
    let message = match statistics.substitution {
        None => return,
        Some(Substitution::NoRows) => {
            format!("the 1975 table has no rows for this ion in {word}")
        }
        Some(Substitution::AboveLastRow) => {
            format!("the 1975 table for {word} ends below {} keV", show(energy_kev))
        }
    };
    warnings.push(Warning::new(
        "range_table_substituted",
        "range_table",
        &format!("{message}; the computed table is used there"),
        "choose range_table computed to have one table throughout",
    ));
}

fn damage(
    calculation: &Calculation,
    results: &ImplantationResults,
    warnings: &mut Vec<Warning>,
) {
    let amorphizing_dose_cm2 = amorphizing_dose_cm2(calculation.settings.ion);
    let from_nm = match &results.damage {
        Some(damage) if damage.amorphizing_dose_cm2 <= results.retained_dose_cm2 => {
            damage.amorphous_from_nm
        }
        // Single ions tell the depth by the energy they have given themselves.
        None if results.single_ions.is_some() && results.amorphous_depth_nm.is_some() => {
            None
        }
        _ => return,
    };
    let depth = match (from_nm, results.amorphous_depth_nm) {
        (Some(from_nm), Some(to_nm)) if 0.0 < from_nm => {
            format!("from about {} to {} nm", show(from_nm.round()), show(to_nm.round()))
        }
        (_, Some(to_nm)) => format!("down to about {} nm", show(to_nm.round())),
        _ => "in places, near its peak".to_owned(),
    };
    warnings.push(Warning::new(
        "amorphizing_dose",
        "dose_cm2",
        &format!(
            "the dose is above about {} per cm2 (within a factor 3), at which this ion makes the crystal amorphous at room temperature: {depth}",
            show(amorphizing_dose_cm2)
        ),
        "anneal: at 550 to 650 °C the layer grows back as crystal; a cooled wafer lowers the limit, a wafer heated by the beam raises it",
    ));
}

/// Boron spreads at the start of an anneal by more than its diffusivity says.
fn transient(
    calculation: &Calculation,
    results: &ImplantationResults,
    warnings: &mut Vec<Warning>,
) {
    let Some(transient) = &results.transient_diffusion else { return };
    // An extra variance of a tenth moves a junction by a few percent: less than the tables'
    // own error.
    let (extra, own) = (transient.bound_nm, calculation.moments.sigma_nm);
    if extra * extra < 0.1 * own * own {
        return;
    }
    let junction = match (results.junction_depth_um, transient.junction_depth_um) {
        (Some(now), Some(then)) => format!(
            ", and the junction from {} to at most {} um before any usual diffusion",
            show(0.01 * (100.0 * now).round()),
            show(0.01 * (100.0 * then).round())
        ),
        _ => String::new(),
    };
    warnings.push(Warning::new(
        "transient_enhanced_diffusion",
        "dose_cm2",
        &format!(
            "at the start of an anneal the damage drives boron by about {} nm, at most {} nm{junction}; no other number here contains it",
            show(transient.length_nm.round()),
            show(extra.round())
        ),
        "keep a margin for it; a fast, hot anneal leaves it less time than a slow one at 700 to 900 °C",
    ));
}

fn shape(calculation: &Calculation, warnings: &mut Vec<Warning>) {
    let settings = &calculation.settings;
    if settings.model == ImplantationModel::DualPearson {
        warnings.push(Warning::new(
            "illustrative_model",
            "model",
            "dual_pearson shows what a channeling tail looks like; its numbers are illustrative and fitted to no measurement",
            "use pearson for numbers",
        ));
    }
    let (Some(given), Some(shape)) = (settings.moments, calculation.shape) else {
        return;
    };
    GIVEN_SKEWNESS.warn_outside(
        given.skewness,
        "the curve is drawn with 2.5 at the most",
        warnings,
    );
    if !shape.gaussian && calculation.moments.kurtosis + 1e-9 < shape.kurtosis {
        warnings.push(Warning::new(
            "kurtosis_raised",
            "moments.kurtosis",
            &format!(
                "a kurtosis of {} is outside Pearson's type IV; the curve is drawn with {}",
                show(given.kurtosis),
                show(shape.kurtosis)
            ),
            "range, straggle and skewness are kept; only the weight of the tail changes",
        ));
    }
}

fn channels(calculation: &Calculation, warnings: &mut Vec<Warning>) {
    let settings = &calculation.settings;
    if settings.target == Material::Silicon
        && settings.tilt_deg < CHANNELING_TILT_DEG
        && settings.model != ImplantationModel::DualPearson
    {
        warnings.push(Warning::new(
            "channeling_neglected",
            "tilt_deg",
            &format!(
                "at a tilt of {}° ions run along the channels of a <100> crystal; the profile is that of an amorphous target and lacks their deep tail",
                show(settings.tilt_deg)
            ),
            "tilt by 7°, as is usual, or look at the model dual_pearson",
        ));
    }
}

fn loss(
    calculation: &Calculation,
    results: &ImplantationResults,
    warnings: &mut Vec<Warning>,
) {
    let dose_cm2 = calculation.settings.dose_cm2;
    if SPUTTERING_CM2 <= dose_cm2 {
        warnings.push(Warning::new(
            "sputtering_neglected",
            "dose_cm2",
            &format!(
                "each surface atom that an ion knocks out costs {} nm of the surface at this dose, and the dopant in it; this is not computed",
                show(1e7 * dose_cm2 / SILICON_ATOMS_CM3)
            ),
            "expect less dopant than the dose says with heavy ions of low energy",
        ));
    }
    // One percent is about what a dose measurement notices (common practice).
    if results.lost_fraction < 0.01 {
        return;
    }
    warnings.push(Warning::new(
        "dose_lost",
        "energy_kev",
        &format!(
            "{} % of the dose of {} per cm2 is scattered back out of the surface",
            show(100.0 * results.lost_fraction),
            show(calculation.settings.dose_cm2)
        ),
        "raise the energy, or raise the dose by as much",
    ));
}
