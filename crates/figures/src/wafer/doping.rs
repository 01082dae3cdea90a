//! Doping of the silicon: its type, and how much of it by half decades.

use barewafer_process::num::{larger, pow, smaller};
use barewafer_process::wafer::Section;

use super::contour::{Level, Loop, Post, outlines};
use super::outline::{Joint, eased, joints};
use super::spans::{Pile, seen};

/// The faintest doping that is tinted, per cm3 (model choice).
const FAINTEST_CM3: f64 = 3e15;

/// How much stronger each tint is than the one before: half a decade.
const STEP: f64 = 0.5;

/// Tints of each type: from the faintest doping up to 1e21 per cm3.
const TINTS: u8 = 11;

/// Opacity of the strongest tint, and of each one less.
const OPACITY: [f64; 2] = [0.3, 0.026];

/// The net doping of the columns that are seen.
pub(super) struct Net {
    columns: Vec<Below>,
    /// Heights of the cells that are looked at, from the top down, in nm.
    rows_nm: Vec<f64>,
    /// Left and right end of what is seen, in nm.
    ends_nm: [f64; 2],
}

/// The silicon of a column.
struct Below {
    center_nm: f64,
    sides_nm: [f64; 2],
    top_nm: f64,
    /// Net donors per cm3 at the surface (negative: acceptors),
    surface_cm3: f64,
    /// and, for each cell of `Net::rows_nm` that lies below it, in the middle of that cell.
    cells_cm3: Vec<f64>,
}

/// What is drawn of the doping: outlines of the regions whose type is not that of the ground, and
/// of each tint.
pub(super) struct Doped {
    /// Whether the lowest silicon has more donors.
    pub(super) donors_below: bool,
    /// Regions of the other type and, in them, of the ground's: the largest first.
    pub(super) regions: Vec<Loop>,
    /// Whether donors are tinted, the opacity of the tint, and its outlines.
    pub(super) tints: Vec<(bool, f64, Vec<Loop>)>,
}

impl Net {
    /// The net doping in a range of x, down to just below a height. Of columns and cells nearer
    /// to each other than `grain_nm` across and down, one is looked at.
    pub(super) fn of(
        section: &Section,
        x_nm: [f64; 2],
        bottom_nm: f64,
        grain_nm: [f64; 2],
    ) -> Self {
        let cells = section.cells();
        let dopants: Vec<(f64, &[f64])> = section
            .dopants()
            .into_iter()
            .map(|dopant| (dopant.charge(), section.silicon_cm3(dopant)))
            .collect();
        let net_cm3 = |column: usize, cell: usize| -> f64 {
            let at = column * cells + cell;
            dopants.iter().map(|(charge, values)| charge * values[at]).sum()
        };
        let rows = rows(section.depths_nm(), bottom_nm, grain_nm[1]);
        let seen: Vec<(usize, [f64; 2])> = seen(section, x_nm).collect();
        let mut columns: Vec<Below> = Vec::new();
        for (k, &(column, sides_nm)) in seen.iter().enumerate() {
            let center_nm = 0.5 * (sides_nm[0] + sides_nm[1]);
            let top_nm = section.silicon_top_nm(column);
            let apart = columns.last().is_none_or(|last| {
                grain_nm[0] <= center_nm - last.center_nm
                    || grain_nm[1] <= (top_nm - last.top_nm).abs()
            });
            if !apart && k + 1 < seen.len() {
                continue;
            }
            let (first, _) = section.first_cell(column);
            columns.push(Below {
                center_nm,
                sides_nm,
                top_nm,
                surface_cm3: net_cm3(column, first),
                cells_cm3: rows
                    .iter()
                    .filter(|(cell, _)| first < *cell)
                    .map(|(cell, _)| net_cm3(column, *cell))
                    .collect(),
            });
        }
        let ends_nm = [
            seen.first().map_or(x_nm[0], |(_, sides)| sides[0]),
            seen.last().map_or(x_nm[1], |(_, sides)| sides[1]),
        ];
        Self {
            columns,
            rows_nm: rows.into_iter().map(|(_, z_nm)| z_nm).collect(),
            ends_nm,
        }
    }

    /// Outlines of the types, and with `tinted` of the tints.
    pub(super) fn drawn(&self, bottom_nm: f64, tinted: bool) -> Doped {
        let donors_below = self
            .columns
            .first()
            .and_then(|below| below.cells_cm3.last())
            .is_some_and(|net| 0.0 < *net);
        let posts = self.posts(bottom_nm);
        let other = if donors_below { -1.0 } else { 1.0 };
        let mut levels = vec![(Level { sign: other, least: 0.0 }, 0.0)];
        if tinted {
            let mut before = 0.0;
            for k in 0..TINTS {
                let least = FAINTEST_CM3 * pow(10.0, STEP * f64::from(k));
                let whole = OPACITY[0] - OPACITY[1] * f64::from(TINTS - 1 - k);
                // Each tint lies on all fainter ones: together they are as strong as they ought.
                let opacity = 1.0 - (1.0 - whole) / (1.0 - before);
                before = whole;
                levels.push((Level { sign: 1.0, least }, opacity));
                levels.push((Level { sign: -1.0, least }, opacity));
            }
        }
        levels.sort_by(|(a, _), (b, _)| a.value().total_cmp(&b.value()));
        let only: Vec<Level> = levels.iter().map(|(level, _)| *level).collect();
        let mut regions = Vec::new();
        let mut tints = Vec::new();
        for ((level, opacity), loops) in levels.into_iter().zip(outlines(&posts, &only)) {
            if level.least == 0.0 {
                regions = loops;
            } else if !loops.is_empty() {
                tints.push((0.0 < level.sign, opacity, loops));
            }
        }
        Doped { donors_below, regions, tints }
    }

    /// The net doping along upright lines: at the middle of each column, on both sides of each
    /// wall, and at the ends of what is seen.
    fn posts(&self, bottom_nm: f64) -> Vec<Post> {
        let centers: Vec<f64> = self.columns.iter().map(|c| c.center_nm).collect();
        let sides: Vec<[f64; 2]> = self.columns.iter().map(|c| c.sides_nm).collect();
        let tops: Vec<f64> = self.columns.iter().map(|c| c.top_nm).collect();
        let tops = eased(&sides, &tops);
        let joints = joints(&centers, &tops);
        let mut posts = Vec::with_capacity(self.columns.len() + 2);
        for (k, column) in self.columns.iter().enumerate() {
            let knots = column.knots(tops[k], &self.rows_nm, bottom_nm);
            let (left, right) = (k.checked_sub(1), k + 1 < self.columns.len());
            match left {
                None => posts.push(Post { x: self.ends_nm[0], knots: knots.clone() }),
                Some(left) if joints[left] == Joint::Wall => {
                    posts.push(Post { x: column.sides_nm[0], knots: knots.clone() });
                }
                Some(_) => {}
            }
            posts.push(Post { x: column.center_nm, knots: knots.clone() });
            if !right {
                posts.push(Post { x: self.ends_nm[1], knots });
            } else if joints[k] == Joint::Wall {
                posts.push(Post { x: self.columns[k + 1].sides_nm[0], knots });
            }
        }
        posts
    }
}

/// Cells with the heights of their middles in nm, no two of them nearer than a grain, down to the
/// first one below the bottom.
fn rows(depths_nm: &[f64], bottom_nm: f64, grain_nm: f64) -> Vec<(usize, f64)> {
    let mut rows: Vec<(usize, f64)> = Vec::new();
    for (cell, edges) in depths_nm.windows(2).enumerate() {
        let z_nm = -0.5 * (edges[0] + edges[1]);
        if rows.last().is_none_or(|(_, above)| grain_nm <= above - z_nm) {
            rows.push((cell, z_nm));
        }
        if z_nm < bottom_nm {
            break;
        }
    }
    rows
}

impl Below {
    /// Height and net doping at the surface, in each row, and at the bottom of the picture; rows
    /// that a column does not have lie on its surface.
    fn knots(&self, top_nm: f64, rows_nm: &[f64], bottom_nm: f64) -> Vec<(f64, f64)> {
        let without = rows_nm.len() - self.cells_cm3.len();
        let mut knots = Vec::with_capacity(rows_nm.len() + 1);
        let mut before = (top_nm, self.surface_cm3);
        knots.resize(without + 1, before);
        for (&z_nm, &net) in rows_nm[without..].iter().zip(&self.cells_cm3) {
            let here = (smaller(z_nm, top_nm), net);
            // The last knot lies on the lower border, between two cells.
            let knot = if here.0 < bottom_nm && bottom_nm <= before.0 {
                let share = (before.0 - bottom_nm) / larger(before.0 - here.0, 1e-9);
                (bottom_nm, before.1 + share * (here.1 - before.1))
            } else {
                (larger(here.0, bottom_nm), here.1)
            };
            knots.push(knot);
            before = knot;
        }
        knots
    }
}

/// Where donors and where acceptors prevail in each column, from the bottom up.
pub(super) fn types(net: &Net, bottom_nm: f64) -> Vec<Pile<bool>> {
    net.columns
        .iter()
        .map(|below| {
            // From the surface down, then turned round.
            let mut spans: Vec<(bool, f64)> = Vec::new();
            let mut ceiling_nm = below.top_nm;
            let (mut z_a, mut a) = (below.top_nm, below.surface_cm3);
            let without = net.rows_nm.len() - below.cells_cm3.len();
            for (&z_b, &b) in net.rows_nm[without..].iter().zip(&below.cells_cm3) {
                if z_b < bottom_nm {
                    break;
                }
                if (0.0 < a) != (0.0 < b) {
                    spans.push((0.0 < a, ceiling_nm));
                    ceiling_nm = z_a + a / (a - b) * (z_b - z_a);
                }
                (z_a, a) = (z_b, b);
            }
            spans.push((0.0 < a, ceiling_nm));
            spans.reverse();
            Pile { sides_nm: below.sides_nm, floor_nm: bottom_nm, spans }
        })
        .collect()
}
