//! From seeds to pieces: runs of readings that lie on one parabola (or line), found from within.

use super::curve::{Curve, Point};
use super::track::{SEED, Track};

/// Neighbouring readings that move with one acceleration, first and last included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    pub(super) low: usize,
    pub(super) high: usize,
}

/// A seed's scatter may be this much larger than the record's calm parts.
const SEED_SCATTER: f64 = 3.0;

/// A seed speeds up or slows down by this many of its own standard errors.
const SEED_SIGNIFICANCE: f64 = 4.0;

/// A reading this many standard errors off the prediction ends the piece, when the next is off too.
const OFF: f64 = 6.0;

/// The record's noise counts for as much as this many readings in judging a piece's own.
const PRIOR: f64 = 4.0;

/// Seconds over which all noise of an acceleration may point one way.
const JOLT: f64 = 0.1;

/// Readings that a piece may share with a long one before it.
const SHARED: usize = 8;

/// A piece longer than this before is surely no mixture.
const LONG: usize = 30;

/// All pieces, in order of time; some overlap.
pub(super) fn pieces(track: &Track) -> Vec<Piece> {
    let mut found: Vec<Piece> = Vec::new();
    let mut start = 0;
    while let Some(seed) = track.points.get(start..start + SEED) {
        let curve = Curve::fit(seed, track.degree, f64::INFINITY);
        let scatter = (curve.squares / curve.freedom()).sqrt();
        let noise = track.noise.max(scatter);
        let good = scatter < SEED_SCATTER * track.noise
            && curve.significance(noise) > SEED_SIGNIFICANCE
            && one_way(track, &curve, seed, noise);
        if !good {
            start += 1;
            continue;
        }
        let low = found.last().map_or(0, |last| {
            if last.high - last.low > LONG { last.high.saturating_sub(SHARED) } else { last.low }
        });
        let piece = grown(track, Piece { low: start, high: start + SEED - 1 }, low);
        start = (start + 3).max(piece.high.saturating_sub(2));
        let known =
            found.iter().rev().take(4).any(|other| other.low <= piece.low && piece.high <= other.high);
        if !known && piece.high > piece.low + SEED {
            found.push(piece);
        }
    }
    found
}

/// Grows a seed to both sides, in turns, as far as each next reading is where it is expected.
fn grown(track: &Track, seed: Piece, least: usize) -> Piece {
    let mut piece = seed;
    let (mut later, mut earlier) = (true, true);
    let mut hold = f64::INFINITY;
    // A long piece is fitted anew only when it has grown by a part of itself.
    let (mut curve, mut noise, mut fitted) = (None, track.noise, 0);
    while later || earlier {
        let count = piece.high - piece.low + 1;
        if curve.is_none() || count >= fitted + 1 + fitted / 64 {
            let points = track.points.get(piece.low..=piece.high).unwrap_or(&[]);
            let new = Curve::fit(points, track.degree, hold);
            let squares = new.squares + PRIOR * track.noise * track.noise;
            // Bounded, or a piece that has taken up one wrong reading takes up everything.
            noise = (squares / (PRIOR + new.freedom())).sqrt().min(SEED_SCATTER * track.noise);
            hold = new.hold(noise);
            curve = Some(new);
            fitted = count;
        }
        let Some(curve) = &curve else { break };
        // Where it is expected, or the two after it are.
        let fits = |indices: [Option<usize>; 3]| {
            let [next, second, third] = indices.map(|index| index.and_then(|index| track.points.get(index)));
            let near =
                |point: Option<&Point>| point.is_some_and(|point| expected(track, curve, point, noise));
            near(next) || (next.is_some() && near(second) && near(third))
        };
        if later {
            later = fits([1, 2, 3].map(|steps| Some(piece.high + steps)));
            piece.high += usize::from(later);
        }
        if earlier {
            earlier = piece.low > least && fits([1, 2, 3].map(|steps| piece.low.checked_sub(steps)));
            piece.low -= usize::from(earlier);
        }
    }
    piece
}

/// Whether a reading is where the curve predicts it, while the motion goes the same way.
fn expected(track: &Track, curve: &Curve, point: &Point, noise: f64) -> bool {
    let spot = curve.at(point.time);
    let spread = noise * (1.0 / point.weight + spot.spread).sqrt();
    (point.value - spot.value).abs() < OFF * spread && same_way(track, curve, point.time, noise)
}

/// Whether the speed at a moment has the sign it has in the middle, or none to speak of.
fn same_way(track: &Track, curve: &Curve, time: f64, noise: f64) -> bool {
    if track.gate {
        return curve.at(time).slope >= 0.0;
    }
    if track.degree == 0 {
        // What was gained since the middle is what the acceleration says: a jolt, in which the string turns
        // round, adds as much again. Half of it is left to noise.
        let expected = curve.acceleration() * (time - curve.center());
        let gained = speed(track, curve, time) - speed(track, curve, curve.center());
        return (gained - expected).abs() < 0.5 * expected.abs() + noise * JOLT;
    }
    let (here, middle) = (speed(track, curve, time), speed(track, curve, curve.center()));
    here * middle >= 0.0 || (track.degree == 1 && here.abs() < noise)
}

fn one_way(track: &Track, curve: &Curve, points: &[Point], noise: f64) -> bool {
    [points.first(), points.last()]
        .into_iter()
        .flatten()
        .all(|point| same_way(track, curve, point.time, noise))
}

/// Speed on the curve; of accelerations the one gained since the record began.
pub(super) fn speed(track: &Track, curve: &Curve, time: f64) -> f64 {
    if track.degree == 0 {
        let at = track.points.partition_point(|point| point.time < time);
        return track.gained.get(at).or(track.gained.last()).copied().unwrap_or(0.0);
    }
    let spot = curve.at(time);
    if track.degree == 1 { spot.value } else { spot.slope }
}
