//! Flights of steps that stand for a slope: a leaning surface is a step a column, and none of
//! these is a wall.

use super::super::Section;

/// A flight has at least so many steps,
pub(super) const FLIGHT: usize = 3;

/// each at least this high, in nm,
pub(super) const LOWEST_NM: f64 = 0.5;

/// none farther than this from the next, in nm,
pub(super) const TREAD_NM: f64 = 160.0;

/// and none this many times as high as the next.
pub(super) const ALIKE: f64 = 4.0;

/// A step of the surface up or down to the column on its right.
#[derive(Clone, Copy, Debug)]
struct Step {
    /// The column on its left.
    column: usize,
    x_nm: f64,
    height_nm: f64,
}

impl Step {
    /// Whether the surface leans from this step on to the next one: not steeper than 45 degrees.
    fn leads_to(self, next: Self) -> bool {
        let tread_nm = next.x_nm - self.x_nm;
        let (one_nm, other_nm) = (self.height_nm.abs(), next.height_nm.abs());
        0.0 < self.height_nm * next.height_nm
            && one_nm.max(other_nm) < ALIKE * one_nm.min(other_nm)
            && tread_nm < TREAD_NM
            && one_nm.min(other_nm) < tread_nm
    }
}

/// Whether the step of the surface between each column and the next belongs to a slope.
pub(super) fn stairs(section: &Section) -> Vec<bool> {
    let steps: Vec<Step> = (1..section.columns())
        .map(|right| Step {
            column: right - 1,
            x_nm: section.edges_nm()[right],
            height_nm: section.top_nm(right) - section.top_nm(right - 1),
        })
        .filter(|step| LOWEST_NM <= step.height_nm.abs())
        .collect();
    let mut stairs = vec![false; section.columns()];
    for flight in steps.chunk_by(|step, next| step.leads_to(*next)) {
        if FLIGHT <= flight.len() {
            for step in flight {
                stairs[step.column] = true;
            }
        }
    }
    stairs
}
