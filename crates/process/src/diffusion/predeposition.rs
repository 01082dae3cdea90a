//! Predeposition: a source holds the surface while dopant soaks in.

use serde_json::{Map, Value};

use super::answer;
use super::closed_form::ConstantSource;
use super::layer::Layer;
use super::request::{PredepositionFields, SURFACE_CONCENTRATION, checked_substrate};
use super::simulated::{Conditions, Simulated};
use super::solubility::{active_limit, solubility};
use super::solver::{Ledger, constant_source};
use super::{DiffusionResults, cautions, working};
use crate::error::RequestError;
use crate::num::linspace;
use crate::profile::Profile;
use crate::report::Report;
use crate::request::read_fields;
use crate::vocabulary::{DiffusionSolution, Dopant, DopantSource, Substrate};

/// A predeposition that has been computed.
#[derive(Clone, Debug)]
pub(super) struct Predeposition {
    pub(super) simulated: Simulated,
    pub(super) dopant: Dopant,
    pub(super) source: DopantSource,
    pub(super) solution: DiffusionSolution,
    /// Surface concentration per cm3 and where it comes from.
    pub(super) surface_cm3: f64,
    pub(super) surface_from: &'static str,
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
    let dopant = fields.dopant;
    let conditions = Conditions::check(
        fields.temperature_c,
        fields.time_min,
        fields.diffusivity,
        fields.active_limit,
    )?;
    let substrate = checked_substrate(fields.substrate)?
        .unwrap_or_else(|| Substrate::opposite_to(dopant));
    let source = source_for(dopant, fields.source)?;
    let species = conditions.species(dopant)?;
    let (surface_cm3, surface_from) = surface_concentration(fields, &conditions)?;
    let root_dt_um = conditions.root_dt_um(dopant)?;
    let closed = ConstantSource { surface_cm3, root_dt_um };
    let solution = fields.solution.unwrap_or(DiffusionSolution::Numerical);
    let (depth_um, concentration, layer, ledger) = match solution {
        DiffusionSolution::Numerical => {
            let crystal = conditions.crystal(substrate);
            let found =
                constant_source(&species, crystal, surface_cm3, conditions.time_s)
                    .ok_or_else(|| no_profile(fields))?;
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
            let c: Vec<f64> =
                depth_um.iter().map(|&x| closed.concentration_cm3(x)).collect();
            let depth_cm: Vec<f64> = depth_um.iter().map(|x| x * 1e-4).collect();
            let dose_cm2 = closed.dose_cm2();
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
    let simulated = Simulated {
        conditions,
        substrate,
        depth_um,
        dopants: vec![(dopant, concentration)],
        layers: vec![layer],
        ledgers: vec![ledger],
        root_dt_um,
        steps: 0,
    };
    Ok(Predeposition {
        simulated,
        dopant,
        source,
        solution,
        surface_cm3,
        surface_from,
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
    let done = simulate(&read_fields(request)?)?;
    let closed = done.closed;
    let answered = answer::answer(&done.simulated, |x| Some(closed.concentration_cm3(x)));
    let results = answer::results(&done.simulated, &answered, Profile::default(), 0.0);
    let mut warnings = cautions::of_predeposition(&done);
    warnings.extend(cautions::of_result(&done.simulated, &answered));
    Ok(Report {
        operation: "predeposition",
        working: working::of_predeposition(&done, &results),
        results,
        warnings,
        published: Vec::new(),
        accuracy: Some(answer::ACCURACY),
        hazards: cautions::predeposition_hazards(done.source, done.dopant),
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

/// The source that is asked for, or the usual one of the dopant.
pub(super) fn source_for(
    dopant: Dopant,
    given: Option<DopantSource>,
) -> Result<DopantSource, RequestError> {
    use DopantSource as S;
    let usable: &[DopantSource] = match dopant {
        Dopant::Boron => &[S::SolidDisc, S::Diborane, S::DiluteVapor, S::DopedGlass],
        Dopant::Phosphorus => {
            &[S::Pocl3, S::Phosphine, S::SolidDisc, S::DiluteVapor, S::DopedGlass]
        }
        Dopant::Arsenic => &[S::DopedGlass, S::SolidDisc, S::DiluteVapor],
        Dopant::Antimony | Dopant::Indium => &[S::DopedGlass],
    };
    let Some(source) = given else { return Ok(usable[0]) };
    if usable.contains(&source) {
        return Ok(source);
    }
    let allowed = usable.iter().map(|s| s.word()).collect::<Vec<_>>().join(", ");
    Err(RequestError::conflict(
        "source",
        source.word(),
        &allowed,
        &format!(
            "source: {} does not carry {} (allowed: {allowed})",
            source.word(),
            dopant.word()
        ),
        &format!("choose a source of {}", dopant.word()),
    ))
}

/// The surface concentration and its source.
///
/// Without a given value: as all atoms count as active here, the electrically active limit;
/// with `active_limit`, which separates the two, the chemical solubility.
fn surface_concentration(
    fields: &PredepositionFields,
    conditions: &Conditions,
) -> Result<(f64, &'static str), RequestError> {
    if let Some(given) = fields.surface_concentration_cm3 {
        return Ok((SURFACE_CONCENTRATION.check(given)?, "given"));
    }
    let limit = if conditions.limited {
        solubility(fields.dopant, conditions.temperature)
    } else {
        active_limit(fields.dopant, conditions.temperature)
    };
    limit.map(|limit| (limit.concentration_cm3, limit.source)).ok_or_else(|| {
        RequestError::missing(
            "surface_concentration_cm3",
            &SURFACE_CONCENTRATION.allowed(),
            &format!(
                "add surface_concentration_cm3: no published limit for {} is at hand",
                fields.dopant.word()
            ),
        )
    })
}
