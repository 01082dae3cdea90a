//! Random numbers: the same seed gives the same ions, on every machine and in any order.

/// A small generator of uniform random numbers, one for each ion.
///
/// # Model
/// xoshiro256++, seeded through splitmix64: both by D. Blackman and S. Vigna, ACM Trans. Math.
/// Softw. 47, 36 (2021), in the public domain (memory; held by known first numbers).
#[derive(Clone, Debug)]
pub(super) struct Generator {
    state: [u64; 4],
}

/// `2^-53`: the step between the numbers of [`Generator::unit`].
const STEP_53: f64 = 1.0 / 9_007_199_254_740_992.0;
/// `2^-31`: the step between the coordinates of a point in the square.
const STEP_31: f64 = 1.0 / 2_147_483_648.0;

impl Generator {
    /// The generator of one ion: it depends on the seed and the ion's number only, so that the
    /// ion has the same track whenever it flies.
    pub(super) fn of_ion(seed: u32, ion: u32) -> Self {
        let mut stream = (u64::from(seed) << 32) | u64::from(ion);
        // Neighboring numbers are scattered first: their streams must not overlap.
        let mut start = split_mix(&mut stream);
        Self { state: core::array::from_fn(|_| split_mix(&mut start)) }
    }

    /// The next 64 random bits.
    #[inline]
    fn bits(&mut self) -> u64 {
        let s = &mut self.state;
        let bits = s[0].wrapping_add(s[3]).rotate_left(23).wrapping_add(s[0]);
        let shifted = s[1] << 17;
        s[2] ^= s[0];
        s[3] ^= s[1];
        s[1] ^= s[2];
        s[0] ^= s[3];
        s[2] ^= shifted;
        s[3] = s[3].rotate_left(45);
        bits
    }

    /// A number from 0 to 1, without 1.
    #[inline]
    #[expect(clippy::cast_precision_loss, reason = "53 bits are exact")]
    pub(super) fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 * STEP_53
    }

    /// Cosine and sine of a uniform angle, without either function: the angle of a point in the
    /// unit circle, doubled.
    #[inline]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the two halves of 64 bits, each as a signed number"
    )]
    pub(super) fn turn(&mut self) -> [f64; 2] {
        loop {
            let bits = self.bits();
            let x = f64::from((bits >> 32) as i32) * STEP_31;
            let y = f64::from(bits as i32) * STEP_31;
            let (xx, yy) = (x * x, y * y);
            let square = xx + yy;
            if square < 1.0 && 1e-12 < square {
                let inverse = 1.0 / square;
                return [(xx - yy) * inverse, 2.0 * x * y * inverse];
            }
        }
    }
}

/// One step of splitmix64.
fn split_mix(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut mixed = *state;
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^ (mixed >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_numbers_are_the_published_ones() {
        // The sequences that other implementations of both generators print (memory).
        let mut generator = Generator { state: [1, 2, 3, 4] };
        let expected = [41_943_041, 58_720_359, 3_588_806_011_781_223];
        for number in expected {
            assert_eq!(generator.bits(), number);
        }
        let mut state = 1_234_567;
        assert_eq!(split_mix(&mut state), 6_457_827_717_110_365_317);
        assert_eq!(split_mix(&mut state), 3_203_168_211_198_807_973);
    }

    #[test]
    fn numbers_are_uniform_and_turns_have_length_one() {
        let (mut sum, mut squares) = (0.0, 0.0);
        let mut turns = [0.0; 2];
        let count = 40_000_u32;
        for ion in 0..count {
            let mut generator = Generator::of_ion(7, ion);
            let number = generator.unit();
            assert!((0.0..1.0).contains(&number));
            sum += number;
            squares += number * number;
            let [c, s] = generator.turn();
            assert!((c * c + s * s - 1.0).abs() < 1e-12);
            turns = [turns[0] + c, turns[1] + s];
        }
        let n = f64::from(count);
        // Five standard errors: 0.289/sqrt(n), 0.298/sqrt(n), 0.707/sqrt(n).
        assert!((sum / n - 0.5).abs() < 5.0 * 0.289 / n.sqrt());
        assert!((squares / n - 1.0 / 3.0).abs() < 5.0 * 0.298 / n.sqrt());
        for turn in turns {
            assert!((turn / n).abs() < 5.0 * 0.707 / n.sqrt());
        }
    }
}
