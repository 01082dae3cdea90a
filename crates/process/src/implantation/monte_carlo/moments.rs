//! Moments of a sample, each with the error that the number of ions leaves.

/// A number and its standard error; `None` where the sample is too small to tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Estimate {
    pub(super) value: f64,
    pub(super) error: Option<f64>,
}

/// The first four moments of a sample.
#[derive(Clone, Copy, Debug)]
pub(super) struct SampleMoments {
    pub(super) mean: Estimate,
    pub(super) sigma: Estimate,
    pub(super) skewness: Estimate,
    pub(super) kurtosis: Estimate,
}

/// Samples below this tell nothing about the error of their own third and fourth moment.
const FEWEST: f64 = 30.0;

/// Moments of the values.
///
/// # Model
/// With `z = (x - mean)/sigma`, skewness `g` and kurtosis `b`, one more value moves the moments
/// in proportion to `z`, `(z^2 - 1)/2`, `z^3 - g - 3 z - 3/2 g (z^2 - 1)` and
/// `z^4 - b - 4 g z - 2 b (z^2 - 1)`: the mean square of that over the number of values is the
/// square of the standard error (delta method, textbook standard; derived).
pub(super) fn moments_of(values: impl Iterator<Item = f64> + Clone) -> SampleMoments {
    let (mut n, mut sum) = (0.0, 0.0);
    for value in values.clone() {
        n += 1.0;
        sum += value;
    }
    let mean = if n == 0.0 { 0.0 } else { sum / n };
    let central = |power: i32| {
        values
            .clone()
            .map(|value| (0..power).fold(1.0, |product, _| product * (value - mean)))
            .sum::<f64>()
            / f64::max(n, 1.0)
    };
    let sigma = central(2).sqrt();
    let unknown = |value: f64| Estimate { value, error: None };
    if n < 2.0 || sigma <= 0.0 {
        return SampleMoments {
            mean: unknown(mean),
            sigma: unknown(0.0),
            skewness: unknown(0.0),
            kurtosis: unknown(3.0),
        };
    }
    let skewness = central(3) / (sigma * sigma * sigma);
    let kurtosis = central(4) / (sigma * sigma * sigma * sigma);
    let mut squares = [0.0; 3];
    for value in values {
        let z = (value - mean) / sigma;
        let wide = z * z - 1.0;
        let moved = [
            0.5 * wide,
            z * z * z - skewness - 3.0 * z - 1.5 * skewness * wide,
            z * z * z * z - kurtosis - 4.0 * skewness * z - 2.0 * kurtosis * wide,
        ];
        for (square, one) in squares.iter_mut().zip(moved) {
            *square += one * one;
        }
    }
    let error = |square: f64| (FEWEST <= n).then(|| square.sqrt() / n);
    SampleMoments {
        mean: Estimate { value: mean, error: Some(sigma / n.sqrt()) },
        sigma: Estimate { value: sigma, error: error(squares[0]).map(|e| sigma * e) },
        skewness: Estimate { value: skewness, error: error(squares[1]) },
        kurtosis: Estimate { value: kurtosis, error: error(squares[2]) },
    }
}

/// Root of the mean of squares, as of the way across the beam.
pub(super) fn root_mean_square(squares: impl Iterator<Item = f64> + Clone) -> Estimate {
    let of_squares = moments_of(squares);
    let value = of_squares.mean.value.sqrt();
    let error =
        of_squares.mean.error.filter(|_| 0.0 < value).map(|error| error / (2.0 * value));
    Estimate { value, error }
}

/// A share of all ions, with its standard error `sqrt(p (1 - p)/n)` (binomial distribution).
pub(super) fn share(part: u32, all: u32) -> Estimate {
    if all == 0 {
        return Estimate { value: 0.0, error: None };
    }
    let (part, all) = (f64::from(part), f64::from(all));
    let value = part / all;
    // One count more than there is: no share is known to be exactly none.
    let cautious = (part + 1.0) / (all + 2.0);
    Estimate { value, error: Some((cautious * (1.0 - cautious) / all).sqrt()) }
}

#[cfg(test)]
mod tests {
    use super::super::generator::Generator;
    use super::*;

    /// A skewed sample: the sum of two squares of uniform numbers.
    fn sample(seed: u32, n: u32) -> Vec<f64> {
        (0..n)
            .map(|i| {
                let mut random = Generator::of_ion(seed, i);
                let (a, b) = (random.unit(), random.unit());
                a * a + b * b
            })
            .collect()
    }

    #[test]
    fn the_errors_are_the_spread_of_many_samples() {
        let all: Vec<SampleMoments> =
            (0..400).map(|seed| moments_of(sample(seed, 500).into_iter())).collect();
        let picks: [fn(&SampleMoments) -> Estimate; 4] =
            [|m| m.mean, |m| m.sigma, |m| m.skewness, |m| m.kurtosis];
        for pick in picks {
            let spread = moments_of(all.iter().map(|m| pick(m).value)).sigma.value;
            let told = all.iter().filter_map(|m| pick(m).error).sum::<f64>() / 400.0;
            // The spread of 400 samples is itself known to 1/sqrt(800) = 3.5 %.
            assert!((told / spread - 1.0).abs() < 0.12, "{told} for {spread}");
        }
    }

    #[test]
    fn few_values_give_no_false_errors() {
        let none = moments_of(core::iter::empty());
        assert_eq!(none.mean, Estimate { value: 0.0, error: None });
        let one = moments_of([4.0].into_iter());
        assert_eq!(one.mean, Estimate { value: 4.0, error: None });
        let three = moments_of([1.0, 2.0, 4.0].into_iter());
        assert!(three.mean.error.is_some() && three.kurtosis.error.is_none());
        assert!(share(0, 100).error.is_some_and(|error| 0.0 < error));
    }
}
