//! What is measured on the finished wafer.

use serde_json::{Value, json};

use super::super::{Electrical, Flow, Measurement, Snapshot};
use super::films::{film_nm, pieces_um, thickness_range_nm};
use super::sheet::{junctions_at_um, sheet_at};
use crate::num::show;
use crate::vocabulary::Material;

/// Vacuum permittivity times the relative one of oxide, 3.9 (memory), in F/cm.
pub(in crate::flow) const OXIDE_F_CM: f64 = 3.9 * 8.854_187_8e-14;

/// A label lies on the section if it is nearer to its line than this, in um.
pub(in crate::flow) const ON_LINE_UM: f64 = 1.0;

/// Measures the last snapshot, and counts the warnings of all.
#[must_use]
pub fn measurements(flow: &Flow, snapshots: &[Snapshot]) -> Vec<Measurement> {
    let mut list = Vec::new();
    let warnings: usize = snapshots.iter().map(|s| s.report.warnings.len()).sum();
    push(&mut list, "warnings", "warnings of all steps", json!(warnings), "", "the flow");
    let Some(last) = snapshots.last() else { return list };
    places(flow, last, &mut list);
    metal(flow, last, &mut list);
    for &material in Material::ALL.iter().filter(|&&m| m != Material::Silicon) {
        if let Some((low, high)) = thickness_range_nm(last, material) {
            let word = material.word();
            push(
                &mut list,
                &format!("{word}_thinnest_nm"),
                &format!("thinnest {}", material.label()),
                json!(low),
                "nm",
                "the section",
            );
            push(
                &mut list,
                &format!("{word}_thickest_nm"),
                &format!("thickest {}", material.label()),
                json!(high),
                "nm",
                "the section",
            );
        }
    }
    list
}

fn push(
    list: &mut Vec<Measurement>,
    id: &str,
    quantity: &str,
    value: Value,
    unit: &'static str,
    place: &str,
) {
    list.push(Measurement {
        id: id.to_owned(),
        quantity: quantity.to_owned(),
        value,
        unit,
        place: place.to_owned(),
    });
}

/// Labels that lie on the section line, with their distance along it in um.
pub(super) fn labels_on_line(flow: &Flow) -> Vec<(&str, f64)> {
    let line = &flow.section;
    let length_um = line.length_um();
    flow.layout
        .labels
        .iter()
        .filter_map(|label| {
            let [dx, dy] =
                [label.at_um[0] - line.from_um[0], label.at_um[1] - line.from_um[1]];
            let [ux, uy] = [
                (line.to_um[0] - line.from_um[0]) / length_um,
                (line.to_um[1] - line.from_um[1]) / length_um,
            ];
            let along = dx * ux + dy * uy;
            let off = (dx * uy - dy * ux).abs();
            (off <= ON_LINE_UM && (0.0..=length_um).contains(&along))
                .then_some((label.name.as_str(), along))
        })
        .collect()
}

/// Junctions and sheet resistance at every label on the line.
fn places(flow: &Flow, last: &Snapshot, list: &mut Vec<Measurement>) {
    for (name, x_um) in labels_on_line(flow) {
        let place = format!("{name} (x = {} µm)", show(x_um));
        let junctions = junctions_at_um(flow, last, x_um);
        push(list, "junctions_um", "junction depths", json!(junctions), "µm", &place);
        let sheet = sheet_at(flow, last, x_um);
        if let Some(ohm_sq) = sheet.layers.first().and_then(|l| l.sheet_resistance_ohm_sq)
        {
            push(
                list,
                "sheet_resistance_ohm_sq",
                "sheet resistance of the uppermost layer",
                json!(ohm_sq),
                "Ω/□",
                &place,
            );
        }
        if let Some(ohm_sq) = sheet.polysilicon_ohm_sq {
            push(
                list,
                "polysilicon_ohm_sq",
                "sheet resistance of the polysilicon",
                json!(ohm_sq),
                "Ω/□",
                &place,
            );
        }
        if matches!(flow.electrical, Electrical::MosCapacitor { .. }) {
            let oxide_nm = film_nm(last, x_um, Material::ThermalOxide);
            if 0.0 < oxide_nm {
                push(
                    list,
                    "oxide_capacitance_nf_cm2",
                    "oxide capacitance per area",
                    json!(1e9 * OXIDE_F_CM / (oxide_nm * 1e-7)),
                    "nF/cm²",
                    &place,
                );
            }
        }
    }
}

/// The metal: how thick, in how many pieces, and whether the plates are apart.
fn metal(flow: &Flow, last: &Snapshot, list: &mut Vec<Measurement>) {
    let pieces = pieces_um(last, Material::Aluminum);
    push(
        list,
        "metal_pieces",
        "separate pieces of metal",
        json!(pieces.len()),
        "",
        "the section",
    );
    if pieces.is_empty() {
        return;
    }
    let thickest_nm = pieces.iter().map(|p| p.thickest_nm).fold(0.0, f64::max);
    push(
        list,
        "metal_thickness_um",
        "metal thickness",
        json!(1e-3 * thickest_nm),
        "µm",
        "the section",
    );
    if matches!(flow.electrical, Electrical::MosCapacitor { .. }) {
        let labels = labels_on_line(flow);
        let piece_of =
            |x: f64| pieces.iter().position(|p| p.from_um <= x && x <= p.to_um);
        let found: Vec<Option<usize>> =
            labels.iter().map(|(_, x)| piece_of(*x)).collect();
        let apart = found.iter().enumerate().all(|(i, piece)| {
            piece.is_some() && found.iter().skip(i + 1).all(|other| other != piece)
        });
        push(
            list,
            "metal_dots_separate",
            "every plate is there and apart from the others",
            json!(apart),
            "",
            "the section",
        );
    }
    for (name, x_um) in labels_on_line(flow) {
        let found = pieces.iter().any(|p| p.from_um <= x_um && x_um <= p.to_um);
        push(
            list,
            "metal_at_label",
            "metal at the label",
            json!(found),
            "",
            &format!("{name} (x = {} µm)", show(x_um)),
        );
    }
}
