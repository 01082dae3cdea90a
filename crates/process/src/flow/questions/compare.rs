//! What differs between two snapshots.

use serde::Serialize;

use super::super::{Flow, Snapshot};
use super::edges::edges;
use super::films::film_nm;
use super::sheet::junctions_at_um;
use crate::num::show;
use crate::vocabulary::Material;

/// One difference.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Difference {
    /// What differs, as a name: `edge`, `pieces`, `film`, `silicon`, `junctions`.
    pub kind: &'static str,
    /// What differs, in words.
    pub quantity: String,
    /// Where it is largest, in um.
    pub x_um: f64,
    /// The value before; null where there is none.
    pub before: Option<f64>,
    /// The value after; null where there is none.
    pub after: Option<f64>,
    /// The unit of both.
    pub unit: &'static str,
    /// The difference in words.
    pub message: String,
}

/// Films that differ by less are the same, in nm.
pub(in crate::flow) const SAME_NM: f64 = 0.5;

/// Junctions that differ by less are the same, in um.
pub(in crate::flow) const SAME_UM: f64 = 0.005;

/// Places that are compared.
const PLACES: usize = 400;

/// Edges of films that moved, the largest difference of every film, of the silicon's surface and of the junctions between
/// two snapshots of the same section.
#[must_use]
pub fn compare(flow: &Flow, before: &Snapshot, after: &Snapshot) -> Vec<Difference> {
    compare_runs([flow, flow], before, after)
}

/// The same between snapshots of two flows, as far along the section as both go.
#[must_use]
pub fn compare_runs(
    flows: [&Flow; 2],
    before: &Snapshot,
    after: &Snapshot,
) -> Vec<Difference> {
    let width_um = flows[0].width_um().min(flows[1].width_um());
    let step_um = width_um / f64::from(u32::try_from(PLACES).unwrap_or(400));
    let places: Vec<f64> =
        crate::num::linspace(0.5 * step_um, width_um - 0.5 * step_um, PLACES);
    let mut differences = edges(before, after);
    for &material in Material::ALL.iter().filter(|&&m| m != Material::Silicon) {
        let at = |x: f64| (film_nm(before, x, material), film_nm(after, x, material));
        if let Some(x_um) = largest(&places, |x| (at(x).0 - at(x).1).abs(), SAME_NM) {
            let (old, new) = at(x_um);
            differences.push(Difference {
                kind: "film",
                quantity: material.label().to_owned(),
                x_um,
                before: Some(old),
                after: Some(new),
                unit: "nm",
                message: format!(
                    "at x = {} µm: {} nm of {} instead of {} nm",
                    show(x_um),
                    show(new),
                    material.label(),
                    show(old)
                ),
            });
        }
    }
    let top = |snapshot: &Snapshot, x: f64| {
        snapshot.section.silicon_top_nm(snapshot.section.column_at(1e3 * x))
    };
    if let Some(x_um) =
        largest(&places, |x| (top(before, x) - top(after, x)).abs(), SAME_NM)
    {
        let (old, new) = (top(before, x_um), top(after, x_um));
        differences.push(Difference {
            kind: "silicon",
            quantity: "silicon surface".to_owned(),
            x_um,
            before: Some(old),
            after: Some(new),
            unit: "nm",
            message: format!(
                "at x = {} µm: the silicon ends at {} nm instead of {} nm",
                show(x_um),
                show(new),
                show(old)
            ),
        });
    }
    junctions(flows, before, after, &places, &mut differences);
    differences
}

/// The place where a measure is largest, if it is above a limit.
fn largest(places: &[f64], measure: impl Fn(f64) -> f64, limit: f64) -> Option<f64> {
    let best = places
        .iter()
        .map(|&x| (measure(x), x))
        .max_by(|(a, _), (b, _)| a.total_cmp(b))?;
    (limit < best.0).then_some(best.1)
}

fn junctions(
    flows: [&Flow; 2],
    before: &Snapshot,
    after: &Snapshot,
    places: &[f64],
    differences: &mut Vec<Difference>,
) {
    let mut count: Option<Difference> = None;
    let mut depth: Option<(f64, Difference)> = None;
    for &x_um in places.iter().step_by(4) {
        let old = junctions_at_um(flows[0], before, x_um);
        let new = junctions_at_um(flows[1], after, x_um);
        if old.len() != new.len() {
            count.get_or_insert_with(|| Difference {
                kind: "junctions",
                quantity: "deepest junction".to_owned(),
                x_um,
                before: old.last().copied(),
                after: new.last().copied(),
                unit: "µm",
                message: format!(
                    "at x = {} µm: {} instead of {}",
                    show(x_um),
                    count_words(new.len()),
                    count_words(old.len())
                ),
            });
            continue;
        }
        for (&a, &b) in old.iter().zip(&new) {
            let moved = (a - b).abs();
            if SAME_UM < moved && depth.as_ref().is_none_or(|(most, _)| *most < moved) {
                depth = Some((
                    moved,
                    Difference {
                        kind: "junctions",
                        quantity: "junction depth".to_owned(),
                        x_um,
                        before: Some(a),
                        after: Some(b),
                        unit: "µm",
                        message: format!(
                            "at x = {} µm: a junction {} µm deep instead of {} µm",
                            show(x_um),
                            show(b),
                            show(a)
                        ),
                    },
                ));
            }
        }
    }
    differences.extend(count);
    differences.extend(depth.map(|(_, difference)| difference));
}

fn count_words(count: usize) -> String {
    match count {
        0 => "no junction".to_owned(),
        1 => "one junction".to_owned(),
        n => format!("{n} junctions"),
    }
}
