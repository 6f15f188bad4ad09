//! Random numbers for the trials: seeded, so that the same lab gives the same digits every time.
//!
//! - bits: xoshiro256++ (D. Blackman, S. Vigna, “Scrambled linear pseudorandom number generators”, ACM
//!   Trans. Math. Softw. 47 (2021) 36), its state filled by SplitMix64 (G. L. Steele, D. Lea, C. H. Flood,
//!   “Fast splittable pseudorandom number generators”, OOPSLA 2014). JCGM 101:2008 C.3.2 asks for a period
//!   above 85 times the square of the numbers used: 85 · (10⁸)² against 2²⁵⁶;
//! - normal: the ziggurat of G. Marsaglia and W. W. Tsang (J. Stat. Softw. 5 (2000) 8) with 256 layers and
//!   layer and place from different bits (J. A. Doornik, “An improved ziggurat method”, Oxford 2005); the
//!   tail by Marsaglia (Technometrics 6 (1964) 101);
//! - chi-square and Student's t: from gamma by G. Marsaglia and W. W. Tsang, “A simple method for generating
//!   gamma variables”, ACM Trans. Math. Softw. 26 (2000) 363.

use core::array::from_fn;

/// Where the lowest layer of the ziggurat ends, and the area of each layer under exp(−x²/2); the second
/// follows from the first, R f(R) + ∫ f from R on.
const TAIL: f64 = 3.654_152_885_361_009;
const AREA: f64 = 0.004_928_673_233_974_655;

/// A source of random numbers.
#[derive(Clone, Debug)]
pub struct Random {
    state: [u64; 4],
    /// Of each layer: its width, the share of it that lies wholly under the curve, and the curve's height at
    /// its outer and its inner end.
    layers: [Layer; 256],
}

#[derive(Clone, Copy, Debug)]
struct Layer {
    width: f64,
    sure: f64,
    outer: f64,
    inner: f64,
}

impl Random {
    /// The numbers that belong to a seed.
    pub fn new(seed: u64) -> Self {
        let mut split = seed;
        let state = from_fn(|_| {
            split = split.wrapping_add(0x9E37_79B9_7F4A_7C15);
            let mut z = split;
            z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
            z ^ (z >> 31)
        });
        Self { state, layers: layers() }
    }

    /// 64 random bits.
    #[inline]
    pub fn bits(&mut self) -> u64 {
        let [a, b, c, d] = self.state;
        let found = a.wrapping_add(d).rotate_left(23).wrapping_add(a);
        let (c, d) = (c ^ a, d ^ b);
        self.state = [a ^ d, b ^ c, c ^ (b << 17), d.rotate_left(45)];
        found
    }

    /// Evenly between 0 and 1, neither included.
    pub fn even(&mut self) -> f64 {
        ((self.bits() >> 12) as f64 + 0.5) * (1.0 / (1_u64 << 52) as f64)
    }

    /// Normal with mean 0 and standard deviation 1.
    #[inline]
    pub fn normal(&mut self) -> f64 {
        loop {
            let bits = self.bits();
            // Layer from the lowest eight bits, place in it from the highest 53: −1 to 1.
            let place = (bits.cast_signed() >> 11) as f64 * (1.0 / (1_u64 << 52) as f64);
            let Some(layer) = self.layers.get((bits & 255) as usize) else { continue };
            if place.abs() < layer.sure {
                return place * layer.width;
            }
            if let Some(found) = self.at_the_edge(*layer, bits.trailing_zeros() >= 8, place) {
                return found;
            }
        }
    }

    /// The rare part of [`Self::normal`]: one number in a hundred.
    #[inline(never)]
    fn at_the_edge(&mut self, layer: Layer, lowest: bool, place: f64) -> Option<f64> {
        if lowest {
            loop {
                let beyond = -self.even().ln() / TAIL;
                if -2.0 * self.even().ln() > beyond * beyond {
                    return Some((TAIL + beyond).copysign(place));
                }
            }
        }
        let x = place * layer.width;
        let height = layer.outer + self.even() * (layer.inner - layer.outer);
        (height < (-0.5 * x * x).exp()).then_some(x)
    }

    /// Chi-square.
    #[inline]
    pub fn chi_square(&mut self, kind: &ChiSquare) -> f64 {
        loop {
            let x = self.normal();
            let root = 1.0 + kind.c * x;
            if root <= 0.0 {
                continue;
            }
            let v = root * root * root;
            let u = self.even();
            let square = x * x;
            let sure = u < 1.0 - 0.0331 * square * square;
            if sure || u.ln() < 0.5 * square + kind.d * (1.0 - v + v.ln()) {
                let gamma = kind.d * v;
                return 2.0
                    * if kind.boost > 0.0 { gamma * (kind.boost * self.even().ln()).exp() } else { gamma };
            }
        }
    }
}

/// Chi-square with given degrees of freedom, made ready for drawing.
#[derive(Clone, Copy, Debug)]
pub struct ChiSquare {
    /// Of the gamma distribution with shape a = ν/2: a − ⅓, and 1/√(9 d).
    d: f64,
    c: f64,
    /// Below shape 1 the next higher one is drawn and brought down by u^(1/a); else 0.
    boost: f64,
}

impl ChiSquare {
    /// `None` unless the degrees of freedom are above zero and finite.
    pub fn new(degrees_of_freedom: f64) -> Option<Self> {
        if !(degrees_of_freedom > 0.0 && degrees_of_freedom.is_finite()) {
            return None;
        }
        let shape = 0.5 * degrees_of_freedom;
        let (shape, boost) = if shape < 1.0 { (shape + 1.0, 1.0 / shape) } else { (shape, 0.0) };
        let d = shape - 1.0 / 3.0;
        Some(Self { d, c: 1.0 / (9.0 * d).sqrt(), boost })
    }
}

/// An input of a model, centered on zero, by what is known of it (JCGM 101:2008 6.4).
#[derive(Clone, Copy, Debug)]
pub enum Error {
    /// Known exactly.
    None,
    /// 6.4.7: a best estimate with its standard uncertainty.
    Normal(f64),
    /// 6.4.9: a mean of a series of indications; scaled Student's t. Holds u √ν.
    Student(f64, ChiSquare),
    /// 6.4.2: two limits, given by half their distance.
    Rectangular(f64),
}

impl Error {
    /// For a standard uncertainty with its degrees of freedom.
    pub fn new(standard_uncertainty: f64, degrees_of_freedom: f64) -> Self {
        match ChiSquare::new(degrees_of_freedom) {
            _ if standard_uncertainty == 0.0 => Self::None,
            None => Self::Normal(standard_uncertainty),
            Some(kind) => Self::Student(standard_uncertainty * degrees_of_freedom.sqrt(), kind),
        }
    }

    /// One draw.
    #[inline]
    pub fn draw(&self, random: &mut Random) -> f64 {
        match self {
            Self::None => 0.0,
            Self::Normal(u) => u * random.normal(),
            Self::Student(u, kind) => u * random.normal() / random.chi_square(kind).sqrt(),
            Self::Rectangular(half) => half * (2.0 * random.even() - 1.0),
        }
    }
}

fn layers() -> [Layer; 256] {
    let curve = |x: f64| (-0.5 * x * x).exp();
    // Layer 0 stands for its rectangle and the tail, as one rectangle of the same area.
    let mut width = AREA / curve(TAIL);
    let mut next = TAIL;
    let mut number = 0;
    from_fn(|_| {
        let layer = Layer { width, sure: next / width, outer: curve(width), inner: curve(next) };
        width = next;
        number += 1;
        // The last one ends where the curve is highest.
        next = if number == 255 { 0.0 } else { (-2.0 * (AREA / width + curve(width)).ln()).sqrt() };
        layer
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measured::coverage::{chi_square_tail, student_t_quantile};

    #[test]
    fn bits_are_those_of_the_published_generator() {
        // The first four from the state 1, 2, 3, 4, worked by hand from the definition:
        // rotl(1 + 4, 23) + 1 = 5 · 2²³ + 1.
        let mut random = Random { state: [1, 2, 3, 4], layers: layers() };
        assert_eq!(random.bits(), 41_943_041);
        assert_eq!(random.bits(), 58_720_359);
        assert_eq!(random.bits(), 3_588_806_011_781_223);
        // SplitMix64 from seed 1234567: the first two numbers of its authors' program.
        assert_eq!(Random::new(1_234_567).state[..2], [6_457_827_717_110_365_317, 3_203_168_211_198_807_973]);
    }

    #[test]
    fn the_layers_close_at_the_top() {
        // Layer 255 reaches from its width to the middle and has the same area as the others.
        let last = layers()[255];
        assert!((last.width * (1.0 - last.outer) - AREA).abs() < 1e-12, "{last:?}");
    }

    /// Share of n draws below `x` less its probability, in standard deviations of that share.
    fn off(draws: &[f64], x: f64, probability: f64) -> f64 {
        let below = draws.iter().filter(|&&draw| draw < x).count() as f64;
        let n = draws.len() as f64;
        (below / n - probability) / (probability * (1.0 - probability) / n).sqrt()
    }

    const DRAWS: usize = 1_000_000;
    /// Of some fifty shares held against their probabilities none may be this many standard deviations off:
    /// one seed in ten thousand would fail by chance, and the seed is fixed.
    const MOST: f64 = 4.8;

    #[test]
    fn normal_numbers_have_the_quantiles_of_the_normal_distribution() {
        let mut random = Random::new(1);
        let draws: Vec<f64> = (0..DRAWS).map(|_| random.normal()).collect();
        for p in
            [1e-5, 1e-4, 1e-3, 0.01, 0.025, 0.1, 0.25, 0.4, 0.5, 0.6, 0.8, 0.9, 0.975, 0.999, 0.9999, 0.99999]
        {
            let x = student_t_quantile(p, f64::INFINITY);
            assert!(off(&draws, x, p).abs() < MOST, "{p}: {}", off(&draws, x, p));
        }
        let n = DRAWS as f64;
        let moment = |power: i32| draws.iter().map(|x| x.powi(power)).sum::<f64>() / n;
        // Standard deviations of the first four moments: √(1/n), √(2/n), √(15/n), √(96/n).
        for (power, expected, variance) in [(1, 0.0, 1.0_f64), (2, 1.0, 2.0), (3, 0.0, 15.0), (4, 3.0, 96.0)]
        {
            let off = (moment(power) - expected) / (variance / n).sqrt();
            assert!(off.abs() < MOST, "moment {power}: {off}");
        }
    }

    #[test]
    fn the_tail_beyond_the_lowest_layer_is_as_heavy_as_it_should_be() {
        // P(|x| > 3.654…) = 2.58e-4 and P(|x| > 4) = 6.334e-5.
        let mut random = Random::new(2);
        let beyond: Vec<f64> = (0..DRAWS).map(|_| random.normal().abs()).filter(|x| *x > TAIL).collect();
        let p = chi_square_tail(TAIL * TAIL, 1.0).unwrap();
        let further = chi_square_tail(16.0, 1.0).unwrap();
        let n = DRAWS as f64;
        assert!(((beyond.len() as f64 - n * p) / (n * p).sqrt()).abs() < MOST, "{}", beyond.len());
        assert!(off(&beyond, 4.0, 1.0 - further / p).abs() < MOST);
    }

    #[test]
    fn chi_square_and_t_have_their_quantiles() {
        for freedom in [1.0_f64, 2.0, 3.0, 8.0, 41.0, 500.0] {
            let mut random = Random::new(3);
            let kind = ChiSquare::new(freedom).unwrap();
            let draws: Vec<f64> = (0..DRAWS / 4).map(|_| random.chi_square(&kind)).collect();
            for steps in [-1.2, -0.5, 0.0, 0.5, 1.0, 2.0, 3.0] {
                let x = freedom + steps * (2.0 * freedom).sqrt();
                let Some(tail) = chi_square_tail(x, freedom) else { continue };
                assert!(off(&draws, x, 1.0 - tail).abs() < MOST, "{freedom} {x}");
            }
            let error = Error::new(2.0, freedom);
            let draws: Vec<f64> = (0..DRAWS / 4).map(|_| error.draw(&mut random)).collect();
            for p in [0.001, 0.025, 0.2, 0.5, 0.7, 0.975] {
                let x = 2.0 * student_t_quantile(p, freedom);
                assert!(off(&draws, x, p).abs() < MOST, "{freedom} {p}");
            }
        }
    }

    #[test]
    fn what_is_known_exactly_is_not_drawn() {
        let mut random = Random::new(4);
        let state = random.state;
        assert!(matches!(Error::new(0.0, 5.0), Error::None));
        assert_eq!(Error::None.draw(&mut random).to_bits(), 0);
        assert_eq!(random.state, state);
        let half = Error::Rectangular(3.0);
        let draws: Vec<f64> = (0..DRAWS / 4).map(|_| half.draw(&mut random)).collect();
        for x in [-2.9, -1.0, 0.0, 2.0] {
            assert!(off(&draws, x, (x + 3.0) / 6.0).abs() < MOST, "{x}");
        }
    }

    #[test]
    fn other_degrees_of_freedom_are_none() {
        for freedom in [0.0, -1.0, f64::INFINITY, f64::NAN] {
            assert!(ChiSquare::new(freedom).is_none(), "{freedom}");
            assert!(matches!(Error::new(1.0, freedom), Error::Normal(_)));
        }
    }
}
