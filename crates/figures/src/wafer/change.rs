//! What a step changed in the section: other matter, or silicon doped otherwise.

use barewafer_process::vocabulary::Dopant;
use barewafer_process::wafer::{Matter, Section};

use super::outline::outline;
use super::spans::{Pile, films};
use super::strands::strands;

/// A face that moved by less is where it was, in nm.
const SAME_NM: f64 = 0.3;

/// Doping changed if the net doping did by more than this share of the larger one,
const CHANGED: f64 = 0.5;

/// and if the larger one is above this, per cm3.
const FAINT_CM3: f64 = 1e14;

/// The outlines of what differs between two sections of one wafer, in nm.
pub(super) fn changes(
    before: &Section,
    after: &Section,
    x_nm: [f64; 2],
    bottom_nm: f64,
    doping: bool,
) -> Vec<Vec<[f64; 2]>> {
    let piles = differences(before, after, x_nm, bottom_nm, doping);
    strands(&piles)
        .iter()
        .filter(|strand| strand.key)
        .map(|strand| {
            outline(&piles, strand, |column, span| piles[column].floor_of(span))
        })
        .collect()
}

/// Columns of spans that say whether something differs there, on the edges of both sections.
fn differences(
    before: &Section,
    after: &Section,
    x_nm: [f64; 2],
    bottom_nm: f64,
    doping: bool,
) -> Vec<Pile<bool>> {
    let old = films(before, x_nm, bottom_nm, [0.0; 2]);
    let new = films(after, x_nm, bottom_nm, [0.0; 2]);
    let doping = doping && !same_doping(before, after);
    let dopings = [Doping::of(before), Doping::of(after)];
    let slices = if doping { slices(before, after, bottom_nm) } else { Vec::new() };
    let mut piles = Vec::with_capacity(old.len().max(new.len()));
    let (mut a, mut b) = (0, 0);
    let mut left_nm = x_nm[0];
    while let (Some(one), Some(other)) = (old.get(a), new.get(b)) {
        let right_nm = one.sides_nm[1].min(other.sides_nm[1]);
        if left_nm < right_nm {
            let mut spans = Vec::new();
            let middle_nm = 0.5 * (left_nm + right_nm);
            let silicon_nm = one.top_of(0).min(other.top_of(0));
            if doping {
                silicon(&dopings, &slices, middle_nm, silicon_nm, &mut spans);
            } else {
                spans.push((false, silicon_nm));
            }
            matter(one, other, silicon_nm, &mut spans);
            piles.push(Pile {
                sides_nm: [left_nm, right_nm],
                floor_nm: bottom_nm,
                spans: tidied(spans, bottom_nm),
            });
        }
        left_nm = right_nm;
        a += usize::from(one.sides_nm[1] <= right_nm);
        b += usize::from(other.sides_nm[1] <= right_nm);
    }
    piles
}

/// A slice of depth that lies in one cell of each section.
struct Slice {
    top_nm: f64,
    /// Its cell in the section before and in the one after.
    cells: [usize; 2],
}

/// The slices between the borders of both depth meshes, from the bottom of the view up. Two runs
/// may have meshes of their own: what is hotter is computed deeper.
fn slices(before: &Section, after: &Section, bottom_nm: f64) -> Vec<Slice> {
    let meshes = [before.depths_nm(), after.depths_nm()];
    let mut borders_nm: Vec<f64> = meshes
        .iter()
        .flat_map(|depths_nm| depths_nm.iter().copied())
        .filter(|depth_nm| *depth_nm < -bottom_nm)
        .collect();
    borders_nm.sort_by(f64::total_cmp);
    borders_nm.dedup();
    borders_nm
        .iter()
        .rev()
        .map(|&depth_nm| Slice {
            top_nm: -depth_nm,
            cells: meshes.map(|depths_nm| {
                let above = depths_nm.partition_point(|border| *border <= depth_nm);
                // Below its mesh a wafer is as in its last cell.
                above.saturating_sub(1).min(depths_nm.len() - 2)
            }),
        })
        .collect()
}

/// Whether no step between the two touched the doping: a wafer shares with the one before what it
/// has not changed.
fn same_doping(before: &Section, after: &Section) -> bool {
    let (old, new) = (before.dopants(), after.dopants());
    old == new
        && old.into_iter().all(|dopant| {
            std::ptr::eq(before.silicon_cm3(dopant), after.silicon_cm3(dopant))
        })
}

/// The doping of a section, to be asked cell by cell.
struct Doping<'a> {
    section: &'a Section,
    /// Charge of each dopant and its concentrations per cm3.
    dopants: Vec<(f64, &'a [f64])>,
}

impl<'a> Doping<'a> {
    fn of(section: &'a Section) -> Self {
        let of = |dopant: Dopant| (dopant.charge(), section.silicon_cm3(dopant));
        Self { section, dopants: section.dopants().into_iter().map(of).collect() }
    }

    /// Donors less acceptors per cm3 in a cell; above the surface those of the first one.
    fn net_cm3(&self, column: usize, cell: usize) -> f64 {
        let at =
            column * self.section.cells() + cell.max(self.section.first_cell(column).0);
        self.dopants.iter().map(|(charge, values)| charge * values[at]).sum()
    }
}

/// What differs in the silicon that both have, from the bottom up to its top.
fn silicon(
    dopings: &[Doping<'_>; 2],
    slices: &[Slice],
    x_nm: f64,
    top_nm: f64,
    spans: &mut Vec<(bool, f64)>,
) {
    let [before, after] = dopings;
    let columns = [before.section.column_at(x_nm), after.section.column_at(x_nm)];
    for Slice { top_nm: slice_top_nm, cells } in slices {
        let old = before.net_cm3(columns[0], cells[0]);
        let new = after.net_cm3(columns[1], cells[1]);
        let larger = old.abs().max(new.abs());
        let differs = FAINT_CM3 < larger && CHANGED * larger < (old - new).abs();
        spans.push((differs, slice_top_nm.min(top_nm)));
        if top_nm <= *slice_top_nm {
            break;
        }
    }
}

/// What differs above the silicon that both have, from there up.
fn matter(
    one: &Pile<Matter>,
    other: &Pile<Matter>,
    from_nm: f64,
    spans: &mut Vec<(bool, f64)>,
) {
    let mut faces_nm: Vec<f64> = one
        .spans
        .iter()
        .chain(&other.spans)
        .map(|(_, top_nm)| *top_nm)
        .filter(|top_nm| from_nm < *top_nm)
        .collect();
    faces_nm.sort_by(f64::total_cmp);
    let mut floor_nm = from_nm;
    for top_nm in faces_nm {
        if floor_nm < top_nm {
            let middle_nm = 0.5 * (floor_nm + top_nm);
            spans.push((at(one, middle_nm) != at(other, middle_nm), top_nm));
            floor_nm = top_nm;
        }
    }
}

/// What a column has at a height; open space above it.
fn at(pile: &Pile<Matter>, z_nm: f64) -> Matter {
    let above = pile.spans.partition_point(|(_, top_nm)| *top_nm < z_nm);
    pile.spans.get(above).map_or(Matter::Open, |(matter, _)| *matter)
}

/// Joins equal spans and forgets those too thin to be a change.
fn tidied(spans: Vec<(bool, f64)>, floor_nm: f64) -> Vec<(bool, f64)> {
    let mut kept: Vec<(bool, f64)> = Vec::with_capacity(spans.len());
    let mut below_nm = floor_nm;
    for (differs, top_nm) in spans {
        let differs = differs && SAME_NM < top_nm - below_nm;
        below_nm = top_nm;
        match kept.last_mut() {
            Some(last) if last.0 == differs => last.1 = top_nm,
            _ => kept.push((differs, top_nm)),
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use barewafer_process::vocabulary::Material;
    use barewafer_process::wafer::Layer;

    use super::*;

    fn wafer() -> Section {
        let edges_nm = (0..=10).map(|k| f64::from(k) * 100.0).collect();
        let depths_nm = (0..=50).map(|k| f64::from(k) * 10.0).collect();
        Section::bare(edges_nm, depths_nm, (Dopant::Boron, 1e15))
    }

    #[track_caller]
    fn check_bounds(outline: &[[f64; 2]], expected: [f64; 4]) {
        let fold = |axis: usize, f: fn(f64, f64) -> f64, start: f64| {
            outline.iter().map(|p| p[axis]).fold(start, f)
        };
        let found = [
            fold(0, f64::min, f64::MAX),
            fold(0, f64::max, f64::MIN),
            fold(1, f64::min, f64::MAX),
            fold(1, f64::max, f64::MIN),
        ];
        for (found, expected) in found.into_iter().zip(expected) {
            assert!((found - expected).abs() < 1e-9, "{found} {expected}");
        }
    }

    #[test]
    fn a_new_film_is_what_differs() {
        let (before, mut after) = (wafer(), wafer());
        for column in 3..6 {
            let film = Layer::new(Matter::of(Material::Nitride), 80.0);
            after.set_layers(column, &[film]);
        }
        let found = changes(&before, &after, [0.0, 1000.0], -300.0, true);
        assert_eq!(found.len(), 1);
        check_bounds(&found[0], [300.0, 600.0, 0.0, 80.0]);
        assert!(changes(&after, &after, [0.0, 1000.0], -300.0, true).is_empty());
    }

    #[test]
    fn doping_is_compared_between_two_meshes() {
        let before = wafer();
        let edges_nm = (0..=10).map(|k| f64::from(k) * 100.0).collect();
        let finer_nm = (0..=80).map(|k| f64::from(k) * 7.5).collect();
        let mut after = Section::bare(edges_nm, finer_nm, (Dopant::Boron, 1e15));
        assert!(changes(&before, &after, [0.0, 1000.0], -300.0, true).is_empty());
        let cells = after.cells();
        let phosphorus = after.silicon_cm3_mut(Dopant::Phosphorus);
        phosphorus[4 * cells..4 * cells + 20].fill(1e17);
        let found = changes(&before, &after, [0.0, 1000.0], -300.0, true);
        assert_eq!(found.len(), 1);
        check_bounds(&found[0], [400.0, 500.0, -150.0, 0.0]);
    }

    #[test]
    fn doping_differs_only_if_it_is_shown() {
        let (before, mut after) = (wafer(), wafer());
        let cells = after.cells();
        let phosphorus = after.silicon_cm3_mut(Dopant::Phosphorus);
        phosphorus[4 * cells..4 * cells + 20].fill(1e17);
        let found = changes(&before, &after, [0.0, 1000.0], -300.0, true);
        assert_eq!(found.len(), 1);
        check_bounds(&found[0], [400.0, 500.0, -200.0, 0.0]);
        assert!(changes(&before, &after, [0.0, 1000.0], -300.0, false).is_empty());
    }
}
