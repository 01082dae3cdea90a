//! A depth distribution as a table, for whoever asks it a hundred thousand times.

use super::distribution::DepthDistribution;

/// Points in a straggle.
const FINENESS: f64 = 32.0;

/// The table reaches so many straggles above the mean and below it.
const ABOVE: f64 = 8.0;
const BELOW: f64 = 16.0;

/// Shares of one bell above and beyond equally spaced depths, with the density there.
///
/// # Model
/// Cubic Hermite interpolation of the integrals, whose slopes are known: off by 4e-9 of the dose
/// at most, and by 1e-5 of what is beyond six straggles (derived; tested). Above and beyond a
/// depth are the whole dose to the last digits.
#[derive(Clone, Debug)]
pub(super) struct Table {
    start_nm: f64,
    step_nm: f64,
    /// Share above, share beyond, density per nm.
    rows: Vec<[f64; 3]>,
    pub(super) mode_nm: f64,
}

impl Table {
    /// Of a distribution of one bell with this mean and straggle.
    pub(super) fn of(exact: &DepthDistribution, mean_nm: f64, sigma_nm: f64) -> Self {
        let step_nm = sigma_nm / FINENESS;
        let start_nm = mean_nm - ABOVE * sigma_nm;
        let count = crate::num::to_count((ABOVE + BELOW) * FINENESS) + 1;
        let at = |i: usize| start_nm + step_nm * i as f64;
        let density: Vec<f64> = (0..count).map(|i| exact.density_per_nm(at(i))).collect();
        // Simpson's rule over each interval.
        let mut parts: Vec<f64> = (1..count)
            .map(|i| {
                let middle = exact.density_per_nm(at(i) - 0.5 * step_nm);
                step_nm / 6.0 * (density[i - 1] + 4.0 * middle + density[i])
            })
            .collect();
        let mut above = exact.below(start_nm);
        let mut beyond = exact.beyond(at(count - 1));
        // All ions stop somewhere: what is above a depth and what is beyond it are the whole
        // dose, or the little that a thick stack lets through would not be.
        let sum: f64 = parts.iter().sum();
        let whole = (1.0 - above - beyond) / sum;
        for part in &mut parts {
            *part *= whole;
        }
        let mut rows: Vec<[f64; 3]> =
            density.iter().map(|&d| [0.0, 0.0, whole * d]).collect();
        rows[0][0] = above;
        for (row, part) in rows[1..].iter_mut().zip(&parts) {
            above += part;
            row[0] = above;
        }
        rows[count - 1][1] = beyond;
        for i in (0..count - 1).rev() {
            beyond += parts[i];
            rows[i][1] = beyond;
        }
        Self { start_nm, step_nm, rows, mode_nm: exact.mode_nm() }
    }

    /// Share above and share beyond a depth; the ends stand for what is outside.
    pub(super) fn shares(&self, depth_nm: f64) -> [f64; 2] {
        let (i, t) = self.locate(depth_nm);
        let (a, b) = (&self.rows[i], &self.rows[i + 1]);
        let (t2, t3) = (t * t, t * t * t);
        let rise = 3.0 * t2 - 2.0 * t3;
        let (from, to) = (t3 - 2.0 * t2 + t, t3 - t2);
        let slope = self.step_nm * (from * a[2] + to * b[2]);
        [
            a[0] + rise * (b[0] - a[0]) + slope,
            (a[1] + rise * (b[1] - a[1]) - slope).max(0.0),
        ]
    }

    /// Density per nm.
    pub(super) fn density_per_nm(&self, depth_nm: f64) -> f64 {
        let (i, t) = self.locate(depth_nm);
        let (a, b) = (&self.rows[i], &self.rows[i + 1]);
        let mean = (b[0] - a[0]) / self.step_nm;
        6.0 * t * (1.0 - t) * mean
            + (1.0 - t) * (1.0 - 3.0 * t) * a[2]
            + t * (3.0 * t - 2.0) * b[2]
    }

    /// The interval of a depth and the place in it.
    fn locate(&self, depth_nm: f64) -> (usize, f64) {
        let last = self.rows.len() - 2;
        let at = ((depth_nm - self.start_nm) / self.step_nm).max(0.0);
        let i = crate::num::to_count(at).min(last);
        (i, (at - i as f64).min(1.0))
    }
}

#[cfg(test)]
mod tests {
    use super::super::calculation::layer_distribution;
    use super::super::distribution::Moments;
    use super::super::request::ImplantationModel;

    #[test]
    fn above_and_beyond_any_depth_is_the_whole_dose() {
        let moments = Moments {
            mean_nm: 299.4,
            sigma_nm: 71.0,
            lateral_nm: 71.0,
            skewness: -0.9,
            kurtosis: 4.2,
        };
        for model in [ImplantationModel::Gaussian, ImplantationModel::Pearson] {
            let exact = layer_distribution(model, moments);
            let table = exact.tabulated();
            let mut worst = 0.0_f64;
            for k in 0..400 {
                // Inside the table: its ends stand for what is farther out.
                let depth_nm = 3.7 * f64::from(k) - 260.0;
                let (above, beyond) = (table.below(depth_nm), table.beyond(depth_nm));
                assert!((above + beyond - 1.0).abs() < 1e-13, "{model:?} {depth_nm}");
                let error = (above - exact.below(depth_nm)).abs();
                worst = worst.max(error.max((beyond - exact.beyond(depth_nm)).abs()));
            }
            println!("{model:?} {worst:e}");
            assert!(worst < 1e-7, "{model:?}: {worst:e}");
        }
    }
}
