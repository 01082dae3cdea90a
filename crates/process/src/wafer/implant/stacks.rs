//! The distinct stacks of a section and what a beam leaves in each.

use super::super::section::Section;
use super::Transmission;
use crate::implantation::Beam;
use crate::vocabulary::Material;

/// Beyond this share of the dose nothing is placed any deeper: one ion of the largest dose on a
/// wafer.
const NOTHING: f64 = 1e-30;

/// Neighboring columns with the same stack.
#[derive(Clone, Debug)]
pub(super) struct Stack {
    /// First column, and the one after the last.
    pub(super) columns: [usize; 2],
    /// Share of the dose in each depth cell, from `first` on.
    pub(super) cells: Vec<f64>,
    pub(super) first: usize,
    /// Share of the dose in each layer, from the silicon up.
    pub(super) layers: Vec<f64>,
    /// Height in nm at which half of what entered has stopped: what throws a shadow.
    pub(super) opaque_nm: f64,
    lost: f64,
    transmitted: f64,
}

/// All of them, from left to right.
#[derive(Clone, Debug)]
pub(super) struct Stacks {
    pub(super) list: Vec<Stack>,
    /// Place in the list by column.
    pub(super) of_column: Vec<usize>,
}

/// Materials and thicknesses from the top; open spaces are left out, but keep their place.
fn beam_layers(section: &Section, column: usize) -> Vec<(usize, Material, f64)> {
    let layers = section.layers(column);
    (0..layers.len())
        .rev()
        .filter_map(|k| {
            let material = layers[k].matter.material()?;
            Some((k, material, layers[k].top_nm - section.floor_nm(column, k)))
        })
        .collect()
}

/// The same stack on silicon of the same height.
fn are_equal(section: &Section, a: usize, b: usize) -> bool {
    let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
    let (left, right) = (section.layers(a), section.layers(b));
    left.len() == right.len()
        && same(section.silicon_top_nm(a), section.silicon_top_nm(b))
        && left
            .iter()
            .zip(right)
            .all(|(a, b)| a.matter == b.matter && same(a.top_nm, b.top_nm))
}

impl Stacks {
    pub(super) fn of(section: &Section, beam: &Beam) -> Self {
        let mut stacks = Self { list: Vec::new(), of_column: Vec::new() };
        for i in 0..section.columns() {
            if 0 < i && are_equal(section, i - 1, i) {
                stacks.list[stacks.of_column[i - 1]].columns[1] = i + 1;
            } else {
                stacks.list.push(Stack::of(section, i, beam));
            }
            stacks.of_column.push(stacks.list.len() - 1);
        }
        stacks
    }

    /// Takes the shaded share of the dose from every column; stacks that are partly shaded fall
    /// into parts.
    pub(super) fn shade(&mut self, shaded: &[f64]) {
        if shaded.iter().all(|&share| share <= 0.0) {
            return;
        }
        let mut list: Vec<Stack> = Vec::with_capacity(self.list.len());
        for i in 0..shaded.len() {
            let old = self.of_column[i];
            let kept = 1.0 - shaded[i];
            let same = 0 < i
                && self.list[old].columns[0] < i
                && (shaded[i] - shaded[i - 1]).abs() < 1e-12;
            if same {
                if let Some(last) = list.last_mut() {
                    last.columns[1] = i + 1;
                }
            } else {
                let mut stack = self.list[old].clone();
                stack.columns = [i, i + 1];
                for share in stack.cells.iter_mut().chain(&mut stack.layers) {
                    *share *= kept;
                }
                stack.lost *= kept;
                stack.transmitted *= kept;
                list.push(stack);
            }
        }
        for (at, stack) in list.iter().enumerate() {
            self.of_column[stack.columns[0]..stack.columns[1]].fill(at);
        }
        self.list = list;
    }

    /// The stack of a column.
    pub(super) fn at(&self, column: usize) -> &Stack {
        &self.list[self.of_column[column]]
    }

    /// Share of the dose that comes back out of a column.
    pub(super) fn lost(&self, column: usize) -> f64 {
        self.at(column).lost
    }

    pub(super) fn transmissions(&self, section: &Section) -> Vec<Transmission> {
        self.list
            .iter()
            .map(|stack| Transmission {
                from_x_nm: section.edges_nm()[stack.columns[0]],
                to_x_nm: section.edges_nm()[stack.columns[1]],
                transmitted: stack.transmitted,
                lost: stack.lost,
                layered: !stack.layers.is_empty(),
            })
            .collect()
    }
}

impl Stack {
    fn of(section: &Section, column: usize, beam: &Beam) -> Self {
        let layers = beam_layers(section, column);
        let given: Vec<(Material, f64)> =
            layers.iter().map(|&(_, material, nm)| (material, nm)).collect();
        let stopped = beam.through(&given);
        let mut in_layers = vec![0.0; section.layers(column).len()];
        for (&(k, _, _), &share) in layers.iter().zip(&stopped.layers) {
            in_layers[k] = share;
        }
        let (first, _) = section.first_cell(column);
        let mut cells = Vec::new();
        let mut from_nm = 0.0;
        for &edge_nm in &section.depths_nm()[first + 1..] {
            let to_nm = edge_nm + section.silicon_top_nm(column);
            let share = stopped.between(from_nm, to_nm);
            if stopped.beyond(from_nm) < NOTHING {
                break;
            }
            cells.push(share);
            from_nm = to_nm;
        }
        // What the bell has below the mesh is in the mesh's last cell.
        if first + cells.len() == section.cells()
            && let Some(last) = cells.last_mut()
        {
            *last += stopped.beyond(from_nm);
        }
        // What rounding leaves over closes the dose where most of it is: in a thick stack the
        // silicon's share may be less than that.
        let placed: f64 = cells.iter().chain(&in_layers).sum();
        let rest = 1.0 - stopped.lost - placed;
        let shares = cells.iter_mut().chain(&mut in_layers);
        if let Some(most) = shares.max_by(|a, b| f64::total_cmp(a, b)) {
            *most += rest;
        }
        let opaque_nm = match stopped.half_way {
            Some((at, depth_nm)) => {
                section.layers(column)[layers[at].0].top_nm - depth_nm
            }
            None => section.silicon_top_nm(column),
        };
        Self {
            columns: [column, column + 1],
            cells,
            first,
            layers: in_layers,
            opaque_nm,
            lost: stopped.lost,
            transmitted: stopped.transmitted,
        }
    }
}
