//! What is at a place, and which layers lie over it.

use serde::Serialize;

use super::super::Snapshot;
use crate::vocabulary::Material;
use crate::wafer::Matter;

/// One layer of a column.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LayerAt {
    /// The material, or `open`.
    pub material: &'static str,
    /// How it was made; null if its material does not tell.
    pub variant: Option<&'static str>,
    /// Its thickness in nm.
    pub thickness_nm: f64,
    /// Its upper face in nm above the original surface.
    pub top_nm: f64,
    /// Its lower face in nm above the original surface.
    pub bottom_nm: f64,
}

/// What is at a place; none for open space.
#[must_use]
pub fn material_at(snapshot: &Snapshot, x_um: f64, z_um: f64) -> Option<Material> {
    let section = &snapshot.section;
    section.matter_at(section.column_at(1e3 * x_um), 1e3 * z_um).material()
}

/// The layers over a place, from the top down; the last one is the silicon, down to the bottom
/// of what is computed.
#[must_use]
pub fn layers_at(snapshot: &Snapshot, x_um: f64) -> Vec<LayerAt> {
    let section = &snapshot.section;
    let column = section.column_at(1e3 * x_um);
    let mut layers: Vec<LayerAt> = section
        .layers(column)
        .iter()
        .enumerate()
        .map(|(k, layer)| {
            let bottom_nm = section.floor_nm(column, k);
            let (material, variant) = match layer.matter {
                Matter::Open => ("open", None),
                Matter::Film(film) => (
                    film.material.word(),
                    film.variant.map(crate::etching::Variant::word),
                ),
            };
            LayerAt {
                material,
                variant,
                thickness_nm: layer.top_nm - bottom_nm,
                top_nm: layer.top_nm,
                bottom_nm,
            }
        })
        .collect();
    layers.reverse();
    let top_nm = section.silicon_top_nm(column);
    let bottom_nm = -section.depths_nm()[section.cells()];
    layers.push(LayerAt {
        material: Material::Silicon.word(),
        variant: None,
        thickness_nm: top_nm - bottom_nm,
        top_nm,
        bottom_nm,
    });
    layers
}
