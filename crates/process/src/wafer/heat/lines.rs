//! Diffusion along eight lines at once: columns of cells in depth, or rows of cells in x.
//!
//! A line is a chain of cells with a volume each and a link between neighbors. Eight of them lie
//! side by side in memory, so that every loop over [`Lanes`] becomes a few vector instructions.
//! The flux is that of the one-dimensional solver: `J = -(D/m) d(A m)/dx` with the carriers `m`
//! that the dopant itself brings and its active part `A`, both taken from the pass before. All
//! matrices are M-matrices, so that backward Euler keeps every concentration positive, and each
//! face's flux leaves one cell and enters the next, so that no atom is lost.

use super::moment::Mobile;
use crate::diffusion::solver::active_part;

/// Lines that are solved together.
pub(super) const LANES: usize = 8;

/// One value for each of the lines.
pub(super) type Lanes = [f64; LANES];

/// `1 - 1/sqrt(2)`: the diagonal of the two-stage method of order two that damps every fast
/// mode (R. Alexander, SIAM J. Numer. Anal. 14, 1006, 1977; memory; order checked by test).
pub(super) const DIAGONAL: f64 = 1.0 - core::f64::consts::FRAC_1_SQRT_2;

/// Below this share of the active limit the active part needs no iteration: `1 - c^3` is off by
/// `4 c^6` (derived).
pub(super) const DILUTE: f64 = 0.01;

/// What happens at the surface end of the lines for one dopant.
#[derive(Clone, Copy, Debug)]
pub(super) enum End {
    /// Nothing passes.
    Closed,
    /// A source holds `surface_cm3` half a cell above the first cell of the open lines.
    Held {
        /// Concentration at the surface per cm3.
        surface_cm3: f64,
        /// The first cell of each open line; beyond the end for the others.
        first: [usize; LANES],
    },
    /// An oxide grows and takes up its share of the concentration at the interface.
    Oxide {
        /// What grows in the time of the solve by line, in nm.
        grown_nm: Lanes,
        /// The first cell of each line.
        first: [usize; LANES],
    },
}

/// The state of eight lines.
#[derive(Clone, Debug, Default)]
pub(super) struct Lines {
    /// Volume of each cell.
    pub(super) volume: Vec<Lanes>,
    /// Area over distance between each cell and the next.
    pub(super) link: Vec<Lanes>,
    /// Concentration of each dopant per cm3.
    pub(super) values: Vec<Vec<Lanes>>,
    /// Factor on the diffusivity of each dopant at each cell; empty: 1.
    pub(super) boost: Vec<Vec<Lanes>>,
    pub(super) start: Vec<Vec<Lanes>>,
    pub(super) base: Vec<Vec<Lanes>>,
    /// Active share of each dopant; empty where all is active.
    share: Vec<Vec<Lanes>>,
    ratio: Vec<Lanes>,
    inverse: Vec<Lanes>,
    ones: Vec<Lanes>,
    product: Vec<Lanes>,
    upper: Vec<Lanes>,
    right: Vec<Lanes>,
}

impl Lines {
    /// Makes room for `nodes` cells and `dopants` dopants.
    pub(super) fn resize(&mut self, nodes: usize, dopants: usize) {
        let zero = [0.0; LANES];
        for list in [
            &mut self.volume,
            &mut self.link,
            &mut self.ratio,
            &mut self.inverse,
            &mut self.product,
            &mut self.upper,
            &mut self.right,
        ] {
            list.resize(nodes, zero);
        }
        self.ones.resize(nodes, [1.0; LANES]);
        for lists in [&mut self.values, &mut self.start, &mut self.base, &mut self.share]
        {
            lists.resize(dopants, Vec::new());
            for list in lists {
                list.resize(nodes, zero);
            }
        }
    }

    /// Takes a step of `dt_s` by two stages of second order, in each of which the carriers are
    /// brought up to date `passes` times. `reach[d]` is the number of cells of dopant `d` that change (0:
    /// none); `ends[d]` its surface. Gives what the sources supplied, by dopant and line, in
    /// volumes times concentration.
    pub(super) fn step(
        &mut self,
        mobiles: &[Mobile],
        intrinsic_cm3: f64,
        dt_s: f64,
        passes: u32,
        reach: &[usize],
        ends: &[End],
    ) -> Vec<Lanes> {
        let mut supplied = vec![[0.0; LANES]; mobiles.len()];
        let widest = reach.iter().copied().max().unwrap_or(0);
        for (d, &nodes) in reach.iter().enumerate() {
            self.start[d][..nodes].copy_from_slice(&self.values[d][..nodes]);
        }
        let stage_s = DIAGONAL * dt_s;
        for stage in 0..2 {
            for (d, &nodes) in reach.iter().enumerate() {
                let weight = if stage == 0 { 0.0 } else { (1.0 - DIAGONAL) / DIAGONAL };
                for i in 0..nodes {
                    let (old, now) = (&self.start[d][i], &self.values[d][i]);
                    let base = &mut self.base[d][i];
                    for l in 0..LANES {
                        base[l] = old[l] + weight * (now[l] - old[l]);
                    }
                }
            }
            for pass in 0..passes {
                self.carriers(mobiles, intrinsic_cm3, widest);
                for (d, &nodes) in reach.iter().enumerate() {
                    if nodes == 0 {
                        continue;
                    }
                    let flow =
                        self.solve(d, mobiles, intrinsic_cm3, stage_s, nodes, &ends[d]);
                    if pass + 1 == passes {
                        let weight =
                            if stage == 0 { (1.0 - DIAGONAL) / DIAGONAL } else { 1.0 };
                        for l in 0..LANES {
                            supplied[d][l] += weight * flow[l];
                        }
                    }
                }
            }
        }
        if self.negative_lanes(reach).iter().any(|&negative| negative) {
            self.repeat_negative(
                mobiles,
                intrinsic_cm3,
                dt_s,
                reach,
                ends,
                &mut supplied,
            );
        }
        supplied
    }

    /// One backward Euler step from `start`.
    fn euler(
        &mut self,
        mobiles: &[Mobile],
        intrinsic_cm3: f64,
        dt_s: f64,
        reach: &[usize],
        ends: &[End],
        supplied: &mut [Lanes],
    ) {
        let widest = reach.iter().copied().max().unwrap_or(0);
        self.carriers(mobiles, intrinsic_cm3, widest);
        for (d, &nodes) in reach.iter().enumerate() {
            if 0 < nodes {
                self.base[d][..nodes].copy_from_slice(&self.start[d][..nodes]);
                supplied[d] =
                    self.solve(d, mobiles, intrinsic_cm3, dt_s, nodes, &ends[d]);
            }
        }
    }

    /// Which lines hold a negative concentration.
    pub(super) fn negative_lanes(&self, reach: &[usize]) -> [bool; LANES] {
        let mut least = [0.0_f64; LANES];
        for (d, &nodes) in reach.iter().enumerate() {
            for value in &self.values[d][..nodes] {
                for l in 0..LANES {
                    least[l] = least[l].min(value[l]);
                }
            }
        }
        least.map(|least| least < 0.0)
    }

    /// Takes the step again by backward Euler in the lines that came out negative.
    fn repeat_negative(
        &mut self,
        mobiles: &[Mobile],
        intrinsic_cm3: f64,
        dt_s: f64,
        reach: &[usize],
        ends: &[End],
        supplied: &mut [Lanes],
    ) {
        let negative = self.negative_lanes(reach);
        let kept: Vec<Vec<Lanes>> = reach
            .iter()
            .enumerate()
            .map(|(d, &nodes)| self.values[d][..nodes].to_vec())
            .collect();
        for (d, &nodes) in reach.iter().enumerate() {
            self.values[d][..nodes].copy_from_slice(&self.start[d][..nodes]);
        }
        let mut again = vec![[0.0; LANES]; mobiles.len()];
        self.euler(mobiles, intrinsic_cm3, dt_s, reach, ends, &mut again);
        for l in (0..LANES).filter(|&l| !negative[l]) {
            for (d, kept) in kept.iter().enumerate() {
                again[d][l] = supplied[d][l];
                for (value, kept) in self.values[d].iter_mut().zip(kept) {
                    value[l] = kept[l];
                }
            }
        }
        supplied.copy_from_slice(&again);
    }

    /// Electrons over intrinsic carriers, and the active shares, at the present concentrations.
    pub(super) fn carriers(
        &mut self,
        mobiles: &[Mobile],
        intrinsic_cm3: f64,
        nodes: usize,
    ) {
        let per_two_ni = 0.5 / intrinsic_cm3;
        for i in 0..nodes {
            let mut half = [0.0; LANES];
            for (d, mobile) in mobiles.iter().enumerate() {
                let c = &self.values[d][i];
                let factor = mobile.charge * per_two_ni;
                if 0.0 < mobile.limit_cm3 {
                    let share = active_shares(c, mobile.limit_cm3);
                    self.share[d][i] = share;
                    for l in 0..LANES {
                        half[l] += factor * share[l] * c[l];
                    }
                } else {
                    for l in 0..LANES {
                        half[l] += factor * c[l];
                    }
                }
            }
            let (ratio, inverse) = (&mut self.ratio[i], &mut self.inverse[i]);
            for l in 0..LANES {
                let larger = half[l].abs() + (half[l] * half[l] + 1.0).sqrt();
                let smaller = 1.0 / larger;
                let is_n = 0.0 <= half[l];
                ratio[l] = if is_n { larger } else { smaller };
                inverse[l] = if is_n { smaller } else { larger };
            }
        }
    }

    /// Smallest and largest ratio of electrons in the first `nodes` cells.
    pub(super) fn ratio_range(&self, nodes: usize) -> (f64, f64) {
        let mut range = ([f64::INFINITY; LANES], [0.0_f64; LANES]);
        for (ratio, volume) in self.ratio[..nodes].iter().zip(&self.link) {
            for l in 0..LANES {
                if 0.0 < volume[l] {
                    range.0[l] = range.0[l].min(ratio[l]);
                    range.1[l] = range.1[l].max(ratio[l]);
                }
            }
        }
        let least = range.0.iter().copied().fold(f64::INFINITY, f64::min);
        (least, range.1.iter().copied().fold(0.0, f64::max))
    }

    /// Solves one dopant for a time `tau_s` from `base`; gives what its source supplied.
    pub(super) fn solve(
        &mut self,
        d: usize,
        mobiles: &[Mobile],
        intrinsic_cm3: f64,
        tau_s: f64,
        nodes: usize,
        end: &End,
    ) -> Lanes {
        let mobile = &mobiles[d];
        let own = if 0.0 < mobile.charge {
            &self.ratio
        } else if mobile.charge < 0.0 {
            &self.inverse
        } else {
            &self.ones
        };
        let product = if 0.0 < mobile.limit_cm3 {
            let parts = own[..nodes].iter().zip(&self.share[d]);
            for (product, (m, share)) in self.product.iter_mut().zip(parts) {
                for l in 0..LANES {
                    product[l] = m[l] * share[l];
                }
            }
            &self.product
        } else {
            own
        };
        let held = held_edge(
            mobiles,
            d,
            intrinsic_cm3,
            tau_s,
            &self.values,
            &self.volume,
            own,
            product,
            end,
        );
        let [two_neutral, single, double] = mobile.weights(tau_s);
        let boost = self.boost.get(d).map(Vec::as_slice);
        let (volume, link, base) =
            (&self.volume[..nodes], &self.link[..nodes], &self.base[d][..nodes]);
        let (own, product) = (&own[..nodes], &product[..nodes]);
        let (upper, right) = (&mut self.upper[..nodes], &mut self.right[..nodes]);
        // Of the cell above: coupling times its product, its eliminated row.
        let mut above = [0.0; LANES];
        let mut above_product = [0.0; LANES];
        let mut above_upper = [0.0; LANES];
        let mut above_right = [0.0; LANES];
        for i in 0..nodes {
            let mut here = [0.0; LANES];
            let mut next_product = [0.0; LANES];
            if i + 1 < nodes {
                let (a, b) = (&own[i], &own[i + 1]);
                next_product = product[i + 1];
                for l in 0..LANES {
                    let (a, b) = (a[l], b[l]);
                    let square = a * a + a * b + b * b;
                    here[l] =
                        link[i][l] * ((two_neutral + double * square) / (a + b) + single);
                }
                if let Some(boost) = boost {
                    for l in 0..LANES {
                        here[l] *= 0.5 * (boost[i][l] + boost[i + 1][l]);
                    }
                }
            }
            let (p, v, b) = (&product[i], &volume[i], &base[i]);
            let (upper, right) = (&mut upper[i], &mut right[i]);
            let mut diagonal = [0.0; LANES];
            let mut known = [0.0; LANES];
            for l in 0..LANES {
                diagonal[l] = v[l] + (above[l] + here[l]) * p[l];
                known[l] = v[l] * b[l];
            }
            if i < held.nodes {
                for l in 0..LANES {
                    if held.first[l] == i {
                        diagonal[l] += held.diagonal[l];
                        known[l] += held.known[l];
                    }
                }
            }
            for l in 0..LANES {
                let lower = above[l] * above_product[l];
                let per_pivot = 1.0 / (diagonal[l] - lower * above_upper[l]);
                right[l] = (known[l] + lower * above_right[l]) * per_pivot;
                upper[l] = here[l] * next_product[l] * per_pivot;
            }
            above = here;
            above_product = *p;
            above_upper = *upper;
            above_right = *right;
        }
        let values = &mut self.values[d][..nodes];
        let mut below = [0.0; LANES];
        for i in (0..nodes).rev() {
            let (value, upper, right) = (&mut values[i], &upper[i], &right[i]);
            for l in 0..LANES {
                value[l] = right[l] + upper[l] * below[l];
            }
            below = *value;
        }
        let mut supplied = [0.0; LANES];
        for l in 0..LANES {
            if held.first[l] < nodes {
                supplied[l] = held.known[l] - held.diagonal[l] * values[held.first[l]][l];
            }
        }
        supplied
    }
}

/// Terms of the surface in the first cells' equations.
struct Edge {
    /// Cells below this one have none.
    nodes: usize,
    first: [usize; LANES],
    diagonal: Lanes,
    known: Lanes,
}

#[expect(
    clippy::too_many_arguments,
    reason = "the parts of the lines that are borrowed apart"
)]
fn held_edge(
    mobiles: &[Mobile],
    d: usize,
    intrinsic_cm3: f64,
    tau_s: f64,
    values: &[Vec<Lanes>],
    volume: &[Lanes],
    own: &[Lanes],
    product: &[Lanes],
    end: &End,
) -> Edge {
    let mut edge = Edge {
        nodes: 0,
        first: [usize::MAX; LANES],
        diagonal: [0.0; LANES],
        known: [0.0; LANES],
    };
    match *end {
        End::Closed => {}
        End::Oxide { grown_nm, first } => {
            edge.first = first;
            for l in 0..LANES {
                let Some(height) = volume.get(first[l]).map(|v| v[l]) else { continue };
                let dt_nm2 = tau_s * mobiles[d].at(own[first[l]][l]);
                let m = mobiles[d].segregation;
                edge.diagonal[l] = uptake_nm(m, dt_nm2, 0.5 * height, grown_nm[l]);
            }
        }
        End::Held { surface_cm3, first } => {
            edge.first = first;
            for l in 0..LANES {
                let i = first[l];
                let Some(height) = volume.get(i).map(|v| v[l]) else { continue };
                let at = |other: usize| {
                    if other == d { surface_cm3 } else { values[other][i][l] }
                };
                let net: f64 = mobiles
                    .iter()
                    .enumerate()
                    .map(|(k, mobile)| {
                        mobile.charge * active_part(at(k), mobile.limit()).0
                    })
                    .sum();
                let (ratio, _) = crate::diffusion::solver::electrons(net, intrinsic_cm3);
                let mobile = &mobiles[d];
                let a = mobile.own_carriers(ratio);
                let b = own[i][l];
                let [two_neutral, single, double] = mobile.weights(tau_s);
                let square = a * a + a * b + b * b;
                let coupling =
                    2.0 / height * ((two_neutral + double * square) / (a + b) + single);
                edge.diagonal[l] = coupling * product[i][l];
                edge.known[l] = coupling * a * active_part(surface_cm3, mobile.limit()).0;
            }
        }
    }
    edge.nodes =
        edge.first.iter().filter(|&&i| i < volume.len()).max().map_or(0, |&i| i + 1);
    edge
}

/// Height of silicon in nm whose atoms the oxide takes as it grows by `grown_nm`: `1/m` of the
/// concentration at the interface, which follows from that in the middle of the first cell,
/// half a cell deeper, by the flux between them.
///
/// # Model
/// The interface passes `C(0)/m - 0.44 C(0)` per grown oxide to the silicon's frame, so that
/// `C(0) = C / (1 + h (1/m - 0.44) v / D)` (derived); the factor is held between 0.5 and 2,
/// which it leaves only where the step in time is too long for the cell.
fn uptake_nm(segregation: f64, dt_nm2: f64, half_nm: f64, grown_nm: f64) -> f64 {
    if grown_nm <= 0.0 {
        return 0.0;
    }
    let per_m = 1.0 / segregation;
    let slope = half_nm * (per_m - crate::constants::SILICON_PER_OXIDE) * grown_nm;
    let factor = if 0.0 < dt_nm2 { 1.0 / (1.0 + slope / dt_nm2).max(0.5) } else { 1.0 };
    per_m * grown_nm * factor.clamp(0.5, 2.0)
}

/// Active over whole concentration.
fn active_shares(c_cm3: &Lanes, limit_cm3: f64) -> Lanes {
    let per_limit = 1.0 / limit_cm3;
    let mut share = [1.0; LANES];
    let mut most = 0.0_f64;
    for l in 0..LANES {
        let c = c_cm3[l] * per_limit;
        most = most.max(c);
        share[l] = 1.0 - c * c * c;
    }
    if DILUTE < most {
        for l in 0..LANES {
            if DILUTE < c_cm3[l] * per_limit {
                share[l] = active_part(c_cm3[l], Some(limit_cm3)).0 / c_cm3[l];
            }
        }
    }
    share
}

impl Lines {
    /// Electrons over intrinsic carriers in a cell of a line.
    pub(super) fn ratio_at(&self, node: usize, lane: usize) -> f64 {
        self.ratio[node][lane]
    }
}
