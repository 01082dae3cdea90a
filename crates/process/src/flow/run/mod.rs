//! The runner: it takes the section through the steps, and only from the first changed one on.

mod columns;
mod deposit;
mod etch;
mod furnace;
mod implant;
pub(super) mod listed;
mod lithography;
mod notes;
mod polish;

use std::sync::Arc;

use serde_json::{Map, Value};

use super::fault::in_step;
use super::layout::{Line, Mask};
use super::report::{FlowReport, FlowWarning, StepReport};
use super::task::{Clean, CleanRecipe, Task};
use super::{Flow, FlowStep, WaferStart};
use crate::error::RequestError;
use crate::hazards::{Grade, known_id, sequence, sort_worst_first};
use crate::vocabulary::Material;
use crate::wafer::{DepthMesh, Section};
use columns::Mesh;
use lithography::Coat;
use notes::Notes;

/// The wafer after a step.
#[derive(Clone, Debug)]
pub struct Snapshot {
    /// The cross-section.
    pub section: Section,
    /// What the step did.
    pub report: StepReport,
    /// The resist on the wafer, if there is one.
    coat: Option<Coat>,
    /// Temperature in C of the last step that was hot enough to set what is active.
    pub active_at_c: Option<f64>,
    /// Edges of columns that were planned, in nm: those of the mesh, and those of masks that were
    /// printed off their place. Columns are never joined across one.
    planned_nm: Arc<[f64]>,
}

/// How far a run is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress<'a> {
    /// The step that begins, from 1.
    pub number: usize,
    /// How many steps there are to run in all.
    pub steps: usize,
    /// Its id.
    pub id: &'a str,
}

/// Where a run begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Begun {
    /// How many steps need not run again.
    pub kept: usize,
    /// How many of them the runner had done itself.
    pub own: usize,
    /// The run that it goes on from instead of its own, by its place in the list.
    pub from: Option<usize>,
}

/// Why a run ended early.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Stopped {
    /// The caller wanted no more.
    #[error("the run was cancelled")]
    Cancelled,
    /// A step cannot be done on this wafer.
    #[error(transparent)]
    Wrong(#[from] RequestError),
}

/// What decides a step's outcome, given the wafer before it.
#[derive(Clone, Debug, PartialEq)]
struct Key {
    operation: &'static str,
    fields: Map<String, Value>,
    /// The mask that an exposure prints, and the line along which it is cut.
    printed: Option<(Mask, Line)>,
}

impl Key {
    fn of(step: &FlowStep, flow: &Flow) -> Self {
        let mask = match &step.task {
            Task::Exposure(printing) => flow.layout.mask(&printing.level).cloned(),
            _ => None,
        };
        let printed = mask.map(|mask| (mask, flow.section));
        Self { operation: step.operation, fields: step.filled.clone(), printed }
    }
}

/// Runs flows and remembers the last one.
#[derive(Clone, Debug, Default)]
pub struct Runner {
    /// Column widths multiply by this, and the depth mesh, if it is not the usual one.
    mesh: Option<(f64, Option<DepthMesh>)>,
    start: Option<(Mesh, WaferStart)>,
    keys: Vec<Key>,
    snapshots: Vec<Snapshot>,
    /// Warnings of the sequence rules, by step.
    mistakes: Vec<Vec<FlowWarning>>,
}

impl Runner {
    /// A runner that has run nothing.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// A runner whose columns are wider (above 1) or narrower (below 1) than usual, on a depth
    /// mesh of its own if one is given.
    #[must_use]
    pub fn with_mesh(coarseness: f64, depth: Option<DepthMesh>) -> Self {
        Self { mesh: Some((coarseness.clamp(0.1, 100.0), depth)), ..Self::default() }
    }

    /// Runs a flow up to a step (by its place from 0) or to the end. Steps that are as in the
    /// last run, and follow the same wafer, are not run again.
    ///
    /// `go_on` is told each step before it begins; false ends the run.
    ///
    /// # Errors
    /// [`Stopped`]; what was run until then is kept.
    pub fn run(
        &mut self,
        flow: &Flow,
        until: Option<usize>,
        go_on: &mut dyn FnMut(Progress<'_>) -> bool,
    ) -> Result<&[Snapshot], Stopped> {
        let mut kept = self.begin(flow)?;
        let steps =
            until.map_or(flow.steps.len(), |until| (until + 1).min(flow.steps.len()));
        self.keys.truncate(steps);
        self.snapshots.truncate(steps);
        while kept < steps {
            let id = &flow.steps[kept].id;
            if !go_on(Progress { number: kept + 1, steps, id }) {
                return Err(Stopped::Cancelled);
            }
            self.advance(flow)?;
            kept += 1;
        }
        Ok(&self.snapshots)
    }

    /// Takes a flow, keeps the snapshots of those steps that need not run again, because they
    /// are as in the last run and follow the same wafer, and gives their number.
    ///
    /// # Errors
    /// [`RequestError`] for a flow without a mesh; what was run before is then kept.
    pub fn begin(&mut self, flow: &Flow) -> Result<usize, RequestError> {
        Ok(self.begin_beside(flow, &[])?.kept)
    }

    /// As [`Runner::begin`], but goes on from another run where that one has more steps in common
    /// with the flow.
    ///
    /// # Errors
    /// As [`Runner::begin`].
    pub fn begin_beside(
        &mut self,
        flow: &Flow,
        others: &[&Self],
    ) -> Result<Begun, RequestError> {
        let (coarseness, depth) = self.mesh.unwrap_or((1.0, None));
        let start = (Mesh::of(flow, coarseness, depth)?, flow.substrate.clone());
        let own = self.in_common(&start, flow);
        let (mut same, mut from) = (own, None);
        for (place, other) in others.iter().enumerate() {
            let more = other.in_common(&start, flow);
            if same < more && other.mesh == self.mesh {
                (same, from) = (more, Some(place));
            }
        }
        if let Some(other) = from.and_then(|place| others.get(place)) {
            self.keys.clone_from(&other.keys);
            self.snapshots.clone_from(&other.snapshots);
        }
        self.start = Some(start);
        self.keys.truncate(same);
        self.snapshots.truncate(same);
        self.mistakes = mistakes(flow);
        for (step, snapshot) in flow.steps.iter().zip(&mut self.snapshots) {
            step.id.clone_into(&mut snapshot.report.id);
            snapshot.report.hazards = all_hazards(step, &snapshot.report.hazards);
        }
        Ok(Begun { kept: same, own, from })
    }

    /// The steps from the first on that are as in the last run and follow the same wafer.
    fn in_common(&self, start: &(Mesh, WaferStart), flow: &Flow) -> usize {
        if self.start.as_ref() != Some(start) {
            return 0;
        }
        let steps = flow.steps.iter().map(|step| Key::of(step, flow));
        self.keys.iter().zip(steps).take_while(|(old, new)| **old == *new).count()
    }

    /// Runs the next step of the flow that [`Runner::begin`] was given; nothing after the last.
    ///
    /// # Errors
    /// [`RequestError`] if it cannot be done on this wafer; what was run until then is kept.
    pub fn advance(&mut self, flow: &Flow) -> Result<(), RequestError> {
        let index = self.snapshots.len();
        let (Some(step), Some((mesh, substrate))) = (flow.steps.get(index), &self.start)
        else {
            return Ok(());
        };
        let before = match self.snapshots.last() {
            Some(last) => Wafer {
                section: last.section.clone(),
                coat: last.coat.clone(),
                active_at_c: last.active_at_c,
                planned_nm: Arc::clone(&last.planned_nm),
                coarseness: mesh.coarseness,
            },
            None => Wafer {
                section: mesh.bare(substrate),
                coat: None,
                active_at_c: None,
                planned_nm: mesh.edges_nm().into(),
                coarseness: mesh.coarseness,
            },
        };
        let mut snapshot =
            before.after(flow, index).map_err(|error| in_step(error, index, &step.id))?;
        snapshot
            .report
            .warnings
            .extend(self.mistakes.get(index).cloned().unwrap_or_default());
        snapshot.section.join_alike(&snapshot.planned_nm);
        self.snapshots.push(snapshot);
        self.keys.push(Key::of(step, flow));
        Ok(())
    }

    /// The snapshots of the last run.
    #[must_use]
    pub fn snapshots(&self) -> &[Snapshot] {
        &self.snapshots
    }

    /// The reports of the last run and what its last wafer measures.
    #[must_use]
    pub fn report(&self, flow: &Flow) -> FlowReport {
        FlowReport {
            flow: flow.name.clone(),
            steps: self
                .snapshots
                .iter()
                .map(|snapshot| snapshot.report.clone())
                .collect(),
            measurements: super::questions::measurements(flow, &self.snapshots),
            rule_breaks: flow.rule_breaks(),
            kernel_version: crate::KERNEL_VERSION,
        }
    }
}

/// What must not follow on the steps before it: by step, the sequence rules of safety that it
/// breaks.
fn mistakes(flow: &Flow) -> Vec<Vec<FlowWarning>> {
    let steps: Vec<Value> = flow
        .steps
        .iter()
        .map(|step| {
            let mut object = step.object.clone();
            object.insert("id".to_owned(), step.id.clone().into());
            object.insert("operation".to_owned(), step.operation.into());
            Value::Object(object)
        })
        .collect();
    let mut by_step = vec![Vec::new(); flow.steps.len()];
    for found in sequence(&steps).into_iter().filter(|found| found.grade == Grade::Stop) {
        let last =
            flow.steps.iter().position(|step| found.steps.last() == Some(&step.id));
        if let Some(warnings) = last.and_then(|index| by_step.get_mut(index)) {
            let message = format!("{}: {}", found.title, found.reason);
            warnings.push(FlowWarning::new(found.rule, "", message, found.remedy, None));
        }
    }
    by_step
}

/// The wafer that a step changes.
struct Wafer {
    section: Section,
    coat: Option<Coat>,
    active_at_c: Option<f64>,
    planned_nm: Arc<[f64]>,
    /// Column widths multiply by this.
    coarseness: f64,
}

/// What a step leaves, before it becomes a report.
#[derive(Default)]
struct Done {
    results: Map<String, Value>,
    notes: Notes,
    hazards: Vec<&'static str>,
}

impl Done {
    /// Adds a result.
    fn give(&mut self, name: &str, value: impl Into<Value>) {
        self.results.insert(name.to_owned(), value.into());
    }
}

impl Wafer {
    fn after(mut self, flow: &Flow, index: usize) -> Result<Snapshot, RequestError> {
        let step = &flow.steps[index];
        let done = self.work(flow, step)?;
        if self.section.area_nm2(Material::Resist) <= 0.0 {
            self.coat = None;
        }
        let own: Vec<String> = done.hazards.iter().map(|&id| id.to_owned()).collect();
        Ok(Snapshot {
            report: StepReport {
                id: step.id.clone(),
                number: index + 1,
                operation: step.operation,
                results: done.results,
                warnings: done.notes.into_list(),
                hazards: all_hazards(step, &own),
            },
            section: self.section,
            coat: self.coat,
            active_at_c: self.active_at_c,
            planned_nm: self.planned_nm,
        })
    }

    fn work(&mut self, flow: &Flow, step: &FlowStep) -> Result<Done, RequestError> {
        match &step.task {
            Task::Clean(clean) => Ok(self.clean(*clean)),
            Task::Oxidation(oxidation) => self.oxidize(flow, oxidation),
            Task::Predeposition(source) => Ok(self.predeposit(flow, source)),
            Task::DriveIn(heat) => Ok(self.heat(flow, heat, false)),
            Task::Anneal(heat) => Ok(self.heat(flow, heat, true)),
            Task::Implantation(implant) => self.implant(implant),
            Task::SpinCoating { spin, primed } => self.spin(spin, *primed),
            Task::Bake(bake) => Ok(self.bake(bake)),
            Task::Exposure(printing) => Ok(self.expose(flow, printing)),
            Task::Development(development) => self.develop(flow, development),
            Task::ResistStrip(strip) => Ok(self.strip_resist(strip)),
            Task::WetEtch(etch) => self.etch_wet(flow, etch),
            Task::DryEtch(etch) => self.etch_dry(etch),
            Task::Deposition(deposition) => Ok(self.deposit(deposition)),
            Task::Planarization(polish) => self.polish(polish),
        }
    }

    fn clean(&self, clean: Clean) -> Done {
        use CleanRecipe as R;
        let mut done = Done::default();
        let word = clean.recipe.word();
        done.hazards = crate::hazards::for_step("clean", &[word]);
        let removed: &[&str] = match clean.recipe {
            R::Full => &["organics", "particles", "native oxide", "metals"],
            R::Piranha | R::UvOzone => &["organics"],
            R::Sc1 => &["particles", "organics"],
            R::Sc2 => &["metals"],
            R::HfDip => &["native oxide"],
            R::Solvent => &["grease", "resist residues"],
        };
        done.give("removed", removed.to_vec());
        // An oxidizing bath at the end leaves about a nanometer, from which growth starts; HF
        // leaves none (common practice).
        let native_nm = if clean.recipe == R::HfDip { 0.0 } else { 1.0 };
        done.give("native_oxide_nm", native_nm);
        done.give("time_min", clean.time_min);
        let acid = !matches!(clean.recipe, R::Solvent | R::UvOzone);
        if let Some(x_um) = self.where_is(Material::Resist)
            && !matches!(clean.recipe, R::UvOzone)
        {
            let (message, hint) = if matches!(clean.recipe, R::Full | R::Piranha) {
                (
                    "a film of resist goes into piranha: it can make the bath boil over or explode",
                    "strip the resist with solvent or plasma before this step",
                )
            } else {
                (
                    "there is still resist on the wafer",
                    "strip the resist before this step",
                )
            };
            done.notes.at("resist_in_clean", "recipe", message.to_owned(), hint, x_um);
        }
        if let Some(x_um) = self.where_is(Material::Aluminum)
            && acid
        {
            done.notes.at(
                "metal_in_acid",
                "recipe",
                format!(
                    "{} eats the aluminum that is on the wafer",
                    clean.recipe.label()
                ),
                "once there is metal on the wafer clean with solvent only",
                x_um,
            );
        }
        done
    }

    /// The first place in um where the section has a material.
    fn where_is(&self, material: Material) -> Option<f64> {
        let section = &self.section;
        (0..section.columns())
            .find(|&i| {
                section.layers(i).iter().any(|l| l.matter.material() == Some(material))
            })
            .map(|i| 1e-3 * section.center_nm(i))
    }

    /// Says what heat does to resist and metal that are on the wafer.
    fn note_heat(&self, temperature_c: f64, done: &mut Done) {
        if let Some(x_um) = self.where_is(Material::Resist)
            && RESIST_HOLDS_C < temperature_c
        {
            done.notes.at(
                "resist_in_furnace",
                "temperature_c",
                format!("resist is on the wafer at {temperature_c} °C: it burns and soils the tube"),
                "strip the resist and clean the wafer before this step",
                x_um,
            );
        }
        if let Some(x_um) = self.where_is(Material::Aluminum)
            && ALUMINUM_HOLDS_C < temperature_c
        {
            let what = if ALUMINUM_MELTS_C <= temperature_c {
                "it melts"
            } else {
                "silicon dissolves in it and it spikes through shallow junctions"
            };
            done.notes.at(
                "metal_too_hot",
                "temperature_c",
                format!("aluminum is on the wafer at {temperature_c} °C: {what}"),
                "keep aluminum at 450 °C or below",
                x_um,
            );
        }
    }
}

/// Resist carbonizes above this, in C (common practice).
pub(in crate::flow) const RESIST_HOLDS_C: f64 = 200.0;

/// Aluminum on silicon is sintered at most this hot, in C (common practice: 400-450).
pub(in crate::flow) const ALUMINUM_HOLDS_C: f64 = 475.0;

/// Aluminum melts, in C (660.3; memory).
pub(in crate::flow) const ALUMINUM_MELTS_C: f64 = 660.3;

/// The hazards of a step's operation and those that its traveller names, worst first.
fn all_hazards(step: &FlowStep, own: &[String]) -> Vec<String> {
    let named = own.iter().chain(&step.hazards);
    let mut ids: Vec<&'static str> = named.filter_map(|id| known_id(id)).collect();
    sort_worst_first(&mut ids);
    ids.dedup();
    ids.into_iter().map(str::to_owned).collect()
}
