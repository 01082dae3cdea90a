//! Intervals widened by circles: where a film of a thickness grows to, where an etch reaches.

use super::super::Section;
use super::spans::{Spans, unite};

/// How far things grow from the ends of an interval.
#[derive(Clone, Copy, Debug)]
pub(super) struct Growth<'a> {
    /// Sideways in nm, at most.
    pub(super) across_nm: f64,
    /// Shares of that, where walls grow unlike; none: all alike.
    pub(super) walls: Option<WallShares<'a>>,
    /// Up and down in nm,
    pub(super) around_nm: f64,
    /// but up from the highest end of a column, in nm by column.
    pub(super) top_nm: &'a [f64],
    /// Share of all three.
    pub(super) share: f64,
}

/// How much of the sideways growth the walls of each column have.
#[derive(Clone, Copy, Debug)]
pub(super) struct WallShares<'a> {
    /// Toward smaller x.
    pub(super) left: &'a [f64],
    /// Toward larger x.
    pub(super) right: &'a [f64],
}

/// The intervals of all columns widened by half ellipses, united, at a place inside `column` or
/// on its edge: exact there, for sources that fill their columns from edge to edge.
pub(super) fn widened(
    section: &Section,
    sources: &Spans,
    (column, x_nm): (usize, f64),
    growth: &Growth<'_>,
    to: &mut Vec<[f64; 2]>,
) {
    to.clear();
    let edges_nm = section.edges_nm();
    let across_nm = growth.share * growth.across_nm;
    // Everything that reaches down to the ground is one interval.
    let mut ground_nm = f64::NEG_INFINITY;
    let mut add = |from: usize, away_nm: f64| {
        let wall = growth.walls.map_or(1.0, |walls| {
            let toward = if from < column { walls.right } else { walls.left };
            toward.get(from).copied().unwrap_or(1.0)
        });
        let lean = away_nm / (across_nm * wall);
        if 1.0 <= lean {
            return;
        }
        let width =
            if away_nm == 0.0 { 1.0 } else { ((1.0 - lean) * (1.0 + lean)).sqrt() };
        let width = width * growth.share;
        let spans = sources.of(from);
        for (k, &[low, high]) in spans.iter().enumerate() {
            let up_nm = if k + 1 == spans.len() {
                growth.top_nm.get(from).copied().unwrap_or(growth.around_nm)
            } else {
                growth.around_nm
            };
            let high = high + width * up_nm;
            if low == f64::NEG_INFINITY {
                ground_nm = ground_nm.max(high);
            } else {
                to.push([low - width * growth.around_nm, high]);
            }
        }
    };
    add(column, 0.0);
    for from in (0..column).rev() {
        let away_nm = x_nm - edges_nm[from + 1];
        if across_nm <= away_nm {
            break;
        }
        add(from, away_nm);
    }
    for (from, &edge_nm) in
        edges_nm[..section.columns()].iter().enumerate().skip(column + 1)
    {
        let away_nm = edge_nm - x_nm;
        if across_nm <= away_nm {
            break;
        }
        add(from, away_nm);
    }
    if f64::NEG_INFINITY < ground_nm {
        to.push([f64::NEG_INFINITY, ground_nm]);
    }
    unite(to);
}
