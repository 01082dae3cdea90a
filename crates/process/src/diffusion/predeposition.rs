//! Predeposition: a source holds the surface while dopant soaks in.

use serde_json::{Map, Value};

use super::answer;
use super::closed_form::ConstantSource;
use super::layer::Layer;
use super::mask::{Mask, mask};
use super::phosphorus_tail::PhosphorusTail;
use super::request::{PredepositionFields, checked_substrate};
use super::simulated::{Conditions, Simulated};
use super::snapshots::InTime;
use super::solver::{Ledger, constant_source, constant_source_with};
use super::source::{Supply, supply};
use super::{DiffusionResults, cautions, compare, working};
use crate::error::RequestError;
use crate::num::linspace;
use crate::profile::Profile;
use crate::report::Report;
use crate::request::read_fields;
use crate::vocabulary::{DiffusionSolution, Dopant, Substrate};

/// A predeposition that has been computed.
#[derive(Clone, Debug)]
pub(super) struct Predeposition {
    pub(super) simulated: Simulated,
    pub(super) dopant: Dopant,
    pub(super) supply: Supply,
    pub(super) solution: DiffusionSolution,
    pub(super) mask: Mask,
    /// The closed form with the intrinsic diffusivity.
    pub(super) closed: ConstantSource,
}

/// Computes a predeposition.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub(super) fn simulate(
    fields: &PredepositionFields,
) -> Result<Predeposition, RequestError> {
    fields.unmodeled().check()?;
    fields.check_segregation()?;
    let dopant = fields.dopant;
    let conditions = Conditions::check(
        fields.temperature_c,
        fields.time_min,
        fields.diffusivity,
        fields.active_limit,
    )?;
    let substrate = checked_substrate(fields.substrate)?
        .unwrap_or_else(|| Substrate::opposite_to(dopant));
    let species = conditions.species(dopant)?;
    let root_dt_um = conditions.root_dt_um(dopant)?;
    let solution = fields.solution.unwrap_or(DiffusionSolution::Numerical);
    let with_tail = fields.phosphorus_tail.unwrap_or(false);
    if with_tail {
        check_tail(dopant, solution, &conditions)?;
    }
    let separate = with_tail || conditions.limited;
    let supply = supply(fields, &conditions, root_dt_um, separate)?;
    let surface_cm3 = supply.surface_cm3;
    let closed = ConstantSource { surface_cm3, root_dt_um };
    let tail = with_tail.then(|| {
        PhosphorusTail::new(species.diffusivity, conditions.temperature, surface_cm3)
    });
    let (depth_um, concentration, layer, ledger) = match solution {
        DiffusionSolution::Numerical => {
            let crystal = conditions.crystal(substrate);
            let found = match &tail {
                None => {
                    constant_source(&species, crystal, surface_cm3, conditions.time_s)
                }
                Some(tail) => constant_source_with(
                    &|c| tail.diffusivity_cm2_s(c, crystal.background_cm3),
                    surface_cm3,
                    conditions.time_s,
                ),
            };
            let found = found.ok_or_else(|| no_profile(fields))?;
            let layer = Layer::from_source(&found);
            let ledger = Ledger {
                gained_cm2: found.gained_cm2,
                after_cm2: layer.dose_cm2(),
                ..Ledger::default()
            };
            let depth_um = found.depth_cm.iter().map(|x| x * 1e4).collect();
            (depth_um, found.concentration_cm3, layer, ledger)
        }
        DiffusionSolution::ClosedForm => {
            let depth_um = linspace(0.0, 2.0 * root_dt_um * 5.2, 200);
            let glass = supply.limiting_glass();
            let c: Vec<f64> = depth_um
                .iter()
                .map(|&x| match glass {
                    Some(glass) => glass.concentration_cm3(x).max(0.0),
                    None => closed.concentration_cm3(x),
                })
                .collect();
            let depth_cm: Vec<f64> = depth_um.iter().map(|x| x * 1e-4).collect();
            let dose_cm2 =
                glass.map_or_else(|| closed.dose_cm2(), |glass| glass.dose_cm2());
            let layer = Layer::from_points(&depth_cm, &c);
            let factor = dose_cm2 / layer.dose_cm2();
            let layer = layer.scaled(factor);
            let ledger = Ledger {
                gained_cm2: dose_cm2,
                after_cm2: layer.dose_cm2(),
                ..Ledger::default()
            };
            (depth_um, c, layer, ledger)
        }
    };
    let film =
        supply.limiting_glass().filter(|_| solution == DiffusionSolution::ClosedForm);
    let snapshots = match film {
        Some(film) => InTime::between(conditions.time_s, |share| {
            let then = film.earlier(share);
            let depth_um: Vec<f64> = depth_um.iter().map(|x| share * x).collect();
            let c =
                depth_um.iter().map(|&x| then.concentration_cm3(x).max(0.0)).collect();
            (depth_um, c)
        }),
        // From a constant source the profile only stretches with the root of time.
        None => InTime::between(conditions.time_s, |share| {
            (depth_um.iter().map(|x| share * x).collect(), concentration.clone())
        }),
    };
    let simulated = Simulated {
        conditions,
        substrate,
        depth_um,
        dopants: vec![(dopant, concentration)],
        layers: vec![layer],
        ledgers: vec![ledger],
        root_dt_um,
        steps: 0,
        snapshots,
        tail,
    };
    Ok(Predeposition {
        simulated,
        dopant,
        supply,
        solution,
        mask: mask(dopant, conditions.temperature, conditions.time_s),
        closed,
    })
}

/// Runs a predeposition: a source holds the surface concentration for the whole time.
///
/// # Model
/// `C(x,t)` of one dopant with field and concentration-dependent diffusivity into a uniform
/// substrate, or `Cs erfc(x/2 sqrt(Dt))` with `solution` `closed_form`.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(
    request: Map<String, Value>,
) -> Result<Report<DiffusionResults>, RequestError> {
    let fields = read_fields(request)?;
    let done = simulate(&fields)?;
    let closed = done.closed;
    let answered = answer::answer(&done.simulated, |x| Some(closed.concentration_cm3(x)));
    let mut results =
        answer::results(&done.simulated, &answered, Profile::default(), 0.0);
    results.mask_oxide_min_nm = done.mask.least_nm;
    results.comparison = compare::of_predeposition(&fields, &done);
    let mut warnings = cautions::of_predeposition(&done);
    warnings.extend(cautions::of_result(&done.simulated, &answered));
    Ok(Report {
        operation: "predeposition",
        working: working::of_predeposition(&done, &results),
        results,
        warnings,
        published: Vec::new(),
        accuracy: Some(answer::accuracy(done.dopant)),
        hazards: done.supply.hazards(done.dopant),
        kernel_version: "",
    })
}

fn no_profile(fields: &PredepositionFields) -> RequestError {
    RequestError::new(
        "no_profile",
        "",
        &fields.temperature_c.to_string(),
        "a profile deeper than nothing",
        "the diffusion is too small to give a profile (allowed: more time or heat)",
        "raise temperature or time",
    )
}

/// Kink and tail belong to heavy phosphorus with charge states.
fn check_tail(
    dopant: Dopant,
    solution: DiffusionSolution,
    conditions: &Conditions,
) -> Result<(), RequestError> {
    let (what, hint) = if dopant != Dopant::Phosphorus {
        (
            format!("{} has no kink and tail", dopant.word()),
            "choose phosphorus, or leave phosphorus_tail out",
        )
    } else if solution == DiffusionSolution::ClosedForm {
        (
            "there is no closed form with kink and tail".to_owned(),
            "choose the numerical solution",
        )
    } else if conditions.set.is_constant() {
        (
            format!("the set {} has no charge states", conditions.set.word()),
            "choose the diffusivities plummer_2000 or fair_1981",
        )
    } else {
        return Ok(());
    };
    Err(RequestError::conflict(
        "phosphorus_tail",
        "true",
        "false",
        &format!("phosphorus_tail: {what} (allowed: false)"),
        hint,
    ))
}
