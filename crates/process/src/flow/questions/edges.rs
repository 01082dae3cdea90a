//! Which edges of films lie elsewhere: what a shifted mask does first of all.

use super::super::Snapshot;
use super::compare::Difference;
use super::films::{Piece, pieces_um};
use crate::num::show;
use crate::vocabulary::Material;

/// Edges that are nearer to each other are the same, in um.
const SAME_UM: f64 = 0.02;

/// Films that have other pieces than before, or an edge elsewhere: of each film the edge that
/// moved farthest.
pub(super) fn edges(before: &Snapshot, after: &Snapshot) -> Vec<Difference> {
    let films = Material::ALL.iter().filter(|&&material| material != Material::Silicon);
    films
        .filter_map(|&material| {
            let (old, new) = (pieces_um(before, material), pieces_um(after, material));
            if old.len() == new.len() {
                moved(material, &old, &new)
            } else {
                // A film that is gone or new altogether is told by its thickness.
                (!old.is_empty() && !new.is_empty())
                    .then(|| other_pieces(material, &old, &new))
            }
        })
        .collect()
}

/// The edge that moved farthest, and how many others did.
fn moved(material: Material, old: &[Piece], new: &[Piece]) -> Option<Difference> {
    let pairs: Vec<(f64, f64)> = old
        .iter()
        .zip(new)
        .flat_map(|(a, b)| [(a.from_um, b.from_um), (a.to_um, b.to_um)])
        .filter(|(a, b)| SAME_UM < (a - b).abs())
        .collect();
    // Of edges that moved alike the first one from the left.
    let farthest_um = pairs.iter().map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    let &(was, is) = pairs.iter().find(|(a, b)| farthest_um - SAME_UM < (a - b).abs())?;
    let others = match pairs.len() - 1 {
        0 => String::new(),
        1 => "; another edge moved too".to_owned(),
        n => format!("; {n} other edges moved too"),
    };
    Some(Difference {
        kind: "edge",
        quantity: format!("edge of {}", material.label()),
        x_um: is,
        before: Some(was),
        after: Some(is),
        unit: "µm",
        message: format!(
            "an edge of {} lies at x = {} µm instead of {} µm{others}",
            material.label(),
            show(is),
            show(was)
        ),
    })
}

fn other_pieces(material: Material, old: &[Piece], new: &[Piece]) -> Difference {
    let count = |pieces: &[Piece]| match pieces.len() {
        1 => "one piece".to_owned(),
        n => format!("{n} pieces"),
    };
    // The first piece that begins elsewhere, or the first one that the shorter list lacks.
    let longer = if old.len() < new.len() { new } else { old };
    let x_um = old
        .iter()
        .zip(new)
        .find(|(a, b)| SAME_UM < (a.from_um - b.from_um).abs())
        .map(|(_, b)| b.from_um)
        .or_else(|| longer.get(old.len().min(new.len())).map(|piece| piece.from_um));
    Difference {
        kind: "pieces",
        quantity: format!("pieces of {}", material.label()),
        x_um: x_um.unwrap_or_default(),
        before: u32::try_from(old.len()).ok().map(f64::from),
        after: u32::try_from(new.len()).ok().map(f64::from),
        unit: "",
        message: format!(
            "{} along the section: {} instead of {}",
            material.label(),
            count(new),
            count(old)
        ),
    }
}
