//! Resist that is opened.

use super::super::Section;
use super::super::lattice::on_grid_nm;
use super::removal::{Removed, remove};
use super::spans::Spans;
use crate::vocabulary::Material;

/// Sloped walls are cut into this many columns,
pub(super) const WALL_COLUMNS: usize = 8;

/// of at least this width in nm.
pub(super) const NARROWEST_NM: f64 = 2.0;

/// Resist that a development left, as it would be on flat ground.
#[derive(Clone, Debug, PartialEq)]
pub struct ResistSurface {
    /// Thickness of the film before development in nm.
    pub film_nm: f64,
    /// Thickness left in nm against x in nm, from left to right, straight lines between; two
    /// points at the same x are an upright wall. Outside, the first and the last one hold.
    pub points: Vec<(f64, f64)>,
}

/// Removes the resist between the two x of every opening, in nm, with upright walls exactly
/// there (or at an edge within half a nanometer).
pub fn pattern_resist(section: &mut Section, openings: &[(f64, f64)]) -> Removed {
    for &(from_nm, to_nm) in openings {
        section.split_at(from_nm);
        section.split_at(to_nm);
    }
    let mut spans = Spans::new();
    for i in 0..section.columns() {
        let x_nm = section.center_nm(i);
        if openings.iter().any(|&(from, to)| from < x_nm && x_nm < to) {
            each_resist(section, i, |span| spans.push(span));
        }
        spans.end_column();
    }
    remove(section, &spans)
}

/// Gives every layer of resist of a column to `take`.
fn each_resist(section: &Section, column: usize, mut take: impl FnMut([f64; 2])) {
    for (k, layer) in section.layers(column).iter().enumerate() {
        if layer.matter.material() == Some(Material::Resist) {
            take([section.floor_nm(column, k), layer.top_nm]);
        }
    }
}

/// Removes resist down to a developed surface.
///
/// Where the resist is thicker or thinner than on flat ground, the same share of it stays. The
/// mean of the surface over a column is exact.
pub fn carve_resist(section: &mut Section, surface: &ResistSurface) -> Removed {
    let is_film = surface.film_nm.is_finite() && 0.0 < surface.film_nm;
    if surface.points.is_empty() || !is_film {
        return Removed::default();
    }
    let surface = &surface.on_grid();
    for x_nm in surface.wall_edges_nm() {
        section.split_at(x_nm);
    }
    let mut spans = Spans::new();
    for i in 0..section.columns() {
        let edges_nm = section.edges_nm();
        let left = surface.mean_share(edges_nm[i], edges_nm[i + 1]);
        if left < 1.0 {
            each_resist(section, i, |[floor_nm, top_nm]| {
                spans.push([floor_nm + left * (top_nm - floor_nm), top_nm]);
            });
        }
        spans.end_column();
    }
    remove(section, &spans)
}

impl ResistSurface {
    /// With its points where edges can lie, so that an upright wall stands on one.
    fn on_grid(&self) -> Self {
        let points = self.points.iter().map(|&(x_nm, z_nm)| (on_grid_nm(x_nm), z_nm));
        Self { points: points.collect(), ..*self }
    }

    /// Share of the film that is left at a point.
    fn share(&self, left_nm: f64) -> f64 {
        (left_nm / self.film_nm).clamp(0.0, 1.0)
    }

    /// Mean share of the film that is left between two x.
    fn mean_share(&self, from_nm: f64, to_nm: f64) -> f64 {
        let points = &self.points;
        let (Some(first), Some(last)) = (points.first(), points.last()) else {
            return 1.0;
        };
        // The parts outside the points, then every line between two.
        let mut sum = (first.0.min(to_nm) - from_nm).max(0.0) * self.share(first.1)
            + (to_nm - last.0.max(from_nm)).max(0.0) * self.share(last.1);
        for pair in points.windows(2) {
            let [(x0, z0), (x1, z1)] = [pair[0], pair[1]];
            let (a, b) = (x0.max(from_nm), x1.min(to_nm));
            if a < b {
                let at = |x: f64| {
                    self.share(z0)
                        + (self.share(z1) - self.share(z0)) * (x - x0) / (x1 - x0)
                };
                sum += (b - a) * 0.5 * (at(a) + at(b));
            }
        }
        sum / (to_nm - from_nm)
    }

    /// Where edges of columns are wanted: the head and the foot of every wall and some between.
    fn wall_edges_nm(&self) -> Vec<f64> {
        const FULL: f64 = 0.995;
        const GONE: f64 = 0.005;
        let mut edges_nm = Vec::new();
        let mut head_nm: Option<f64> = None;
        let kind = |share: f64| {
            if share <= GONE {
                0
            } else if FULL <= share {
                2
            } else {
                1
            }
        };
        // Runs of points that are neither full nor gone, with the points beside them.
        for pair in self.points.windows(2) {
            let [(x0, z0), (x1, z1)] = [pair[0], pair[1]];
            let (a, b) = (kind(self.share(z0)), kind(self.share(z1)));
            if a != b || a == 1 {
                let from_nm = *head_nm.get_or_insert(x0);
                if b != 1 {
                    edges_nm.extend(cut(from_nm, x1));
                    head_nm = None;
                }
            }
        }
        edges_nm
    }
}

/// The ends of a wall and edges between them.
fn cut(from_nm: f64, to_nm: f64) -> Vec<f64> {
    let parts = ((to_nm - from_nm) / NARROWEST_NM).floor();
    let parts = crate::num::to_count(parts).clamp(1, WALL_COLUMNS);
    crate::num::linspace(from_nm, to_nm, parts + 1)
}
