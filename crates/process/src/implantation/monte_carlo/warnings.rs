//! What to know before trusting the counts.

use super::TrackRun;
use super::electronic::FASTEST_KEV_U;
use super::results::one_ion_cm3;
use super::target::projectile;
use crate::implantation::ImplantationResults;
use crate::implantation::warnings as shared;
use crate::num::show;
use crate::report::Warning;

/// A range whose standard error is larger than this share of it is a rough one.
const ROUGH: f64 = 0.02;

/// All warnings, the most important first.
pub(super) fn all(run: &TrackRun, results: &ImplantationResults) -> Vec<Warning> {
    let mut warnings = Vec::new();
    few_ions(run, results, &mut warnings);
    shared::of_any_model(&run.calculation, results, &mut warnings);
    junction(run, results, &mut warnings);
    fast(run, &mut warnings);
    warnings
}

fn few_ions(run: &TrackRun, results: &ImplantationResults, warnings: &mut Vec<Warning>) {
    let error_nm = results
        .single_ions
        .as_ref()
        .and_then(|ions| ions.projected_range_error_nm)
        .unwrap_or(f64::INFINITY);
    if error_nm <= ROUGH * results.projected_range_nm {
        return;
    }
    let known = if error_nm.is_finite() && 0.0 < results.projected_range_nm {
        format!("to {} %", show(100.0 * error_nm / results.projected_range_nm))
    } else {
        "hardly at all".to_owned()
    };
    warnings.push(Warning::new(
        "few_ions",
        "ions",
        &format!("after {} ions the range is known {known}", run.done()),
        "let more ions fly: four times as many halve the error",
    ));
}

fn junction(run: &TrackRun, results: &ImplantationResults, warnings: &mut Vec<Warning>) {
    let settings = &run.calculation.settings;
    let own = settings.species.dopant().doping_type();
    if !settings.in_silicon()
        || settings.substrate.doping_type == own
        || results.junction_depth_um.is_some()
    {
        return;
    }
    let level_cm3 = settings.substrate.concentration_cm3;
    warnings.push(Warning::new(
        "junction_not_counted",
        "ions",
        &format!(
            "one ion in a bar stands for {} per cm3: where the profile falls to the substrate's {} per cm3 no ions are left to count",
            show(one_ion_cm3(run)),
            show(level_cm3)
        ),
        "read the junction from the model pearson",
    ));
}

fn fast(run: &TrackRun, warnings: &mut Vec<Warning>) {
    let energy_kev = run.calculation.atom_energy_kev;
    let limit_kev =
        FASTEST_KEV_U * projectile(run.calculation.settings.species.dopant()).mass_u;
    if energy_kev <= limit_kev {
        return;
    }
    warnings.push(Warning::new(
        "outside_published_range",
        "energy_kev",
        &format!(
            "above {} keV this ion is so fast that its friction with the electrons no longer grows as its speed; the range comes out short",
            show(limit_kev)
        ),
        "treat the range as a lower limit",
    ));
}
