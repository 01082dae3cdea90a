//! The one writer of stacks: intervals of a column become something else.

use super::super::{DOPANTS, Layer, Matter, Section, Swept};
use crate::vocabulary::{Dopant, Material};

/// An interval of height and what is to be there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stroke {
    pub(super) from_nm: f64,
    pub(super) to_nm: f64,
    pub(super) matter: Matter,
    pub(super) dopants_cm3: [f64; DOPANTS],
}

impl Stroke {
    /// Makes room.
    pub(super) const fn open([from_nm, to_nm]: [f64; 2]) -> Self {
        Self { from_nm, to_nm, matter: Matter::Open, dopants_cm3: [0.0; DOPANTS] }
    }
}

/// Changes a column; the strokes ascend and do not overlap. Silicon that goes takes its dopants
/// along; silicon that stays above open space becomes a layer.
pub(super) fn paint(section: &mut Section, column: usize, strokes: &[Stroke]) {
    let Some(first) = strokes.first() else { return };
    let old_top_nm = section.silicon_top_nm(column);
    // Half a cell of silicon always stays.
    let depths_nm = section.depths_nm();
    let cells = section.cells();
    let bottom_nm = -0.5 * (depths_nm[cells] + depths_nm[cells - 1]);
    let silicon_nm = first.from_nm.max(bottom_nm).min(old_top_nm);
    let mut layers: Vec<Layer> =
        Vec::with_capacity(section.layers(column).len() + 2 * strokes.len());
    let mut reached_nm = silicon_nm;
    let add = |layers: &mut Vec<Layer>, from_nm: f64, layer: Layer| {
        let below_nm = layers.last().map_or(silicon_nm, |last| last.top_nm);
        if below_nm < from_nm {
            layers.push(Layer::new(Matter::Open, from_nm));
        }
        layers.push(layer);
    };
    for stroke in strokes {
        copy(section, column, [reached_nm, stroke.from_nm], &mut layers, &add);
        let from_nm = stroke.from_nm.max(silicon_nm);
        if from_nm < stroke.to_nm {
            let (matter, dopants_cm3) = (stroke.matter, stroke.dopants_cm3);
            let top_nm = stroke.to_nm;
            add(&mut layers, from_nm, Layer { matter, top_nm, dopants_cm3 });
        }
        reached_nm = reached_nm.max(stroke.to_nm);
    }
    copy(section, column, [reached_nm, f64::INFINITY], &mut layers, &add);
    if silicon_nm < old_top_nm {
        section.lower_silicon(column, silicon_nm, Swept::Removed);
    }
    section.set_layers(column, &layers);
}

/// Copies what lies in an interval of a column.
fn copy(
    section: &Section,
    column: usize,
    [from_nm, to_nm]: [f64; 2],
    layers: &mut Vec<Layer>,
    add: &impl Fn(&mut Vec<Layer>, f64, Layer),
) {
    let silicon_nm = section.silicon_top_nm(column);
    if from_nm < silicon_nm.min(to_nm) {
        let top_nm = silicon_nm.min(to_nm);
        let dopants_cm3 = silicon_mean(section, column, from_nm, top_nm);
        let matter = Matter::of(Material::Silicon);
        add(layers, from_nm, Layer { matter, top_nm, dopants_cm3 });
    }
    let mut floor_nm = silicon_nm;
    for layer in section.layers(column) {
        let top_nm = layer.top_nm.min(to_nm);
        if floor_nm.max(from_nm) < top_nm {
            add(layers, floor_nm.max(from_nm), Layer { top_nm, ..*layer });
        }
        floor_nm = layer.top_nm;
    }
}

/// Mean concentrations in a piece of a column's silicon.
fn silicon_mean(
    section: &Section,
    column: usize,
    from_nm: f64,
    to_nm: f64,
) -> [f64; DOPANTS] {
    let cells = section.cells();
    let (first, _) = section.first_cell(column);
    let mut means = [0.0; DOPANTS];
    for &dopant in Dopant::ALL {
        let values = section.silicon_cm3(dopant);
        if values.is_empty() {
            continue;
        }
        let mut sum = 0.0;
        for cell in first..cells {
            let low_nm = -section.depths_nm()[cell + 1];
            let high_nm = low_nm + section.height_nm(column, cell);
            let shared_nm = high_nm.min(to_nm) - low_nm.max(from_nm);
            sum += shared_nm.max(0.0) * values[column * cells + cell];
        }
        means[dopant as usize] = sum / (to_nm - from_nm);
    }
    means
}
