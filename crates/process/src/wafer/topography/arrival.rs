//! The nodes of an etch: columns near walls, levels of height, and how long a front needs
//! between them.

use super::super::Section;
use super::isotropic::Ions;
use super::pieces::{Pieces, floor_nm, is_same};

/// Levels over the etch's reach,
pub(super) const LEVELS: f64 = 30.0;

/// their spacing in nm at the finest and the coarsest,
pub(super) const FINEST_NM: f64 = 2.5;
pub(super) const COARSEST_NM: f64 = 10.0;

/// and how many there are at most before thin layers get theirs.
pub(super) const MOST_LEVELS: f64 = 600.0;

/// Open space from which the etch starts, or the floor that ions have come to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rectangle {
    /// When it is there.
    pub(super) start_min: f64,
    pub(super) x_nm: [f64; 2],
    pub(super) z_nm: [f64; 2],
}

/// Times at which the front comes to nodes: the middles of the columns that walls are near, at
/// every level. Node `column * levels + level`.
#[derive(Clone, Debug)]
pub(super) struct Field {
    /// The section's columns that have nodes.
    pub(super) columns: Vec<usize>,
    /// The other way round.
    places: Vec<Option<usize>>,
    /// Whether the next column of the field is the neighbor.
    pub(super) linked: Vec<bool>,
    pub(super) center_nm: Vec<f64>,
    pub(super) half_nm: Vec<f64>,
    pub(super) levels_nm: Vec<f64>,
    /// Usual spacing of levels in nm.
    pub(super) spacing_nm: f64,
    /// Minutes per nm.
    pub(super) slowness: Vec<f64>,
    /// Whether the etchant is there from the start.
    pub(super) is_source: Vec<bool>,
    /// Minutes to the next level above.
    pub(super) rise_min: Vec<f64>,
    /// Whether the slowness is one up to the next level.
    pub(super) is_even: Vec<bool>,
    pub(super) time_min: Vec<f64>,
    /// Whence the front came: below the number of nodes a node, above it a rectangle.
    pub(super) origin: Vec<u32>,
    pub(super) is_final: Vec<bool>,
    /// Whether ions came first, through the column's whole width.
    pub(super) is_bared: Vec<bool>,
    pub(super) rectangles: Vec<Rectangle>,
}

impl Field {
    /// The nodes for an etch that reaches as far as `reach_nm`.
    pub(super) fn new(
        section: &Section,
        pieces: &Pieces,
        reach_nm: f64,
        ions: Option<&Ions<'_>>,
    ) -> Self {
        let columns = near_walls(section, pieces, reach_nm);
        let mut places = vec![None; section.columns()];
        for (at, &i) in columns.iter().enumerate() {
            places[i] = Some(at);
        }
        let (levels_nm, spacing_nm) = levels(pieces, &columns, reach_nm, ions);
        let n = columns.len() * levels_nm.len();
        let mut field = Self {
            linked: columns.windows(2).map(|pair| pair[0] + 1 == pair[1]).collect(),
            center_nm: columns.iter().map(|&i| section.center_nm(i)).collect(),
            half_nm: columns.iter().map(|&i| 0.5 * section.width_nm(i)).collect(),
            places,
            columns,
            levels_nm,
            spacing_nm,
            slowness: Vec::with_capacity(n),
            is_source: Vec::with_capacity(n),
            rise_min: Vec::with_capacity(n),
            is_even: Vec::with_capacity(n),
            time_min: vec![f64::INFINITY; n],
            origin: vec![0; n],
            is_final: vec![false; n],
            is_bared: vec![false; n],
            rectangles: Vec::new(),
        };
        for at in 0..field.columns.len() {
            field.fill_column(section, pieces, at);
        }
        field
    }

    /// Number of levels.
    pub(super) fn levels(&self) -> usize {
        self.levels_nm.len()
    }

    /// The place of a column of the section among those of the field.
    pub(super) fn place(&self, column: usize) -> Option<usize> {
        self.places[column]
    }

    /// The nodes of one column.
    fn fill_column(&mut self, section: &Section, pieces: &Pieces, at: usize) {
        let i = self.columns[at];
        let column = pieces.column(i);
        let start = self.slowness.len();
        let n = u32::try_from(self.time_min.len()).unwrap_or(u32::MAX);
        let x_nm = [section.edges_nm()[i], section.edges_nm()[i + 1]];
        let mut piece = 0;
        let mut rectangle_of = None;
        for (k, &z_nm) in self.levels_nm.iter().enumerate() {
            // From the level below up to here.
            let mut rise_min = 0.0;
            let mut is_even = true;
            let below = column[piece].slowness;
            let mut low_nm =
                k.checked_sub(1).map_or(z_nm, |before| self.levels_nm[before]);
            while column[piece].top_nm < z_nm {
                let end_nm = column[piece].top_nm;
                if low_nm < end_nm && column[piece].slowness != 0.0 {
                    rise_min += (end_nm - low_nm) * column[piece].slowness;
                }
                low_nm = low_nm.max(end_nm);
                piece += 1;
                is_even &= is_same(column[piece].slowness, below);
            }
            let here = column[piece];
            if low_nm < z_nm && here.slowness != 0.0 {
                rise_min += (z_nm - low_nm) * here.slowness;
            }
            if 0 < k {
                self.rise_min.push(rise_min);
                self.is_even.push(is_even);
            }
            self.slowness.push(here.slowness);
            self.is_source.push(here.is_source);
            if here.is_source {
                if rectangle_of != Some(piece) {
                    rectangle_of = Some(piece);
                    let z_nm = [floor_nm(column, piece), here.top_nm];
                    self.rectangles.push(Rectangle { start_min: 0.0, x_nm, z_nm });
                }
                let rectangle = u32::try_from(self.rectangles.len() - 1).unwrap_or(0);
                self.origin[start + k] = n + rectangle;
                self.time_min[start + k] = 0.0;
                self.is_final[start + k] = true;
            }
        }
        self.rise_min.push(f64::INFINITY);
        self.is_even.push(false);
    }
}

/// The columns in which the front may not be level: those within reach of a change between two
/// columns, and of gas that is shut in, through which a front spreads at once.
fn near_walls(section: &Section, pieces: &Pieces, reach_nm: f64) -> Vec<usize> {
    let columns = section.columns();
    let edges_nm = section.edges_nm();
    let holds_gas = |i: usize| pieces.column(i).iter().any(|p| p.is_open && !p.is_source);
    let differ = |i: usize| {
        let (a, b) = (pieces.column(i - 1), pieces.column(i));
        // How high a mask stands under the sky is nothing to an etch.
        let under_sky = a.len().saturating_sub(2);
        a.len() != b.len()
            || a.iter().zip(b).enumerate().any(|(k, (a, b))| {
                let is_mask = k == under_sky && a.slowness.is_infinite();
                !is_same(a.slowness, b.slowness)
                    || a.is_source != b.is_source
                    || (!is_mask && 1e-9 < (a.top_nm - b.top_nm).abs())
            })
            || holds_gas(i - 1)
            || holds_gas(i)
    };
    let walls_nm: Vec<f64> =
        (1..columns).filter(|&i| differ(i)).map(|i| edges_nm[i]).collect();
    let reach_nm = 1.001 * reach_nm + 1e-6;
    (0..columns)
        .filter(|&i| {
            let next = walls_nm.partition_point(|&x| x <= edges_nm[i]);
            let before = next.checked_sub(1).map(|k| walls_nm[k]);
            before.is_some_and(|x| edges_nm[i] - x < reach_nm)
                || walls_nm.get(next).is_some_and(|x| x - edges_nm[i + 1] < reach_nm)
        })
        .collect()
}

/// Levels in nm and their usual spacing: even over all that can be reached, and one in every
/// layer that is thinner.
fn levels(
    pieces: &Pieces,
    columns: &[usize],
    reach_nm: f64,
    ions: Option<&Ions<'_>>,
) -> (Vec<f64>, f64) {
    let (mut lowest_open, mut lowest_solid, mut highest) =
        (ions.map_or(f64::INFINITY, Ions::lowest_nm), f64::INFINITY, f64::NEG_INFINITY);
    for &i in columns {
        let column = pieces.column(i);
        for (k, piece) in column.iter().enumerate() {
            if piece.is_source {
                lowest_open = lowest_open.min(floor_nm(column, k));
            } else if piece.slowness.is_finite() {
                lowest_solid = lowest_solid.min(floor_nm(column, k));
                highest = highest.max(piece.top_nm);
            }
        }
    }
    if columns.is_empty() || highest == f64::NEG_INFINITY {
        return (Vec::new(), COARSEST_NM);
    }
    let lowest = (lowest_open - reach_nm).max(lowest_solid).min(highest);
    let range_nm = highest - lowest;
    let spacing_nm =
        (reach_nm / LEVELS).clamp(FINEST_NM, COARSEST_NM).max(range_nm / MOST_LEVELS);
    let count = crate::num::to_count((range_nm / spacing_nm).ceil()) + 2;
    // Off round heights, on which borders of layers lie.
    let first_nm = (lowest / spacing_nm).floor() * spacing_nm - 0.63 * spacing_nm;
    let mut levels_nm: Vec<f64> = Vec::with_capacity(count + 16);
    let mut z_nm = first_nm;
    let mut step = 0.0;
    while z_nm <= highest + spacing_nm {
        levels_nm.push(z_nm);
        step += 1.0;
        z_nm = first_nm + step * spacing_nm;
    }
    let thin = in_thin_layers(pieces, columns, &levels_nm, lowest);
    if !thin.is_empty() {
        levels_nm.extend(thin);
        crate::num::sort_increasing(&mut levels_nm);
        levels_nm.dedup_by(|later, earlier| *later - *earlier < 1e-7);
    }
    (levels_nm, spacing_nm)
}

/// A level in every piece that has none, as few as can be.
fn in_thin_layers(
    pieces: &Pieces,
    columns: &[usize],
    levels_nm: &[f64],
    lowest: f64,
) -> Vec<f64> {
    // The middle half of every such piece.
    let mut thin: Vec<[f64; 2]> = Vec::new();
    let mut before = 0;
    for &i in columns {
        let column = pieces.column(i);
        let start = thin.len();
        for k in 1..column.len() - 1 {
            let (low, high) = (column[k - 1].top_nm, column[k].top_nm);
            let first = levels_nm.partition_point(|&z| z <= low);
            let has_level = levels_nm.get(first).is_some_and(|&z| z <= high);
            let is_near = lowest <= high && low <= levels_nm[levels_nm.len() - 1];
            if has_level || !is_near || column[k].slowness.is_infinite() {
                continue;
            }
            let quarter = 0.25 * (high - low);
            let middle = [low + quarter, high - quarter];
            if !thin[before..].contains(&middle) {
                thin.push(middle);
            }
        }
        if start < thin.len() {
            before = start;
        }
    }
    thin.sort_unstable_by(|a, b| a[1].total_cmp(&b[1]));
    let mut chosen = Vec::new();
    // What all pieces of a group share.
    let mut shared: Option<[f64; 2]> = None;
    for [low, high] in thin {
        shared = match shared {
            Some([a, b]) if low <= b => Some([a.max(low), b.min(high)]),
            Some([a, b]) => {
                chosen.push(0.5 * (a + b));
                Some([low, high])
            }
            None => Some([low, high]),
        };
    }
    chosen.extend(shared.map(|[a, b]| 0.5 * (a + b)));
    chosen
}
