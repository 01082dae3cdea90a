//! Thicknesses, steps and pieces of films.

use serde::Serialize;

use super::super::Snapshot;
use crate::vocabulary::Material;

/// A stretch of the section that has a material.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Piece {
    /// Where it begins in um.
    pub from_um: f64,
    /// Where it ends in um.
    pub to_um: f64,
    /// Its thickest place in nm.
    pub thickest_nm: f64,
}

/// Thickness of a material at a place in nm, all its layers together; 0 without.
#[must_use]
pub fn film_nm(snapshot: &Snapshot, x_um: f64, material: Material) -> f64 {
    let section = &snapshot.section;
    column_nm(snapshot, section.column_at(1e3 * x_um), material)
}

fn column_nm(snapshot: &Snapshot, column: usize, material: Material) -> f64 {
    let section = &snapshot.section;
    section
        .layers(column)
        .iter()
        .enumerate()
        .filter(|(_, layer)| layer.matter.material() == Some(material))
        .map(|(k, layer)| layer.top_nm - section.floor_nm(column, k))
        // From 0, not from the -0 that a sum begins with.
        .fold(0.0, |sum, nm| sum + nm)
}

/// Least and most of a material in nm over the columns that have it; none if none has.
#[must_use]
pub fn thickness_range_nm(snapshot: &Snapshot, material: Material) -> Option<(f64, f64)> {
    (0..snapshot.section.columns())
        .map(|column| column_nm(snapshot, column, material))
        .filter(|nm| 0.0 < *nm)
        .fold(None, |range, nm| {
            Some(
                range.map_or((nm, nm), |(low, high): (f64, f64)| {
                    (low.min(nm), high.max(nm))
                }),
            )
        })
}

/// The separate pieces of a material along the section, from left to right.
#[must_use]
pub fn pieces_um(snapshot: &Snapshot, material: Material) -> Vec<Piece> {
    let section = &snapshot.section;
    let mut pieces: Vec<Piece> = Vec::new();
    let mut open = false;
    for i in 0..section.columns() {
        let nm = column_nm(snapshot, i, material);
        let [from_um, to_um] =
            [section.edges_nm()[i], section.edges_nm()[i + 1]].map(|x| 1e-3 * x);
        if nm <= 0.0 {
            open = false;
        } else if open {
            if let Some(piece) = pieces.last_mut() {
                piece.to_um = to_um;
                piece.thickest_nm = piece.thickest_nm.max(nm);
            }
        } else {
            pieces.push(Piece { from_um, to_um, thickest_nm: nm });
            open = true;
        }
    }
    pieces
}

/// How much higher the top of the wafer is at the second place than at the first, in nm.
#[must_use]
pub fn step_height_nm(snapshot: &Snapshot, x_um: f64, other_um: f64) -> f64 {
    let section = &snapshot.section;
    let top = |x: f64| section.top_nm(section.column_at(1e3 * x));
    top(other_um) - top(x_um)
}

/// How much deeper the silicon lies at a place than at the reference, in nm.
#[must_use]
pub fn silicon_recess_nm(snapshot: &Snapshot, x_um: f64, reference_um: f64) -> f64 {
    let section = &snapshot.section;
    let top = |x: f64| section.silicon_top_nm(section.column_at(1e3 * x));
    top(reference_um) - top(x_um)
}
