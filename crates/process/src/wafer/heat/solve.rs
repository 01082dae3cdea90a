//! One dopant in eight lines for a time: elimination from the first cell down, and back.

use super::ends::{End, held_edge};
use super::lines::{LANES, Lanes, Lines};
use super::moment::Moment;

/// Line by line, one product each. Loops over lines do one thing into a value of their own, so
/// that each is a few vector instructions.
fn times(a: &Lanes, b: &Lanes) -> Lanes {
    let mut product = *a;
    for l in 0..LANES {
        product[l] *= b[l];
    }
    product
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
        let own = if 0.0 < mobile.charge {
            &self.ratio
        } else if mobile.charge < 0.0 {
            &self.inverse
        } else {
            &self.ones
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
                let mut sum = *a;
                let mut square = *a;
                for l in 0..LANES {
                    sum[l] = a[l] + b[l];
                    square[l] = a[l] * sum[l] + b[l] * b[l];
                }
                for l in 0..LANES {
                    here[l] = (two_neutral + double * square[l]) / sum[l] + single;
                }
                here = times(&here, &link[i]);
                if let Some(boost) = boost {
                    for l in 0..LANES {
                        here[l] *= 0.5 * (boost[i][l] + boost[i + 1][l]);
                    }
                }
            }
            let (p, v) = (&product[i], &volume[i]);
            let mut diagonal = *v;
            let mut known = times(v, &base[i]);
            for l in 0..LANES {
                diagonal[l] += (above[l] + here[l]) * p[l];
            }
            if i < held.nodes {
                for l in 0..LANES {
                    if held.first[l] == i {
                        diagonal[l] += held.diagonal[l];
                        known[l] += held.known[l];
                    }
                }
            }
            let lower = times(&above, &above_product);
            let mut per_pivot = diagonal;
            for l in 0..LANES {
                per_pivot[l] = 1.0 / (diagonal[l] - lower[l] * above_upper[l]);
            }
            for l in 0..LANES {
                known[l] += lower[l] * above_right[l];
            }
            above_right = times(&known, &per_pivot);
            above_upper = times(&times(&here, &next_product), &per_pivot);
            right[i] = above_right;
            upper[i] = above_upper;
            above = here;
            above_product = *p;
        }
        let values = &mut self.values[d][..nodes];
        let mut below = [0.0; LANES];
        for i in (0..nodes).rev() {
            let mut value = times(&upper[i], &below);
            for l in 0..LANES {
                value[l] += right[i][l];
            }
            values[i] = value;
            below = value;
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
