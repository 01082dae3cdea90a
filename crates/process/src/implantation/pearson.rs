//! The Pearson type IV curve: a bell with a skewness and a kurtosis of its own.

use crate::num::{atan, exp, ln, pow, sinh};

/// Skewness beyond which the curve is not drawn any sharper (model choice).
const MAX_SKEWNESS: f64 = 2.5;

/// How many standard deviations the normalization reaches out: the steepest allowed kurtosis
/// leaves a tail that falls as `x^-5`, of which less than 1e-15 lies beyond.
const REACH: f64 = 1e4;

/// Abscissas and weights of the Gauss-Legendre rule with four points on (-1, 1).
/// M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 1964, table 25.4.
const GAUSS_LEGENDRE: [(f64, f64); 4] = [
    (-0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
    (-0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
];

/// Smallest kurtosis (excluded) with which a curve of this skewness is of type IV.
///
/// # Model
/// `beta > (39 g^2 + 48 + 6 (g^2 + 4)^1.5) / (32 - g^2)`: the line of type V in the plane of
/// Pearson's curves (W. K. Hofker, Philips Res. Rep. Suppl. 8, 1975; memory, algebra checked).
pub(super) fn smallest_kurtosis(skewness: f64) -> f64 {
    let g2 = skewness * skewness;
    (39.0 * g2 + 48.0 + 6.0 * pow(g2 + 4.0, 1.5)) / (32.0 - g2)
}

/// What skewness and kurtosis a curve is drawn with, and whether it is a Gaussian.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct PearsonShape {
    /// Skewness, at most 2.5 in size.
    pub(super) skewness: f64,
    /// Kurtosis, raised into the range of type IV.
    pub(super) kurtosis: f64,
    /// Whether the curve is so close to a Gaussian that it is drawn as one.
    pub(super) gaussian: bool,
}

/// Brings skewness and kurtosis into the range of type IV.
///
/// # Model
/// A skewness below 0.05 without a heavy tail is a Gaussian; skewness is held within 2.5; a
/// kurtosis below 1.02 times the smallest one is raised to 1.05 times it. Mean, straggle and
/// skewness stay exact, only the weight of the tail changes (model choice).
pub(super) fn into_type_iv(skewness: f64, kurtosis: f64) -> PearsonShape {
    let skewness = skewness.clamp(-MAX_SKEWNESS, MAX_SKEWNESS);
    let smallest = smallest_kurtosis(skewness);
    let raised = if kurtosis <= 1.02 * smallest { 1.05 * smallest } else { kurtosis };
    if skewness.abs() < 0.05 && kurtosis <= 1.05 * smallest {
        return PearsonShape { skewness: 0.0, kurtosis: 3.0, gaussian: true };
    }
    PearsonShape { skewness, kurtosis: raised, gaussian: false }
}

/// A normalized Pearson type IV curve with mean 0 and standard deviation 1.
///
/// # Model
/// `df/du = (u - a) f / (b0 + a u + b2 u^2)` with, for unit standard deviation,
/// `A = 10 beta - 12 g^2 - 18`, `a = -g (beta + 3)/A`, `b0 = -(4 beta - 3 g^2)/A`,
/// `b2 = -(2 beta - 3 g^2 - 6)/A`; integrated with `s = sqrt(4 b0 b2 - a^2)`:
/// `ln f = K + ln|b0 + a u + b2 u^2|/(2 b2) - ((a/b2 + 2a)/s) atan((2 b2 u + a)/s)`.
///
/// # Source
/// W. K. Hofker, Philips Res. Rep. Suppl. 8, 1975 (memory; its moments are tested below).
#[derive(Clone, Debug)]
pub(super) struct PearsonIv {
    pub(super) a: f64,
    pub(super) b0: f64,
    pub(super) b2: f64,
    s: f64,
    scale: f64,
    /// Cell edges, increasing.
    edges: Vec<f64>,
    /// Share of the curve below each edge.
    below: Vec<f64>,
    /// Share of the curve beyond each edge.
    beyond: Vec<f64>,
}

impl PearsonIv {
    /// Builds the curve of a shape that [`into_type_iv`] has brought into range.
    pub(super) fn new(shape: PearsonShape) -> Self {
        let (g, beta) = (shape.skewness, shape.kurtosis);
        debug_assert!(smallest_kurtosis(g) < beta, "the curve must be of type IV");
        let denominator = 10.0 * beta - 12.0 * g * g - 18.0;
        let a = -g * (beta + 3.0) / denominator;
        let b0 = -(4.0 * beta - 3.0 * g * g) / denominator;
        let b2 = -(2.0 * beta - 3.0 * g * g - 6.0) / denominator;
        let s = (4.0 * b0 * b2 - a * a).sqrt();
        let mut curve = Self {
            a,
            b0,
            b2,
            s,
            scale: 1.0,
            edges: cell_edges(),
            below: Vec::new(),
            beyond: Vec::new(),
        };
        let cells: Vec<f64> =
            curve.edges.windows(2).map(|w| curve.integral(w[0], w[1])).collect();
        let total: f64 = cells.iter().sum();
        curve.scale = 1.0 / total;
        curve.below = running_sum(cells.iter().map(|cell| cell / total));
        curve.beyond = running_sum(cells.iter().rev().map(|cell| cell / total));
        curve.beyond.reverse();
        curve
    }

    /// `a^2 / (4 b0 b2)`: between 0 and 1 for type IV.
    pub(super) fn criterion(&self) -> f64 {
        self.a * self.a / (4.0 * self.b0 * self.b2)
    }

    /// The curve at `u` standard deviations from the mean.
    pub(super) fn density(&self, u: f64) -> f64 {
        let Self { a, b0, b2, s, scale, .. } = *self;
        let quadratic = |u: f64| (b0 + a * u + b2 * u * u).abs();
        let angle = |u: f64| atan((2.0 * b2 * u + a) / s);
        let log = ln(quadratic(u) / quadratic(a)) / (2.0 * b2)
            - (a / b2 + 2.0 * a) / s * (angle(u) - angle(a));
        scale * exp(log)
    }

    /// Share of the curve below `u`.
    pub(super) fn below(&self, u: f64) -> f64 {
        match self.cell(u) {
            Cell::Before => 0.0,
            Cell::After => 1.0,
            Cell::At(i) => self.below[i] + self.integral(self.edges[i], u),
        }
    }

    /// Share of the curve beyond `u`.
    pub(super) fn beyond(&self, u: f64) -> f64 {
        match self.cell(u) {
            Cell::Before => 1.0,
            Cell::After => 0.0,
            Cell::At(i) => self.beyond[i + 1] + self.integral(u, self.edges[i + 1]),
        }
    }

    fn cell(&self, u: f64) -> Cell {
        let right = self.edges.partition_point(|&edge| edge <= u);
        if right == 0 {
            Cell::Before
        } else if right < self.edges.len() {
            Cell::At(right - 1)
        } else {
            Cell::After
        }
    }

    fn integral(&self, from: f64, to: f64) -> f64 {
        let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
        GAUSS_LEGENDRE
            .iter()
            .map(|(x, weight)| weight * self.density(middle + half * x))
            .sum::<f64>()
            * half
    }
}

enum Cell {
    Before,
    At(usize),
    After,
}

/// Edges that are 0.05 apart around the mean and in proportion to their distance far out.
fn cell_edges() -> Vec<f64> {
    let mut out = Vec::new();
    let mut t = 0.0;
    while sinh(t) < REACH {
        out.push(sinh(t));
        t += if t < 2.5 { 0.05 } else { 0.15 };
    }
    let mut edges: Vec<f64> = out.iter().skip(1).rev().map(|u| -u).collect();
    edges.extend(out);
    edges
}

fn running_sum(cells: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut sum = 0.0;
    let mut sums = vec![0.0];
    for cell in cells {
        sum += cell;
        sums.push(sum);
    }
    sums
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_border_of_type_iv_is_where_it_was_published() {
        for (skewness, kurtosis) in
            [(0.0, 3.0), (0.3, 3.170), (0.5, 3.475), (0.95, 4.770), (1.3, 6.445)]
        {
            assert!((smallest_kurtosis(skewness) - kurtosis).abs() < 6e-4);
        }
    }

    /// Moments of the curve on +-400 standard deviations, by Simpson's rule: another way than
    /// that of the normalization. (On +-40 the heaviest tail below would lack 2e-4 of its
    /// skewness and 1e-2 of its kurtosis.)
    fn moments(curve: &PearsonIv) -> [f64; 5] {
        let n = 200_000;
        let h = 800.0 / f64::from(n);
        let mut sums = [0.0; 5];
        for i in 0..=n {
            let u = -400.0 + h * f64::from(i);
            let weight = if i == 0 || i == n {
                1.0
            } else if i % 2 == 1 {
                4.0
            } else {
                2.0
            };
            let mut term = weight * h / 3.0 * curve.density(u);
            for sum in &mut sums {
                *sum += term;
                term *= u;
            }
        }
        sums
    }

    #[test]
    fn the_curve_has_the_moments_it_was_built_from() {
        for (skewness, kurtosis) in
            [(-0.95, 5.10), (-0.20, 3.30), (0.45, 3.50), (0.0, 3.6), (-1.3, 7.5)]
        {
            let curve = PearsonIv::new(into_type_iv(skewness, kurtosis));
            let [norm, mean, variance, third, fourth] = moments(&curve);
            assert!((norm - 1.0).abs() < 1e-9, "norm {norm}");
            assert!(mean.abs() < 1e-7, "mean {mean}");
            assert!((variance - 1.0).abs() < 1e-6, "variance {variance}");
            assert!((third - skewness).abs() < 1e-5, "skewness {third}");
            assert!((fourth - kurtosis).abs() < 1e-4, "kurtosis {fourth}");
        }
    }

    #[test]
    fn moments_are_kept_all_over_type_iv_and_skewness_mirrors() {
        for skewness in [-1.5, -0.6, -0.1, 0.3, 1.1] {
            for factor in [1.05, 1.3] {
                let shape = into_type_iv(skewness, factor * smallest_kurtosis(skewness));
                let curve = PearsonIv::new(shape);
                let [norm, mean, variance, third, _] = moments(&curve);
                assert!((norm - 1.0).abs() < 1e-9 && mean.abs() < 1e-6);
                assert!((variance - 1.0).abs() < 1e-5, "variance {variance}");
                assert!((third - skewness).abs() < 2e-3, "skewness {third}");
                let mirrored = PearsonIv::new(into_type_iv(-skewness, shape.kurtosis));
                for u in [-3.0, -0.4, 0.0, 1.7] {
                    let (here, there) = (curve.density(u), mirrored.density(-u));
                    assert!((here / there - 1.0).abs() < 1e-9);
                }
            }
        }
    }

    #[test]
    fn peak_height_and_criterion_agree_with_the_computed_check() {
        // Straggle 71.0 nm: a = +24.643 nm, largest value times the straggle 0.45199.
        let curve = PearsonIv::new(into_type_iv(-0.95, 5.10));
        assert!((71.0 * curve.a - 24.643).abs() < 1e-3);
        assert!((curve.density(curve.a) - 0.451_99).abs() < 1e-5);
        assert!((curve.criterion() - 0.5606).abs() < 1e-4);
        assert!(
            (45.6 * PearsonIv::new(into_type_iv(-0.20, 3.30)).a - 3.957).abs() < 1e-3
        );
        assert!((20.7 * PearsonIv::new(into_type_iv(0.45, 3.50)).a + 4.156).abs() < 1e-3);
    }

    #[test]
    fn both_shares_add_up_and_follow_the_density() {
        for (skewness, kurtosis) in [(-2.5, 1.0), (2.5, 30.0), (0.06, 1.0), (0.0, 30.0)] {
            let curve = PearsonIv::new(into_type_iv(skewness, kurtosis));
            let mut last = 0.0;
            for i in -300..=300 {
                let u = 0.037 * f64::from(i);
                let (below, beyond) = (curve.below(u), curve.beyond(u));
                // Four-point cells leave 4e-13; the dose needs 1e-9.
                assert!((below + beyond - 1.0).abs() < 1e-11);
                assert!(last <= below);
                last = below;
                let slope = (curve.below(u + 1e-4) - curve.below(u - 1e-4)) / 2e-4;
                assert!((slope - curve.density(u)).abs() < 1e-6, "at {u}");
            }
        }
    }

    #[test]
    fn shapes_outside_type_iv_are_brought_in() {
        assert!(into_type_iv(0.01, 2.6).gaussian);
        assert!(!into_type_iv(0.0, 4.0).gaussian);
        let raised = into_type_iv(-0.94, 4.07);
        assert!((raised.kurtosis - 1.05 * smallest_kurtosis(0.94)).abs() < 1e-12);
        assert!((into_type_iv(-4.0, 9.0).skewness + 2.5).abs() < 1e-12);
        let kept = into_type_iv(-0.95, 5.10);
        assert!((kept.kurtosis - 5.10).abs() < 1e-12);
    }
}
