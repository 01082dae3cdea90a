//! The front at a time: outlines and widths.

use super::front::Section;

/// Times at which the front reaches the nodes of a section, with nodes on all four sides.
#[derive(Clone, Debug)]
pub(super) struct Field {
    pub(super) x_um: Vec<f64>,
    pub(super) z_nm: Vec<f64>,
    /// Column by column from the left, each from the top.
    time_s: Vec<f64>,
}

/// A front as one line from left to right; where the resist is open it runs along the bottom.
#[derive(Clone, Debug, Default)]
pub(super) struct Outline {
    pub(super) x_um: Vec<f64>,
    pub(super) z_nm: Vec<f64>,
}

/// How far a drawn front may lie from the computed one in nm: a fifth of the usual cell.
const THINNED_NM: f64 = 1.0;

impl Outline {
    /// The line with fewer points: none that is left out lies further than [`THINNED_NM`] from it
    /// (D. H. Douglas, T. K. Peucker, Cartographica 10, 112, 1973; memory).
    fn thinned(self) -> Self {
        let last = self.x_um.len().saturating_sub(1);
        let point = |i: usize| [1e3 * self.x_um[i], self.z_nm[i]];
        let mut keep = vec![false; last + 1];
        keep[0] = true;
        let mut open = vec![[0, last]];
        while let Some([a, b]) = open.pop() {
            keep[b] = true;
            let ([ax, az], [bx, bz]) = (point(a), point(b));
            let (dx, dz) = (bx - ax, bz - az);
            let square = dx * dx + dz * dz;
            let off = |i: usize| {
                let [x, z] = point(i);
                let along = if 0.0 < square {
                    (((x - ax) * dx + (z - az) * dz) / square).clamp(0.0, 1.0)
                } else {
                    0.0
                };
                let (ex, ez) = (x - ax - along * dx, z - az - along * dz);
                ex * ex + ez * ez
            };
            let far = (a + 1..b).map(|i| (off(i), i));
            let Some((most, i)) = far.max_by(|a, b| a.0.total_cmp(&b.0)) else {
                continue;
            };
            if THINNED_NM * THINNED_NM < most {
                open.extend([[a, i], [i, b]]);
            }
        }
        let kept = |list: &[f64]| {
            list.iter().zip(&keep).filter(|(_, keep)| **keep).map(|(v, _)| *v).collect()
        };
        Self { x_um: kept(&self.x_um), z_nm: kept(&self.z_nm) }
    }
}

/// Stands for a time that was not computed: late enough for every developer.
const NEVER_S: f64 = 1e12;

/// Time at which the front reaches the foot of a column: half a cell below the last middle, at
/// the pace of the last cell. Where the front comes from the side it is there almost at once,
/// and it never needs more than the half cell's own time.
fn foot_s(column: &[f64], half_cell_s: f64) -> f64 {
    let &[.., before, last] = column else { return NEVER_S };
    let pace = 0.5 * (last - before);
    let more = if pace.is_finite() { pace.clamp(0.0, half_cell_s) } else { half_cell_s };
    (last + more).min(NEVER_S)
}

impl Field {
    /// The field of a section whose columns' middles are `x_um`; mirrored about 0 if only its right
    /// half was computed.
    pub(super) fn new(
        section: &Section,
        x_um: &[f64],
        time_s: &[f64],
        rate_nm_s: &[f64],
        symmetric: bool,
    ) -> Self {
        let rows = section.rows;
        let half_um = 0.5e-3 * section.dx_nm;
        let right = x_um.iter().enumerate().map(|(i, &x)| (x, i));
        let mut columns: Vec<(f64, usize)> = if symmetric {
            right.clone().rev().map(|(x, i)| (-x, i)).chain(right).collect()
        } else {
            right.collect()
        };
        if let (Some(&(first, i)), Some(&(last, j))) = (columns.first(), columns.last()) {
            columns.insert(0, (first - half_um, i));
            columns.push((last + half_um, j));
        }
        let mut z_nm = vec![0.0];
        let mut depth = 0.5 * section.dz_nm;
        for _ in 0..rows {
            z_nm.push(depth);
            depth += section.dz_nm;
        }
        z_nm.push(depth - 0.5 * section.dz_nm);
        let mut times = Vec::with_capacity(columns.len() * (rows + 2));
        for &(_, i) in &columns {
            let column = &time_s[i * rows..(i + 1) * rows];
            times.push(0.0);
            times.extend(column.iter().map(|time| time.min(NEVER_S)));
            times.push(foot_s(
                column,
                0.5 * section.dz_nm / rate_nm_s[i * rows + rows - 1],
            ));
        }
        Self { x_um: columns.into_iter().map(|(x, _)| x).collect(), z_nm, time_s: times }
    }

    fn at(&self, i: usize, j: usize) -> f64 {
        self.time_s[i * self.z_nm.len() + j]
    }

    /// Place on the line from `a` to `b` where the time is `time_s`.
    fn between(&self, [a, b]: [usize; 2], time_s: f64) -> [f64; 2] {
        let rows = self.z_nm.len();
        let node = |node: usize| [self.x_um[node / rows], self.z_nm[node % rows]];
        let (from, to) = (self.time_s[a], self.time_s[b]);
        let part = ((time_s - from) / (to - from)).clamp(0.0, 1.0);
        let ([x0, z0], [x1, z1]) = (node(a), node(b));
        [x0 + (x1 - x0) * part, z0 + (z1 - z0) * part]
    }

    /// Depth in nm to which a column is gone from the top.
    fn depth_nm(&self, i: usize, time_s: f64) -> f64 {
        let rows = self.z_nm.len();
        (0..rows - 1)
            .find(|&j| self.at(i, j) <= time_s && time_s < self.at(i, j + 1))
            .map_or(self.z_nm[rows - 1], |j| {
                self.between([i * rows + j, i * rows + j + 1], time_s)[1]
            })
    }

    /// Depth in nm that is gone where the resist lost least.
    pub(super) fn least_depth_nm(&self, time_s: f64) -> f64 {
        (0..self.x_um.len())
            .map(|i| self.depth_nm(i, time_s))
            .fold(f64::INFINITY, f64::min)
    }

    /// Depth in nm that is gone where the resist lost most.
    pub(super) fn most_depth_nm(&self, time_s: f64) -> f64 {
        (0..self.x_um.len()).map(|i| self.depth_nm(i, time_s)).fold(0.0, f64::max)
    }

    /// Times along a depth.
    pub(super) fn level(&self, depth_nm: f64) -> Vec<f64> {
        let rows = self.z_nm.len();
        let above = self.z_nm.partition_point(|&z| z <= depth_nm).clamp(1, rows - 1) - 1;
        let span = self.z_nm[above + 1] - self.z_nm[above];
        let part = ((depth_nm - self.z_nm[above]) / span).clamp(0.0, 1.0);
        (0..self.x_um.len())
            .map(|i| {
                let (low, high) = (self.at(i, above), self.at(i, above + 1));
                low + (high - low) * part
            })
            .collect()
    }

    /// Whether a place is gone at a time, and the walls to its left and right, by the times along
    /// its depth.
    pub(super) fn walls(
        &self,
        level: &[f64],
        place_um: f64,
        time_s: f64,
    ) -> (bool, [Option<f64>; 2]) {
        let n = self.x_um.len();
        let next = self.x_um.partition_point(|&x| x < place_um).clamp(1, n - 1);
        let start = next - 1;
        let span = self.x_um[next] - self.x_um[start];
        let part = ((place_um - self.x_um[start]) / span).clamp(0.0, 1.0);
        let here = level[start] + (level[next] - level[start]) * part;
        let gone = here <= time_s;
        let crossing = |a: usize, b: usize| {
            let part = ((time_s - level[a]) / (level[b] - level[a])).clamp(0.0, 1.0);
            self.x_um[a] + (self.x_um[b] - self.x_um[a]) * part
        };
        let other = |i: usize| (level[i] <= time_s) != gone;
        let right = (next..n).find(|&i| other(i)).map(|i| crossing(i - 1, i));
        let left = (0..=start).rev().find(|&i| other(i)).map(|i| crossing(i, i + 1));
        (gone, [left, right])
    }

    /// The wall nearest to a place, by the times along its depth.
    pub(super) fn wall_near(
        &self,
        level: &[f64],
        place_um: f64,
        time_s: f64,
    ) -> Option<f64> {
        let (_, walls) = self.walls(level, place_um, time_s);
        let off = |wall: &f64| (wall - place_um).abs();
        walls.into_iter().flatten().min_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// The front at a time.
    ///
    /// Marching squares; pockets without a way out are left away.
    ///
    /// It is drawn, not measured: points on a nearly straight line are left out.
    pub(super) fn outline(&self, time_s: f64) -> Outline {
        let (columns, rows) = (self.x_um.len(), self.z_nm.len());
        let is_gone: Vec<bool> = self.time_s.iter().map(|&time| time <= time_s).collect();
        let gone = |node: usize| is_gone[node];
        // A side of a cell by its two nodes, the smaller first.
        let mut ends: Vec<([usize; 2], usize)> = Vec::new();
        let mut count = 0;
        for i in 0..columns - 1 {
            for j in 0..rows - 1 {
                let a = i * rows + j;
                let (b, c, d) = (a + rows, a + rows + 1, a + 1);
                if [b, c, d].iter().all(|&node| gone(node) == gone(a)) {
                    continue;
                }
                let sides = [[a, b], [b, c], [d, c], [a, d]];
                let crossed = sides.map(|[p, q]| gone(p) != gone(q));
                let links: &[[usize; 2]] = match crossed {
                    [true, true, true, true] => {
                        let middle = 0.25
                            * (self.time_s[a]
                                + self.time_s[b]
                                + self.time_s[c]
                                + self.time_s[d]);
                        // The middle belongs to a and c, or to b and d.
                        if (middle <= time_s) == gone(a) {
                            &[[0, 1], [2, 3]]
                        } else {
                            &[[0, 3], [1, 2]]
                        }
                    }
                    [true, true, false, false] => &[[0, 1]],
                    [true, false, true, false] => &[[0, 2]],
                    [true, false, false, true] => &[[0, 3]],
                    [false, true, true, false] => &[[1, 2]],
                    [false, true, false, true] => &[[1, 3]],
                    [false, false, true, true] => &[[2, 3]],
                    _ => &[],
                };
                for [p, q] in links {
                    ends.push((sides[*p], count));
                    ends.push((sides[*q], count));
                    count += 1;
                }
            }
        }
        self.joined(ends, count, time_s)
    }

    fn joined(
        &self,
        mut ends: Vec<([usize; 2], usize)>,
        count: usize,
        time_s: f64,
    ) -> Outline {
        let mut sides = vec![[[0; 2]; 2]; count];
        let mut seen = vec![false; count];
        for &(side, link) in &ends {
            sides[link][usize::from(seen[link])] = side;
            seen[link] = true;
        }
        ends.sort_unstable();
        let of_side = |side: [usize; 2]| {
            let first = ends.partition_point(|end| end.0 < side);
            let last = ends.partition_point(|end| end.0 <= side);
            &ends[first..last]
        };
        let mut used = vec![false; count];
        let mut chains: Vec<Vec<[f64; 2]>> = Vec::new();
        for &(side, link) in &ends {
            if used[link] || of_side(side).len() != 1 {
                continue;
            }
            let mut chain = vec![self.between(side, time_s)];
            let (mut side, mut link) = (side, link);
            loop {
                used[link] = true;
                let [p, q] = sides[link];
                side = if p == side { q } else { p };
                chain.push(self.between(side, time_s));
                let next = of_side(side).iter().find(|(_, other)| !used[*other]);
                match next {
                    Some(&(_, other)) => link = other,
                    None => break,
                }
            }
            chains.push(chain);
        }
        self.in_order(chains)
    }

    /// The pieces from left to right as one line.
    fn in_order(&self, chains: Vec<Vec<[f64; 2]>>) -> Outline {
        let (left, right) = (self.x_um[0], self.x_um[self.x_um.len() - 1]);
        let mut pieces: Vec<Vec<[f64; 2]>> = Vec::new();
        for mut chain in chains {
            let (Some(&[first, _]), Some(&[last, _])) = (chain.first(), chain.last())
            else {
                continue;
            };
            let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
            // Both ends on one side: a pocket at the mirror.
            let pocket =
                [left, right].iter().any(|&side| near(first, side) && near(last, side));
            if pocket {
                continue;
            }
            if last < first {
                chain.reverse();
            }
            pieces.push(chain);
        }
        pieces.sort_by(|a, b| a[0][0].total_cmp(&b[0][0]));
        let bottom = self.z_nm[self.z_nm.len() - 1];
        let mut outline = Outline::default();
        let mut add = |[x, z]: [f64; 2]| {
            outline.x_um.push(x);
            outline.z_nm.push(z);
        };
        if pieces.first().is_none_or(|piece| left + 1e-9 < piece[0][0]) {
            add([left, bottom]);
        }
        let end = pieces.last().and_then(|piece| piece.last()).map_or(left, |end| end[0]);
        for piece in pieces {
            piece.into_iter().for_each(&mut add);
        }
        if end < right - 1e-9 {
            add([right, bottom]);
        }
        outline.thinned()
    }
}
