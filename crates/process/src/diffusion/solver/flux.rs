//! The dopant flux between two nodes, with the electric field of the carriers in it.
//!
//! A dopant ion of charge z moves with `J = -D (dC/dx + z C d ln(n/ni)/dx)`. With `m` the
//! relative density of the carriers that the dopant itself brings (n/ni for donors, p/ni for
//! acceptors) both terms are one: `J = -(D/m) d(C m)/dx`. This is exact, holds for several
//! dopants that share the electrons, needs no logarithm, and never makes a concentration
//! negative. It is the exponentially fitted flux (D. L. Scharfetter, H. K. Gummel, IEEE Trans.
//! Electron Devices 16, 64, 1969; memory) with the carrier density as the fitting variable.

use super::block::Block;
use super::unrolled::each;

/// Diffusivity of a dopant by the charge of the point defect that carries it, cm2/s.
///
/// `D = neutral + single m + double m^2`, where `m` is n/ni for donors and p/ni for acceptors.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ChargeComponents {
    /// With neutral defects.
    pub neutral_cm2_s: f64,
    /// With defects of one charge.
    pub single_cm2_s: f64,
    /// With defects of two charges.
    pub double_cm2_s: f64,
}

impl ChargeComponents {
    /// The diffusivity in cm2/s at the relative carrier density `m`.
    #[must_use]
    pub fn at(&self, m: f64) -> f64 {
        self.neutral_cm2_s + m * (self.single_cm2_s + m * self.double_cm2_s)
    }

    /// All components times `factor` (uniform enhancement by point defects).
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        Self {
            neutral_cm2_s: factor * self.neutral_cm2_s,
            single_cm2_s: factor * self.single_cm2_s,
            double_cm2_s: factor * self.double_cm2_s,
        }
    }
}

/// One diffusing dopant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Species {
    /// Charge of the ion: +1 donor, -1 acceptor, 0 for a neutral test species.
    pub charge: f64,
    /// Its diffusivity.
    pub diffusivity: ChargeComponents,
    /// Electrically active and mobile concentration has this soft limit per cm3; `None`: all
    /// atoms are active.
    pub active_limit_cm3: Option<f64>,
}

/// The crystal in which the dopants move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crystal {
    /// Intrinsic carrier density at the temperature of the step per cm3.
    pub intrinsic_cm3: f64,
    /// Fixed net donors of the substrate per cm3 (negative: acceptors).
    pub background_cm3: f64,
}

/// Active part of a concentration and its slope `dA/dC`.
///
/// `C = A (1 + (A/L)^3)`: all active when dilute, growing as the fourth root beyond the limit
/// `L` (model choice: a smooth limiter).
#[must_use]
pub fn active_part(concentration_cm3: f64, limit_cm3: Option<f64>) -> (f64, f64) {
    let Some(limit) = limit_cm3 else { return (concentration_cm3, 1.0) };
    let c = concentration_cm3 / limit;
    if c < 1e-4 {
        return (concentration_cm3, 1.0);
    }
    // Newton from above on a convex increasing function: falls monotonically to the root.
    let mut a = if c < 1.0 { c } else { c.sqrt().sqrt() };
    for _ in 0..12 {
        let cube = a * a * a;
        let step = (a * (1.0 + cube) - c) / (1.0 + 4.0 * cube);
        a -= step;
        if step.abs() < 1e-14 * a {
            break;
        }
    }
    (limit * a, 1.0 / (1.0 + 4.0 * a * a * a))
}

/// Relative electron density n/ni and `1/sqrt(N^2 + 4 ni^2)` for net active donors `N`.
#[must_use]
pub fn electrons(net_cm3: f64, intrinsic_cm3: f64) -> (f64, f64) {
    let half = net_cm3 / (2.0 * intrinsic_cm3);
    let root = (half * half + 1.0).sqrt();
    let larger = half.abs() + root;
    let ratio = if net_cm3 < 0.0 { 1.0 / larger } else { larger };
    (ratio, 1.0 / (2.0 * intrinsic_cm3 * root))
}

/// The dopants in a crystal, as the equations at one temperature need them: so that a node and
/// a face take no decisions.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mixture<const K: usize> {
    charge: [f64; K],
    /// 1 for the carriers that speed a dopant up, else 0: electrons, holes, none.
    electrons: [f64; K],
    holes: [f64; K],
    none: [f64; K],
    /// The diffusivities as the means at a face need them: 2 neutral, single, 2/3 double.
    neutral_cm2_s: [f64; K],
    single_cm2_s: [f64; K],
    double_cm2_s: [f64; K],
    limits_cm3: Option<[Option<f64>; K]>,
    background_cm3: f64,
    per_two_intrinsic: f64,
}

impl<const K: usize> Mixture<K> {
    pub(super) fn new(species: &[Species; K], crystal: Crystal) -> Self {
        let one_if = |yes: bool| if yes { 1.0 } else { 0.0 };
        let d = |k: usize| &species[k].diffusivity;
        let limited = species.iter().any(|species| species.active_limit_cm3.is_some());
        let limits =
            limited.then(|| core::array::from_fn(|k| species[k].active_limit_cm3));
        Self {
            charge: core::array::from_fn(|k| species[k].charge),
            electrons: core::array::from_fn(|k| one_if(0.0 < species[k].charge)),
            holes: core::array::from_fn(|k| one_if(species[k].charge < 0.0)),
            none: core::array::from_fn(|k| one_if(species[k].charge == 0.0)),
            neutral_cm2_s: core::array::from_fn(|k| 2.0 * d(k).neutral_cm2_s),
            single_cm2_s: core::array::from_fn(|k| d(k).single_cm2_s),
            double_cm2_s: core::array::from_fn(|k| 2.0 / 3.0 * d(k).double_cm2_s),
            limits_cm3: limits,
            background_cm3: crystal.background_cm3,
            per_two_intrinsic: 1.0 / (2.0 * crystal.intrinsic_cm3),
        }
    }

    /// The state of a node at concentrations `c` per cm3.
    #[inline(always)]
    pub(super) fn node(&self, c: &[f64; K]) -> NodeState<K> {
        let (mut active, mut slope) = (*c, [1.0; K]);
        if let Some(limits) = &self.limits_cm3 {
            (active, slope) = active_parts(c, limits);
        }
        let mut net = self.background_cm3;
        each!(k in K {
            net += self.charge[k] * active[k];
        });
        // As in `electrons`, with one division for all three reciprocals.
        let half = net * self.per_two_intrinsic;
        let root = (half * half + 1.0).sqrt();
        let larger = half.abs() + root;
        let both = 1.0 / (root * larger);
        let smaller = both * root;
        let sensitivity = self.per_two_intrinsic * (both * larger);
        let (ratio, inverse) =
            if half < 0.0 { (smaller, larger) } else { (larger, smaller) };
        let mut state = NodeState {
            ratio,
            sensitivity,
            active,
            slope,
            carrier: [1.0; K],
            pull: [0.0; K],
        };
        each!(k in K {
            let carrier =
                self.electrons[k] * ratio + self.holes[k] * inverse + self.none[k];
            state.carrier[k] = carrier;
            state.pull[k] = self.charge[k] * carrier * sensitivity;
        });
        state
    }

    /// The fluxes between two neighbors at a distance of `1/per_spacing` cm.
    ///
    /// The part with neutral defects averages `1/m` by the arithmetic mean of `m`, the part with
    /// doubly charged ones averages `m` so that both are exact where the dopant itself makes all
    /// carriers; the part with singly charged ones needs no average.
    #[inline(always)]
    pub(super) fn flux(
        &self,
        above: &NodeState<K>,
        below: &NodeState<K>,
        per_spacing: f64,
    ) -> Flux<K> {
        let mut out = Flux::default();
        // Of electrons, and of holes by 1/(1/a + 1/b) = a b/(a + b).
        let per_electrons = 1.0 / (above.ratio + below.ratio);
        let per_holes = above.ratio * below.ratio * per_electrons;
        each!(k in K {
            let (a, b) = (above.carrier[k], below.carrier[k]);
            let per_sum = self.electrons[k] * per_electrons
                + self.holes[k] * per_holes
                + 0.5 * self.none[k];
            // Shares of the sum; (a^2 + ab + b^2)/(a + b) is a + b less b's share of a.
            let (share_a, share_b) = (a * per_sum, b * per_sum);
            let (neutral, double) = (self.neutral_cm2_s[k] * per_sum, self.double_cm2_s[k]);
            let weight = per_spacing
                * (self.single_cm2_s[k] + neutral + double * (a + b - share_b * a));
            let falling = neutral * per_sum;
            let weight_a = double * (share_a * (1.0 + share_b)) - falling;
            let weight_b = double * (share_b * (1.0 + share_a)) - falling;
            let rise = above.active[k] * a - below.active[k] * b;
            out.value[k] = weight * rise;
            // The carriers react on all dopants in the same way, by `z dA/dC` of each.
            let rise = per_spacing * rise;
            let by_a = above.pull[k] * (weight * above.active[k] + weight_a * rise);
            let by_b = below.pull[k] * (weight_b * rise - weight * below.active[k]);
            each!(l in K {
                let z = self.charge[l];
                out.by_above[k][l] = by_a * (z * above.slope[l]);
                out.by_below[k][l] = by_b * (z * below.slope[l]);
            });
            out.by_above[k][k] += weight * a * above.slope[k];
            out.by_below[k][k] -= weight * b * below.slope[k];
        });
        out
    }
}

/// [`active_part`] of every dopant at a node. Apart from the rest, so that no processor begins
/// its divisions where there is no limit.
#[inline(never)]
fn active_parts<const K: usize>(
    c: &[f64; K],
    limits_cm3: &[Option<f64>; K],
) -> ([f64; K], [f64; K]) {
    let (mut active, mut slope) = ([0.0; K], [0.0; K]);
    for k in 0..K {
        (active[k], slope[k]) = active_part(c[k], limits_cm3[k]);
    }
    (active, slope)
}

/// What the fluxes need to know at one node.
#[derive(Clone, Copy, Debug)]
pub(super) struct NodeState<const K: usize> {
    /// Relative electron density n/ni.
    ratio: f64,
    /// `1/sqrt(N^2 + 4 ni^2)`: how much an atom per cm3 changes the logarithm of the carriers.
    pub(super) sensitivity: f64,
    /// Active concentration and its slope `dA/dC`.
    active: [f64; K],
    slope: [f64; K],
    /// Own relative carrier density of each dopant.
    carrier: [f64; K],
    /// Its derivative by the net concentration of donors.
    pull: [f64; K],
}

impl<const K: usize> Default for NodeState<K> {
    fn default() -> Self {
        let (zero, one) = ([0.0; K], [1.0; K]);
        Self {
            ratio: 1.0,
            sensitivity: 0.0,
            active: zero,
            slope: one,
            carrier: one,
            pull: zero,
        }
    }
}

/// A flux from node `above` to node `below` and its derivatives.
#[derive(Clone, Copy, Debug)]
pub(super) struct Flux<const K: usize> {
    /// Atoms per cm2 and s, positive into the depth.
    pub(super) value: [f64; K],
    /// Derivative by the concentrations at the upper node.
    pub(super) by_above: Block<K>,
    /// Derivative by the concentrations at the lower node.
    pub(super) by_below: Block<K>,
}

impl<const K: usize> Default for Flux<K> {
    fn default() -> Self {
        let zero = [[0.0; K]; K];
        Self { value: [0.0; K], by_above: zero, by_below: zero }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DONOR: Species = Species {
        charge: 1.0,
        diffusivity: ChargeComponents {
            neutral_cm2_s: 1.25e-14,
            single_cm2_s: 6.5e-16,
            double_cm2_s: 2.2e-16,
        },
        active_limit_cm3: Some(3e20),
    };
    const ACCEPTOR: Species = Species {
        charge: -1.0,
        diffusivity: ChargeComponents {
            neutral_cm2_s: 7e-16,
            single_cm2_s: 1.3e-14,
            double_cm2_s: 0.0,
        },
        active_limit_cm3: None,
    };
    const CRYSTAL: Crystal = Crystal { intrinsic_cm3: 7e18, background_cm3: 1e16 };

    #[test]
    fn derivatives_agree_with_differences() {
        let species = [DONOR, ACCEPTOR];
        let (c1, c2) = ([2e20, 5e18], [1.5e20, 9e18]);
        let at = |c1: &[f64; 2], c2: &[f64; 2]| {
            let mixture = Mixture::new(&species, CRYSTAL);
            mixture.flux(&mixture.node(c1), &mixture.node(c2), 1e7)
        };
        let here = at(&c1, &c2);
        for l in 0..2 {
            let step = 1e-5 * c1[l];
            let (mut up, mut down) = (c1, c1);
            up[l] += step;
            down[l] -= step;
            let (high, low) = (at(&up, &c2), at(&down, &c2));
            for k in 0..2 {
                let slope = (high.value[k] - low.value[k]) / (2.0 * step);
                let error = (slope - here.by_above[k][l]).abs();
                assert!(error < 1e-6 * here.by_above[k][k].abs(), "{k} {l}");
            }
            let step = 1e-5 * c2[l];
            let (mut up, mut down) = (c2, c2);
            up[l] += step;
            down[l] -= step;
            let (high, low) = (at(&c1, &up), at(&c1, &down));
            for k in 0..2 {
                let slope = (high.value[k] - low.value[k]) / (2.0 * step);
                let error = (slope - here.by_below[k][l]).abs();
                assert!(error < 1e-6 * here.by_below[k][k].abs(), "{k} {l}");
            }
        }
    }

    #[test]
    fn the_active_part_follows_its_rule() {
        for c in [1e15, 1e19, 3e20, 3e21] {
            let (a, slope) = active_part(c, Some(3e20));
            let back = a * (1.0 + (a / 3e20) * (a / 3e20) * (a / 3e20));
            assert!((back / c - 1.0).abs() < 1e-12);
            assert!(0.0 < slope && slope <= 1.0);
        }
        assert!((active_part(3e21, Some(3e20)).0 / 3e20 - 1.697).abs() < 5e-4);
    }

    #[test]
    fn field_factor_of_a_heavy_layer_is_nearly_two() {
        // J / (-D dC/dx) = h = 1 + C/sqrt(C^2 + 4 ni^2): 1.990 for 1e20 and ni = 7.082e18.
        let only = [Species {
            charge: 1.0,
            diffusivity: ChargeComponents { neutral_cm2_s: 1e-14, ..Default::default() },
            active_limit_cm3: None,
        }];
        let crystal = Crystal { intrinsic_cm3: 7.082e18, background_cm3: 0.0 };
        let (c1, c2) = (1e20 * (1.0 + 1e-6), 1e20 * (1.0 - 1e-6));
        let mixture = Mixture::new(&only, crystal);
        let flux = mixture.flux(&mixture.node(&[c1]), &mixture.node(&[c2]), 1e7);
        let with_field = flux.value[0];
        let without = 1e-14 * (c1 - c2) / 1e-7;
        assert!((with_field / without / 1.990 - 1.0).abs() < 1e-3);
    }
}
