//! Diffusion along x: eight neighboring rows of cells at a time.

use super::boost::Boost;
use super::depth::{FIELD, FLAT, FLAT_AT_CM3};
use super::lines::{End, LANES, Lines};
use super::moment::Moment;
use crate::wafer::section::Section;

/// Times the volume of a cell that a source keeps full while rows exchange atoms.
pub(super) const RESERVOIR: f64 = 1e12;

/// A source that holds the first cells of its columns while rows exchange atoms.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reservoir<'a> {
    /// The dopant's place among the mobiles.
    pub(super) dopant: usize,
    /// Which columns the source reaches.
    pub(super) open: &'a [bool],
}

/// Diffuses along x for `dt_s`; gives what a reservoir supplied, in nm2 times per cm3.
pub(super) fn sweep(
    section: &mut Section,
    lines: &mut Lines,
    moment: &Moment,
    dt_s: f64,
    passes: u32,
    reservoir: Option<Reservoir<'_>>,
    boost: &Boost,
) -> f64 {
    let (columns, cells) = (section.columns(), section.cells());
    if columns < 2 || moment.mobiles.is_empty() {
        return 0.0;
    }
    let dopants = moment.mobiles.len();
    let firsts = section.columns.iter().map(|column| column.first.index);
    let (highest, deepest) =
        firsts.fold((cells, 0), |(low, high), k| (low.min(k), high.max(k)));
    let mut supplied = 0.0;
    let mut reach = vec![0; dopants];
    let ends = vec![End::Closed; dopants];
    lines.resize(columns, dopants);
    let mut start = highest;
    while start < cells {
        // Spare lanes repeat the last row.
        let row: [usize; LANES] = core::array::from_fn(|l| (start + l).min(cells - 1));
        let lanes = (cells - start).min(LANES);
        for (d, mobile) in moment.mobiles.iter().enumerate() {
            let from = &section.silicon_cm3[mobile.dopant as usize];
            for (i, to) in lines.values[d][..columns].iter_mut().enumerate() {
                let line = &from[i * cells..(i + 1) * cells];
                if lanes == LANES {
                    to.copy_from_slice(&line[start..start + LANES]);
                } else {
                    *to = row.map(|k| line[k]);
                }
            }
        }
        geometry(section, lines, &row, start <= deepest);
        set_reach(lines, moment, columns, &mut reach);
        if reach.iter().any(|&nodes| 0 < nodes) {
            boost.fill_row(lines, moment, &row, columns);
            let held =
                reservoir.filter(|held| 0 < reach[held.dopant] && start <= deepest);
            if let Some(held) = held {
                // Only the held dopant sees the reservoir: the others would lose the last digits
                // of what they have in its cells.
                let mut own = vec![0; dopants];
                own[held.dopant] = core::mem::take(&mut reach[held.dopant]);
                each_held(section, held, &row, lanes, |i, l| {
                    lines.volume[i][l] *= RESERVOIR
                });
                let before = row_amount(section, lines, held, &row, lanes);
                lines.step(
                    &moment.mobiles,
                    moment.intrinsic_cm3,
                    dt_s,
                    passes,
                    &own,
                    &ends,
                );
                supplied += row_amount(section, lines, held, &row, lanes) - before;
                geometry(section, lines, &row, start <= deepest);
                lines.step(
                    &moment.mobiles,
                    moment.intrinsic_cm3,
                    dt_s,
                    passes,
                    &reach,
                    &ends,
                );
                reach[held.dopant] = own[held.dopant];
            } else {
                lines.step(
                    &moment.mobiles,
                    moment.intrinsic_cm3,
                    dt_s,
                    passes,
                    &reach,
                    &ends,
                );
            }
            if let Some(held) = held {
                let cs =
                    &section.silicon_cm3[moment.mobiles[held.dopant].dopant as usize];
                each_held(section, held, &row, lanes, |i, l| {
                    lines.values[held.dopant][i][l] = cs[i * cells + row[l]];
                });
            }
            for (d, mobile) in moment.mobiles.iter().enumerate() {
                let to = &mut section.silicon_cm3[mobile.dopant as usize];
                for (i, from) in lines.values[d][..reach[d]].iter().enumerate() {
                    let line = &mut to[i * cells + start..i * cells + start + lanes];
                    line.copy_from_slice(&from[..lanes]);
                }
            }
        }
        start += LANES;
    }
    supplied
}

/// Volumes and links of eight rows, in units of the rows' height where all are whole.
fn geometry(section: &Section, lines: &mut Lines, row: &[usize; LANES], cut: bool) {
    let columns = section.columns();
    let edges_nm = &section.edges_nm;
    for i in 0..columns {
        let width_nm = edges_nm[i + 1] - edges_nm[i];
        let per_distance =
            if i + 1 < columns { 2.0 / (edges_nm[i + 2] - edges_nm[i]) } else { 0.0 };
        if !cut {
            lines.volume[i] = [width_nm; LANES];
            lines.link[i] = [per_distance; LANES];
            continue;
        }
        for (l, &k) in row.iter().enumerate() {
            let here_nm = section.height_nm(i, k);
            let next_nm = if i + 1 < columns { section.height_nm(i + 1, k) } else { 0.0 };
            lines.volume[i][l] = if 0.0 < here_nm { width_nm * here_nm } else { 1.0 };
            lines.link[i][l] = per_distance * here_nm.min(next_nm);
        }
    }
}

/// A dopant changes in these rows if it has a gradient along x, or if a field has.
fn set_reach(lines: &mut Lines, moment: &Moment, columns: usize, reach: &mut [usize]) {
    let mut any = false;
    for (d, reach) in reach.iter_mut().enumerate() {
        let moves =
            moment.mobiles[d].at(1.0) > 0.0 && lines.last_gradient(d, columns).is_some();
        *reach = if moves { columns } else { 0 };
        any |= moves;
    }
    if !any {
        return;
    }
    lines.carriers(&moment.mobiles, moment.intrinsic_cm3, columns);
    let (least, most) = lines.ratio_range(columns);
    if (1.0 + FIELD) * least < most {
        for (d, reach) in reach.iter_mut().enumerate() {
            let mobile = &moment.mobiles[d];
            if mobile.charge != 0.0 && 0.0 < mobile.at(1.0) && lines.holds_any(d, columns)
            {
                *reach = columns;
            }
        }
    }
}

/// Visits the cells that the source keeps full.
fn each_held(
    section: &Section,
    held: Reservoir<'_>,
    row: &[usize; LANES],
    lanes: usize,
    mut visit: impl FnMut(usize, usize),
) {
    for (i, column) in section.columns.iter().enumerate() {
        if !held.open[i] {
            continue;
        }
        for (l, &k) in row.iter().enumerate().take(lanes) {
            if k == column.first.index {
                visit(i, l);
            }
        }
    }
}

/// Amount of the held dopant in the cells of eight rows that no source keeps full.
fn row_amount(
    section: &Section,
    lines: &Lines,
    held: Reservoir<'_>,
    row: &[usize; LANES],
    lanes: usize,
) -> f64 {
    let mut amount = 0.0;
    for (i, column) in section.columns.iter().enumerate() {
        for (l, &k) in row.iter().enumerate().take(lanes) {
            if !(held.open[i] && k == column.first.index) {
                amount += section.width_nm(i)
                    * section.height_nm(i, k)
                    * lines.values[held.dopant][i][l];
            }
        }
    }
    amount
}

impl Lines {
    /// The last cell that differs from the one before, in any line.
    pub(super) fn last_gradient(&self, d: usize, nodes: usize) -> Option<usize> {
        let values = &self.values[d][..nodes];
        let mut most = [0.0_f64; LANES];
        for value in values {
            for l in 0..LANES {
                most[l] = most[l].max(value[l]);
            }
        }
        let limit = most.map(|most| FLAT * most.min(FLAT_AT_CM3));
        (1..nodes).rev().find(|&i| {
            let mut differs = false;
            for l in 0..LANES {
                let step = (values[i][l] - values[i - 1][l]).abs();
                differs |= limit[l] < step && 0.0 < self.link[i - 1][l];
            }
            differs
        })
    }

    /// The last cell whose carriers differ from those before by more than a share.
    pub(super) fn last_field(&self, nodes: usize, share: f64) -> Option<usize> {
        (1..nodes).rev().find(|&i| {
            (0..LANES).any(|l| {
                let (a, b) = (self.ratio_at(i - 1, l), self.ratio_at(i, l));
                share * a < (b - a).abs() && 0.0 < self.link[i - 1][l]
            })
        })
    }

    /// Whether there is any of a dopant.
    pub(super) fn holds_any(&self, d: usize, nodes: usize) -> bool {
        self.values[d][..nodes].iter().flatten().any(|&c| 0.0 < c)
    }
}
