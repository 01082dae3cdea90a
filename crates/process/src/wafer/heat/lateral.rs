//! Diffusion along x: eight neighboring rows of cells at a time.

use super::boost::Boost;
use super::depth::{FIELD, FLAT, FLAT_AT_CM3};
use super::ends::End;
use super::lines::{LANES, Lanes, Lines};
use super::moment::Moment;
use super::owed::Owed;
use super::stretches::{Rows, find};
use crate::wafer::section::Section;

/// Times the volume of a cell that a source keeps full while rows exchange atoms.
pub(super) const RESERVOIR: f64 = 1e12;

/// Passes that bring the carriers up to date: one is enough, rows being smooth.
pub(super) const PASSES: u32 = 1;

/// A source that holds the first cells of its columns while rows exchange atoms.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reservoir<'a> {
    /// The dopant's place among the mobiles.
    pub(super) dopant: usize,
    /// Which columns the source reaches.
    pub(super) open: &'a [bool],
}

/// Diffuses along x for `dt_s`, or lets rows wait that would hardly change; gives what a
/// reservoir supplied, in nm2 times per cm3.
pub(super) fn sweep(
    section: &mut Section,
    lines: &mut Lines,
    moment: &Moment,
    dt_s: f64,
    reservoir: Option<Reservoir<'_>>,
    boost: &Boost,
    owed: &mut Owed,
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
    let mut places = Vec::new();
    for block in highest / LANES..cells.div_ceil(LANES) {
        let rows = Rows::of_block(block, cells);
        let is_cut = rows.start <= deepest;
        let (moment, dt_s) = owed.take(block, moment, dt_s);
        // A source may be anywhere.
        if reservoir.is_some() && is_cut {
            places.clear();
            places.extend(0..columns);
        } else {
            find(section, &rows, &moment, dt_s, boost, &mut places);
        }
        let columns = places.len();
        if columns == 0 {
            continue;
        }
        lines.resize(columns, dopants);
        load(section, lines, &moment, &rows, &places);
        geometry(section, lines, &rows, &places, is_cut);
        let largest: Vec<Lanes> =
            (0..dopants).map(|d| lines.largest(d, columns)).collect();
        if !set_reach(lines, &moment, columns, &largest, &mut reach) {
            continue;
        }
        let held = reservoir.filter(|held| 0 < reach[held.dopant] && is_cut);
        let may_wait = !owed.is_due && held.is_none() && boost.is_none();
        if may_wait && lines.are_slow(&moment, dt_s, columns, &largest) {
            owed.put(block, moment, dt_s);
            continue;
        }
        let most = largest.iter().map(|l| l.iter().copied().fold(0.0, f64::max));
        lines.note_limits(&moment.mobiles, &most.collect::<Vec<_>>());
        add_field(lines, &moment, columns, &largest, &mut reach);
        boost.fill_row(lines, &moment, &rows.row, &places);
        let ends = vec![End::Closed; dopants];
        match held {
            None => {
                lines.step(&moment, dt_s, PASSES, &reach, &ends);
            }
            Some(held) => {
                // Only the held dopant sees the reservoir: the others would lose the last digits
                // of what they have in its cells.
                let mut own = vec![0; dopants];
                own[held.dopant] = core::mem::take(&mut reach[held.dopant]);
                each_held(section, held, &rows, |i, l| lines.volume[i][l] *= RESERVOIR);
                let before = row_amount(section, lines, held, &rows);
                lines.step(&moment, dt_s, PASSES, &own, &ends);
                supplied += row_amount(section, lines, held, &rows) - before;
                geometry(section, lines, &rows, &places, is_cut);
                lines.step(&moment, dt_s, PASSES, &reach, &ends);
                reach[held.dopant] = own[held.dopant];
                let cs =
                    &section.silicon_cm3[moment.mobiles[held.dopant].dopant as usize];
                each_held(section, held, &rows, |i, l| {
                    lines.values[held.dopant][i][l] = cs[i * cells + rows.row[l]];
                });
            }
        }
        for (d, mobile) in
            moment.mobiles.iter().enumerate().filter(|(d, _)| 0 < reach[*d])
        {
            let to = &mut section.silicon_cm3[mobile.dopant as usize];
            for (from, i) in lines.values[d].iter().zip(&places) {
                let first = i * cells + rows.start;
                to[first..first + rows.lanes].copy_from_slice(&from[..rows.lanes]);
            }
        }
    }
    supplied
}

/// Copies eight rows of the section into the lines, stretch by stretch.
fn load(
    section: &Section,
    lines: &mut Lines,
    moment: &Moment,
    rows: &Rows,
    places: &[usize],
) {
    let cells = section.cells();
    lines.is_current = false;
    for (d, mobile) in moment.mobiles.iter().enumerate() {
        let from = &section.silicon_cm3[mobile.dopant as usize];
        for (i, to) in places.iter().zip(&mut lines.values[d]) {
            *to = rows.in_column(&from[i * cells..(i + 1) * cells]);
        }
    }
}

/// Volumes and links of eight rows, in units of the rows' height where all are whole. Nothing
/// links a stretch to the next one.
fn geometry(
    section: &Section,
    lines: &mut Lines,
    rows: &Rows,
    places: &[usize],
    is_cut: bool,
) {
    let edges_nm = &section.edges_nm;
    for (node, &i) in places.iter().enumerate() {
        let width_nm = edges_nm[i + 1] - edges_nm[i];
        let goes_on = places.get(node + 1) == Some(&(i + 1));
        let per_distance =
            if goes_on { 2.0 / (edges_nm[i + 2] - edges_nm[i]) } else { 0.0 };
        if !is_cut {
            lines.volume[node] = [width_nm; LANES];
            lines.link[node] = [per_distance; LANES];
            continue;
        }
        for (l, &k) in rows.row.iter().enumerate() {
            let here_nm = section.height_nm(i, k);
            let next_nm = if goes_on { section.height_nm(i + 1, k) } else { 0.0 };
            lines.volume[node][l] = if 0.0 < here_nm { width_nm * here_nm } else { 1.0 };
            lines.link[node][l] = per_distance * here_nm.min(next_nm);
        }
    }
}

/// A dopant changes in these rows if it has a gradient along x; gives whether any does.
fn set_reach(
    lines: &Lines,
    moment: &Moment,
    columns: usize,
    largest: &[Lanes],
    reach: &mut [usize],
) -> bool {
    for (d, reach) in reach.iter_mut().enumerate() {
        let moves = moment.mobiles[d].at(1.0) > 0.0
            && lines.last_gradient(d, columns, &largest[d]).is_some();
        *reach = if moves { columns } else { 0 };
    }
    reach.iter().any(|&nodes| 0 < nodes)
}

/// A dopant also changes if there is a field that moves it.
fn add_field(
    lines: &mut Lines,
    moment: &Moment,
    columns: usize,
    largest: &[Lanes],
    reach: &mut [usize],
) {
    lines.carriers(moment, columns);
    let (least, most) = lines.ratio_range(columns);
    if (1.0 + FIELD) * least < most {
        for (d, reach) in reach.iter_mut().enumerate() {
            let mobile = &moment.mobiles[d];
            let is_there = largest[d].iter().any(|&c| 0.0 < c);
            if mobile.charge != 0.0 && 0.0 < mobile.at(1.0) && is_there {
                *reach = columns;
            }
        }
    }
}

/// Visits the cells that the source keeps full.
fn each_held(
    section: &Section,
    held: Reservoir<'_>,
    rows: &Rows,
    mut visit: impl FnMut(usize, usize),
) {
    for (i, column) in section.columns.iter().enumerate() {
        if !held.open[i] {
            continue;
        }
        for (l, &k) in rows.row.iter().enumerate().take(rows.lanes) {
            if k == column.first.index {
                visit(i, l);
            }
        }
    }
}

/// Amount of the held dopant in the cells of eight rows that no source keeps full.
fn row_amount(section: &Section, lines: &Lines, held: Reservoir<'_>, rows: &Rows) -> f64 {
    let mut amount = 0.0;
    for (i, column) in section.columns.iter().enumerate() {
        for (l, &k) in rows.row.iter().enumerate().take(rows.lanes) {
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
    pub(super) fn last_gradient(
        &self,
        d: usize,
        nodes: usize,
        largest: &Lanes,
    ) -> Option<usize> {
        let values = &self.values[d][..nodes];
        let limit = largest.map(|most| FLAT * most.min(FLAT_AT_CM3));
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
}
