//! A material that goes entirely wherever gas or liquid comes to it.

use super::super::Section;
use super::removal::{Removed, remove};
use super::spans::{Spans, common};
use crate::vocabulary::Material;

/// Removes a material wherever it can be reached from above, through open space and through
/// itself. What hung on it alone floats off. What could not be reached is told.
pub fn strip(section: &mut Section, material: Material) -> Removed {
    // Single crystal is the wafer itself.
    if material == Material::Silicon {
        return Removed::default();
    }
    // Open space and the material are one; from the sky it is seen how far that goes.
    let mut passable = Spans::new();
    let mut targets = Spans::new();
    for i in 0..section.columns() {
        let mut low_nm = None;
        let mut floor_nm = section.silicon_top_nm(i);
        for layer in section.layers(i) {
            let is_target = layer.matter.material() == Some(material);
            if is_target {
                targets.push([floor_nm, layer.top_nm]);
            }
            if is_target || layer.matter.is_open() {
                low_nm = low_nm.or(Some(floor_nm));
            } else if let Some(low) = low_nm.take() {
                passable.push([low, floor_nm]);
            }
            floor_nm = layer.top_nm;
        }
        passable.push([low_nm.unwrap_or(floor_nm), f64::INFINITY]);
        passable.end_column();
        targets.end_column();
    }
    let (reached, _) = passable.split_by_sky();
    let mut spans = Spans::new();
    let mut shared = Vec::new();
    for i in 0..section.columns() {
        shared.clear();
        common(targets.of(i), reached.of(i), &mut shared);
        for &span in &shared {
            spans.push(span);
        }
        spans.end_column();
    }
    let removed = remove(section, &spans);
    Removed { unreached_nm2: section.area_nm2(material), ..removed }
}
