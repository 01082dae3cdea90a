//! The mesh of a flow's section: columns by the layout's edges, depth by its heat.

use super::super::bounds::MOST_COLUMNS;
use super::super::layout::{Line, Mask};
use super::super::settings::MeshKind;
use super::super::task::Task;
use super::super::{Flow, WaferStart};
use crate::constants::SILICON_PER_OXIDE;
use crate::error::RequestError;
use crate::oxidation::{Conditions, Segment, Surface, through_segment};
use crate::units::{Length, Temperature, Time};
use crate::vocabulary::{DiffusivitySet, Dopant, DopingType};
use crate::wafer::{DepthMesh, EdgeKind, Section, column_edges_nm, depth_edges_nm};

/// The bottom of the mesh lies this many diffusion lengths below the deepest dopant.
pub(in crate::flow) const BELOW: f64 = 6.0;

/// Where implanted dopants lie at most before they are driven in, in nm: the range of the
/// lightest ion at the largest energy (model choice).
pub(in crate::flow) const IMPLANTED_NM: f64 = 1500.0;

/// As far as this from an active area in um its implants and its oxide's beak may reach (model
/// choice: a junction goes half as far sideways as it is deep, a beak about as far as the oxide
/// is thick; both stay below half of it).
pub(in crate::flow) const BESIDE_ACTIVE_UM: f64 = 1.5;

/// Oxide of this thickness in nm stops what makes sources and drains (derived: the range of boron
/// of 30 keV and five of its straggles).
pub(in crate::flow) const FIELD_NM: f64 = 300.0;

/// Most depth cells.
pub(in crate::flow) const MOST_CELLS: usize = 320;

/// The borders of columns and depth cells in nm.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Mesh {
    edges_nm: Vec<f64>,
    depths_nm: Vec<f64>,
    /// Column widths multiply by this.
    pub(super) coarseness: f64,
}

impl Mesh {
    /// The mesh of a flow.
    pub(super) fn of(
        flow: &Flow,
        coarseness: f64,
        depth: Option<DepthMesh>,
    ) -> Result<Self, RequestError> {
        let quick = flow.settings.mesh == Some(MeshKind::Quick);
        let coarseness = if quick { 2.0 * coarseness } else { coarseness };
        let edges = edges_nm(flow);
        let width_nm = 1e3 * flow.width_um();
        let edges_nm = column_edges_nm(width_nm, &edges, coarseness);
        let columns = edges_nm.len() - 1;
        if MOST_COLUMNS < columns {
            return Err(RequestError::new(
                "too_many_columns",
                "section",
                &columns.to_string(),
                &format!("at most {MOST_COLUMNS} columns"),
                &format!(
                    "section: it crosses so many edges that it needs {columns} columns (allowed: at most {MOST_COLUMNS})"
                ),
                "cut a shorter piece of the layout, or set mesh to quick",
            ));
        }
        let usual = if quick { DepthMesh::QUICK } else { DepthMesh::USUAL };
        let depths_nm = depths_nm(flow, depth.unwrap_or(usual));
        Ok(Self { edges_nm, depths_nm, coarseness })
    }

    /// Its edges, which stay edges of columns.
    pub(super) fn edges_nm(&self) -> &[f64] {
        &self.edges_nm
    }

    /// The wafer at the start.
    pub(super) fn bare(&self, wafer: &WaferStart) -> Section {
        let dopant = match wafer.doping.doping_type {
            DopingType::P => Dopant::Boron,
            DopingType::N => Dopant::Phosphorus,
        };
        Section::bare(
            self.edges_nm.clone(),
            self.depths_nm.clone(),
            (dopant, wafer.doping.concentration_cm3),
        )
    }
}

/// Every edge that a step prints, in nm from the beginning of the section line, as if every mask
/// were printed on its place: a mesh that knew overlay errors would be another one for every step
/// of a flow when one mask is shifted. An exposure that is off its place makes its own columns
/// finer ([`shifted_edges_nm`]).
fn edges_nm(flow: &Flow) -> Vec<(f64, EdgeKind)> {
    let mut edges: Vec<(f64, EdgeKind)> = Vec::new();
    let mut active: Option<(&str, Vec<[f64; 2]>)> = None;
    let mut has_field = false;
    for step in &flow.steps {
        has_field |= FIELD_NM <= eaten_nm(&step.task, flow) / SILICON_PER_OXIDE;
        let Task::Exposure(printing) = &step.task else { continue };
        let Some(mask) = flow.layout.mask(&printing.level) else { continue };
        let figures_um = mask.figures_cut_um(&flow.section, [0.0; 2]);
        for &x_um in figures_um.iter().flatten() {
            let over_field = active.as_ref().is_some_and(|(level, active_um)| {
                has_field && *level != mask.level && is_over_field(x_um, active_um)
            });
            let kind = match mask.edge_kind() {
                EdgeKind::Active if over_field => EdgeKind::Contact,
                kind => kind,
            };
            let edge = (1e3 * x_um, kind);
            if !edges.contains(&edge) {
                edges.push(edge);
            }
        }
        if active.is_none() && mask.is_active() {
            active = Some((&mask.level, figures_um));
        }
    }
    edges
}

/// Whether an edge that is printed after the active areas lies over field oxide, out of reach of
/// the silicon beside it: resist that ends there shapes no junction.
fn is_over_field(x_um: f64, active_um: &[[f64; 2]]) -> bool {
    active_um.iter().all(|[from_um, to_um]| {
        x_um < from_um - BESIDE_ACTIVE_UM || to_um + BESIDE_ACTIVE_UM < x_um
    })
}

/// The edges of a mask that is printed off its place which do not lie where the drawing has an
/// edge, in nm.
pub(super) fn shifted_edges_nm(
    mask: &Mask,
    section: &Line,
    overlay_um: [f64; 2],
) -> Vec<(f64, EdgeKind)> {
    let kind = mask.edge_kind();
    let width_um = section.length_um();
    let drawn = mask.figures_cut_um(section, [0.0; 2]);
    let printed = mask.figures_cut_um(section, overlay_um);
    printed
        .iter()
        .flatten()
        .filter(|x_um| 0.0 < **x_um && **x_um < width_um)
        .filter(|x_um| !drawn.iter().flatten().any(|old| (old - **x_um).abs() < 1e-6))
        .map(|x_um| (1e3 * x_um, kind))
        .collect()
}

/// The borders of the depth cells: deep enough for all the heat of the flow, and for the silicon
/// that it takes away.
fn depths_nm(flow: &Flow, usual: DepthMesh) -> Vec<f64> {
    let mut heat = Heat::default();
    let mut taken_nm = 0.0;
    for step in &flow.steps {
        taken_nm += eaten_nm(&step.task, flow);
        match &step.task {
            Task::DriveIn(step) | Task::Anneal(step) => {
                heat.add(step.doping.set, step.temperature_c, step.time_min);
            }
            Task::Predeposition(source) => {
                heat.brought[source.dopant as usize] = true;
                heat.add(source.doping.set, source.temperature_c, source.time_min);
            }
            Task::Oxidation(oxidation) => {
                for segment in oxidation.segments(Length::nm(0.0)).unwrap_or_default() {
                    let hottest_c =
                        segment.start.to_celsius().max(segment.end.to_celsius());
                    let minutes = segment.duration.to_min();
                    heat.add(DiffusivitySet::Plummer2000, hottest_c, minutes);
                }
            }
            Task::Implantation(implant) => heat.brought[implant.dopant() as usize] = true,
            Task::WetEtch(etch) => taken_nm += etch.silicon_nm(),
            Task::DryEtch(etch) => taken_nm += etch.silicon_nm(),
            _ => {}
        }
    }
    let deepest_nm = (IMPLANTED_NM + BELOW * heat.length_nm() + taken_nm)
        .min(1e3 * flow.substrate.thickness_um);
    let mut mesh = usual;
    let mut edges_nm = depth_edges_nm(mesh);
    while edges_nm.last().is_some_and(|last| *last < deepest_nm)
        && mesh.cells < MOST_CELLS
    {
        mesh.cells += 5;
        edges_nm = depth_edges_nm(mesh);
    }
    edges_nm
}

/// Silicon in nm that the oxide of a step eats at most.
fn eaten_nm(task: &Task, flow: &Flow) -> f64 {
    match task {
        Task::DriveIn(step) | Task::Anneal(step) => {
            let conditions = Conditions {
                surface: Surface::Crystal(flow.substrate.orientation),
                ..Conditions::default()
            };
            let segment = Segment::hold(
                step.ambient.oxidation(),
                Temperature::celsius(step.temperature_c),
                Time::min(step.time_min),
            );
            consumed_nm(&conditions, &segment)
        }
        Task::Oxidation(oxidation) => oxidation
            .segments(Length::nm(0.0))
            .unwrap_or_default()
            .iter()
            .map(|segment| consumed_nm(oxidation.conditions(), segment))
            .sum(),
        _ => 0.0,
    }
}

/// Silicon in nm that an oxidation of bare silicon uses up: the most that it can take.
fn consumed_nm(conditions: &Conditions, segment: &Segment) -> f64 {
    let end_h = [segment.duration.to_h()];
    let grown_um = through_segment(conditions, segment, Length::nm(0.0), &end_h);
    1e3 * SILICON_PER_OXIDE * grown_um.first().copied().unwrap_or(0.0)
}

/// All the heat of a flow.
#[derive(Default)]
struct Heat {
    /// `D t` in cm2 of each dopant.
    dt_cm2: [f64; Dopant::ALL.len()],
    /// Whether a step brings it.
    brought: [bool; Dopant::ALL.len()],
}

impl Heat {
    fn add(&mut self, set: DiffusivitySet, temperature_c: f64, time_min: f64) {
        let temperature = Temperature::celsius(temperature_c);
        for &dopant in Dopant::ALL {
            if let Some(d) = set.diffusivity(dopant) {
                self.dt_cm2[dopant as usize] +=
                    d.intrinsic_cm2_s(temperature) * 60.0 * time_min;
            }
        }
    }

    /// The longest diffusion length of a dopant that is brought, in nm.
    fn length_nm(&self) -> f64 {
        let longest_cm2 = self
            .dt_cm2
            .iter()
            .zip(self.brought)
            .filter(|(_, brought)| *brought)
            .fold(0.0, |longest: f64, (dt, _)| longest.max(*dt));
        longest_cm2.sqrt() * 1e7
    }
}
