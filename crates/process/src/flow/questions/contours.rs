//! Junctions as lines through the section.

use std::collections::BTreeMap;

use serde::Serialize;

use super::super::Snapshot;
use crate::num::ln;
use crate::wafer::Section;

/// One junction as a line; both lists have the same length.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Contour {
    /// Places in um.
    pub x_um: Vec<f64>,
    /// Heights in um, 0 at the original surface.
    pub z_um: Vec<f64>,
}

/// Below this per cm3 a dopant counts as absent.
pub(in crate::flow) const FAINT_CM3: f64 = 1.0;

/// The lines along which donors and acceptors balance, longest first.
///
/// Marching squares over `ln(N_D / N_A)` between the middles of the cells, so that the lines
/// cross a column where its own profile has its junction.
#[must_use]
pub fn junction_contours(snapshot: &Snapshot) -> Vec<Contour> {
    let section = &snapshot.section;
    let balance = balances(section);
    let mut links: Vec<[usize; 2]> = Vec::new();
    let (columns, cells) = (section.columns(), section.cells());
    for i in 0..columns.saturating_sub(1) {
        let first = section.first_cell(i).0.max(section.first_cell(i + 1).0);
        for k in first..cells - 1 {
            let node = |di: usize, dk: usize| (i + di) * cells + k + dk;
            let corners = [node(0, 0), node(1, 0), node(1, 1), node(0, 1)];
            let sides = [
                crossing(&balance, corners[0], corners[1]),
                crossing(&balance, corners[1], corners[2]),
                crossing(&balance, corners[3], corners[2]),
                crossing(&balance, corners[0], corners[3]),
            ];
            let found: Vec<usize> = sides.into_iter().flatten().collect();
            match found[..] {
                [a, b] => links.push([a, b]),
                [a, b, c, d] => {
                    let middle: f64 = corners.iter().map(|&n| balance[n]).sum();
                    // The middle belongs to the first and third corner, or to the others.
                    if (0.0 < middle) == (0.0 < balance[corners[0]]) {
                        links.push([a, b]);
                        links.push([c, d]);
                    } else {
                        links.push([a, d]);
                        links.push([b, c]);
                    }
                }
                _ => {}
            }
        }
    }
    let mut contours: Vec<Contour> = chains(&links)
        .into_iter()
        .map(|chain| {
            let mut contour = Contour::default();
            for side in chain {
                let [x, z] = place_um(section, &balance, side);
                contour.x_um.push(x);
                contour.z_um.push(z);
            }
            contour
        })
        .collect();
    contours.sort_by_key(|contour| core::cmp::Reverse(contour.x_um.len()));
    contours
}

/// `ln(N_D / N_A)` of every cell.
fn balances(section: &Section) -> Vec<f64> {
    let size = section.columns() * section.cells();
    let mut donors = vec![FAINT_CM3; size];
    let mut acceptors = vec![FAINT_CM3; size];
    for dopant in section.dopants() {
        let sums = if 0.0 < dopant.charge() { &mut donors } else { &mut acceptors };
        for (sum, c) in sums.iter_mut().zip(section.silicon_cm3(dopant)) {
            *sum += c;
        }
    }
    donors.iter().zip(&acceptors).map(|(d, a)| ln(d / a)).collect()
}

/// The side between two neighboring nodes as one number, if the junction crosses it: twice the
/// smaller node, odd if the other one is the next column.
fn crossing(balance: &[f64], a: usize, b: usize) -> Option<usize> {
    let crosses = (0.0 < balance[a]) != (0.0 < balance[b]);
    crosses.then(|| 2 * a.min(b) + usize::from(1 < a.abs_diff(b)))
}

fn place_um(section: &Section, balance: &[f64], side: usize) -> [f64; 2] {
    let cells = section.cells();
    let a = side / 2;
    let b = if side % 2 == 1 { a + cells } else { a + 1 };
    let share = balance[a] / (balance[a] - balance[b]);
    let node = |n: usize| {
        let (i, k) = (n / cells, n % cells);
        [section.center_nm(i), -section.middle_nm(i, k)]
    };
    let ([xa, za], [xb, zb]) = (node(a), node(b));
    [1e-3 * (xa + share * (xb - xa)), 1e-3 * (za + share * (zb - za))]
}

/// Joins links to chains.
fn chains(links: &[[usize; 2]]) -> Vec<Vec<usize>> {
    let mut at: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (number, link) in links.iter().enumerate() {
        for &side in link {
            at.entry(side).or_default().push(number);
        }
    }
    let mut used = vec![false; links.len()];
    let mut result = Vec::new();
    let follow = |start: usize, used: &mut Vec<bool>| {
        let mut chain = vec![start];
        let mut here = start;
        while let Some(&next) =
            at.get(&here).and_then(|list| list.iter().find(|&&link| !used[link]))
        {
            used[next] = true;
            let [a, b] = links[next];
            here = if a == here { b } else { a };
            chain.push(here);
        }
        chain
    };
    // Open lines from their ends first, then closed ones from anywhere.
    for (&side, list) in &at {
        if list.len() == 1 && !used[list[0]] {
            result.push(follow(side, &mut used));
        }
    }
    for (&side, list) in &at {
        if list.iter().any(|&link| !used[link]) {
            result.push(follow(side, &mut used));
        }
    }
    result
}
