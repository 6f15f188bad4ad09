//! Which of the pieces is the fall.

use super::curve::Curve;
use super::doubt::Doubt;
use super::ends::{Trimmed, trim};
use super::grow::{Piece, pieces, speed};
use super::track::{CLOSEST, SEED, Track};
use crate::quantity::{Meters, Seconds};
use crate::readings::Readings;
use crate::runs::{Motion, Stretch};
use core::num::NonZeroU32;

/// A stretch in which the string moves with one acceleration.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Candidate {
    /// The stretch, one reading of safety left off at each end.
    pub stretch: Stretch,
    /// Whether it gets faster or slower.
    pub motion: Motion,
    /// Readings in the stretch.
    pub readings: usize,
    /// Whether it begins at rest: a fall that was released, not pushed.
    pub from_rest: bool,
    /// Whether it ends at rest: a climb to its top.
    pub to_rest: bool,
    /// Acceleration with its sign, from a plain fit: in m/s² (rad/s² for a table's angle); for gate times
    /// without a travel per spoke in spokes/s².
    pub acceleration_roughly: f64,
    /// How many of its own standard errors the acceleration is away from none, for accelerations times the
    /// speed gained in m/s; more for a start from rest.
    pub score: f64,
}

/// What was found in a record.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Found {
    /// The fall.
    pub best: Option<Candidate>,
    /// Other stretches that could be the fall, the better ones first.
    pub rivals: Vec<Candidate>,
    /// What to look at before trusting `best`.
    pub doubts: Vec<Doubt>,
    /// The climb right after the fall, when the string winds up the other way.
    pub rise: Option<Candidate>,
}

/// Pieces whose ends are set with care; the others are too weak to be the fall.
const LOOKED_AT: usize = 6;

/// Fewer readings than this are called short.
const SHORT: usize = 20;

/// A start from rest counts as this many times the score.
const REST: f64 = 2.0;

/// A candidate with this part of the best one's score is a rival.
const RIVAL: f64 = 0.3;

/// Samples are searched a second time this much coarser.
const COARSE: f64 = 3.0;

/// And what is found then is taken when its score is this much better.
const BETTER: f64 = 2.0;

/// Pieces this many readings apart touch; a slip takes a few.
const NEAR: usize = 12;

/// Friction works against the fall and for stopping a climb: the climb's acceleration is the larger.
const RISE: core::ops::Range<f64> = 0.95..3.0;

/// Finds the fall in a raw record.
///
/// `travel_per_spoke` only turns the rough acceleration into m/s²; with `spokes` of the pulley the ends are
/// found more sharply.
pub fn find(readings: &Readings, travel_per_spoke: Option<Meters>, spokes: Option<NonZeroU32>) -> Found {
    let pairs = readings.pairs();
    let search = |closest: f64| {
        let track = Track::new(readings, closest);
        let scale = if track.gate { travel_per_spoke.map_or(1.0, |travel| travel.0) } else { 1.0 };
        let all = candidates(&track, &pairs, scale, spokes.map(NonZeroU32::get));
        choose(track.points.len(), &all)
    };
    let fine = search(CLOSEST);
    if readings.kind().is_times_alone() {
        return fine;
    }
    // Seeds of noisy samples show their acceleration only when they last longer.
    let coarse = search(COARSE * CLOSEST);
    let score = |found: &Found| found.best.map_or(0.0, |best| best.score);
    if score(&coarse) > BETTER * score(&fine) { coarse } else { fine }
}

/// The pieces most like a fall or a climb, the best first.
fn candidates(
    track: &Track,
    pairs: &[(f64, f64)],
    scale: f64,
    spokes: Option<u32>,
) -> Vec<(Candidate, Piece)> {
    let mut grown = Vec::new();
    for piece in pieces(track) {
        ranked(&mut grown, rough_score(track, piece), piece);
    }
    let mut best = Vec::new();
    for (_, piece) in grown {
        let trimmed = trim(track, piece, spokes);
        if let Some((candidate, piece)) = candidate(track, &trimmed, pairs, scale) {
            ranked(&mut best, candidate.score, (candidate, piece));
        }
    }
    best.into_iter().map(|(_, pair)| pair).collect()
}

/// Puts an item into a list of the best few. A library sort would be larger than the rest of the search.
fn ranked<T>(list: &mut Vec<(f64, T)>, score: f64, item: T) {
    if score.is_finite() {
        let at = list.iter().take_while(|other| other.0 >= score).count();
        list.insert(at, (score, item));
        list.truncate(LOOKED_AT);
    }
}

fn rough_score(track: &Track, piece: Piece) -> f64 {
    let points = track.points.get(piece.low..=piece.high).unwrap_or(&[]);
    let curve = Curve::fit(points, track.degree, f64::INFINITY);
    score(track, &curve, piece, (curve.squares / curve.freedom()).sqrt().max(track.noise))
}

/// How well a piece fixes its acceleration. Positions and velocities do the better the longer it lasts;
/// accelerations would put a jolt, or a sensor at rest that is a little off, before a fall: they count by
/// the speed gained.
fn score(track: &Track, curve: &Curve, piece: Piece, noise: f64) -> f64 {
    let times = [piece.low, piece.high].map(|index| track.points.get(index).map_or(0.0, |point| point.time));
    let gained = curve.acceleration().abs() * (times[1] - times[0]);
    curve.significance(noise) * if track.degree == 0 { gained } else { 1.0 }
}

fn candidate(
    track: &Track,
    trimmed: &Trimmed,
    pairs: &[(f64, f64)],
    scale: f64,
) -> Option<(Candidate, Piece)> {
    let Trimmed { piece, curve, noise } = trimmed;
    let mut piece = *piece;
    // A speed within the noise may be rest.
    let rests = |index: usize| {
        let point = track.points.get(index);
        track.degree == 1 && point.is_some_and(|point| speed(track, curve, point.time).abs() < *noise)
    };
    while piece.low > 0 && piece.low < piece.high && rests(piece.low) {
        piece.low += 1;
    }
    while piece.high + 1 < track.points.len() && piece.low < piece.high && rests(piece.high) {
        piece.high -= 1;
    }
    if piece.high - piece.low + 1 < SEED {
        return None;
    }
    // Halfway between the reading left off and the first one kept, so that rounding the ends loses none.
    let end = |outer: usize, inner: usize| match (track.points.get(outer), track.points.get(inner)) {
        (Some(outer), Some(inner)) => {
            let outer = if track.summed { inner } else { outer };
            Some(f64::midpoint(outer.time, inner.time))
        }
        _ => None,
    };
    let from = if piece.low == 0 { track.inner.0 } else { end(piece.low, piece.low + 1)? };
    let last = track.points.len() - 1;
    let to = if piece.high == last { track.inner.1 } else { end(piece.high, piece.high - 1)? };
    let stretch = Stretch::new(Seconds(from), Seconds(to))?;
    let (before, until) = (stretch.from().0, stretch.to().0);
    let before = pairs.partition_point(|pair| pair.0 < before);
    let readings = pairs.partition_point(|pair| pair.0 <= until).saturating_sub(before);
    let (first, last) = (track.points.get(piece.low)?, track.points.get(piece.high)?);
    let (start, end) = (speed(track, curve, first.time), speed(track, curve, last.time));
    let acceleration = curve.acceleration();
    let motion = if start.abs() < end.abs() { Motion::Falling } else { Motion::Rising };
    // v² = 2 a x: from rest to the first edge is less than one spoke, and up to two more may have been cut.
    let margin = if track.gate { 5.0 * acceleration.abs() } else { 0.0 };
    let (slow, fast) = if motion == Motion::Falling { (start, end) } else { (end, start) };
    let rests = slow * slow < margin.max(0.1 * fast * fast);
    let from_rest = motion == Motion::Falling && rests;
    let score = score(track, curve, piece, noise.max(track.noise));
    let found = Candidate {
        stretch,
        motion,
        readings,
        from_rest,
        to_rest: motion == Motion::Rising && rests,
        acceleration_roughly: acceleration * scale,
        score: score * if from_rest { REST } else { 1.0 },
    };
    Some((found, piece))
}

fn choose(points: usize, all: &[(Candidate, Piece)]) -> Found {
    let falling = |candidate: &Candidate| candidate.motion == Motion::Falling;
    let Some(strongest) = all.iter().find(|(candidate, _)| falling(candidate)) else {
        return Found { doubts: vec![Doubt::NothingFound], ..Found::default() };
    };
    // Of several falls alike the first that is about as long as the longest.
    let same = |other: &Candidate| {
        falling(other) && alike(other, &strongest.0) && other.from_rest >= strongest.0.from_rest
    };
    let longest = all.iter().filter(|(other, _)| same(other)).map(|(other, _)| other.readings).max();
    let (best, piece) = all
        .iter()
        .filter(|(other, _)| same(other) && 10 * other.readings >= 8 * longest.unwrap_or(0))
        .min_by_key(|(_, at)| at.low)
        .unwrap_or(strongest);
    let mut found = Found { best: Some(*best), ..Found::default() };
    let after = |at: &Piece| at.low + NEAR > piece.high;
    found.rise = all
        .iter()
        .find(|(other, at)| {
            let ratio = other.acceleration_roughly / best.acceleration_roughly;
            // To the top, or as far as the record goes; what runs on after a landing fades away instead.
            let complete = other.to_rest || at.high + 3 > points;
            let next = after(at) && at.low < piece.high + NEAR;
            !falling(other) && next && complete && other.readings > SEED && RISE.contains(&ratio.abs())
        })
        .map(|(rise, _)| *rise);
    let mut doubts = Vec::new();
    if best.readings < SHORT {
        doubts.push(Doubt::Short { readings: best.readings });
    }
    if !best.from_rest {
        let pushed = all.iter().any(|(_, at)| at.low < piece.low && at.high + NEAR > piece.low);
        doubts.push(if pushed { Doubt::SmoothHandMotionBefore } else { Doubt::NotFromRest });
    }
    for (other, at) in all {
        let before = at.high < piece.low + NEAR;
        if !falling(other) || !(after(at) || before) {
            continue;
        }
        let touching = at.low < piece.high + NEAR && piece.low < at.high + NEAR;
        // After a slip the string goes on at speed.
        let later = if after(at) { other } else { best };
        let doubt = if alike(other, best) && touching && !later.from_rest {
            Doubt::TouchingPieces
        } else if alike(other, best) && 3 * other.readings > best.readings {
            // Swinging down again after the rise is no other drop.
            if found.rise.is_some() && after(at) {
                continue;
            }
            Doubt::TwoEqualDrops
        } else if other.score > RIVAL * best.score {
            Doubt::Rivals
        } else {
            continue;
        };
        found.rivals.push(*other);
        if !doubts.contains(&doubt) {
            doubts.push(doubt);
        }
    }
    found.doubts = doubts;
    found
}

/// Whether two falls have one acceleration as far as friction and drag allow.
fn alike(one: &Candidate, other: &Candidate) -> bool {
    let ratio = one.acceleration_roughly / other.acceleration_roughly;
    (ratio.abs() - 1.0).abs() < 0.1
}
