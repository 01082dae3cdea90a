//! An anneal from start to end: what goes in, what comes out.

use super::boundary::Surface;
use super::flux::{Crystal, Species};
use super::grid::Grid;
use super::ledger::Ledger;
use super::motion::OxideSlice;
use super::schedule::{MOST_SPECIES, Schedule};
use super::stepper::Stepper;

/// How exactly the steps follow the time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Control {
    /// Allowed error of one step, relative in depth or in concentration.
    pub tolerance: f64,
    /// Concentrations below this share of the largest are not looked at.
    pub floor: f64,
    /// States kept on the way, about equally spaced in the root of time.
    pub snapshots: u32,
}

impl Control {
    /// Two to three times as many steps, and further down the tail.
    pub const REFERENCE: Self = Self { tolerance: 3e-5, floor: 1e-8, snapshots: 0 };
}

impl Default for Control {
    fn default() -> Self {
        Self { tolerance: 1e-3, floor: 1e-5, snapshots: 0 }
    }
}

/// A state on the way of an anneal.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Snapshot {
    /// When it was reached in s.
    pub time_s: f64,
    /// Concentration per cm3 of each dopant at the nodes.
    pub concentration_cm3: Vec<Vec<f64>>,
}

/// What an anneal leaves behind.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outcome {
    /// Concentration per cm3 of each dopant at the nodes.
    pub concentration_cm3: Vec<Vec<f64>>,
    /// The dose ledger of each dopant.
    pub ledgers: Vec<Ledger>,
    /// States on the way, without the first and the last.
    pub snapshots: Vec<Snapshot>,
    /// The oxide that grew, from its first slice on; empty without one.
    pub oxide: Vec<OxideSlice>,
    /// Time steps taken.
    pub steps: usize,
    /// Linear systems solved.
    pub solves: usize,
    /// False if the bound on the number of steps was reached before the time was up.
    pub finished: bool,
}

/// Anneals for `time_s` seconds at one temperature. `start` holds one list of node
/// concentrations per species, `surface` one condition per species.
#[must_use]
pub fn anneal(
    grid: &Grid,
    crystal: Crystal,
    species: &[Species],
    surface: &[Surface],
    start: &[Vec<f64>],
    time_s: f64,
    control: Control,
) -> Outcome {
    run(grid, crystal, species, surface, start, time_s, control, None)
}

/// Anneals through a furnace that changes with time, until its clock shows `clock_s`.
///
/// `surface` and `start` as in [`anneal`]; crystal and dopants are those of the schedule.
#[must_use]
pub fn anneal_through(
    grid: &Grid,
    schedule: &dyn Schedule,
    surface: &[Surface],
    start: &[Vec<f64>],
    clock_s: f64,
    control: Control,
) -> Outcome {
    let first = schedule.at(0.0);
    let (crystal, species) = (first.crystal, &first.species);
    run(grid, crystal, species, surface, start, clock_s, control, Some(schedule))
}

#[expect(clippy::too_many_arguments, reason = "the arguments of both doors together")]
fn run(
    grid: &Grid,
    crystal: Crystal,
    species: &[Species],
    surface: &[Surface],
    start: &[Vec<f64>],
    time_s: f64,
    control: Control,
    schedule: Option<&dyn Schedule>,
) -> Outcome {
    macro_rules! with {
        ($k:literal) => {
            match (species.first_chunk::<$k>(), surface.first_chunk::<$k>()) {
                (Some(species), Some(surface)) => Stepper::<$k>::new(
                    grid, crystal, *species, *surface, start, control, schedule,
                )
                .run(time_s),
                _ => Outcome::default(),
            }
        };
    }
    debug_assert!(species.len() == surface.len() && species.len() == start.len());
    match species.len() {
        1 => with!(1),
        2 => with!(2),
        // Three to five together are rare: one solver for all of them, filled up with absent
        // dopants, costs the page less to load than one for each number.
        n @ 3..=MOST_SPECIES => {
            let species = padded(species, species[0]);
            let surface = padded(surface, Surface::Closed);
            let nothing = vec![0.0; start[0].len()];
            let start: Vec<Vec<f64>> = start
                .iter()
                .cloned()
                .chain(std::iter::repeat(nothing))
                .take(MOST_SPECIES)
                .collect();
            let mut outcome = Stepper::<MOST_SPECIES>::new(
                grid, crystal, species, surface, &start, control, schedule,
            )
            .run(time_s);
            outcome.concentration_cm3.truncate(n);
            outcome.ledgers.truncate(n);
            for snapshot in &mut outcome.snapshots {
                snapshot.concentration_cm3.truncate(n);
            }
            for slice in &mut outcome.oxide {
                slice.concentration_cm3.truncate(n);
            }
            outcome
        }
        _ => Outcome::default(),
    }
}

/// The list as an array of five, filled up with `filler`.
fn padded<T: Copy>(list: &[T], filler: T) -> [T; MOST_SPECIES] {
    std::array::from_fn(|i| list.get(i).copied().unwrap_or(filler))
}
