//! Where a piece really begins and ends: the moment its acceleration changed, with what is sure.
//!
//! Growth stops some readings too late, for a push or a landing shows only after a while:
//! x = … + ½ Δa (t − τ)². So the piece and a few readings beyond are fitted with such a kink at every
//! τ, and it ends at the earliest τ that is nearly as good as the best. The spokes' own places are taken
//! off first: they hide a kink otherwise.

use super::curve::{Curve, Point};
use super::grow::Piece;
use super::track::Track;

/// Squared standard errors by which a kink must improve the fit to be believed.
const KINK: f64 = 14.0;

/// A kink that is worse by no more than this may be where the change was: 2.6 standard errors.
const UNSURE: f64 = 7.0;

/// Readings beyond the piece that are looked at.
const BEYOND: usize = 3;

/// A reading beyond that is this many standard deviations off says nothing about when the change began.
const FAR_OFF: f64 = 30.0;

/// Intervals of a piece in which a kink is looked for, at least and at most twice as many.
const MOMENTS: usize = 256;

/// Edges there must be beyond the number of spokes before their places are fitted.
const ENOUGH: usize = 10;

/// A standard spoke's place error, in spokes.
const PLACE: f64 = 0.01;

/// A piece after its ends are set, before the safety margin.
#[derive(Clone, Debug)]
pub(super) struct Trimmed {
    pub(super) piece: Piece,
    pub(super) curve: Curve,
    pub(super) noise: f64,
}

/// Cuts made at most; a landing and a push make two, each may be found in two steps.
const CUTS: usize = 6;

/// Sets both ends.
pub(super) fn trim(track: &Track, grown: Piece, spokes: Option<u32>) -> Trimmed {
    let mut piece = grown;
    for _ in 0..CUTS {
        let level = leveled(track, piece, spokes);
        // Forwards: from the piece's first reading to a few after it; then the same backwards.
        let ahead = level.points.get(level.offset..).unwrap_or(&[]);
        let (later, gain) = sure(ahead, level.count, track.degree, level.noise);
        let backwards: Vec<Point> = level
            .points
            .iter()
            .take(level.offset + level.count)
            .rev()
            .map(|point| Point { time: -point.time, ..*point })
            .collect();
        let (earlier, gain_back) = sure(&backwards, level.count, track.degree, level.noise);
        // The clearer of the two kinks first: it bends the rest of the curve.
        if later < level.count && (gain > gain_back || earlier == level.count) {
            piece.high = piece.low + later.max(2) - 1;
        } else if earlier < level.count {
            piece.low = (piece.high + 1).saturating_sub(earlier.max(2));
        } else {
            break;
        }
    }
    let level = leveled(track, piece, spokes);
    let inside = level.points.get(level.offset..level.offset + level.count).unwrap_or(&[]);
    Trimmed { piece, curve: Curve::fit(inside, track.degree, f64::INFINITY), noise: level.noise }
}

/// A piece with what follows and precedes it closely.
struct Level {
    /// Spokes' own places taken off, weighted as the piece's scatter says.
    points: Vec<Point>,
    /// Points before the piece.
    offset: usize,
    /// Points in the piece.
    count: usize,
    /// Standard deviation of a value of weight 1.
    noise: f64,
}

fn leveled(track: &Track, piece: Piece, spokes: Option<u32>) -> Level {
    let mut low = piece.low;
    while low > 0 && piece.low - low < BEYOND && close(track, low - 1, piece.low) {
        low -= 1;
    }
    let mut high = piece.high;
    while high - piece.high < BEYOND && close(track, high, piece.high - 1) {
        high += 1;
    }
    let mut points = track.points.get(low..=high).unwrap_or(&[]).to_vec();
    let offset = piece.low - low;
    let count = piece.high - piece.low + 1;
    // What is surely inside.
    let margin = (count / 8).max(1);
    let inner = offset + margin..(offset + count - margin).max(offset + margin);
    // Places are told from the motion only when every spoke comes by often enough.
    let spokes = spokes.filter(|spokes| count >= *spokes as usize + ENOUGH);
    let mut hold = f64::INFINITY;
    let mut noise = track.noise;
    for round in 0..4 {
        let inside = points.get(inner.clone()).unwrap_or(&[]);
        let curve = Curve::fit(inside, track.degree, hold);
        let squares = curve.squares + 2.0 * track.noise * track.noise;
        let taken = if round > 0 { f64::from(spokes.unwrap_or(0)).min(0.5 * curve.freedom()) } else { 0.0 };
        noise = (squares / (2.0 + curve.freedom() - taken)).sqrt();
        hold = curve.hold(noise);
        if !track.gate || round == 3 {
            break;
        }
        let numbers = track.numbers.get(low..=high).unwrap_or(&[]);
        for spoke in 0..spokes.unwrap_or(0) {
            let (mut sum, mut norm) = (0.0, (noise / PLACE).powi(2));
            for (point, number) in points.iter().zip(numbers).take(inner.end).skip(inner.start) {
                if spokes.is_some_and(|spokes| number % spokes == spoke) {
                    sum += point.weight * (point.value - curve.at(point.time).value);
                    norm += point.weight;
                }
            }
            for (point, number) in points.iter_mut().zip(numbers) {
                if spokes.is_some_and(|spokes| number % spokes == spoke) {
                    point.value -= sum / norm;
                }
            }
        }
        let (place, time) = scatter(track, points.get(inner.clone()).unwrap_or(&[]), &curve);
        for point in &mut points {
            let speed = curve.at(point.time).slope;
            point.weight = place / (place + time * speed * speed);
        }
    }
    Level { points, offset, count, noise }
}

/// Variance of the places and of the times of gate edges, from how the slower and the faster half of
/// them scatter: place + time × speed².
fn scatter(track: &Track, points: &[Point], curve: &Curve) -> (f64, f64) {
    let least = 0.01 * track.noise * track.noise;
    let mean = |half: &[Point]| {
        // Counted in: a quarter of what the record says, as a tenth of the readings.
        let mut sum = [track.noise * track.noise, 0.0];
        for point in half {
            let spot = curve.at(point.time);
            sum[0] += (point.value - spot.value).powi(2);
            sum[1] += spot.slope * spot.slope;
        }
        sum.map(|sum| sum / half.len().max(1) as f64)
    };
    let (one, two) = points.split_at(points.len() / 2);
    let (one, two) = (mean(one), mean(two));
    let time = ((two[0] - one[0]) / (two[1] - one[1])).max(track.clock);
    let (square, speed) = (f64::midpoint(one[0], two[0]), f64::midpoint(one[1], two[1]));
    if !time.is_finite() {
        return (square.max(least), track.clock);
    }
    let place = (square - time * speed).max(least);
    (place, ((square - place) / speed).max(track.clock))
}

/// Whether the gap after reading `index` is like that after reading `like`: nothing stood still there.
fn close(track: &Track, index: usize, like: usize) -> bool {
    let gap = |at: usize| match track.points.get(at..at + 2) {
        Some([a, b]) => b.time - a.time,
        _ => f64::INFINITY,
    };
    gap(index) < 3.0 * gap(like)
}

/// How many of the first `count` points surely come before any kink in the later half of them, and how
/// much the kink improves the fit.
fn sure(points: &[Point], count: usize, degree: usize, noise: f64) -> (usize, f64) {
    let inside = Curve::fit(points.get(..count).unwrap_or(points), degree, f64::INFINITY);
    let near = |point: &&Point| {
        let spot = inside.at(point.time);
        (point.value - spot.value).powi(2) < (FAR_OFF * noise).powi(2) * (1.0 / point.weight + spot.spread)
    };
    let beyond = points.iter().skip(count).take_while(near).count();
    let (within, best) = kinked(points.get(..count + beyond).unwrap_or(points), count, degree, noise);
    // A kink beyond the piece hides a smaller one inside it.
    if within < count || beyond == 0 {
        return (within, best);
    }
    kinked(points.get(..count).unwrap_or(points), count, degree, noise)
}

/// The same with all points there are.
fn kinked(points: &[Point], count: usize, degree: usize, noise: f64) -> (usize, f64) {
    let inside = Curve::fit(points.get(..count).unwrap_or(points), degree, f64::INFINITY);
    let hold = inside.hold(noise);
    let base = Curve::fit(points, degree, hold);
    let basis = base.basis(points);
    let left: Vec<f64> = points.iter().map(|point| point.value - base.at(point.time).value).collect();
    // Gain of the squares by a kink, for three moments in each interval.
    let mut gains: Vec<(f64, f64)> = Vec::new();
    let mut best = 0.0;
    for pair in points.windows(2).take(count).skip(count / 2).step_by(count / MOMENTS + 1) {
        let [from, to] = pair else { continue };
        for part in [0.0, 1.0 / 3.0, 2.0 / 3.0] {
            let moment = from.time + part * (to.time - from.time);
            let (mut along, mut norm, mut taken) = (0.0, 0.0, [0.0; 4]);
            for ((point, left), row) in points.iter().zip(&left).zip(&basis).rev() {
                let since = point.time - moment;
                if since <= 0.0 {
                    break;
                }
                let column = match degree {
                    2 => since * since,
                    1 => since,
                    // An acceleration that changes goes from one level to another.
                    _ => 1.0,
                };
                let weighted = point.weight * column;
                along += weighted * left;
                norm += weighted * column;
                for (taken, entry) in taken.iter_mut().zip(row) {
                    *taken += weighted * entry;
                }
            }
            norm -= taken.iter().map(|taken| taken * taken).sum::<f64>();
            let gain = if norm > 0.0 { along * along / (norm * noise * noise) } else { 0.0 };
            best = gain.max(best);
            gains.push((moment, gain));
        }
    }
    if best < KINK {
        return (count, best);
    }
    let earliest = gains.iter().find(|(_, gain)| *gain > best - UNSURE).map_or(f64::INFINITY, |pair| pair.0);
    (points.iter().take(count).filter(|point| point.time <= earliest).count(), best)
}
