//! The numerical solution of a drive-in: grid, furnace, solver, and the oxide that it leaves.

use super::furnace::Furnace;
use super::layer::Layer;
use super::plan::{GridWish, anneal_grid};
use super::simulated::{Conditions, Simulated};
use super::snapshots::{COUNT, InTime};
use super::solver::{
    Control, Grid, Ledger, Outcome, OxideSlice, Species, Surface, anneal, anneal_through,
};
use super::start::{Film, Start};
use crate::error::RequestError;
use crate::profile::Profile;
use crate::vocabulary::{Dopant, SolutionAccuracy, Substrate};

/// What the numerical solution needs.
pub(super) struct Solve<'a> {
    pub(super) start: &'a Start,
    pub(super) conditions: Conditions,
    pub(super) substrate: Substrate,
    pub(super) evaporation_cm_s: f64,
    pub(super) root_dt_um: f64,
    pub(super) furnace: Option<&'a Furnace>,
    pub(super) accuracy: SolutionAccuracy,
}

impl Solve<'_> {
    /// Solves on a grid that is deep enough; gives the slices of the oxide that grew too.
    ///
    /// # Errors
    /// If the solver cannot follow the profile.
    pub(super) fn numerical(
        &self,
        dopants: &[Dopant],
    ) -> Result<(Simulated, Vec<OxideSlice>), RequestError> {
        let layers: Vec<Layer> =
            self.start.layers.iter().map(|(_, layer)| layer.clone()).collect();
        let mut wish = GridWish::default();
        let control = match self.accuracy {
            SolutionAccuracy::Interactive => {
                Control { snapshots: COUNT, ..Control::default() }
            }
            SolutionAccuracy::Reference => {
                wish.finer = 2.0;
                Control { snapshots: COUNT, ..Control::REFERENCE }
            }
        };
        let (grid, outcome) = loop {
            let (grid, outcome) = self.once(dopants, &layers, wish, control)?;
            if wish.deeper > 2.0 || !touches_the_end(&outcome) {
                break (grid, outcome);
            }
            wish.deeper *= 1.6;
        };
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
        let depth_um: Vec<f64> = grid.nodes_cm().iter().map(|x| x * 1e4).collect();
        // The solver counts on the furnace's clock.
        let time_s = |clock_s: f64| {
            self.furnace.map_or(clock_s, |furnace| furnace.time_at_s(clock_s))
        };
        let snapshots = outcome.snapshots.into_iter().map(|mut snapshot| {
            snapshot.time_s = time_s(snapshot.time_s);
            InTime::of(snapshot, &depth_um)
        });
        let snapshots = snapshots.collect();
        let cells = outcome.concentration_cm3.iter().map(|c| Layer::from_cells(&grid, c));
        let simulated = Simulated {
            conditions: self.conditions,
            substrate: self.substrate,
            snapshots,
            tail: None,
            depth_um,
            layers: cells.collect(),
            dopants: dopants.iter().copied().zip(outcome.concentration_cm3).collect(),
            ledgers,
            root_dt_um: self.root_dt_um,
            steps: outcome.steps,
        };
        Ok((simulated, outcome.oxide))
    }

    /// Solves once on one grid.
    fn once(
        &self,
        dopants: &[Dopant],
        layers: &[Layer],
        mut wish: GridWish,
        control: Control,
    ) -> Result<(Grid, Outcome), RequestError> {
        let conditions = &self.conditions;
        let mut species = dopants
            .iter()
            .map(|&dopant| conditions.species(dopant))
            .collect::<Result<Vec<Species>, _>>()?;
        let crystal = conditions.crystal(self.substrate);
        let mut time_s = conditions.time_s;
        if let Some(furnace) = self.furnace {
            time_s = furnace.clock_s();
            wish.pile_up_cm = furnace.pile_up_cm();
            let factor = furnace.speed_up();
            for species in &mut species {
                species.diffusivity = species.diffusivity.scaled(factor);
            }
        }
        let grid = anneal_grid(layers, &species, crystal, time_s, wish);
        let initial: Vec<Vec<f64>> =
            layers.iter().map(|layer| layer.on_grid(&grid)).collect();
        let oxidizes = self.furnace.is_some_and(|furnace| furnace.pile_up_cm().is_some());
        let surface = if oxidizes {
            Surface::Oxide
        } else if 0.0 < self.evaporation_cm_s {
            Surface::Loss(self.evaporation_cm_s)
        } else {
            Surface::Closed
        };
        let surfaces = vec![surface; species.len()];
        let outcome = match self.furnace {
            Some(furnace) => {
                anneal_through(&grid, furnace, &surfaces, &initial, time_s, control)
            }
            None => {
                anneal(&grid, crystal, &species, &surfaces, &initial, time_s, control)
            }
        };
        Ok((grid, outcome))
    }
}

/// The film after the step: what was in it, and what grew below.
pub(super) fn grown(
    mut film: Film,
    furnace: &Furnace,
    simulated: &Simulated,
    slices: &[OxideSlice],
) -> Film {
    let [start, end] = furnace.oxide();
    film.thickness = end;
    film.doses_cm2 = simulated
        .dopants
        .iter()
        .zip(&simulated.ledgers)
        .map(|((dopant, _), ledger)| (*dopant, film.dose_cm2(*dopant) + ledger.oxide_cm2))
        .collect();
    let Some(first) = slices.first() else { return film };
    let mut old = core::mem::take(&mut film.profile);
    if old.depth_um.is_empty() && 0.0 < start.to_um() {
        // The oxide that was there holds nothing.
        old.depth_um = vec![0.0, start.to_um()];
    }
    let kept = old.depth_um.len();
    let mut depth_um = old.depth_um;
    depth_um.push(depth_um.last().map_or(0.0, |x| x + 1e-9));
    depth_um.extend(slices.iter().map(|slice| slice.depth_cm * 1e4));
    let dopants = simulated.dopants.iter().enumerate().map(|(k, (dopant, _))| {
        let before = old.dopants.iter().find(|(found, _)| found == dopant);
        let mut c = before.map_or_else(|| vec![0.0; kept], |(_, c)| c.clone());
        c.push(first.concentration_cm3.get(k).copied().unwrap_or(0.0));
        let new = slices.iter().map(|s| s.concentration_cm3.get(k).copied());
        c.extend(new.map(Option::unwrap_or_default));
        (*dopant, c)
    });
    let dopants = dopants.collect();
    film.profile = Profile { dopants, depth_um, ..Profile::default() };
    film
}

/// True if a dopant has reached the closed wall at the deep end of the grid.
fn touches_the_end(outcome: &Outcome) -> bool {
    outcome.concentration_cm3.iter().any(|c| {
        let largest = c.iter().copied().fold(0.0, f64::max);
        c.last().is_some_and(|&end| 1e-7 * largest < end)
    })
}
