//! Diffusion in depth: eight neighboring columns at a time.

use super::boost::Boost;
use super::lines::{End, LANES, Lanes, Lines, Method};
use super::moment::Moment;
use crate::wafer::section::Section;

/// A step between neighboring cells counts as a gradient from this share of the largest
/// concentration on (model choice: results equal those without windows to about 1e-6),
pub(super) const FLAT: f64 = 1e-9;

/// where concentrations beyond this, per cm3, count as this.
pub(super) const FLAT_AT_CM3: f64 = 1e18;

/// The field moves a flat dopant where the carriers change by more than this share in all
/// (model choice: less changes its profile by less than that),
pub(super) const FIELD: f64 = 5e-3;

/// and down to where they change by more than this from cell to cell.
const FIELD_STEP: f64 = 1e-4;

/// Diffusion lengths below the last gradient in which nothing changes any more: `exp(-16)`.
const WINDOW: f64 = 8.0;

/// What happens at the upper face of the silicon in one step.
#[derive(Clone, Copy, Debug)]
pub(super) enum Surface<'a> {
    /// Nothing passes.
    Closed,
    /// A source holds one dopant of the moment at `surface_cm3` in the open columns.
    Held {
        /// Its place among the mobiles.
        dopant: usize,
        /// Concentration at the surface per cm3.
        surface_cm3: f64,
        /// Which columns the source reaches.
        open: &'a [bool],
    },
    /// Oxide grows by so many nm in each column.
    Oxide {
        /// Grown in this step by column.
        grown_nm: &'a [f64],
    },
}

/// What a sweep through the depth moved across the surface.
#[derive(Clone, Debug, Default)]
pub(super) struct Crossed {
    /// Supplied by a source, in nm2 times concentration per cm3, over all columns.
    pub(super) supplied: f64,
}

/// Diffuses along the depth for `dt_s`. What a growing oxide takes up goes to `taken`:
/// `[column][dopant]` in nm times per cm3.
pub(super) fn sweep(
    section: &mut Section,
    lines: &mut Lines,
    moment: &Moment,
    dt_s: f64,
    method: Method,
    surface: Surface<'_>,
    boost: &Boost,
    taken: &mut [Vec<f64>],
) -> Crossed {
    let (columns, cells) = (section.columns(), section.cells());
    let dopants = moment.mobiles.len();
    let mut crossed = Crossed::default();
    let mut reach = vec![0; dopants];
    let mut ends = vec![End::Closed; dopants];
    for start in (0..columns).step_by(LANES) {
        // Spare lanes repeat the last column.
        let column: [usize; LANES] =
            core::array::from_fn(|l| (start + l).min(columns - 1));
        let lanes = (columns - start).min(LANES);
        let tops = column.map(|i| section.columns[i].first.index);
        let top = tops.iter().copied().min().unwrap_or(0);
        let nodes = cells - top;
        lines.resize(nodes, dopants);
        geometry(section, lines, &column, top);
        for (d, mobile) in moment.mobiles.iter().enumerate() {
            let from = &section.silicon_cm3[mobile.dopant as usize];
            let to = &mut lines.values[d][..nodes];
            for l in 0..LANES {
                let line = &from[column[l] * cells + top..(column[l] + 1) * cells];
                for (to, &c) in to.iter_mut().zip(line) {
                    to[l] = c;
                }
            }
        }
        let first = tops.map(|first| first - top);
        let meets_surface =
            set_ends(section, moment, surface, dt_s, &column, first, lines, &mut ends);
        windows(
            section,
            lines,
            moment,
            dt_s,
            boost,
            top,
            nodes,
            &first,
            &meets_surface,
            &mut reach,
        );
        if reach.iter().all(|&nodes| nodes == 0) {
            continue;
        }
        boost.fill_depth(lines, moment, &column, top, nodes);
        let supplied = lines.step(
            &moment.mobiles,
            moment.intrinsic_cm3,
            dt_s,
            method,
            &reach,
            &ends,
        );
        for (d, mobile) in moment.mobiles.iter().enumerate() {
            let to = &mut section.silicon_cm3[mobile.dopant as usize];
            let from = &lines.values[d][..reach[d]];
            for l in 0..lanes {
                let line = &mut to[column[l] * cells + top..(column[l] + 1) * cells];
                for (to, from) in line.iter_mut().zip(from) {
                    *to = from[l];
                }
                if 0 < reach[d] {
                    match ends[d] {
                        End::Closed => {}
                        End::Held { .. } => {
                            let width_nm = section.edges_nm[column[l] + 1]
                                - section.edges_nm[column[l]];
                            crossed.supplied += width_nm * supplied[d][l];
                        }
                        End::Oxide { uptake_nm, first } => {
                            taken[column[l]][d] += uptake_nm[l] * from[first[l]][l];
                        }
                    }
                }
            }
        }
    }
    crossed
}

/// Heights of the cells and one over the distances of their middles.
fn geometry(section: &Section, lines: &mut Lines, column: &[usize; LANES], top: usize) {
    let cells = section.cells();
    let depths_nm = &section.depths_nm;
    for k in top..cells {
        let height_nm = depths_nm[k + 1] - depths_nm[k];
        let per_distance =
            if k + 1 < cells { 2.0 / (depths_nm[k + 2] - depths_nm[k]) } else { 0.0 };
        lines.volume[k - top] = [height_nm; LANES];
        lines.link[k - top] = [per_distance; LANES];
    }
    for l in 0..LANES {
        let first = section.columns[column[l]].first;
        for k in top..first.index {
            lines.volume[k - top][l] = 1.0;
            lines.link[k - top][l] = 0.0;
        }
        let k = first.index;
        lines.volume[k - top][l] = first.height_nm;
        if k + 1 < cells {
            let next_nm = depths_nm[k + 2] - depths_nm[k + 1];
            lines.link[k - top][l] = 2.0 / (first.height_nm + next_nm);
        }
    }
}

/// Sets what happens to each dopant at the surface; gives for each whether anything does.
#[expect(
    clippy::too_many_arguments,
    reason = "the parts of a block that are borrowed apart"
)]
fn set_ends(
    section: &Section,
    moment: &Moment,
    surface: Surface<'_>,
    dt_s: f64,
    column: &[usize; LANES],
    first: [usize; LANES],
    lines: &mut Lines,
    ends: &mut [End],
) -> Vec<bool> {
    let dopants = moment.mobiles.len();
    let mut meets = vec![false; dopants];
    ends.fill(End::Closed);
    match surface {
        Surface::Closed => {}
        Surface::Held { dopant, surface_cm3, open } => {
            let is_open = column.map(|i| open[i]);
            if is_open.iter().any(|&open| open) {
                let first =
                    core::array::from_fn(
                        |l| if is_open[l] { first[l] } else { usize::MAX },
                    );
                ends[dopant] = End::Held { surface_cm3, first };
                meets[dopant] = true;
            }
        }
        Surface::Oxide { grown_nm } => {
            let grown: Lanes = column.map(|i| grown_nm[i]);
            if grown.iter().all(|&grown| grown <= 0.0) {
                return meets;
            }
            let deepest = first.iter().copied().max().unwrap_or(0) + 1;
            lines.carriers(&moment.mobiles, moment.intrinsic_cm3, deepest);
            for (d, mobile) in moment.mobiles.iter().enumerate() {
                let mut uptake_nm = [0.0; LANES];
                for l in 0..LANES {
                    let half_nm = 0.5 * section.columns[column[l]].first.height_nm;
                    let m = mobile.own_carriers(lines.ratio_at(first[l], l));
                    uptake_nm[l] = uptake(
                        mobile.segregation,
                        mobile.at(m) * dt_s,
                        half_nm,
                        grown[l],
                    );
                }
                ends[d] = End::Oxide { uptake_nm, first };
                meets[d] = true;
            }
        }
    }
    meets
}

/// Height of silicon in nm whose atoms the oxide takes as it grows by `grown_nm`: `1/m` of the
/// concentration at the interface, which follows from that in the middle of the first cell,
/// half a cell deeper, by the flux between them.
///
/// # Model
/// The interface passes `C(0)/m - 0.44 C(0)` per grown oxide to the silicon's frame, so that
/// `C(0) = C / (1 + h (1/m - 0.44) v / D)` (derived); the factor is held between 0.5 and 2,
/// which it leaves only where the step in time is too long for the cell.
fn uptake(segregation: f64, dt_nm2: f64, half_nm: f64, grown_nm: f64) -> f64 {
    if grown_nm <= 0.0 {
        return 0.0;
    }
    let per_m = 1.0 / segregation;
    let slope = half_nm * (per_m - crate::constants::SILICON_PER_OXIDE) * grown_nm;
    let factor = if 0.0 < dt_nm2 { 1.0 / (1.0 + slope / dt_nm2).max(0.5) } else { 1.0 };
    per_m * grown_nm * factor.clamp(0.5, 2.0)
}

/// How far each dopant changes: down to the last gradient and the window below it.
#[expect(
    clippy::too_many_arguments,
    reason = "the parts of a block that are borrowed apart"
)]
fn windows(
    section: &Section,
    lines: &mut Lines,
    moment: &Moment,
    dt_s: f64,
    boost: &Boost,
    top: usize,
    nodes: usize,
    first: &[usize; LANES],
    meets_surface: &[bool],
    reach: &mut [usize],
) {
    lines.carriers(&moment.mobiles, moment.intrinsic_cm3, nodes);
    let (least, most) = lines.ratio_range(nodes);
    let field_end = if (1.0 + FIELD) * least < most {
        lines.last_field(nodes, FIELD_STEP)
    } else {
        None
    };
    let surface = first.iter().copied().max().unwrap_or(0);
    for (d, mobile) in moment.mobiles.iter().enumerate() {
        let mut last = lines.last_gradient(d, nodes);
        if meets_surface[d] {
            last = Some(last.map_or(surface, |last| last.max(surface)));
        }
        if lines.holds_any(d, nodes) && mobile.charge != 0.0 {
            last = last.max(field_end);
        }
        let largest = mobile
            .at(mobile.own_carriers(most))
            .max(mobile.at(mobile.own_carriers(least)));
        let length_nm = (largest * boost.largest(mobile.dopant) * dt_s).sqrt();
        reach[d] = match last {
            Some(last) if 0.0 < largest => {
                let end_nm = section.depths_nm[(top + last + 1).min(top + nodes)]
                    + WINDOW * length_nm;
                let above = section.depths_nm.partition_point(|&depth| depth < end_nm);
                (above.max(top + last + 2) - top).min(nodes)
            }
            Some(_) if meets_surface[d] => (surface + 2).min(nodes),
            _ => 0,
        };
    }
}
