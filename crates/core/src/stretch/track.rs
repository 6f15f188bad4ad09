//! A record made ready for the search: edges numbered, dense samples averaged, noise judged.

use super::curve::{Curve, Point};
use super::numbering::number_edges;
use crate::readings::{ReadingKind, Readings};

/// Readings in a seed: enough to tell a parabola from chance, few enough to fit between two disturbances.
pub(super) const SEED: usize = 7;

/// Samples closer than this, in s, are averaged: a fall lasts a second or more, and a point every 25 ms
/// says all there is to say about where it begins and ends.
pub(super) const CLOSEST: f64 = 0.025;

/// Windows looked at to judge the noise.
const WINDOWS: usize = 2000;

/// Noise is not taken for less than this: spokes are never placed better than to 15 µm in 15 mm.
const LEAST_SPOKE_NOISE: f64 = 0.003;

/// A record made ready.
#[derive(Debug)]
pub(super) struct Track {
    pub(super) points: Vec<Point>,
    /// For gate times: the spoke's number beside each point.
    pub(super) numbers: Vec<u32>,
    /// Of the curve of a constant acceleration: 2 for positions, 1 for velocities, 0 for accelerations.
    pub(super) degree: usize,
    /// For accelerations: the speed gained since the record began, beside each point.
    pub(super) gained: Vec<f64>,
    /// Standard deviation of a value of weight 1, from the calmest parts of the record.
    pub(super) noise: f64,
    /// Variance of a time as its last digit has it, s².
    pub(super) clock: f64,
    /// A gate tells how far, not which way.
    pub(super) gate: bool,
    /// Velocities summed to positions: each reading lies between two points.
    pub(super) summed: bool,
    /// First and last moment that may be fitted when the record begins or ends with the fall itself.
    pub(super) inner: (f64, f64),
}

impl Track {
    /// Samples closer than `closest`, in s, are averaged.
    pub(super) fn new(readings: &Readings, closest: f64) -> Self {
        let mut pairs = readings.pairs();
        let kind = readings.kind();
        let gate = kind.is_times_alone();
        let mut degree = kind.degree();
        if kind == ReadingKind::BothEdges {
            // The edges at which spokes block the light tell where the fall is; the others stand between.
            pairs = pairs.into_iter().step_by(2).collect();
        }
        let inner = |pairs: &[(f64, f64)]| match pairs {
            [first, second, .., before, last] => {
                (f64::midpoint(first.0, second.0), f64::midpoint(before.0, last.0))
            }
            _ => (0.0, 0.0),
        };
        let mut ends = inner(&pairs);
        let (mut numbers, mut summed) = (Vec::new(), false);
        if gate {
            let times: Vec<f64> = pairs.iter().map(|pair| pair.0).collect();
            let edges = number_edges(&times);
            pairs = edges.times.iter().zip(&edges.numbers).map(|(t, k)| (*t, f64::from(*k))).collect();
            numbers = edges.numbers;
            ends = inner(&pairs);
        } else {
            pairs = thinned(pairs, closest);
            if degree == 1 && from_differences(&pairs) {
                pairs = sums(&pairs);
                degree = 2;
                summed = true;
            }
        }
        let gained = if degree == 0 { gained(&pairs) } else { Vec::new() };
        let tick = tick(&pairs);
        let mut points: Vec<Point> =
            pairs.iter().map(|&(time, value)| Point { time, value, weight: 1.0 }).collect();
        let (low, high) = pairs.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), pair| {
            (low.min(pair.1), high.max(pair.1))
        });
        let floor = if gate { LEAST_SPOKE_NOISE } else { 1e-5 * (high - low) };
        let clock = if gate { tick * tick / 12.0 } else { 0.0 };
        let noise = noise(&points, degree, clock).max(floor);
        if clock > 0.0 {
            // A time off by δ puts the spoke off by v δ.
            let count = pairs.len();
            for (index, point) in points.iter_mut().enumerate() {
                let before = pairs.get(index.saturating_sub(1));
                let after = pairs.get((index + 1).min(count - 1));
                if let (Some(before), Some(after)) = (before, after) {
                    let speed = (after.1 - before.1) / (after.0 - before.0);
                    point.weight = noise * noise / (noise * noise + speed * speed * clock);
                }
            }
        }
        Self { points, numbers, degree, gained, noise, clock, gate, summed, inner: ends }
    }
}

/// Averages of as many neighbours as makes them stand `closest` apart. The average of a line is on the
/// line, that of a parabola lies beside it by the same amount everywhere.
fn thinned(pairs: Vec<(f64, f64)>, closest: f64) -> Vec<(f64, f64)> {
    let span = pairs.last().map_or(0.0, |last| last.0) - pairs.first().map_or(0.0, |first| first.0);
    let together = (closest * pairs.len() as f64 / span.max(1e-9)).clamp(1.0, pairs.len().max(1) as f64);
    // Between 1 and the number of readings.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped just above")]
    let together = together as usize;
    if together == 1 {
        return pairs;
    }
    let average = |block: &[(f64, f64)]| {
        let sum = block.iter().fold((0.0, 0.0), |sum, pair| (sum.0 + pair.0, sum.1 + pair.1));
        let count = block.len() as f64;
        (sum.0 / count, sum.1 / count)
    };
    pairs.chunks_exact(together).map(average).collect()
}

/// Whether velocities are differences of positions: their errors cancel in a sum then, and the mean of
/// four scatters a quarter as much as one, not half as much.
fn from_differences(pairs: &[(f64, f64)]) -> bool {
    let sums: Vec<f64> =
        pairs.windows(4).map(|window| 0.25 * window.iter().map(|pair| pair.1).sum::<f64>()).collect();
    let values: Vec<f64> = pairs.iter().map(|pair| pair.1).collect();
    let (one, four) = (jitter(&values, 1), jitter(&sums, 4));
    // Halfway, by ratios, between 1/4 and 1/2.
    four < 0.35 * one
}

/// Size of the smaller third differences over `step` places: constant and growing speeds leave none, and
/// the quarter taken lies in the calm parts even when a hand moves most of the time.
fn jitter(values: &[f64], step: usize) -> f64 {
    let third = |window: &[f64]| match (window.first(), window.get(step), window.get(2 * step), window.last())
    {
        (Some(a), Some(b), Some(c), Some(d)) => ((d - a) - 3.0 * (c - b)).abs(),
        _ => 0.0,
    };
    let sizes: Vec<f64> = values.windows(3 * step + 1).map(third).collect();
    quantile(&sizes, 4)
}

/// Of values not negative the one that one in `parts` does not reach; 0 of none.
fn quantile(values: &[f64], parts: usize) -> f64 {
    // Such numbers are in the order of their bits, so that 63 halvings find it; sorting takes more code.
    let place = values.len() / parts;
    let (mut low, mut high) = (0, f64::INFINITY.to_bits());
    while low < high && !values.is_empty() {
        let middle = low + (high - low) / 2;
        if values.iter().filter(|value| value.to_bits() <= middle).count() > place {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    f64::from_bits(low)
}

/// Positions from velocities, each taken to last from halfway to its neighbours.
fn sums(pairs: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut position = 0.0;
    let mut before = pairs.first().map_or(0.0, |pair| pair.0);
    let mut sums = Vec::with_capacity(pairs.len());
    for pair in pairs.windows(2) {
        if let [now, next] = pair {
            let until = f64::midpoint(now.0, next.0);
            position += now.1 * (until - before);
            before = until;
            sums.push((until, position));
        }
    }
    sums
}

/// Speeds from accelerations, by trapezoids from rest at the first reading.
fn gained(pairs: &[(f64, f64)]) -> Vec<f64> {
    let mut speed = 0.0;
    let mut before = pairs.first().copied().unwrap_or_default();
    let mut found = Vec::with_capacity(pairs.len());
    for &now in pairs {
        speed += f64::midpoint(before.1, now.1) * (now.0 - before.0);
        before = now;
        found.push(speed);
    }
    found
}

/// The step of the clock: the largest power of ten of which all times are multiples; 0 when finer than
/// a microsecond.
fn tick(pairs: &[(f64, f64)]) -> f64 {
    for tick in [1e-2, 1e-3, 1e-4, 1e-5, 1e-6] {
        let multiple = |pair: &(f64, f64)| {
            let ticks = pair.0 / tick;
            (ticks - ticks.round()).abs() < 1e-3
        };
        if pairs.iter().all(multiple) {
            return tick;
        }
    }
    0.0
}

/// Scatter about a parabola in the calmer of the windows that speed up or slow down. `clock` is the
/// variance of a time.
fn noise(points: &[Point], degree: usize, clock: f64) -> f64 {
    let mut variances: Vec<f64> = Vec::new();
    for window in points.windows(SEED).step_by(points.len() / WINDOWS + 1) {
        let curve = Curve::fit(window, degree, f64::INFINITY);
        let variance = curve.squares / curve.freedom();
        if curve.significance(variance.sqrt()) > 4.0 {
            let speed = window.get(SEED / 2).map_or(0.0, |point| curve.at(point.time).slope);
            variances.push((variance - clock * speed * speed).max(0.0));
        }
    }
    quantile(&variances, 3).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quantile_is_a_value_of_the_list() {
        assert_eq!(quantile(&[], 3).to_bits(), 0);
        for (list, parts, expected) in [
            (&[7.0][..], 3, 7.0),
            (&[5.0, 0.0, 1e-300, 3.0, 1e300, 4.0], 3, 3.0),
            (&[2.0, 1.0, 2.0, 2.0], 4, 2.0),
        ] {
            assert_eq!(quantile(list, parts).to_bits(), f64::to_bits(expected), "{list:?}");
        }
    }

    #[test]
    fn a_clock_s_step_is_seen() {
        let pairs = |step: f64| {
            (0..50).map(|k| ((f64::from(k) * 0.618_033_988_7 / step).round() * step, 0.0)).collect()
        };
        let all: Vec<Vec<(f64, f64)>> = [1e-2, 1e-3, 1e-5, 1e-8].map(pairs).into();
        let found: Vec<f64> = all.iter().map(|pairs| tick(pairs)).collect();
        for (found, expected) in found.iter().zip([1e-2, 1e-3, 1e-5, 0.0]) {
            assert!((found - expected).abs() < 1e-12, "{found} for {expected}");
        }
    }

    #[test]
    fn velocities_that_are_differences_are_told_from_others() {
        // Errors no two alike: of positions 0.1 m/s of differences, or of the velocities themselves.
        let error = |k: u32| (f64::from(k).powi(2) * 0.618_034).fract() - 0.5;
        let time = |k: u32| 0.03 * f64::from(k);
        let direct: Vec<(f64, f64)> = (0..200).map(|k| (time(k), 0.4 * time(k) + 0.1 * error(k))).collect();
        let differences: Vec<(f64, f64)> =
            (0..200).map(|k| (time(k), 0.4 * time(k) + 0.1 * (error(k + 1) - error(k)))).collect();
        assert!(!from_differences(&direct) && from_differences(&differences));
        // Their sum is the position again.
        let total = sums(&differences).last().map_or(0.0, |pair| pair.1);
        assert!((total - 0.2 * (time(198) + 0.015).powi(2)).abs() < 0.005, "{total}");
    }
}
