//! One dopant in eight lines for a time: elimination from the first cell down, and back.

use super::ends::{End, held_edge};
use super::lines::{LANES, Lanes, Lines};
use super::moment::Moment;

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
                for l in 0..LANES {
                    product[l] = m[l] * share[l];
                }
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
