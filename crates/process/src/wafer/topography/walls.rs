//! Edges of columns where upright walls come to stand.

use super::super::Section;
use super::super::lattice::on_grid_nm;
use super::slopes::stairs;
use super::spans::{Spans, common};

/// A wall that shows less than this share of the reach makes no edge.
pub(super) const LOW_WALL: f64 = 0.2;

/// Edges are put at least this far apart, in nm.
pub(super) const APART_NM: f64 = 0.6;

/// Reaches below this make no edges, in nm: they would fall on the wall's own.
pub(super) const SHORT_NM: f64 = 1.0;

/// Which way a wall looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Facing {
    /// Toward smaller x.
    Left,
    /// Toward larger x.
    Right,
}

/// Puts an edge in front of every wall between solid and `open` space, on the open side, as far
/// from it as `reach_nm` says for the column behind the wall; a slope has none. Gives true if
/// there are new edges.
pub(super) fn insert(
    section: &mut Section,
    solid: &Spans,
    open: &Spans,
    reach_nm: impl Fn(usize, Facing) -> f64,
) -> bool {
    let mut places_nm = Vec::new();
    let mut shared = Vec::new();
    let mut bare_nm = |wall: &[[f64; 2]], gas: &[[f64; 2]]| {
        shared.clear();
        common(wall, gas, &mut shared);
        shared.iter().map(|[low, high]| high - low).sum::<f64>()
    };
    let stairs = stairs(section);
    for i in (0..section.columns().saturating_sub(1)).filter(|&i| !stairs[i]) {
        let edge_nm = section.edges_nm()[i + 1];
        let right_nm = reach_nm(i, Facing::Right);
        if SHORT_NM <= right_nm
            && LOW_WALL * right_nm < bare_nm(solid.of(i), open.of(i + 1))
        {
            places_nm.push(on_grid_nm(edge_nm + right_nm));
        }
        let left_nm = reach_nm(i + 1, Facing::Left);
        if SHORT_NM <= left_nm
            && LOW_WALL * left_nm < bare_nm(solid.of(i + 1), open.of(i))
        {
            places_nm.push(on_grid_nm(edge_nm - left_nm));
        }
    }
    one_of_close_ones(&mut places_nm);
    let mut changed = false;
    for x_nm in places_nm {
        changed |= section.split_at(x_nm);
    }
    changed
}

/// Puts places in order; those that are too close for two edges become one between them, or two
/// at the ends of what they cover, so that neither side is preferred.
pub(super) fn one_of_close_ones(places_nm: &mut Vec<f64>) {
    crate::num::sort_increasing(places_nm);
    let mut apart_nm = Vec::with_capacity(places_nm.len());
    let mut rest = places_nm.as_slice();
    while let Some(&first) = rest.first() {
        let count =
            rest.windows(2).take_while(|pair| pair[1] - pair[0] < APART_NM).count();
        let last = rest[count];
        if last - first < APART_NM {
            apart_nm.push(on_grid_nm(0.5 * (first + last)));
        } else {
            apart_nm.extend([first, last]);
        }
        rest = &rest[count + 1..];
    }
    *places_nm = apart_nm;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn close_places_become_one_or_two_without_a_side() {
        for (places, left) in [
            (vec![5.0, 1.0], vec![1.0, 5.0]),
            (vec![1.5, 1.0, 4.0], vec![1.25, 4.0]),
            (vec![0.0, 0.5, 1.0], vec![0.0, 1.0]),
            (vec![], vec![]),
        ] {
            let mut found = places.clone();
            one_of_close_ones(&mut found);
            assert_eq!(found, left);
            let mut mirror: Vec<f64> = places.iter().map(|x| 8.0 - x).collect();
            one_of_close_ones(&mut mirror);
            let back: Vec<f64> = mirror.iter().rev().map(|x| 8.0 - x).collect();
            assert_eq!(back, left);
        }
    }
}
