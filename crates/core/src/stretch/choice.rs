//! Which of the pieces is the fall.

use super::doubt::Doubt;
use super::ends::{Trimmed, trim};
use super::grow::{Piece, pieces, speed};
use super::track::{SEED, Track};
use crate::quantity::{Meters, Seconds};
use crate::readings::Readings;
use crate::runs::Stretch;
use core::num::NonZeroU32;

/// What the mass does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Motion {
    /// It gets faster.
    Falling,
    /// It gets slower: the string winds up the other way and the mass climbs.
    Rising,
}

/// A stretch in which the string moves with one acceleration.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Candidate {
    /// The stretch, one reading of safety left off at each end.
    pub stretch: Stretch,
    /// Whether it gets faster or slower.
    pub motion: Motion,
    /// Readings in the stretch.
    pub readings: usize,
    /// Whether it begins at rest.
    pub from_rest: bool,
    /// Acceleration with its sign, from a plain fit: in m/s² (rad/s² for a table's angle); for gate times
    /// without a travel per spoke in spokes/s².
    pub acceleration_roughly: f64,
    /// How many of its own standard errors the acceleration is away from none; more for a start from rest.
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

/// Finds the fall in a raw record.
///
/// `travel_per_spoke` only turns the rough acceleration into m/s²; with `spokes` of the pulley the ends are
/// found more sharply.
pub fn find(readings: &Readings, travel_per_spoke: Option<Meters>, spokes: Option<NonZeroU32>) -> Found {
    let track = Track::new(readings);
    let mut grown: Vec<(f64, Piece)> =
        pieces(&track).into_iter().map(|piece| (rough_score(&track, piece), piece)).collect();
    grown.sort_unstable_by(|a, b| b.0.total_cmp(&a.0));
    grown.truncate(LOOKED_AT);
    let pairs = readings.pairs();
    let scale = if track.gate { travel_per_spoke.map_or(1.0, |travel| travel.0) } else { 1.0 };
    let mut all: Vec<(Candidate, Piece)> = Vec::new();
    for (_, piece) in grown {
        let trimmed = trim(&track, piece, spokes.map(NonZeroU32::get));
        if let Some(candidate) = candidate(&track, &trimmed, &pairs, scale) {
            all.push((candidate, trimmed.piece));
        }
    }
    all.sort_unstable_by(|a, b| b.0.score.total_cmp(&a.0.score));
    choose(&track, &all)
}

fn rough_score(track: &Track, piece: Piece) -> f64 {
    let points = track.points.get(piece.low..=piece.high).unwrap_or(&[]);
    let curve = Curve::fit(points, track.degree, f64::INFINITY);
    curve.significance((curve.squares / curve.freedom()).sqrt().max(track.noise))
}

fn candidate(track: &Track, trimmed: &Trimmed, pairs: &[(f64, f64)], scale: f64) -> Option<Candidate> {
    let Trimmed { piece, curve, noise } = trimmed;
    if piece.high - piece.low + 1 < SEED {
        return None;
    }
    let between = |at: usize| match track.points.get(at..at + 2) {
        Some([a, b]) => Some(f64::midpoint(a.time, b.time)),
        _ => None,
    };
    // Halfway between the reading left off and the first one kept, so that rounding the ends loses none.
    let from = if piece.low == 0 { track.inner.0 } else { between(piece.low)? };
    let last = track.points.len() - 1;
    let to = if piece.high == last { track.inner.1 } else { between(piece.high - 1)? };
    let stretch = Stretch::new(Seconds(from), Seconds(to))?;
    let readings = pairs.partition_point(|pair| pair.0 <= to) - pairs.partition_point(|pair| pair.0 < from);
    let (first, last) = (track.points.get(piece.low)?, track.points.get(piece.high)?);
    let (start, end) = (speed(track, curve, first.time), speed(track, curve, last.time));
    let acceleration = curve.acceleration();
    let motion = if start.abs() < end.abs() { Motion::Falling } else { Motion::Rising };
    // From rest to the first edge it is less than one spoke: v² = 2 a x.
    let near_rest = if track.gate {
        start * start < (5.0 * acceleration.abs()).max(0.1 * end * end)
    } else {
        start.abs() < 0.1 * end.abs()
    };
    let from_rest = motion == Motion::Falling && near_rest;
    let significance = curve.significance(noise.max(track.noise));
    Some(Candidate {
        stretch,
        motion,
        readings,
        from_rest,
        acceleration_roughly: acceleration * scale,
        score: significance * if from_rest { REST } else { 1.0 },
    })
}

fn choose(track: &Track, all: &[(Candidate, Piece)]) -> Found {
    let falling = |candidate: &Candidate| candidate.motion == Motion::Falling;
    let Some((best, piece)) = all.iter().find(|(candidate, _)| falling(candidate)) else {
        return Found { doubts: vec![Doubt::NothingFound], ..Found::default() };
    };
    let mut found = Found { best: Some(*best), ..Found::default() };
    let mut doubt = |doubt: Doubt| {
        if !found.doubts.contains(&doubt) {
            found.doubts.push(doubt);
        }
    };
    if best.readings < SHORT {
        doubt(Doubt::Short { readings: best.readings });
    }
    if !best.from_rest {
        doubt(Doubt::NotFromRest);
    }
    for (other, at) in all {
        if other == best {
            continue;
        }
        let apart = at.low + 3 > piece.high || at.high < piece.low + 3;
        let ratio = other.acceleration_roughly / best.acceleration_roughly;
        let alike = (ratio.abs() - 1.0).abs() < 0.1;
        let touching = at.low.abs_diff(piece.high) < 6 || piece.low.abs_diff(at.high) < 6;
        if falling(other) && apart {
            if touching && alike && best.from_rest != other.from_rest {
                doubt(Doubt::TouchingPieces);
            } else if other.score > RIVAL * best.score {
                doubt(if alike { Doubt::TwoEqualDrops } else { Doubt::Rivals });
            }
            if other.score > RIVAL * best.score {
                found.rivals.push(*other);
            }
        }
        if touching && at.low >= piece.high && !falling(other) && (0.9..4.0).contains(&ratio.abs()) {
            found.rise = found.rise.or(Some(*other));
        }
    }
    let _ = track;
    found
}

use super::curve::Curve;
