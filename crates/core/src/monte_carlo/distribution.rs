//! The values of one result, counted rather than kept.
//!
//! A million trials of a dozen results would be a hundred megabytes. Instead the first block of trials is
//! kept, tells where the values lie, and from then on they are counted in 16 384 bins over eight times the
//! width of the first block's 99 % interval. For a normal distribution a bin is 0.0025 u wide; between a
//! bin's edges the distribution function is taken as straight, which moves a quantile by less than 10⁻⁶ u
//! (the bin's width squared times the slope of the density over 8 times the density). That is a thousandth
//! of the tightest numerical tolerance there is (JCGM 101:2008 7.9.2: 0.005 u for u = 99). What lies outside
//! is counted too, so that heavy tails keep their weight; mean and standard deviation come from the values
//! themselves. Bins also give each block's own quantiles without sorting it.

use super::whole;

const BINS: usize = 16_384;

/// The two ends that cut off (1 − p)/2 on each side, for p = 95 %.
const ENDS: [f64; 2] = [0.025, 0.975];
const COVERED: f64 = 0.95;

/// Bars of [`Distribution::shape`], and how many standard deviations they reach to each side.
pub const BARS: usize = 48;
/// How many standard deviations the bars reach to each side of the mean.
pub const BARS_REACH: f64 = 4.0;

/// What a block, or all of them, say of a result: mean, standard deviation, lower and upper end.
pub(super) type Summary = [f64; 4];

/// Running mean and sum of squares about it (B. P. Welford, Technometrics 4 (1962) 419).
#[derive(Clone, Copy, Debug, Default)]
struct Running {
    mean: f64,
    squares: f64,
}

impl Running {
    fn add(&mut self, value: f64, count: f64) {
        let off = value - self.mean;
        self.mean += off / count;
        self.squares += off * (value - self.mean);
    }
}

/// Counts of one result's values.
#[derive(Clone, Debug)]
pub(super) struct Distribution {
    /// The first block's values, until the bins stand.
    first: Vec<f64>,
    low: f64,
    width: f64,
    /// 1/width: multiplying is quicker.
    per_width: f64,
    /// Below the bins, in each of them, above them: of all finished blocks, and of this one.
    all: Vec<u32>,
    block: Vec<u32>,
    /// The values are summed as differences from this one, which loses no digits.
    origin: f64,
    block_sums: [f64; 2],
    sums: [f64; 2],
    trials: f64,
    blocks: f64,
    /// Of each number of the summary, over the blocks.
    over_blocks: [Running; 4],
}

impl Distribution {
    /// Empty; `trials` is how many make a block.
    pub(super) fn new(trials: usize) -> Self {
        Self {
            first: Vec::with_capacity(trials),
            low: 0.0,
            width: 0.0,
            per_width: 0.0,
            all: Vec::new(),
            block: Vec::new(),
            origin: 0.0,
            block_sums: [0.0; 2],
            sums: [0.0; 2],
            trials: 0.0,
            blocks: 0.0,
            over_blocks: [Running::default(); 4],
        }
    }

    /// One more value of the block at hand.
    #[inline]
    pub(super) fn add(&mut self, value: f64) {
        if self.block.is_empty() {
            self.first.push(value);
        } else {
            self.count(value);
        }
    }

    #[inline]
    fn count(&mut self, value: f64) {
        let off = value - self.origin;
        let [sum, squares] = &mut self.block_sums;
        *sum += off;
        *squares += off * off;
        // Too small and not-a-number become 0; the last place is for all that is too large.
        let place = whole((value - self.low) * self.per_width + 1.0);
        if let Some(count) = self.block.get_mut(place.min(BINS + 1)) {
            *count += 1;
        }
    }

    fn make_bins(&mut self) {
        let mut values = core::mem::take(&mut self.first);
        values.sort_unstable_by(f64::total_cmp);
        let at = |share: f64| {
            let place = whole(share * values.len() as f64);
            values.get(place.min(values.len().saturating_sub(1))).copied().unwrap_or(0.0)
        };
        let (low, high) = (at(0.005), at(0.995));
        self.origin = at(0.5);
        // A result that does not vary still needs bins of some width.
        let reach = (4.0 * (high - low)).max(1e-9 * self.origin.abs()).max(f64::MIN_POSITIVE * 1e9);
        self.low = f64::midpoint(low, high) - reach;
        self.width = 2.0 * reach / BINS as f64;
        self.per_width = self.width.recip();
        self.all = vec![0; BINS + 2];
        self.block = vec![0; BINS + 2];
        for value in values {
            self.count(value);
        }
    }

    /// Ends a block.
    pub(super) fn end_block(&mut self) {
        if self.block.is_empty() {
            self.make_bins();
        }
        let trials = f64::from(self.block.iter().sum::<u32>());
        let summary = self.summary(&self.block, self.block_sums, trials);
        self.trials += trials;
        self.blocks += 1.0;
        for (running, value) in self.over_blocks.iter_mut().zip(summary) {
            running.add(value, self.blocks);
        }
        for (sum, part) in self.sums.iter_mut().zip(&mut self.block_sums) {
            *sum += core::mem::take(part);
        }
        for (all, part) in self.all.iter_mut().zip(&mut self.block) {
            *all += core::mem::take(part);
        }
    }

    fn summary(&self, counts: &[u32], [sum, squares]: [f64; 2], trials: f64) -> Summary {
        let mean = sum / trials;
        let variance = (squares - sum * mean) / (trials - 1.0);
        let [low, high] = ENDS.map(|share| self.quantile(counts, share * trials));
        [self.origin + mean, variance.max(0.0).sqrt(), low, high]
    }

    /// The value below which `wanted` of the counted ones lie.
    fn quantile(&self, counts: &[u32], wanted: f64) -> f64 {
        let mut below = 0.0;
        for (place, &count) in counts.iter().enumerate() {
            let count = f64::from(count);
            if count > 0.0 && below + count >= wanted {
                return self.edge(place) + self.width * ((wanted - below) / count);
            }
            below += count;
        }
        f64::NAN
    }

    /// Where a bin begins.
    fn edge(&self, place: usize) -> f64 {
        self.low + (place as f64 - 1.0) * self.width
    }

    /// Of all finished blocks: JCGM 101:2008 7.6 and 7.7.
    pub(super) fn all(&self) -> Summary {
        self.summary(&self.all, self.sums, self.trials)
    }

    /// Standard deviations of the four, as averages over the blocks (7.9.4 g); infinite before there are two.
    pub(super) fn deviations(&self) -> Summary {
        let blocks = self.blocks;
        self.over_blocks.map(|running| {
            if blocks < 2.0 { f64::INFINITY } else { (running.squares / (blocks * (blocks - 1.0))).sqrt() }
        })
    }

    /// The shortest interval that holds 95 % of the values (7.7, 5.3.4).
    pub(super) fn shortest(&self) -> [f64; 2] {
        let wanted = COVERED * self.trials;
        let mut best = [f64::NEG_INFINITY, f64::INFINITY];
        let (mut before, mut below) = (0.0, 0.0);
        let mut ends = self.all.iter().enumerate().map(|(place, &count)| (place, f64::from(count)));
        let Some(mut end) = ends.next() else { return best };
        for (place, &count) in self.all.iter().enumerate() {
            // `before`: what lies below this bin. Find the bin in which the interval's upper end lies.
            while below + end.1 < before + wanted {
                below += end.1;
                match ends.next() {
                    Some(next) => end = next,
                    None => return best,
                }
            }
            let low = self.edge(place);
            let high = self.edge(end.0) + self.width * ((before + wanted - below) / end.1);
            if place > 0 && high - low < best[1] - best[0] {
                best = [low, high];
            }
            before += f64::from(count);
        }
        best
    }

    /// How many values lie in each of [`BARS`] equal bars about the mean, as shares of all.
    pub(super) fn shape(&self) -> Vec<f64> {
        let [mean, u, ..] = self.all();
        let mut bars = vec![0.0; BARS];
        for (place, &count) in self.all.iter().enumerate() {
            let middle = self.edge(place) + 0.5 * self.width;
            let bar = ((middle - mean) / u + BARS_REACH) * (0.5 * BARS as f64 / BARS_REACH);
            if bar >= 0.0
                && let Some(bar) = bars.get_mut(whole(bar))
            {
                *bar += f64::from(count) / self.trials;
            }
        }
        bars
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measured::coverage::student_t_quantile;
    use crate::monte_carlo::Random;

    const BLOCK: usize = 10_000;

    fn filled(blocks: usize, mut draw: impl FnMut(&mut Random) -> f64) -> (Distribution, Vec<f64>) {
        let mut random = Random::new(7);
        let (mut counted, mut kept) = (Distribution::new(BLOCK), Vec::new());
        for _ in 0..blocks {
            for _ in 0..BLOCK {
                let value = draw(&mut random);
                counted.add(value);
                kept.push(value);
            }
            counted.end_block();
        }
        kept.sort_unstable_by(f64::total_cmp);
        (counted, kept)
    }

    #[test]
    fn counting_gives_what_sorting_all_values_gives() {
        // Normal; and heavy tails, ν = 3 and 1.
        for freedom in [f64::INFINITY, 3.0, 1.0] {
            let error = crate::monte_carlo::Error::new(3.0, freedom);
            let (counted, kept) = filled(20, |random| 1000.0 + error.draw(random));
            let n = kept.len() as f64;
            let mean = kept.iter().sum::<f64>() / n;
            let deviation = (kept.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
            let [y, u, low, high] = counted.all();
            assert!((y - mean).abs() < 1e-9 * deviation, "{y} {mean}");
            assert!((u / deviation - 1.0).abs() < 1e-9);
            // Within the gap between neighboring values or a bin, whichever is wider: some 0.003 u.
            let width = 3.0 * student_t_quantile(0.995, freedom) * 16.0 / 16_384.0;
            for (end, place) in [(low, 0.025 * n), (high, 0.975 * n)] {
                let sorted = kept[whole(place)];
                assert!((end - sorted).abs() < 1.5 * width, "{end} {sorted}");
            }
        }
    }

    #[test]
    fn the_shortest_interval_of_a_lopsided_distribution_begins_at_its_steep_end() {
        // Exponential: density highest at 0, so the shortest 95 % are 0 … −ln 0.05 = 2.996.
        let (counted, _) = filled(50, |random| -random.even().ln());
        let [low, high] = counted.shortest();
        assert!(low.abs() < 0.01 && (high - 2.9957).abs() < 0.02, "{low} {high}");
        let [.., symmetric_low, symmetric_high] = counted.all();
        assert!((symmetric_low - 0.0253).abs() < 0.002 && (symmetric_high - 3.6889).abs() < 0.03);
    }

    #[test]
    fn deviations_over_blocks_tell_how_sure_the_mean_is() {
        let (counted, _) = filled(100, Random::normal);
        // √(1/10⁶) for the mean; √(1/2·10⁶) for u; √(p(1 − p)/n)/φ(1.96) = 0.00267 for the ends. From
        // 100 blocks these are known to 7 %.
        let expected = [1e-3, 1e-3 / 2.0_f64.sqrt(), 2.67e-3, 2.67e-3];
        for (found, expected) in counted.deviations().into_iter().zip(expected) {
            assert!((found / expected - 1.0).abs() < 0.3, "{found} {expected}");
        }
    }

    #[test]
    fn a_result_that_does_not_vary_has_no_width() {
        for value in [0.0, 5.0] {
            let (counted, _) = filled(3, |_| value);
            let [y, u, low, high] = counted.all();
            assert_eq!((y.to_bits(), u.to_bits()), (value.to_bits(), 0));
            assert!((low - value).abs() < 1e-8 && (high - value).abs() < 1e-8, "{low} {high}");
        }
    }

    #[test]
    fn the_shape_holds_nearly_all_values() {
        let (counted, _) = filled(10, Random::normal);
        let shape = counted.shape();
        // Φ(4) − Φ(−4) = 0.99994, and the middle bars hold φ(0)/6 each.
        assert!((shape.iter().sum::<f64>() - 0.999_94).abs() < 3e-4);
        assert!((shape[BARS / 2] / 0.0664 - 1.0).abs() < 0.05, "{}", shape[BARS / 2]);
    }
}
