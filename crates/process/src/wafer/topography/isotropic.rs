//! Etching that goes in all directions alike.

use super::super::{Matter, Section};
use super::arrival::Field;
use super::discs::{Growth, widened};
use super::front::Front;
use super::pieces::{Pieces, crossing_min, floor_nm, walk};
use super::rates::Rates;
use super::removal::{Removed, remove};
use super::slopes::stairs;
use super::spans::{Spans, common, open_space, solid, unite};
use super::walls;
use crate::vocabulary::Material;

/// What ions did that fall straight down.
#[derive(Clone, Debug)]
pub(super) struct Ions<'a> {
    pieces: &'a Pieces,
    /// What they took from every column.
    pub(super) gone: Spans,
}

impl<'a> Ions<'a> {
    /// Lets them fall for a time.
    pub(super) fn fall(section: &Section, pieces: &'a Pieces, time_min: f64) -> Self {
        let mut gone = Spans::new();
        let mut column = Vec::new();
        for i in 0..section.columns() {
            column.clear();
            let (from_nm, to_nm) = (f64::INFINITY, f64::NEG_INFINITY);
            walk(pieces.column(i), from_nm, to_nm, time_min, &mut column);
            unite(&mut column);
            for &span in &column {
                gone.push(span);
            }
            gone.end_column();
        }
        Self { pieces, gone }
    }

    /// The lowest place that they come to, in nm.
    pub(super) fn lowest_nm(&self) -> f64 {
        let columns = 0..self.gone.columns();
        let lowest = columns.filter_map(|i| self.gone.of(i).first());
        lowest.fold(f64::INFINITY, |lowest, [low, _]| lowest.min(*low))
    }

    /// When they come to a height of a column, in min.
    pub(super) fn at_min(&self, column: usize, z_nm: f64) -> f64 {
        crossing_min(self.pieces.column(column), z_nm, f64::INFINITY)
    }
}

/// Etches everything that is reached, in all directions, for a time.
///
/// # Model
/// The front moves along its normal at the rate of what it is in, around corners and through
/// what it breaks through: the least time from the open space above to every point, by marching
/// on columns and levels ([`super`]). Layers thinner than the levels' spacing count exactly.
pub fn etch_isotropic(section: &mut Section, rates: &Rates, time_min: f64) -> Removed {
    if !(time_min.is_finite() && 0.0 < time_min) || rates.fastest_nm_min() <= 0.0 {
        return Removed::default();
    }
    if let Some(gone) = in_one_matter(section, rates, time_min) {
        return remove(section, &gone);
    }
    etch(section, rates, time_min, None)
}

/// What goes if the etchant touches one matter only, with nothing else within its reach: circles
/// about the open space, exactly. None if there is more.
fn in_one_matter(section: &mut Section, rates: &Rates, time_min: f64) -> Option<Spans> {
    let reach_nm = rates.fastest_nm_min() * time_min;
    let gone = circles(section, rates, reach_nm)?;
    let (open, _) = open_space(section).split_by_sky();
    // On the solid side: a wall goes back into it.
    if walls::insert(section, &open, &solid(section), |_, _| reach_nm) {
        circles(section, rates, reach_nm)
    } else {
        Some(gone)
    }
}

fn circles(section: &Section, rates: &Rates, reach_nm: f64) -> Option<Spans> {
    let (open, shut) = open_space(section).split_by_sky();
    let solids = solid(section);
    let growth = Growth {
        across_nm: reach_nm,
        walls: None,
        around_nm: reach_nm,
        top_nm: &[],
        share: 1.0,
    };
    let (mut reached, mut inside) = (Vec::new(), Vec::new());
    let mut gone = Spans::new();
    let mut only: Option<Matter> = None;
    for i in 0..section.columns() {
        widened(section, &open, (i, section.center_nm(i)), &growth, &mut reached);
        inside.clear();
        common(shut.of(i), &reached, &mut inside);
        if !inside.is_empty() {
            return None;
        }
        common(solids.of(i), &reached, &mut inside);
        for &[low, high] in &inside {
            if !is_filled(section, i, [low, high], &mut only) {
                return None;
            }
            gone.push([low, high]);
        }
        gone.end_column();
    }
    let is_fastest =
        only.is_none_or(|matter| rates.fastest_nm_min() <= rates.nm_min(matter));
    is_fastest.then_some(gone)
}

/// Whether an interval of a column is filled with one matter, the same as those before.
fn is_filled(
    section: &Section,
    column: usize,
    [low_nm, high_nm]: [f64; 2],
    only: &mut Option<Matter>,
) -> bool {
    let silicon = (section.silicon_top_nm(column), Matter::of(Material::Silicon));
    let layers = section.layers(column).iter().map(|layer| (layer.top_nm, layer.matter));
    let mut floor_nm = f64::NEG_INFINITY;
    for (top_nm, matter) in core::iter::once(silicon).chain(layers) {
        if floor_nm.max(low_nm) < top_nm.min(high_nm)
            && *only.get_or_insert(matter) != matter
        {
            return false;
        }
        floor_nm = top_nm;
    }
    true
}

/// Etches by arrival times; ions may have come first.
pub(super) fn etch(
    section: &mut Section,
    rates: &Rates,
    time_min: f64,
    ions: Option<&Ions<'_>>,
) -> Removed {
    let pieces = Pieces::of(section, rates);
    let reach_nm = rates.fastest_nm_min() * time_min;
    let mut field = Field::new(section, &pieces, reach_nm, ions);
    field.march(section, &pieces, time_min, ions);
    let stairs = stairs(section);
    let front =
        Front { field: &field, pieces: &pieces, stairs: &stairs, time_min, reach_nm };
    let mut gone = Spans::new();
    let mut cuts_nm = Vec::new();
    let mut column = Vec::new();
    for i in 0..section.columns() {
        let own_cuts =
            field.place(i).map_or_else(Vec::new, |at| front.cuts_nm(section, at));
        for part in 0..=own_cuts.len() {
            column.clear();
            match field.place(i) {
                Some(at) => {
                    let end =
                        |k: usize, whole: f64| own_cuts.get(k).copied().unwrap_or(whole);
                    let from_nm = part
                        .checked_sub(1)
                        .map_or(section.edges_nm()[i], |k| end(k, 0.0));
                    let to_nm = end(part, section.edges_nm()[i + 1]);
                    let x_nm = (!own_cuts.is_empty()).then_some(0.5 * (from_nm + to_nm));
                    front.gone(at, x_nm, &mut column);
                }
                None => upright(&pieces, i, time_min, &mut column),
            }
            if let Some(ions) = ions {
                column.extend_from_slice(ions.gone.of(i));
            }
            unite(&mut column);
            for &span in &column {
                gone.push(span);
            }
            gone.end_column();
        }
        cuts_nm.extend(own_cuts);
    }
    for x_nm in cuts_nm {
        let is_new = section.split_at(x_nm);
        debug_assert!(is_new, "cuts keep away from edges");
    }
    remove(section, &gone)
}

/// What goes in a column that no wall is near.
fn upright(pieces: &Pieces, column: usize, time_min: f64, gone: &mut Vec<[f64; 2]>) {
    let column = pieces.column(column);
    for (k, piece) in column.iter().enumerate().filter(|(_, piece)| piece.is_source) {
        walk(column, floor_nm(column, k), f64::NEG_INFINITY, time_min, gone);
        if piece.top_nm.is_finite() {
            walk(column, piece.top_nm, f64::INFINITY, time_min, gone);
        }
    }
}
