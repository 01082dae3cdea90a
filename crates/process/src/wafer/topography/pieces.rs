//! The columns of a section as pieces with the time that a front needs for each.

use super::super::{Matter, Section};
use super::rates::Rates;
use super::spans::open_space;
use crate::vocabulary::Material;

/// An interval of a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Piece {
    /// Upper end in nm; infinite for the sky.
    pub(super) top_nm: f64,
    /// Minutes per nm: 0 in open space, infinite in what does not etch.
    pub(super) slowness: f64,
    /// Whether the etchant is there from the start.
    pub(super) is_source: bool,
    /// Whether it is open space.
    pub(super) is_open: bool,
}

/// All columns; each begins with its silicon and ends with the sky.
#[derive(Clone, Debug)]
pub(super) struct Pieces {
    starts: Vec<usize>,
    all: Vec<Piece>,
}

impl Pieces {
    pub(super) fn of(section: &Section, rates: &Rates) -> Self {
        let (reached, _) = open_space(section).split_by_sky();
        let slowness = |matter: Matter| {
            if matter.is_open() { 0.0 } else { 1.0 / rates.nm_min(matter) }
        };
        let silicon = slowness(Matter::of(Material::Silicon));
        let mut pieces = Self { starts: vec![0], all: Vec::new() };
        for i in 0..section.columns() {
            pieces.all.push(Piece {
                top_nm: section.silicon_top_nm(i),
                slowness: silicon,
                is_source: false,
                is_open: false,
            });
            let sources = reached.of(i);
            for layer in section.layers(i) {
                let is_open = layer.matter.is_open();
                let is_source = is_open
                    && sources.iter().any(|&[_, high]| is_same(high, layer.top_nm));
                pieces.all.push(Piece {
                    top_nm: layer.top_nm,
                    slowness: slowness(layer.matter),
                    is_source,
                    is_open,
                });
            }
            pieces.all.push(Piece {
                top_nm: f64::INFINITY,
                slowness: 0.0,
                is_source: true,
                is_open: true,
            });
            pieces.starts.push(pieces.all.len());
        }
        pieces
    }

    pub(super) fn column(&self, column: usize) -> &[Piece] {
        &self.all[self.starts[column]..self.starts[column + 1]]
    }
}

/// Whether two numbers are one and the same: both were copied from it.
pub(super) fn is_same(a: f64, b: f64) -> bool {
    a.total_cmp(&b).is_eq()
}

/// Lower end of a piece of a column.
pub(super) fn floor_nm(column: &[Piece], piece: usize) -> f64 {
    if piece == 0 { f64::NEG_INFINITY } else { column[piece - 1].top_nm }
}

/// The piece at a height; the lower one at a border.
pub(super) fn piece_at(column: &[Piece], z_nm: f64) -> usize {
    column.partition_point(|piece| piece.top_nm < z_nm).min(column.len() - 1)
}

/// Lets a front go up or down a column from `from_nm` as far as `to_nm`, or until the time is
/// over. Adds the solid that went to `gone`; gives the height that was reached.
pub(super) fn walk(
    column: &[Piece],
    from_nm: f64,
    to_nm: f64,
    mut time_min: f64,
    gone: &mut Vec<[f64; 2]>,
) -> f64 {
    let up = from_nm < to_nm;
    let mut z_nm = from_nm;
    let mut at = if up {
        column.partition_point(|piece| piece.top_nm <= z_nm).min(column.len() - 1)
    } else {
        piece_at(column, z_nm)
    };
    loop {
        let piece = column[at];
        let end_nm =
            if up { piece.top_nm.min(to_nm) } else { floor_nm(column, at).max(to_nm) };
        let way_nm = (end_nm - z_nm).abs();
        if 0.0 < way_nm {
            let needed =
                if piece.slowness == 0.0 { 0.0 } else { way_nm * piece.slowness };
            let part_nm = if needed <= time_min {
                way_nm
            } else if piece.slowness.is_finite() {
                time_min / piece.slowness
            } else {
                0.0
            };
            let next_nm = if needed <= time_min {
                end_nm
            } else if up {
                z_nm + part_nm
            } else {
                z_nm - part_nm
            };
            if !piece.is_open && 0.0 < part_nm {
                gone.push([z_nm.min(next_nm), z_nm.max(next_nm)]);
            }
            z_nm = next_nm;
            if time_min < needed {
                return z_nm;
            }
            time_min -= needed;
        }
        if is_same(end_nm, to_nm) {
            return z_nm;
        }
        at = if up { at + 1 } else { at - 1 };
    }
}

/// Minutes that a front needs through a column between two heights.
pub(super) fn crossing_min(column: &[Piece], low_nm: f64, high_nm: f64) -> f64 {
    let mut sum = 0.0;
    let mut at = piece_at(column, low_nm);
    let mut z_nm = low_nm;
    loop {
        let end_nm = column[at].top_nm.min(high_nm);
        if z_nm < end_nm && column[at].slowness != 0.0 {
            sum += (end_nm - z_nm) * column[at].slowness;
        }
        if high_nm <= column[at].top_nm {
            return sum;
        }
        z_nm = z_nm.max(end_nm);
        at += 1;
    }
}
