//! The ions' spread across the beam.

use super::super::section::Section;
use super::stacks::{Stack, Stacks};
use crate::num::{erfc, exp};

/// Farther than this many straggles nothing comes (2e-9 of a column's ions).
pub(super) const REACH: f64 = 6.0;

const SQRT_2: f64 = core::f64::consts::SQRT_2;
/// `1/sqrt(2 pi)`.
const GAUSSIAN_PEAK: f64 = 0.5 * core::f64::consts::FRAC_2_SQRT_PI / SQRT_2;

/// Where the ions come to rest, in shares of the dose.
#[derive(Clone, Debug)]
pub(super) struct Rest {
    /// In the silicon: `[column * cells + cell]`.
    pub(super) silicon: Vec<f64>,
    /// In the layers of each column.
    pub(super) layers: Vec<Vec<f64>>,
    /// In open space, times width in nm.
    pub(super) lost_nm: f64,
}

/// Second integral of the Gaussian: `x Phi(x/s) + s phi(x/s)`.
fn ramp(x_nm: f64, straggle_nm: f64) -> f64 {
    let u = x_nm / straggle_nm;
    let peak = straggle_nm * GAUSSIAN_PEAK * exp(-0.5 * u * u);
    // The small part on the negative side, its mirror image plus x on the other.
    let small = peak - 0.5 * x_nm.abs() * erfc(u.abs() / SQRT_2);
    if x_nm < 0.0 { small } else { x_nm + small }
}

/// Width in nm of ions that two intervals exchange.
fn exchanged_nm([a, b]: [f64; 2], [c, d]: [f64; 2], straggle_nm: f64) -> f64 {
    let at = |x_nm: f64| ramp(x_nm, straggle_nm);
    (at(b - c) - at(a - c) - at(b - d) + at(a - d)).max(0.0)
}

/// Spreads what is below the layers.
///
/// # Model
/// Two columns exchange `W (C_there - C_here)` at each depth, with `W` the Gaussian integrated
/// over both: what one gives the other gets, equal columns exchange nothing, and at the edge of
/// an opaque mask half of the concentration is left. The section's ends are mirrors.
pub(super) fn rest(section: &Section, stacks: &Stacks, straggle_nm: f64) -> Rest {
    let (columns, cells) = (section.columns(), section.cells());
    let mut rest = Rest {
        silicon: vec![0.0; columns * cells],
        layers: stacks
            .of_column
            .iter()
            .map(|&at| stacks.list[at].layers.clone())
            .collect(),
        lost_nm: 0.0,
    };
    let mut from_stack = vec![0.0; stacks.list.len()];
    for i in 0..columns {
        let own = stacks.of_column[i];
        let width_nm = section.width_nm(i);
        let mut kept = 1.0;
        let neighbors = neighbors(section, stacks, i, straggle_nm, &mut from_stack);
        for at in neighbors.clone() {
            if at != own {
                kept -= from_stack[at] / width_nm;
            }
        }
        place(section, &mut rest, i, &stacks.list[own], kept);
        for at in neighbors {
            let share = core::mem::take(&mut from_stack[at]) / width_nm;
            if at != own && 0.0 < share {
                place(section, &mut rest, i, &stacks.list[at], share);
            }
        }
    }
    rest
}

/// Fills in what column `i` exchanges with each of the stacks around it; gives their range.
fn neighbors(
    section: &Section,
    stacks: &Stacks,
    i: usize,
    straggle_nm: f64,
    from_stack: &mut [f64],
) -> core::ops::Range<usize> {
    let edges_nm = section.edges_nm();
    let columns = section.columns();
    let reach_nm = REACH * straggle_nm;
    let here = [edges_nm[i], edges_nm[i + 1]];
    let low = section.column_at(here[0] - reach_nm);
    let high = section.column_at(here[1] + reach_nm);
    let range = stacks.of_column[low]..stacks.of_column[high] + 1;
    if range.len() == 1 {
        return range;
    }
    for j in low..=high {
        if stacks.of_column[j] == stacks.of_column[i] {
            continue;
        }
        let there = [edges_nm[j], edges_nm[j + 1]];
        let mut width_nm = exchanged_nm(here, there, straggle_nm);
        for mirror_nm in [edges_nm[0], edges_nm[columns]] {
            let image = [2.0 * mirror_nm - there[1], 2.0 * mirror_nm - there[0]];
            let apart_nm = (image[0] - here[1]).max(here[0] - image[1]);
            if apart_nm < reach_nm {
                width_nm += exchanged_nm(here, image, straggle_nm);
            }
        }
        from_stack[stacks.of_column[j]] += width_nm;
    }
    range
}

/// Puts `share` of a stack's silicon profile into a column, at the same depths.
fn place(section: &Section, rest: &mut Rest, column: usize, stack: &Stack, share: f64) {
    let cells = section.cells();
    let (first, _) = section.first_cell(column);
    let deep = first.saturating_sub(stack.first).min(stack.cells.len());
    for (n, &in_cell) in stack.cells[..deep].iter().enumerate() {
        place_above(section, rest, column, stack.first + n, share * in_cell);
    }
    let start = column * cells + stack.first + deep;
    let silicon = &mut rest.silicon[start..];
    for (to, &in_cell) in silicon.iter_mut().zip(&stack.cells[deep..]) {
        *to += share * in_cell;
    }
}

/// Puts ions into what is there above the first cell of a column.
fn place_above(
    section: &Section,
    rest: &mut Rest,
    column: usize,
    cell: usize,
    share: f64,
) {
    let depths_nm = section.depths_nm();
    let z_nm = -0.5 * (depths_nm[cell] + depths_nm[cell + 1]);
    if z_nm <= section.silicon_top_nm(column) {
        let (first, _) = section.first_cell(column);
        rest.silicon[column * section.cells() + first] += share;
        return;
    }
    let layers = section.layers(column);
    let at = layers.partition_point(|layer| layer.top_nm < z_nm);
    match layers.get(at) {
        Some(layer) if !layer.matter.is_open() => rest.layers[column][at] += share,
        _ => rest.lost_nm += share * section.width_nm(column),
    }
}
