//! One dopant in eight lines for a time: elimination from the first cell down, and back.

use super::ends::{Edge, End, held_edge};
use super::lines::{LANES, Lanes, Lines};
use super::moment::Moment;

/// Lines that are eliminated side by side: what one cell hands to the next then stays in the
/// processor's registers, of which eight lines need more than there are.
const SIDE: usize = 4;

/// One value for each of the lines that are eliminated side by side.
type Side = [f64; SIDE];

/// Line by line, one product each. Loops over lines do one thing into a value of their own, so
/// that each is a few vector instructions.
fn times<const N: usize>(a: &[f64; N], b: &[f64; N]) -> [f64; N] {
    let mut product = *a;
    for l in 0..N {
        product[l] *= b[l];
    }
    product
}

/// The part of a cell's values that belongs to the lines from `first` on.
fn side(lanes: &Lanes, first: usize) -> &Side {
    lanes[first..].first_chunk().unwrap_or(&[0.0; SIDE])
}

fn side_mut(lanes: &mut Lanes, first: usize) -> &mut [f64] {
    &mut lanes[first..first + SIDE]
}

/// What the equations of one dopant are made of.
struct Equations<'a> {
    volume: &'a [Lanes],
    link: &'a [Lanes],
    /// The dopant's own carriers over intrinsic ones.
    own: &'a [Lanes],
    /// One over the sum of these in a cell and the next.
    per_sum: &'a [Lanes],
    /// Carriers times the active share.
    product: &'a [Lanes],
    boost: Option<&'a [Lanes]>,
    base: &'a [Lanes],
    held: &'a Edge,
    /// As [`weights`](super::moment::Mobile::weights) gives them.
    weights: [f64; 3],
}

impl Lines {
    /// Solves one dopant for a time `tau_s` from `base`; gives what its source supplied.
    pub(super) fn solve(
        &mut self,
        d: usize,
        moment: &Moment,
        tau_s: f64,
        nodes: usize,
        end: &End,
    ) -> Lanes {
        self.is_current = false;
        let mobile = &moment.mobiles[d];
        let (own, per_sum) = if 0.0 < mobile.charge {
            (&self.ratio, &self.per_sum)
        } else if mobile.charge < 0.0 {
            (&self.inverse, &self.per_inverse_sum)
        } else {
            (&self.ones, &self.halves)
        };
        let product = if self.limited[d] {
            let parts = own[..nodes].iter().zip(&self.share[d]);
            for (product, (m, share)) in self.product.iter_mut().zip(parts) {
                *product = times(m, share);
            }
            &self.product
        } else {
            own
        };
        let held =
            held_edge(moment, d, tau_s, &self.values, &self.volume, own, product, end);
        let equations = Equations {
            volume: &self.volume[..nodes],
            link: &self.link[..nodes],
            own: &own[..nodes],
            per_sum: &per_sum[..nodes],
            product: &product[..nodes],
            boost: self.boost.get(d).map(|boost| &boost[..nodes]),
            base: &self.base[d][..nodes],
            held: &held,
            weights: mobile.weights(tau_s),
        };
        let (upper, right) = (&mut self.upper[..nodes], &mut self.right[..nodes]);
        let values = &mut self.values[d][..nodes];
        for first in (0..LANES).step_by(SIDE) {
            if mobile.double_nm2_s == 0.0 {
                equations.eliminate::<false>(first, upper, right);
            } else {
                equations.eliminate::<true>(first, upper, right);
            }
            substitute(first, upper, right, values);
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

impl Equations<'_> {
    /// Brings the lines from `first` on into upper triangular form; `DOUBLE`: whether doubly
    /// charged defects move the dopant.
    fn eliminate<const DOUBLE: bool>(
        &self,
        first: usize,
        upper: &mut [Lanes],
        right: &mut [Lanes],
    ) {
        let nodes = self.volume.len();
        // Of the cell above: coupling times its product, its eliminated row.
        let mut above = [0.0; SIDE];
        let mut above_product = [0.0; SIDE];
        let mut above_upper = [0.0; SIDE];
        let mut above_right = [0.0; SIDE];
        for i in 0..nodes {
            let mut here = [0.0; SIDE];
            let mut next_product = [0.0; SIDE];
            if i + 1 < nodes {
                next_product = *side(&self.product[i + 1], first);
                here = self.coupling::<DOUBLE>(i, first);
            }
            let p = *side(&self.product[i], first);
            let mut diagonal = *side(&self.volume[i], first);
            let mut known = times(&diagonal, side(&self.base[i], first));
            for l in 0..SIDE {
                diagonal[l] += (above[l] + here[l]) * p[l];
            }
            if i < self.held.nodes {
                for l in 0..SIDE {
                    if self.held.first[first + l] == i {
                        diagonal[l] += self.held.diagonal[first + l];
                        known[l] += self.held.known[first + l];
                    }
                }
            }
            let lower = times(&above, &above_product);
            let mut per_pivot = diagonal;
            for l in 0..SIDE {
                per_pivot[l] = 1.0 / (diagonal[l] - lower[l] * above_upper[l]);
            }
            for l in 0..SIDE {
                known[l] += lower[l] * above_right[l];
            }
            above_right = times(&known, &per_pivot);
            above_upper = times(&times(&here, &next_product), &per_pivot);
            side_mut(&mut right[i], first).copy_from_slice(&above_right);
            side_mut(&mut upper[i], first).copy_from_slice(&above_upper);
            above = here;
            above_product = p;
        }
    }

    /// What couples a cell to the next one.
    fn coupling<const DOUBLE: bool>(&self, i: usize, first: usize) -> Side {
        let [two_neutral, single, double] = self.weights;
        let mut numerator = [two_neutral; SIDE];
        if DOUBLE {
            let (a, b) = (side(&self.own[i], first), side(&self.own[i + 1], first));
            for l in 0..SIDE {
                numerator[l] += double * (a[l] * (a[l] + b[l]) + b[l] * b[l]);
            }
        }
        let mut here = times(&numerator, side(&self.per_sum[i], first));
        for value in &mut here {
            *value += single;
        }
        here = times(&here, side(&self.link[i], first));
        if let Some(boost) = self.boost {
            let (a, b) = (side(&boost[i], first), side(&boost[i + 1], first));
            for l in 0..SIDE {
                here[l] *= 0.5 * (a[l] + b[l]);
            }
        }
        here
    }
}

/// Finds the values of the lines from `first` on, from the last cell up.
fn substitute(first: usize, upper: &[Lanes], right: &[Lanes], values: &mut [Lanes]) {
    let mut below = [0.0; SIDE];
    let rows = upper.iter().zip(right);
    for ((upper, right), value) in rows.zip(values).rev() {
        below = times(side(upper, first), &below);
        for (below, right) in below.iter_mut().zip(side(right, first)) {
            *below += right;
        }
        side_mut(value, first).copy_from_slice(&below);
    }
}
