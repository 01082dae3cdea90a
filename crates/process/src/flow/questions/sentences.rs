//! A section in words.

use super::super::{Flow, Snapshot};
use super::films::pieces_um;
use super::sheet::junctions_at_um;
use crate::num::show;
use crate::vocabulary::Material;
use crate::wafer::Matter;

/// A stretch of columns with the same layers.
struct Stretch {
    from_um: f64,
    to_um: f64,
    matters: Vec<Matter>,
    /// Thickness of each layer in the middle of the stretch, in nm.
    thickness_nm: Vec<f64>,
}

/// Stretches narrower than this are not spoken of, in um: walls and their feet.
pub(in crate::flow) const NARROW_UM: f64 = 0.25;

/// Most stretches that are listed.
const MOST: usize = 40;

/// Describes a snapshot in sentences: what lies where, from left to right, and the junctions.
#[must_use]
pub fn describe(flow: &Flow, snapshot: &Snapshot) -> Vec<String> {
    let mut sentences = vec![format!(
        "After step {} ({}) the section is {} µm wide.",
        snapshot.report.number,
        snapshot.report.id,
        show(flow.width_um())
    )];
    let stretches: Vec<Stretch> = stretches(snapshot)
        .into_iter()
        .filter(|s| NARROW_UM <= s.to_um - s.from_um)
        .collect();
    for stretch in stretches.iter().take(MOST) {
        // Films of one material that were made differently are one for the eye.
        let mut films: Vec<(&str, f64)> = Vec::new();
        for (matter, nm) in stretch.matters.iter().zip(&stretch.thickness_nm).rev() {
            let name = matter.material().map_or("open space", Material::label);
            match films.last_mut() {
                Some((last, sum)) if *last == name => *sum += nm,
                _ => films.push((name, *nm)),
            }
        }
        let mut layers: Vec<String> = films
            .iter()
            .map(|(name, nm)| format!("{} nm of {name}", show(*nm)))
            .collect();
        layers.push("silicon".to_owned());
        let middle_um = 0.5 * (stretch.from_um + stretch.to_um);
        sentences.push(format!(
            "From {} to {} µm: {}{}.",
            show(stretch.from_um),
            show(stretch.to_um),
            layers.join(" on "),
            junction_words(&junctions_at_um(flow, snapshot, middle_um))
        ));
    }
    if MOST < stretches.len() {
        sentences.push(format!("And {} more stretches.", stretches.len() - MOST));
    }
    for material in [Material::Resist, Material::Aluminum] {
        let pieces = pieces_um(snapshot, material);
        if 1 < pieces.len() {
            sentences.push(format!(
                "The {} is in {} separate pieces.",
                material.label(),
                pieces.len()
            ));
        }
    }
    sentences
}

fn junction_words(junctions_um: &[f64]) -> String {
    match junctions_um {
        [] => ", no junction".to_owned(),
        [one] => format!(", a junction {} µm deep", show(*one)),
        many => {
            let list: Vec<String> = many.iter().map(|j| show(*j)).collect();
            format!(", junctions {} µm deep", list.join(" and "))
        }
    }
}

fn stretches(snapshot: &Snapshot) -> Vec<Stretch> {
    let section = &snapshot.section;
    let mut found: Vec<(Stretch, usize, usize)> = Vec::new();
    for i in 0..section.columns() {
        let matters: Vec<Matter> =
            section.layers(i).iter().map(|layer| layer.matter).collect();
        let [from_um, to_um] =
            [section.edges_nm()[i], section.edges_nm()[i + 1]].map(|x| 1e-3 * x);
        match found.last_mut() {
            Some((last, _, end)) if last.matters == matters => {
                last.to_um = to_um;
                *end = i;
            }
            _ => found.push((
                Stretch { from_um, to_um, matters, thickness_nm: Vec::new() },
                i,
                i,
            )),
        }
    }
    found
        .into_iter()
        .map(|(mut stretch, _, _)| {
            let column = section.column_at(500.0 * (stretch.from_um + stretch.to_um));
            stretch.thickness_nm = section
                .layers(column)
                .iter()
                .enumerate()
                .map(|(k, layer)| layer.top_nm - section.floor_nm(column, k))
                .collect();
            stretch
        })
        .collect()
}
