//! Drive-in: what lies in the silicon spreads, under an inert or oxidizing gas.

use serde_json::{Map, Value};

use super::closed_form::LimitedSource;
use super::layer::Layer;
use super::plan::anneal_grid;
use super::request::{DriveInFields, EVAPORATION, INITIAL_OXIDE, checked_substrate};
use super::simulated::{Conditions, Simulated};
use super::solver::{Control, Grid, Ledger, Outcome, Species, Surface, anneal};
use super::start::{self, Shape, Start};
use super::{DiffusionResults, answer, cautions, working};
use crate::error::RequestError;
use crate::num::{linspace, show};
use crate::profile::MAX_CONCENTRATION_CM3;
use crate::report::Report;
use crate::request::read_fields;
use crate::vocabulary::{Ambient, DiffusionSolution, Dopant, Substrate};

/// A drive-in that has been computed.
#[derive(Clone, Debug)]
pub(super) struct DriveIn {
    pub(super) simulated: Simulated,
    pub(super) start: Start,
    pub(super) ambient: Ambient,
    pub(super) solution: DiffusionSolution,
    pub(super) evaporation_cm_s: f64,
    pub(super) oxide_nm: f64,
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
    nested: u32,
) -> Result<DriveIn, RequestError> {
    fields.unmodeled().check()?;
    let conditions = Conditions::check(
        fields.temperature_c,
        fields.time_min,
        fields.diffusivity,
        fields.active_limit,
    )?;
    let evaporation_cm_s = EVAPORATION.check_or_default(fields.evaporation_cm_s)?;
    let oxide_nm = INITIAL_OXIDE.check_or_default(fields.initial_oxide_nm)?;
    let given_substrate = checked_substrate(fields.substrate)?;
    let start = start::read(fields.start, nested)?;
    let Some(&(first, _)) = start.layers.first() else {
        return Err(RequestError::missing("start", "a dopant", "give a start"));
    };
    let substrate = given_substrate
        .or(start.substrate)
        .unwrap_or_else(|| Substrate::opposite_to(first));
    let root_dt_um = conditions.root_dt_um(first)?;
    let closed = closed_form(&start, root_dt_um);
    let solution = fields.solution.unwrap_or(DiffusionSolution::Numerical);
    let simulated = match solution {
        DiffusionSolution::Numerical => {
            numerical(&start, conditions, substrate, evaporation_cm_s, root_dt_um)?
        }
        DiffusionSolution::ClosedForm => {
            if 0.0 < evaporation_cm_s {
                return Err(no_closed_form("a surface that evaporates"));
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
        ambient: fields.ambient.unwrap_or(Ambient::Inert),
        solution,
        evaporation_cm_s,
        oxide_nm,
        closed: closed
            .filter(|_| evaporation_cm_s <= 0.0)
            .filter(|closed| closed.largest_cm3() <= MAX_CONCENTRATION_CM3),
    })
}

/// Runs a drive-in.
///
/// # Model
/// All dopants of the start diffuse together with field and concentration-dependent
/// diffusivity; the surface is closed or loses dopant at `evaporation_cm_s`. With `solution`
/// `closed_form`: a Gaussian of constant diffusivity.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(
    request: Map<String, Value>,
) -> Result<Report<DiffusionResults>, RequestError> {
    let done = simulate(read_fields(request)?, 0)?;
    let closed = done.closed;
    let answered = answer::answer(&done.simulated, |x| {
        closed.map(|closed| closed.concentration_cm3(x))
    });
    let start_profile = answer::start_profile(&done.start.layers);
    let results =
        answer::results(&done.simulated, &answered, start_profile, done.oxide_nm);
    let mut warnings = cautions::of_drive_in(&done);
    warnings.extend(cautions::of_result(&done.simulated, &answered));
    Ok(Report {
        operation: "drive_in",
        working: working::of_drive_in(&done, &results),
        results,
        warnings,
        published: Vec::new(),
        accuracy: Some(answer::ACCURACY),
        hazards: cautions::drive_in_hazards(done.ambient),
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
        depth_um,
        dopants: vec![(dopant, c)],
        layers: vec![layer.scaled(factor)],
        ledgers: vec![ledger],
        root_dt_um,
        steps: 0,
    }
}

fn numerical(
    start: &Start,
    conditions: Conditions,
    substrate: Substrate,
    evaporation_cm_s: f64,
    root_dt_um: f64,
) -> Result<Simulated, RequestError> {
    let dopants: Vec<Dopant> = start.layers.iter().map(|(dopant, _)| *dopant).collect();
    let layers: Vec<Layer> =
        start.layers.iter().map(|(_, layer)| layer.clone()).collect();
    let species = dopants
        .iter()
        .map(|&dopant| conditions.species(dopant))
        .collect::<Result<Vec<Species>, _>>()?;
    let surface = if 0.0 < evaporation_cm_s {
        Surface::Loss(evaporation_cm_s)
    } else {
        Surface::Closed
    };
    let surfaces = vec![surface; species.len()];
    let crystal = conditions.crystal(substrate);
    let mut deeper = 1.0;
    let (mut grid, mut outcome): (Grid, Outcome);
    loop {
        grid = anneal_grid(&layers, &species, crystal, conditions.time_s, deeper);
        let initial: Vec<Vec<f64>> =
            layers.iter().map(|layer| layer.on_grid(&grid)).collect();
        outcome = anneal(
            &grid,
            crystal,
            &species,
            &surfaces,
            &initial,
            conditions.time_s,
            Control::default(),
        );
        if deeper > 2.0 || !touches_the_end(&outcome) {
            break;
        }
        deeper *= 1.6;
    }
    if !outcome.finished {
        return Err(RequestError::conflict(
            "start",
            "",
            "a profile that the solver can follow",
            "start: the solver could not follow this profile to the end of the time (allowed: a profile that the solver can follow)",
            "lower the concentration or the time",
        ));
    }
    let ledgers = outcome
        .ledgers
        .iter()
        .zip(&layers)
        .map(|(ledger, layer)| Ledger { before_cm2: layer.dose_cm2(), ..*ledger })
        .collect();
    let layers =
        outcome.concentration_cm3.iter().map(|c| Layer::from_cells(&grid, c)).collect();
    Ok(Simulated {
        conditions,
        substrate,
        depth_um: grid.nodes_cm().iter().map(|x| x * 1e4).collect(),
        dopants: dopants.into_iter().zip(outcome.concentration_cm3).collect(),
        layers,
        ledgers,
        root_dt_um,
        steps: outcome.steps,
    })
}

/// True if a dopant has reached the closed wall at the deep end of the grid.
fn touches_the_end(outcome: &Outcome) -> bool {
    outcome.concentration_cm3.iter().any(|c| {
        let largest = c.iter().copied().fold(0.0, f64::max);
        c.last().is_some_and(|&end| 1e-7 * largest < end)
    })
}
