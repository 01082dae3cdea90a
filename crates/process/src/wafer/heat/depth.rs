//! Diffusion in depth: eight neighboring columns at a time.

use super::boost::Boost;
use super::ends::End;
use super::lines::{LANES, Lanes, Lines};
use super::moment::Moment;
use super::moving::Passage;
use super::oxide::Grown;
use crate::constants::SILICON_PER_OXIDE;
use crate::wafer::cells::FirstCell;
use crate::wafer::section::{Section, Swept};

/// A step between neighboring cells counts as a gradient from this share of the largest
/// concentration on (model choice: results equal those without windows to about 1e-6),
pub(super) const FLAT: f64 = 1e-9;

/// where concentrations beyond this, per cm3, count as this.
pub(super) const FLAT_AT_CM3: f64 = 1e18;

/// The field moves a flat dopant where the carriers change by more than this share in all
/// (model choice: less changes its profile by less than that),
pub(super) const FIELD: f64 = 5e-3;

/// and down to where they change by more than this from cell to cell.
pub(super) const FIELD_STEP: f64 = 1e-4;

/// Diffusion lengths below the last gradient in which nothing changes any more: `exp(-16)`.
pub(super) const WINDOW: f64 = 8.0;

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
    /// Oxide grows in each column.
    Oxide(&'a Grown),
}

/// Diffuses along the depth for `dt_s`. Where oxide grows the silicon's top follows it. What
/// crosses the surface is added to `crossed`: `[column][dopant]` in nm times per cm3.
#[expect(
    clippy::too_many_arguments,
    reason = "what moves, how long, and what happens at the surface"
)]
pub(super) fn sweep(
    section: &mut Section,
    lines: &mut Lines,
    moment: &Moment,
    dt_s: f64,
    passes: u32,
    surface: Surface<'_>,
    boost: &Boost,
    crossed: &mut [Vec<f64>],
) {
    let (columns, cells) = (section.columns(), section.cells());
    let dopants = moment.mobiles.len();
    let mut reach = vec![0; dopants];
    let mut ends = vec![End::Closed; dopants];
    for start in (0..columns).step_by(LANES) {
        // Spare lanes repeat the last column.
        let column: [usize; LANES] =
            core::array::from_fn(|l| (start + l).min(columns - 1));
        let lanes = (columns - start).min(LANES);
        let tops = column.map(|i| section.columns[i].first.index);
        let top = tops.into_iter().min().unwrap_or(0);
        let nodes = cells - top;
        lines.resize(nodes, dopants);
        let firsts = column.map(|i| section.columns[i].first);
        geometry(&section.depths_nm, lines, &firsts, top);
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
        let ends_at = ends_at(section, surface, &column);
        set_ends(surface, &column, &firsts, top, &mut ends);
        let meets = |d: usize| !matches!(ends[d], End::Closed);
        let deepest = ends_at.iter().map(|first| first.index - top).max().unwrap_or(0);
        let largest: Vec<Lanes> = (0..dopants).map(|d| lines.largest(d, nodes)).collect();
        let brought = largest.iter().zip(&ends).map(|(largest, end)| {
            largest.iter().copied().fold(end.brings_cm3(), f64::max)
        });
        lines.note_limits(&moment.mobiles, &brought.collect::<Vec<_>>());
        windows(
            section, lines, moment, dt_s, boost, top, deepest, &meets, &largest,
            &mut reach,
        );
        if reach.iter().all(|&nodes| nodes == 0) {
            continue;
        }
        boost.fill_depth(lines, moment, &column, top, nodes);
        let supplied = match surface {
            Surface::Oxide(grown) => {
                let depths_nm = &section.depths_nm;
                let passage = Passage {
                    tops: [0, 1].map(|stage| {
                        column.map(|i| {
                            let part_nm = if stage == 0 {
                                grown.first_nm[i]
                            } else {
                                grown.last_nm[i]
                            };
                            lowered(section, i, part_nm)
                        })
                    }),
                    taking_nm: [0, 1]
                        .map(|stage| column.map(|i| grown.taking_nm[stage][i])),
                    top,
                };
                lines.step_moving(moment, dt_s, &reach, &passage, |lines, firsts| {
                    geometry(depths_nm, lines, firsts, top);
                })
            }
            _ => lines.step(moment, dt_s, passes, &reach, &ends),
        };
        for l in 0..lanes {
            let i = column[l];
            if let Surface::Oxide(grown) = surface
                && 0.0 < grown.last_nm[i]
            {
                let to_nm =
                    section.silicon_top_nm(i) - SILICON_PER_OXIDE * grown.last_nm[i];
                section.lower_silicon(i, to_nm, Swept::IntoFirstCell);
            }
            let first = ends_at[l].index - top;
            for (d, mobile) in moment.mobiles.iter().enumerate() {
                let to = &mut section.silicon_cm3[mobile.dopant as usize];
                let line = &mut to[i * cells + top..(i + 1) * cells];
                let found = lines.values[d][..reach[d]].iter().skip(first);
                for (to, from) in line[first..].iter_mut().zip(found) {
                    *to = from[l];
                }
                if meets(d) {
                    crossed[i][d] += supplied[d][l];
                }
            }
        }
    }
}

/// The first cell of a column after so much oxide has grown on it.
fn lowered(section: &Section, column: usize, grown_nm: f64) -> FirstCell {
    if grown_nm <= 0.0 {
        return section.columns[column].first;
    }
    let depth_nm = SILICON_PER_OXIDE * grown_nm - section.silicon_top_nm(column);
    FirstCell::below(depth_nm, &section.depths_nm)
}

/// The first cells at the end of the step.
fn ends_at(
    section: &Section,
    surface: Surface<'_>,
    column: &[usize; LANES],
) -> [FirstCell; LANES] {
    match surface {
        Surface::Oxide(grown) => column.map(|i| lowered(section, i, grown.last_nm[i])),
        _ => column.map(|i| section.columns[i].first),
    }
}

/// Heights of the cells and one over the distances of their middles.
fn geometry(
    depths_nm: &[f64],
    lines: &mut Lines,
    firsts: &[FirstCell; LANES],
    top: usize,
) {
    let cells = depths_nm.len() - 1;
    for k in top..cells {
        let height_nm = depths_nm[k + 1] - depths_nm[k];
        let per_distance =
            if k + 1 < cells { 2.0 / (depths_nm[k + 2] - depths_nm[k]) } else { 0.0 };
        lines.volume[k - top] = [height_nm; LANES];
        lines.link[k - top] = [per_distance; LANES];
    }
    for (l, first) in firsts.iter().enumerate() {
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

/// Sets what happens to each dopant at the surface.
fn set_ends(
    surface: Surface<'_>,
    column: &[usize; LANES],
    firsts: &[FirstCell; LANES],
    top: usize,
    ends: &mut [End],
) {
    ends.fill(End::Closed);
    match surface {
        Surface::Closed => {}
        Surface::Held { dopant, surface_cm3, open } => {
            if column.iter().any(|&i| open[i]) {
                let first = core::array::from_fn(|l| {
                    if open[column[l]] { firsts[l].index - top } else { usize::MAX }
                });
                ends[dopant] = End::Held { surface_cm3, first };
            }
        }
        Surface::Oxide(grown) => {
            let grown_nm: Lanes = column.map(|i| grown.last_nm[i]);
            if grown_nm.iter().any(|&grown| 0.0 < grown) {
                let first = firsts.map(|first| first.index - top);
                ends.fill(End::Oxide { grown_nm, first });
            }
        }
    }
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
    surface: usize,
    meets_surface: &impl Fn(usize) -> bool,
    largest: &[Lanes],
    reach: &mut [usize],
) {
    let nodes = section.cells() - top;
    lines.carriers(moment, nodes);
    let (least, most) = lines.ratio_range(nodes);
    let field_end = if (1.0 + FIELD) * least < most {
        lines.last_field(nodes, FIELD_STEP)
    } else {
        None
    };
    for (d, mobile) in moment.mobiles.iter().enumerate() {
        let mut last = lines.last_gradient(d, nodes, &largest[d]);
        if meets_surface(d) {
            last = Some(last.map_or(surface, |last| last.max(surface)));
        }
        if mobile.charge != 0.0 && largest[d].iter().any(|&c| 0.0 < c) {
            last = last.max(field_end);
        }
        let at = |ratio: f64| mobile.at(mobile.own_carriers(ratio));
        let fastest = at(most).max(at(least));
        let length_nm = (fastest * boost.largest(mobile.dopant) * dt_s).sqrt();
        reach[d] = match last {
            Some(last) if 0.0 < fastest => {
                let below = (top + last + 1).min(top + nodes);
                let end_nm = section.depths_nm[below] + WINDOW * length_nm;
                let above = section.depths_nm.partition_point(|&depth| depth < end_nm);
                (above.max(top + last + 2) - top).min(nodes)
            }
            Some(_) if meets_surface(d) => (surface + 2).min(nodes),
            _ => 0,
        };
    }
}
