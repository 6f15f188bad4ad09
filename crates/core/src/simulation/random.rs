//! Random numbers that come out the same every time and on every machine.
//!
//! The generator is xoshiro256++ (Blackman and Vigna, *Scrambled linear pseudorandom number
//! generators*, ACM Trans. Math. Softw. 47 (2021) 36), its state filled by SplitMix64 (Steele, Lea and
//! Flood, *Fast splittable pseudorandom number generators*, OOPSLA 2014). Normal numbers are ratios of
//! uniform ones (Kinderman and Monahan 1977) with Leva's quick bounds (*A fast normal random number
//! generator*, ACM Trans. Math. Softw. 18 (1992) 449): they are quotients, so they agree to the last bit
//! wherever IEEE arithmetic does; a logarithm only decides one pair in eighty.

/// A seeded generator.
///
/// ```
/// use whorl_core::simulation::random::Random;
/// let third_lab = Random::new(7).fork(3).normal();
/// assert_eq!(third_lab.to_bits(), Random::new(7).fork(3).normal().to_bits());
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Random {
    seed: u64,
    state: [u64; 4],
}

/// Step of SplitMix64: 2⁶⁴ divided by the golden ratio, made odd.
const GOLDEN: u64 = 0x9E37_79B9_7F4A_7C15;

/// SplitMix64's output function.
fn mix(word: u64) -> u64 {
    let word = (word ^ (word >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let word = (word ^ (word >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    word ^ (word >> 31)
}

impl Random {
    /// A generator of its own for every seed.
    pub fn new(seed: u64) -> Self {
        // Four consecutive outputs of SplitMix64 are never all zero, the one state xoshiro cannot leave.
        let state = [1, 2, 3, 4].map(|k| mix(seed.wrapping_add(GOLDEN.wrapping_mul(k))));
        Self { seed, state }
    }

    /// The stream with this number. It depends on the seed and the number alone, not on what was drawn
    /// before, so that lab 17 is the same lab whether or not labs 0 to 16 were simulated.
    #[must_use]
    pub fn fork(&self, number: u64) -> Self {
        // Mixed twice, so that stream 2 of seed 1 is not stream 1 of seed 2.
        Self::new(mix(mix(self.seed.wrapping_add(GOLDEN)).wrapping_add(number.wrapping_mul(GOLDEN))))
    }

    /// 64 random bits.
    pub fn bits(&mut self) -> u64 {
        let [a, b, c, d] = self.state;
        let output = a.wrapping_add(d).rotate_left(23).wrapping_add(a);
        // As in the paper's listing: b and a take up the new c and d.
        let (c, d) = (c ^ a, d ^ b);
        self.state = [a ^ d, b ^ c, c ^ (b << 17), d.rotate_left(45)];
        output
    }

    /// Evenly from 0 (included) to 1 (not included), in steps of 2⁻⁵³.
    pub fn uniform(&mut self) -> f64 {
        (self.bits() >> 11) as f64 * (1.0 / (1_u64 << 53) as f64)
    }

    /// Evenly from `low` to `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// True with this probability.
    pub fn chance(&mut self, probability: f64) -> bool {
        self.uniform() < probability
    }

    /// Evenly one of 0, 1, … `count` − 1; 0 when `count` is 0.
    pub fn index(&mut self, count: usize) -> usize {
        // The high half of a 128-bit product: no division, and a bias below count/2⁶⁴.
        let product = u128::from(self.bits()) * count as u128;
        usize::try_from(product >> 64).unwrap_or(0)
    }

    /// Normal: mean 0, standard deviation 1.
    pub fn normal(&mut self) -> f64 {
        // 2√(2/e) = 1.71553 is the height of the region; Leva rounds it up.
        const HEIGHT: f64 = 1.7156;
        loop {
            // From (0, 1]: the quotient needs a divisor.
            let u = 1.0 - self.uniform();
            let v = HEIGHT * (self.uniform() - 0.5);
            let x = u - 0.449_871;
            let y = v.abs() + 0.386_595;
            let q = x * x + y * (0.196 * y - 0.254_72 * x);
            if q < 0.275_97 || (q <= 0.278_46 && v * v <= -4.0 * u * u * u.ln()) {
                return v / u;
            }
        }
    }

    /// Normal with this mean and standard deviation.
    pub fn normal_about(&mut self, mean: f64, standard_deviation: f64) -> f64 {
        mean + standard_deviation * self.normal()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_seed_s_first_words_are_those_of_splitmix64() {
        // The algorithm's outputs for seed 1234567, as published with its reference program.
        let expected = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
        ];
        assert_eq!(Random::new(1_234_567).state, expected);
    }

    #[test]
    fn the_generator_s_words_worked_by_hand() {
        // State 1, 2, 3, 4: (1 + 4) 2²³ + 1 = 41943041; then a = 7, d = 6 · 2⁴⁵:
        // rotate(7 + 6 · 2⁴⁵, 23) + 7 = 7 · 2²³ + 6 · 2⁶⁸⁻⁶⁴ + 7 = 58720359.
        let mut random = Random { seed: 0, state: [1, 2, 3, 4] };
        assert_eq!(random.bits(), 41_943_041);
        assert_eq!(random.state, [7, 0, 262_146, 6 << 45]);
        assert_eq!(random.bits(), 58_720_359);
    }

    #[test]
    fn moments_of_a_million_numbers() {
        // Standard deviations of the means of n numbers, times 5: 5/√n for x, √2, √15 and √96 of it for
        // x², x³ and x⁴; for the uniform mean 5/√(12 n).
        let n = 1_000_000;
        let mut random = Random::new(1);
        let (mut uniform, mut powers) = (0.0, [0.0; 4]);
        for _ in 0..n {
            uniform += random.uniform();
            let x = random.normal();
            for (sum, power) in powers.iter_mut().zip(1..) {
                *sum += x.powi(power);
            }
        }
        let n = f64::from(n);
        let five = 5.0 / n.sqrt();
        assert!((uniform / n - 0.5).abs() < five / 12.0_f64.sqrt());
        for ((sum, moment), spread) in powers.iter().zip([0.0, 1.0, 0.0, 3.0]).zip([1.0, 2.0, 15.0, 96.0_f64])
        {
            assert!((sum / n - moment).abs() < five * spread.sqrt(), "{} for {moment}", sum / n);
        }
    }

    #[test]
    fn as_many_lie_outside_as_the_normal_distribution_says() {
        // P(|x| > 1, 2, 3) = 0.317311, 0.045500, 0.002700 (NIST/SEMATECH e-Handbook 1.3.6.7.1).
        let n = 400_000;
        let mut random = Random::new(2);
        let mut outside = [0; 3];
        for _ in 0..n {
            let x = random.normal().abs();
            for (count, limit) in outside.iter_mut().zip([1.0, 2.0, 3.0]) {
                *count += u32::from(x > limit);
            }
        }
        for (count, p) in outside.into_iter().zip([0.317_311, 0.045_500, 0.002_700]) {
            let deviation = (f64::from(n) * p * (1.0 - p)).sqrt();
            assert!((f64::from(count) - f64::from(n) * p).abs() < 5.0 * deviation, "{count} at {p}");
        }
    }

    #[test]
    fn streams_do_not_depend_on_what_was_drawn_and_differ() {
        let mut drawn = Random::new(5);
        let fresh = drawn.fork(9);
        drawn.normal();
        assert_eq!(drawn.fork(9), fresh);
        assert_ne!(drawn.fork(10), fresh);
        assert_ne!(Random::new(1).fork(2), Random::new(2).fork(1));
        assert_ne!(Random::new(5).fork(0).state, Random::new(5).state);
    }

    #[test]
    fn an_index_reaches_every_place_evenly() {
        let mut random = Random::new(3);
        let mut counts = [0; 7];
        for _ in 0..70_000 {
            counts[random.index(7)] += 1;
        }
        // Five standard deviations of a count of 70000 with probability 1/7: 463.
        assert!(counts.iter().all(|count: &i32| (count - 10_000).abs() < 463), "{counts:?}");
        assert_eq!(random.index(0), 0);
    }
}
