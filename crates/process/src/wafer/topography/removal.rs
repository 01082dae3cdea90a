//! Taking away intervals of columns, and the account of what went.

use super::super::Section;
use super::paint::{Stroke, paint};
use super::spans::{Spans, solid};
use crate::vocabulary::Material;

/// What an operation took away.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Removed {
    /// Area in nm2 by material, in the vocabulary's order; those of which something went.
    pub area_nm2: Vec<(Material, f64)>,
    /// Area in nm2 of parts that hung on nothing any more and floated off, by material.
    pub lifted_nm2: Vec<(Material, f64)>,
    /// Area in nm2 of the stripped material that nothing could reach.
    pub unreached_nm2: f64,
}

impl Removed {
    /// Area in nm2 that went of a material, floated off or not.
    #[must_use]
    pub fn of(&self, material: Material) -> f64 {
        let all = self.area_nm2.iter().chain(&self.lifted_nm2);
        all.filter(|(of, _)| *of == material).map(|(_, area_nm2)| area_nm2).sum()
    }
}

const MATERIALS: usize = Material::ALL.len();

/// Heights in nm of all materials in a column.
fn heights_nm(section: &Section, column: usize) -> [f64; MATERIALS] {
    let mut heights = [0.0; MATERIALS];
    let bottom_nm = -section.depths_nm()[section.cells()];
    let mut floor_nm = section.silicon_top_nm(column);
    heights[Material::Silicon as usize] = floor_nm - bottom_nm;
    for layer in section.layers(column) {
        if let Some(material) = layer.matter.material() {
            heights[material as usize] += layer.top_nm - floor_nm;
        }
        floor_nm = layer.top_nm;
    }
    heights
}

/// Opens the intervals of every column; then what hangs on nothing goes too.
pub(super) fn remove(section: &mut Section, spans: &Spans) -> Removed {
    if spans.is_empty() {
        return Removed::default();
    }
    let area_nm2 = opened(section, spans);
    let (_, loose) = solid(section).split_by_ground();
    let lifted_nm2 = if loose.is_empty() { Vec::new() } else { opened(section, &loose) };
    Removed { area_nm2, lifted_nm2, unreached_nm2: 0.0 }
}

fn opened(section: &mut Section, spans: &Spans) -> Vec<(Material, f64)> {
    let mut areas = [0.0; MATERIALS];
    let mut strokes = Vec::new();
    for i in 0..section.columns() {
        strokes.clear();
        strokes.extend(spans.of(i).iter().map(|&span| Stroke::open(span)));
        if strokes.is_empty() {
            continue;
        }
        let before = heights_nm(section, i);
        paint(section, i, &strokes);
        let after = heights_nm(section, i);
        let width_nm = section.width_nm(i);
        for (area, (b, a)) in areas.iter_mut().zip(before.iter().zip(after)) {
            *area += (b - a) * width_nm;
        }
    }
    Material::ALL
        .iter()
        .map(|&material| (material, areas[material as usize]))
        .filter(|&(_, area)| area != 0.0)
        .collect()
}
