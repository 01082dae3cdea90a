//! The dopant flux between two nodes, with the electric field of the carriers in it.
//!
//! A dopant ion of charge z moves with `J = -D (dC/dx + z C d ln(n/ni)/dx)`. With `m` the
//! relative density of the carriers that the dopant itself brings (n/ni for donors, p/ni for
//! acceptors) both terms are one: `J = -(D/m) d(C m)/dx`. This is exact, holds for several
//! dopants that share the electrons, needs no logarithm, and never makes a concentration
//! negative. It is the exponentially fitted flux (D. L. Scharfetter, H. K. Gummel, IEEE Trans.
//! Electron Devices 16, 64, 1969; memory) with the carrier density as the fitting variable.

#![expect(
    clippy::needless_range_loop,
    reason = "dopant indices read as in the equations"
)]

use super::block::Block;

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

/// What the fluxes need to know at one node.
#[derive(Clone, Copy, Debug)]
pub(super) struct NodeState<const K: usize> {
    /// Own relative carrier density of each dopant.
    pub(super) carrier: [f64; K],
    /// `1/sqrt(N^2 + 4 ni^2)`: how much an atom per cm3 changes the logarithm of the carriers.
    pub(super) sensitivity: f64,
    /// Active concentration times carrier density.
    product: [f64; K],
    /// `d carrier[k] / d C[l]`.
    carrier_slope: Block<K>,
    /// `d product[k] / d C[l]`.
    product_slope: Block<K>,
}

impl<const K: usize> NodeState<K> {
    /// The state at concentrations `c` per cm3.
    #[inline]
    pub(super) fn new(species: &[Species; K], crystal: Crystal, c: &[f64; K]) -> Self {
        let (mut active, mut slope) = ([0.0; K], [0.0; K]);
        let mut net = crystal.background_cm3;
        for k in 0..K {
            (active[k], slope[k]) = active_part(c[k], species[k].active_limit_cm3);
            net += species[k].charge * active[k];
        }
        let (ratio, sensitivity) = electrons(net, crystal.intrinsic_cm3);
        let inverse = 1.0 / ratio;
        let mut state = Self {
            carrier: [1.0; K],
            sensitivity,
            product: [0.0; K],
            carrier_slope: [[0.0; K]; K],
            product_slope: [[0.0; K]; K],
        };
        for k in 0..K {
            let z = species[k].charge;
            let m = if 0.0 < z {
                ratio
            } else if z < 0.0 {
                inverse
            } else {
                1.0
            };
            state.carrier[k] = m;
            state.product[k] = active[k] * m;
            for l in 0..K {
                let by = z * species[l].charge * slope[l] * m * sensitivity;
                state.carrier_slope[k][l] = by;
                state.product_slope[k][l] = active[k] * by;
            }
            state.product_slope[k][k] += slope[k] * m;
        }
        state
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

/// The fluxes between two neighbors `spacing_cm` apart.
///
/// The part with neutral defects averages `1/m` by the arithmetic mean of `m`, the part with
/// doubly charged ones averages `m` so that both are exact where the dopant itself makes all
/// carriers; the part with singly charged ones needs no average.
#[inline]
pub(super) fn flux<const K: usize>(
    species: &[Species; K],
    above: &NodeState<K>,
    below: &NodeState<K>,
    spacing_cm: f64,
) -> Flux<K> {
    let per_spacing = 1.0 / spacing_cm;
    let mut out =
        Flux { value: [0.0; K], by_above: [[0.0; K]; K], by_below: [[0.0; K]; K] };
    for k in 0..K {
        let d = &species[k].diffusivity;
        let (a, b) = (above.carrier[k], below.carrier[k]);
        let per_sum = 1.0 / (a + b);
        let neutral = 2.0 * d.neutral_cm2_s * per_sum;
        let mut weight = neutral + d.single_cm2_s;
        let (mut weight_a, mut weight_b) = (-neutral * per_sum, -neutral * per_sum);
        if d.double_cm2_s != 0.0 {
            // (2/3)(a^2 + ab + b^2)/(a + b)
            let factor = 2.0 / 3.0 * d.double_cm2_s * per_sum;
            let square = a * a + a * b + b * b;
            weight += factor * square;
            weight_a += factor * (2.0 * a + b - square * per_sum);
            weight_b += factor * (2.0 * b + a - square * per_sum);
        }
        let rise = above.product[k] - below.product[k];
        out.value[k] = weight * rise * per_spacing;
        for l in 0..K {
            out.by_above[k][l] = per_spacing
                * (weight * above.product_slope[k][l]
                    + weight_a * above.carrier_slope[k][l] * rise);
            out.by_below[k][l] = per_spacing
                * (weight_b * below.carrier_slope[k][l] * rise
                    - weight * below.product_slope[k][l]);
        }
    }
    out
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
            let (s1, s2) = (
                NodeState::new(&species, CRYSTAL, c1),
                NodeState::new(&species, CRYSTAL, c2),
            );
            flux(&species, &s1, &s2, 1e-7)
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
        let (s1, s2) = (
            NodeState::new(&only, crystal, &[c1]),
            NodeState::new(&only, crystal, &[c2]),
        );
        let with_field = flux(&only, &s1, &s2, 1e-7).value[0];
        let without = 1e-14 * (c1 - c2) / 1e-7;
        assert!((with_field / without / 1.990 - 1.0).abs() < 1e-3);
    }
}
