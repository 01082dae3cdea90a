//! The distribution of the ions' depth in one material.

use std::sync::Arc;

use super::pearson::{PearsonIv, PearsonShape, into_type_iv};
use super::tabulated::Table;
use crate::num::{bisect, cos, erfc, exp, sin};

const SQRT_2: f64 = core::f64::consts::SQRT_2;
/// `1/sqrt(2 pi)`.
pub(super) const GAUSSIAN_PEAK: f64 = 0.398_942_280_401_432_7;

/// The first four moments of a depth distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Moments {
    /// Mean depth in nm.
    pub(super) mean_nm: f64,
    /// Standard deviation of the depth in nm.
    pub(super) sigma_nm: f64,
    /// Standard deviation across the depth in nm.
    pub(super) lateral_nm: f64,
    /// Skewness.
    pub(super) skewness: f64,
    /// Kurtosis; a Gaussian has 3.
    pub(super) kurtosis: f64,
}

impl Moments {
    /// The moments along the depth below a flat surface, of a beam tilted from its normal.
    ///
    /// # Model
    /// `Rp' = Rp cos t`, `dRp'^2 = dRp^2 cos^2 t + dRl^2 sin^2 t`, and with sine and cosine
    /// exchanged for the lateral straggle: a rotation of the ion cloud. With a Gaussian lateral
    /// spread the third and fourth cumulants scale as `cos^3 t` and `cos^4 t` (derived).
    pub(super) fn tilted(self, tilt_deg: f64) -> Self {
        let angle = tilt_deg.to_radians();
        let (c, s) = (cos(angle), sin(angle));
        let across = |along_nm: f64, across_nm: f64| {
            (along_nm * along_nm * c * c + across_nm * across_nm * s * s).sqrt()
        };
        let sigma_nm = across(self.sigma_nm, self.lateral_nm);
        let kept = self.sigma_nm * c / sigma_nm;
        Self {
            mean_nm: self.mean_nm * c,
            sigma_nm,
            lateral_nm: across(self.lateral_nm, self.sigma_nm),
            skewness: self.skewness * kept * kept * kept,
            kurtosis: 3.0 + (self.kurtosis - 3.0) * kept * kept * kept * kept,
        }
    }
}

#[derive(Clone, Debug)]
enum Curve {
    Gaussian,
    Pearson(PearsonIv),
    Table(Arc<Table>),
}

/// One bell of a distribution.
#[derive(Clone, Debug)]
struct Part {
    weight: f64,
    mean_nm: f64,
    sigma_nm: f64,
    curve: Curve,
}

impl Part {
    fn density_per_nm(&self, depth_nm: f64) -> f64 {
        let u = (depth_nm - self.mean_nm) / self.sigma_nm;
        let density = match &self.curve {
            Curve::Gaussian => GAUSSIAN_PEAK * exp(-0.5 * u * u),
            Curve::Pearson(curve) => curve.density(u),
            Curve::Table(table) => return self.weight * table.density_per_nm(depth_nm),
        };
        self.weight * density / self.sigma_nm
    }

    fn below(&self, depth_nm: f64) -> f64 {
        let u = (depth_nm - self.mean_nm) / self.sigma_nm;
        self.weight
            * match &self.curve {
                Curve::Gaussian => 0.5 * erfc(-u / SQRT_2),
                Curve::Pearson(curve) => curve.below(u),
                Curve::Table(table) => table.shares(depth_nm)[0],
            }
    }

    fn beyond(&self, depth_nm: f64) -> f64 {
        let u = (depth_nm - self.mean_nm) / self.sigma_nm;
        self.weight
            * match &self.curve {
                Curve::Gaussian => 0.5 * erfc(u / SQRT_2),
                Curve::Pearson(curve) => curve.beyond(u),
                Curve::Table(table) => table.shares(depth_nm)[1],
            }
    }

    fn mode_nm(&self) -> f64 {
        match &self.curve {
            Curve::Gaussian => self.mean_nm,
            Curve::Pearson(curve) => self.mean_nm + curve.a * self.sigma_nm,
            Curve::Table(table) => table.mode_nm,
        }
    }
}

/// Where the ions come to rest in one material that fills all space: one bell, or a bell and
/// a second one for the ions that ran along channels.
#[derive(Clone, Debug)]
pub(super) struct DepthDistribution {
    parts: Vec<Part>,
}

impl DepthDistribution {
    /// A Gaussian.
    pub(super) fn gaussian(moments: Moments) -> Self {
        Self { parts: vec![part(1.0, moments, Curve::Gaussian)] }
    }

    /// A Pearson type IV curve, with the shape it is drawn with.
    pub(super) fn pearson(moments: Moments) -> (Self, PearsonShape) {
        let shape = into_type_iv(moments.skewness, moments.kurtosis);
        let curve = if shape.gaussian {
            Curve::Gaussian
        } else {
            Curve::Pearson(PearsonIv::new(shape))
        };
        (Self { parts: vec![part(1.0, moments, curve)] }, shape)
    }

    /// Two Pearson curves; `share` of the ions belongs to the second.
    pub(super) fn dual(first: Moments, second: Moments, share: f64) -> Self {
        let (mut first, _) = Self::pearson(first);
        let (second, _) = Self::pearson(second);
        for part in &mut first.parts {
            part.weight = 1.0 - share;
        }
        first
            .parts
            .extend(second.parts.into_iter().map(|part| Part { weight: share, ..part }));
        first
    }

    /// The same distribution as tables.
    pub(super) fn tabulated(&self) -> Self {
        let parts = self.parts.iter().map(|part| {
            let alone = Self { parts: vec![Part { weight: 1.0, ..part.clone() }] };
            let table = Table::of(&alone, part.mean_nm, part.sigma_nm);
            Part { curve: Curve::Table(Arc::new(table)), ..part.clone() }
        });
        Self { parts: parts.collect() }
    }

    /// The Pearson curve, if the distribution is a single one.
    pub(super) fn pearson_curve(&self) -> Option<&PearsonIv> {
        match self.parts.as_slice() {
            [Part { curve: Curve::Pearson(curve), .. }] => Some(curve),
            _ => None,
        }
    }

    /// Share of the ions per nm of depth.
    pub(super) fn density_per_nm(&self, depth_nm: f64) -> f64 {
        self.parts.iter().map(|part| part.density_per_nm(depth_nm)).sum()
    }

    /// Share of the ions that stop above a depth.
    pub(super) fn below(&self, depth_nm: f64) -> f64 {
        self.parts.iter().map(|part| part.below(depth_nm)).sum()
    }

    /// Share of the ions that stop beyond a depth.
    pub(super) fn beyond(&self, depth_nm: f64) -> f64 {
        self.parts.iter().map(|part| part.beyond(depth_nm)).sum()
    }

    /// Depth of the highest point of the first bell, in nm.
    pub(super) fn mode_nm(&self) -> f64 {
        self.parts.first().map_or(0.0, Part::mode_nm)
    }

    /// Depth of the highest point of the deepest bell, in nm.
    pub(super) fn deepest_mode_nm(&self) -> f64 {
        self.parts.iter().map(Part::mode_nm).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Standard deviation of the widest bell, in nm.
    pub(super) fn widest_nm(&self) -> f64 {
        self.parts.iter().map(|part| part.sigma_nm).fold(0.0, f64::max)
    }

    /// Depth above which a share of the ions stops, given both as that share and as the rest,
    /// so that neither tail loses its digits; in nm.
    pub(super) fn depth_of_share_nm(&self, below: f64, beyond: f64) -> f64 {
        let (low, high) = self.parts.iter().fold((0.0_f64, 0.0_f64), |(low, high), p| {
            let reach = 40.0 * p.sigma_nm;
            (low.min(p.mean_nm - reach), high.max(p.mean_nm + reach))
        });
        let root = if below < beyond {
            bisect(|depth_nm| self.below(depth_nm) - below, low, high)
        } else {
            bisect(|depth_nm| beyond - self.beyond(depth_nm), low, high)
        };
        // Outside the bracket less than one ion of 1e16 is left: its end is as good.
        root.unwrap_or(if below < beyond { low } else { high })
    }
}

fn part(weight: f64, moments: Moments, curve: Curve) -> Part {
    Part { weight, mean_nm: moments.mean_nm, sigma_nm: moments.sigma_nm, curve }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BORON_100: Moments = Moments {
        mean_nm: 299.4,
        sigma_nm: 71.0,
        lateral_nm: 87.2,
        skewness: -0.95,
        kurtosis: 5.10,
    };

    #[test]
    fn depth_of_share_undoes_the_shares_in_both_tails() {
        for distribution in [
            DepthDistribution::gaussian(BORON_100),
            DepthDistribution::pearson(BORON_100).0,
        ] {
            for depth_nm in [-20.0, 0.0, 40.0, 299.4, 500.0, 640.0] {
                let back = distribution.depth_of_share_nm(
                    distribution.below(depth_nm),
                    distribution.beyond(depth_nm),
                );
                assert!((back - depth_nm).abs() < 1e-6, "{depth_nm} came back as {back}");
            }
        }
    }

    #[test]
    fn tilt_rotates_the_ion_cloud() {
        let tilted = BORON_100.tilted(60.0);
        assert!((tilted.mean_nm - 149.7).abs() < 1e-9);
        // 71^2/4 + 87.2^2 * 3/4 = 6963.13.
        assert!((tilted.sigma_nm * tilted.sigma_nm - 6963.13).abs() < 0.01);
        // The squares of both spreads keep their sum.
        let sum = |m: Moments| m.sigma_nm * m.sigma_nm + m.lateral_nm * m.lateral_nm;
        assert!((sum(tilted) / sum(BORON_100) - 1.0).abs() < 1e-12);
        assert!(tilted.skewness.abs() < BORON_100.skewness.abs());
        assert!((BORON_100.tilted(0.0).kurtosis - 5.10).abs() < 1e-12);
    }
}
