//! Electrons and holes along eight lines, and which part of each dopant is active.

use super::lines::{LANES, Lanes, Lines};
use super::moment::{Mobile, Moment};
use crate::num::{larger, smaller};

/// Below this share of the active limit the active part is a sum of five powers, which leaves
/// out less than a part in 10^12 (derived).
pub(super) const DILUTE: f64 = 0.1;

/// Below this share of the limit all of a dopant counts as active: `c^3`, a billionth, is not.
pub(super) const ALL_ACTIVE: f64 = 1e-3;

impl Lines {
    /// Notes where each dopant comes near its active limit, given the largest concentration of
    /// each that the lines hold or a source will bring.
    pub(super) fn note_limits(&mut self, mobiles: &[Mobile], largest_cm3: &[f64]) {
        self.limited.clear();
        let limits = mobiles.iter().map(|mobile| mobile.limit_cm3).zip(largest_cm3);
        self.limited.extend(
            limits.map(|(limit, &most)| 0.0 < limit && ALL_ACTIVE * limit < most),
        );
    }

    /// Sets electrons over intrinsic carriers, and the active shares, from the present
    /// concentrations. Gives by line the largest change of either, relative, since the last time.
    pub(super) fn carriers(&mut self, moment: &Moment, nodes: usize) -> Lanes {
        let per_two_ni = 0.5 / moment.intrinsic_cm3;
        let mut changed = [0.0; LANES];
        let half = &mut self.right[..nodes];
        half.fill([0.0; LANES]);
        for (d, mobile) in moment.mobiles.iter().enumerate() {
            let factor = mobile.charge * per_two_ni;
            let values = &self.values[d][..nodes];
            if self.limited[d] {
                let shares = self.share[d][..nodes].iter_mut();
                for ((half, c), share) in half.iter_mut().zip(values).zip(shares) {
                    let now = active_shares(c, mobile.limit_cm3);
                    for l in 0..LANES {
                        half[l] += factor * now[l] * c[l];
                        let change = (now[l] - share[l]).abs() / now[l];
                        changed[l] = larger(changed[l], change);
                    }
                    *share = now;
                }
            } else if factor != 0.0 {
                for (half, c) in half.iter_mut().zip(values) {
                    for l in 0..LANES {
                        half[l] += factor * c[l];
                    }
                }
            }
        }
        let carriers = self.ratio[..nodes].iter_mut().zip(&mut self.inverse[..nodes]);
        // One thing a loop, so that each is a few vector instructions.
        for (half, (ratio, inverse)) in half.iter().zip(carriers) {
            let root: Lanes = half.map(|half| half * half + 1.0).map(f64::sqrt);
            let mut more = root;
            for l in 0..LANES {
                more[l] += half[l].abs();
            }
            let less = more.map(|more| 1.0 / more);
            let mut now = more;
            for l in 0..LANES {
                now[l] = if 0.0 <= half[l] { more[l] } else { less[l] };
            }
            for l in 0..LANES {
                inverse[l] = if 0.0 <= half[l] { less[l] } else { more[l] };
            }
            for l in 0..LANES {
                let change = (now[l] - ratio[l]).abs() * inverse[l];
                changed[l] = larger(changed[l], change);
            }
            *ratio = now;
        }
        let means = self.per_sum.iter_mut().zip(&mut self.per_inverse_sum);
        for (pair, (mean, of_inverse)) in self.ratio[..nodes].windows(2).zip(means) {
            let (a, b) = (&pair[0], &pair[1]);
            for l in 0..LANES {
                mean[l] = 1.0 / (a[l] + b[l]);
            }
            for l in 0..LANES {
                of_inverse[l] = a[l] * b[l] * mean[l];
            }
        }
        self.is_current = true;
        changed
    }

    /// Smallest and largest ratio of electrons in the first `nodes` cells.
    pub(super) fn ratio_range(&self, nodes: usize) -> (f64, f64) {
        let mut range = ([f64::INFINITY; LANES], [0.0_f64; LANES]);
        for (ratio, link) in self.ratio[..nodes].iter().zip(&self.link) {
            for l in 0..LANES {
                if 0.0 < link[l] {
                    range.0[l] = smaller(range.0[l], ratio[l]);
                    range.1[l] = larger(range.1[l], ratio[l]);
                }
            }
        }
        let least = range.0.iter().copied().fold(f64::INFINITY, f64::min);
        (least, range.1.iter().copied().fold(0.0, f64::max))
    }

    /// Largest concentration of a dopant in each line.
    pub(super) fn largest(&self, d: usize, nodes: usize) -> Lanes {
        let mut most = [0.0; LANES];
        for value in &self.values[d][..nodes] {
            for l in 0..LANES {
                most[l] = larger(most[l], value[l]);
            }
        }
        most
    }
}

/// Active over whole concentration.
fn active_shares(c_cm3: &Lanes, limit_cm3: f64) -> Lanes {
    let per_limit = 1.0 / limit_cm3;
    let c = c_cm3.map(|c| c * per_limit);
    let mut share = far_from_limit(&c);
    if c.iter().any(|&c| DILUTE < c) {
        let near = near_limit(&c);
        for l in 0..LANES {
            share[l] = if DILUTE < c[l] { near[l] } else { share[l] };
        }
    }
    share
}

/// The active share of concentrations well below their limit: `a + a^4 = c` as a series, whose
/// coefficients are `(-1)^k binomial(4k, k)/(3k + 1)` (derived).
fn far_from_limit(c: &Lanes) -> Lanes {
    let mut share = [1.0; LANES];
    for l in 0..LANES {
        let cube = c[l] * c[l] * c[l];
        share[l] -= cube * (1.0 - cube * (4.0 - cube * (22.0 - cube * 140.0)));
    }
    share
}

/// Steps of Halley's method that reach the last digit from where [`near_limit`] begins (derived:
/// its worst start, at the limit, is off by 0.4, 2e-2, 1e-6, 3e-19).
pub(super) const HALLEY: u32 = 3;

/// The active share of concentrations over their limit, as [`active_part`] without its branches.
///
/// [`active_part`]: crate::diffusion::solver::active_part
fn near_limit(c: &Lanes) -> Lanes {
    let root = c.map(f64::sqrt).map(f64::sqrt);
    let mut a = *c;
    for l in 0..LANES {
        a[l] = smaller(c[l], root[l]);
    }
    for _ in 0..HALLEY {
        for l in 0..LANES {
            let square = a[l] * a[l];
            let cube = square * a[l];
            let off = a[l] * (1.0 + cube) - c[l];
            let slope = 1.0 + 4.0 * cube;
            a[l] -= off * slope / (slope * slope - 6.0 * square * off);
        }
    }
    let mut share = a;
    for l in 0..LANES {
        share[l] = a[l] / c[l];
    }
    share
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diffusion::solver::active_part;
    use crate::num::pow;

    #[test]
    fn shares_near_the_limit_are_those_of_the_one_dimensional_solver() {
        for decade in -16..=24 {
            let c: Lanes = core::array::from_fn(|l| {
                pow(10.0, 0.125 * (f64::from(decade) + 0.1 * l as f64))
            });
            for (share, c) in near_limit(&c).iter().zip(c) {
                let expected = active_part(c, Some(1.0)).0 / c;
                assert!((share / expected - 1.0).abs() < 1e-14, "{c}: {share}");
            }
        }
    }

    #[test]
    fn the_series_meets_the_iteration() {
        for part in 1..=1000 {
            let c = [DILUTE * f64::from(part) / 1000.0; LANES];
            let (series, iterated) = (far_from_limit(&c)[0], near_limit(&c)[0]);
            assert!((series / iterated - 1.0).abs() < 1.5e-12, "{}: {series}", c[0]);
        }
    }
}
