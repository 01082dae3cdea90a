//! Drive-in and anneal: what lies in the silicon spreads, under an inert or oxidizing gas.

use serde_json::{Map, Value};

use super::closed_form::LimitedSource;
use super::furnace::{Furnace, Recipe};
use super::layer::Layer;
use super::numerical::{Solve, grown};
use super::request::{DriveInFields, EVAPORATION, checked_substrate};
use super::simulated::{Conditions, Simulated};
use super::snapshots::InTime;
use super::solubility::active_limit;
use super::solver::{Ledger, MOST_SPECIES};
use super::start::{self, Film, Shape, Start};
use super::{DiffusionResults, answer, cautions, compare, working};
use crate::error::RequestError;
use crate::num::{linspace, show};
use crate::profile::MAX_CONCENTRATION_CM3;
use crate::report::Report;
use crate::request::read_fields;
use crate::units::Length;
use crate::vocabulary::{
    Ambient, AnnealAmbient, Comparison, DiffusionSolution, Dopant, SolutionAccuracy,
    Substrate,
};

/// Which of the two operations is asked for: they differ in a gas and a default.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    DriveIn,
    Anneal,
}

/// A drive-in that has been computed.
#[derive(Clone, Debug)]
pub(super) struct DriveIn {
    pub(super) simulated: Simulated,
    pub(super) start: Start,
    pub(super) ambient: AnnealAmbient,
    pub(super) recipe: Recipe,
    /// The furnace where it does more than keep one temperature.
    pub(super) furnace: Option<Furnace>,
    pub(super) solution: DiffusionSolution,
    pub(super) accuracy: SolutionAccuracy,
    pub(super) evaporation_cm_s: f64,
    pub(super) compare: Comparison,
    /// Oxide at the end.
    pub(super) film: Film,
    /// The closed form with the intrinsic diffusivity, where there is one.
    pub(super) closed: Option<LimitedSource>,
}

impl DriveIn {
    /// How this result looks to the closed form of a following step.
    pub(super) fn shape_after(&self) -> Shape {
        self.closed.map_or(Shape::Free, |closed| Shape::Gaussian {
            range_um: closed.range_um,
            width_um: closed.width_um,
        })
    }
}

/// Computes a drive-in that stands inside `nested` others.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub(super) fn simulate(
    fields: DriveInFields,
    kind: Kind,
    nested: u32,
) -> Result<DriveIn, RequestError> {
    let mut conditions = Conditions::check(
        fields.temperature_c,
        fields.time_min,
        fields.diffusivity,
        fields.active_limit,
    )?;
    let evaporation_cm_s = EVAPORATION.check_or_default(fields.evaporation_cm_s)?;
    let given_substrate = checked_substrate(fields.substrate)?;
    let ambient = checked_ambient(fields.ambient, kind)?;
    let unchecked = fields.recipe(Length::um(0.0))?;
    if 0.0 < evaporation_cm_s && unchecked.ambient != Ambient::Inert {
        return Err(capped(evaporation_cm_s));
    }
    let keeps_oxide = fields.initial_oxide_nm.is_none();
    let start = start::read(fields.start, nested)?;
    let Some(&(first, _)) = start.layers.first() else {
        return Err(RequestError::missing("start", "a dopant", "give a start"));
    };
    let substrate = given_substrate
        .or(start.substrate)
        .unwrap_or_else(|| Substrate::opposite_to(first));
    let dopants: Vec<Dopant> = start.layers.iter().map(|(dopant, _)| *dopant).collect();
    check_count(&dopants)?;
    if kind == Kind::Anneal && fields.active_limit.is_none() {
        let has_limit =
            |&dopant: &Dopant| active_limit(dopant, conditions.temperature).is_some();
        conditions.limited = dopants.iter().all(has_limit);
    }
    let carried = if keeps_oxide { start.film.clone() } else { Film::default() };
    let recipe = if keeps_oxide {
        Recipe { oxide: carried.thickness, ..unchecked }
    } else {
        unchecked
    };
    let changes = recipe.ramp.is_some() || recipe.ambient != Ambient::Inert;
    let furnace = changes
        .then(|| Furnace::new(recipe, conditions, substrate, &dopants))
        .transpose()?;
    let root_dt_um = match &furnace {
        Some(furnace) => furnace.dt_cm2(first).sqrt() * 1e4,
        None => conditions.root_dt_um(first)?,
    };
    let accuracy = fields.accuracy.unwrap_or(SolutionAccuracy::Interactive);
    let mut film = Film { thickness: recipe.oxide, ..carried };
    let closed = closed_form(&start, root_dt_um);
    let solution = fields.solution.unwrap_or(DiffusionSolution::Numerical);
    let simulated = match solution {
        DiffusionSolution::Numerical => {
            let solve = Solve {
                start: &start,
                conditions,
                substrate,
                evaporation_cm_s,
                root_dt_um,
                furnace: furnace.as_ref(),
                accuracy,
            };
            let (simulated, slices) = solve.numerical(&dopants)?;
            if let Some(furnace) = &furnace {
                film = grown(film, furnace, &simulated, &slices);
            }
            simulated
        }
        DiffusionSolution::ClosedForm => {
            if 0.0 < evaporation_cm_s {
                return Err(no_closed_form("a surface that evaporates"));
            }
            if recipe.ambient != Ambient::Inert {
                return Err(no_closed_form("silicon under a growing oxide"));
            }
            let closed = closed.ok_or_else(|| {
                no_closed_form("a start of any shape or of several dopants")
            })?;
            check_closed(closed)?;
            from_closed_form(&start, closed, conditions, substrate, root_dt_um)
        }
    };
    Ok(DriveIn {
        simulated,
        start,
        ambient,
        recipe,
        furnace,
        solution,
        accuracy,
        evaporation_cm_s,
        compare: fields.compare.unwrap_or(Comparison::Nothing),
        film,
        closed: closed
            .filter(|_| evaporation_cm_s <= 0.0)
            .filter(|closed| closed.largest_cm3() <= MAX_CONCENTRATION_CM3),
    })
}

/// Runs a drive-in.
///
/// # Model
/// All dopants of the start diffuse together with field and concentration-dependent
/// diffusivity; the surface is closed, loses dopant at `evaporation_cm_s`, or is eaten by an
/// oxide that takes up dopant. The substrate's own doping stays uniform. With `solution`
/// `closed_form`: a Gaussian of constant diffusivity.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(
    request: Map<String, Value>,
) -> Result<Report<DiffusionResults>, RequestError> {
    report(request, Kind::DriveIn)
}

/// Runs an anneal: a drive-in whose dopants are only as active as silicon lets them be.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run_anneal(
    request: Map<String, Value>,
) -> Result<Report<DiffusionResults>, RequestError> {
    report(request, Kind::Anneal)
}

fn report(
    request: Map<String, Value>,
    kind: Kind,
) -> Result<Report<DiffusionResults>, RequestError> {
    let done = simulate(read_fields(request)?, kind, 0)?;
    let closed = done.closed;
    let first = done.start.layers.first().map_or(Dopant::Boron, |(dopant, _)| *dopant);
    let answered = answer::answer(&done.simulated, |x| {
        closed.map(|closed| closed.concentration_cm3(x))
    });
    let start_profile = answer::start_profile(&done.start.layers);
    let oxide_nm = done.film.thickness.to_nm();
    let mut results =
        answer::results(&done.simulated, &answered, start_profile, oxide_nm);
    answer::add_oxide(&mut results, &done);
    results.comparison = compare::of_drive_in(&done);
    let mut warnings = cautions::of_drive_in(&done);
    warnings.extend(cautions::of_result(&done.simulated, &answered));
    Ok(Report {
        operation: if kind == Kind::Anneal { "anneal" } else { "drive_in" },
        working: working::of_drive_in(&done, &results),
        results,
        warnings,
        published: Vec::new(),
        accuracy: Some(answer::accuracy(first)),
        hazards: cautions::heating_hazards(&done),
        kernel_version: "",
    })
}

/// The Gaussian with its mirror image that this start gives with constant diffusivity.
fn closed_form(start: &Start, root_dt_um: f64) -> Option<LimitedSource> {
    let [(_, layer)] = start.layers.as_slice() else { return None };
    let (range_um, width_um) = match start.shape {
        Shape::Gaussian { range_um, width_um } => (range_um, width_um),
        Shape::Predeposition { .. } => (0.0, 0.0),
        Shape::Free => return None,
    };
    Some(LimitedSource {
        dose_cm2: layer.dose_cm2(),
        range_um,
        width_um: (width_um * width_um + 2.0 * root_dt_um * root_dt_um).sqrt(),
    })
}

fn no_closed_form(what: &str) -> RequestError {
    RequestError::conflict(
        "solution",
        "closed_form",
        "numerical",
        &format!("solution: there is no closed form for {what} (allowed: numerical)"),
        "choose the numerical solution",
    )
}

/// A whole dose at the surface is no layer of silicon before it has spread.
fn check_closed(closed: LimitedSource) -> Result<(), RequestError> {
    let largest = closed.largest_cm3();
    if largest <= MAX_CONCENTRATION_CM3 {
        return Ok(());
    }
    let allowed = "numerical, or more time or heat";
    Err(RequestError::conflict(
        "solution",
        "closed_form",
        allowed,
        &format!(
            "solution: the Gaussian would hold {} per cm3, more atoms than silicon has: the dose has hardly spread (allowed: {allowed})",
            show(largest)
        ),
        "choose the numerical solution, or drive in longer or hotter",
    ))
}

fn from_closed_form(
    start: &Start,
    closed: LimitedSource,
    conditions: Conditions,
    substrate: Substrate,
    root_dt_um: f64,
) -> Simulated {
    let dopant = start.layers.first().map_or(Dopant::Boron, |(dopant, _)| *dopant);
    let depth_um = linspace(0.0, closed.range_um + 7.0 * closed.width_um, 200);
    let c: Vec<f64> = depth_um.iter().map(|&x| closed.concentration_cm3(x)).collect();
    let depth_cm: Vec<f64> = depth_um.iter().map(|x| x * 1e-4).collect();
    let layer = Layer::from_points(&depth_cm, &c);
    let factor = closed.dose_cm2 / layer.dose_cm2();
    let ledger = Ledger {
        before_cm2: closed.dose_cm2,
        after_cm2: closed.dose_above_cm2(closed.range_um + 40.0 * closed.width_um),
        ..Ledger::default()
    };
    Simulated {
        conditions,
        substrate,
        dopants: vec![(dopant, c)],
        layers: vec![layer.scaled(factor)],
        ledgers: vec![ledger],
        root_dt_um,
        steps: 0,
        snapshots: InTime::between(conditions.time_s, |share| {
            let less = (1.0 - share * share) * 2.0 * root_dt_um * root_dt_um;
            let width_um = (closed.width_um * closed.width_um - less).max(0.0).sqrt();
            let then = LimitedSource { width_um, ..closed };
            let c = depth_um.iter().map(|&x| then.concentration_cm3(x)).collect();
            (depth_um.clone(), c)
        }),
        tail: None,
        depth_um,
    }
}

/// The gas, if the operation knows it.
pub(super) fn checked_ambient(
    given: Option<AnnealAmbient>,
    kind: Kind,
) -> Result<AnnealAmbient, RequestError> {
    let ambient = given.unwrap_or(AnnealAmbient::Inert);
    if ambient == AnnealAmbient::FormingGas && kind == Kind::DriveIn {
        let allowed = "inert, dry, wet, steam";
        return Err(RequestError::new(
            "unknown_value",
            "ambient",
            ambient.word(),
            allowed,
            &format!("ambient: forming_gas is not known here (allowed: {allowed})"),
            "use the operation anneal for forming gas",
        ));
    }
    Ok(ambient)
}

pub(super) fn capped(evaporation_cm_s: f64) -> RequestError {
    RequestError::conflict(
        "evaporation_cm_s",
        &evaporation_cm_s.to_string(),
        "0 in an oxidizing gas",
        &format!(
            "evaporation_cm_s: {evaporation_cm_s} cm/s cannot leave silicon that an oxide covers (allowed: 0 in an oxidizing gas)"
        ),
        "leave evaporation_cm_s out, or choose the ambient inert",
    )
}

fn check_count(dopants: &[Dopant]) -> Result<(), RequestError> {
    if dopants.len() <= MOST_SPECIES {
        return Ok(());
    }
    let allowed = format!("at most {MOST_SPECIES} dopants together");
    Err(RequestError::conflict(
        "start",
        &format!("{} dopants", dopants.len()),
        &allowed,
        &format!("start: {} dopants are too many (allowed: {allowed})", dopants.len()),
        "leave out the dopants that matter least",
    ))
}
