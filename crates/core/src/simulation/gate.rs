//! The light gate at the pulley: which times the logger writes for a motion.
//!
//! A spoke blocks the light while the string travels a share of the distance from spoke to spoke. When the
//! pulley turns back, the light is blocked at the spoke's other edge.

use core::ops::Range;

use super::path::Path;
use super::random::Random;
use super::rig::Pulley;

/// The gate, the spokes as they really are, and the logger's clock.
#[derive(Clone, Debug, PartialEq)]
pub struct Gate {
    /// String position at which the first spoke would begin to block the light, m.
    pub first_edge_m: f64,
    /// Error of each spoke's place along the string, m; missing ones are 0. See [`spoke_offsets`].
    pub spoke_offsets_m: Vec<f64>,
    /// Which of them is the first.
    pub first_spoke: usize,
    /// Share of the travel from spoke to spoke in which a spoke blocks the light, between 0 and 1.
    pub blocked_share: f64,
    /// What the logger writes down.
    pub edges: EdgesSeen,
    /// Standard deviation of the string's place at each edge, m: a string that stretches and swings.
    pub position_noise_m: f64,
    /// The logger's clock.
    pub clock: Clock,
    /// Edges that are not seen.
    pub missed: Missed,
    /// Edges that are seen twice.
    pub bounced: Bounced,
}

/// Which edges are written down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgesSeen {
    /// One for each spoke: the light becomes blocked.
    Blocked,
    /// Both: the light becomes blocked, or free.
    Both,
}

/// A clock's errors: time written = rounded(start + time + jitter).
#[derive(Clone, Debug, PartialEq)]
pub struct Clock {
    /// What it shows when the record begins, s.
    pub start_s: f64,
    /// Standard deviation of each reading, s.
    pub jitter_s: f64,
    /// Its step, s; 0 for none.
    pub step_s: f64,
    /// How a time between two steps is written.
    pub rounding: Rounding,
}

/// How a time between two steps of a clock is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// As the step before: a counter of ticks.
    Down,
    /// As the nearest step: printed with few digits.
    Nearest,
}

/// Edges that are not seen.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Missed {
    /// Probability that an edge is missed.
    pub probability: f64,
    /// Places, counted among all edges from 0, that are missed for certain.
    pub places: Vec<usize>,
}

/// Edges that are seen twice.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Bounced {
    /// Probability that an edge is seen twice.
    pub probability: f64,
    /// Places, counted among all edges from 0, that are seen twice for certain.
    pub places: Vec<usize>,
    /// The false edge comes later than the true one by this at least, s.
    pub least_delay_s: f64,
    /// And by this at most, s.
    pub most_delay_s: f64,
}

/// One edge that the logger wrote down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Time as written, s.
    pub time_s: f64,
    /// When it happened, in s from the start of the record.
    pub true_time_s: f64,
    /// Whether the light becomes blocked (or free).
    pub blocked: bool,
    /// False for the second one of an edge that was seen twice.
    pub genuine: bool,
}

impl Default for Gate {
    /// A gate without any error, half blocked, its first edge half a spoke ahead.
    fn default() -> Self {
        Self {
            first_edge_m: 0.0075,
            spoke_offsets_m: Vec::new(),
            first_spoke: 0,
            blocked_share: 0.5,
            edges: EdgesSeen::Blocked,
            position_noise_m: 0.0,
            clock: Clock { start_s: 0.0, jitter_s: 0.0, step_s: 0.0, rounding: Rounding::Down },
            missed: Missed::default(),
            bounced: Bounced::default(),
        }
    }
}

/// Places of spokes that stand unevenly: normal with this standard deviation, m, less their mean, so that
/// a whole turn is what it should be.
pub fn spoke_offsets(spokes: usize, standard_deviation_m: f64, random: &mut Random) -> Vec<f64> {
    let offsets: Vec<f64> = (0..spokes).map(|_| standard_deviation_m * random.normal()).collect();
    let mean = offsets.iter().sum::<f64>() / spokes.max(1) as f64;
    offsets.iter().map(|offset| offset - mean).collect()
}

/// Which of the edges, in order of time, happened from one moment to another, both included, s.
pub fn edges_within(edges: &[Edge], from_s: f64, to_s: f64) -> Range<usize> {
    let inside = |edge: &Edge| edge.true_time_s >= from_s && edge.true_time_s <= to_s;
    let start = edges.iter().position(inside).unwrap_or(edges.len());
    let end = edges.iter().rposition(inside).map_or(start, |last| last + 1);
    start..end
}

/// An edge of a spoke that the light will meet next.
#[derive(Clone, Copy)]
struct Next {
    place: i64,
    moving: f64,
    position_m: f64,
}

/// Where a record's errors come from.
struct Logger {
    clock: Random,
    light: Random,
    /// Edges met so far, written down or not.
    seen: usize,
}

impl Gate {
    /// What the logger writes down of a motion, in order of the times written.
    ///
    /// Each kind of error has a stream of its own: another clock meets the same string.
    pub fn record(&self, path: &Path, pulley: &Pulley, random: &mut Random) -> Vec<Edge> {
        let own = Random::new(random.bits());
        let (mut string, mut logger) =
            (own.fork(0), Logger { clock: own.fork(1), light: own.fork(2), seen: 0 });
        let mut edges = Vec::new();
        let mut next: Option<Next> = None;
        for piece in path.pieces() {
            let (from_m, to_m) = (piece.string.at(0.0), piece.string.at(1.0));
            let way_m = to_m - from_m;
            if way_m == 0.0 {
                continue;
            }
            let moving = way_m.signum();
            let mut ahead = match next {
                Some(ahead) if ahead.moving * moving > 0.0 => ahead,
                _ => self.first_ahead(from_m, moving, pulley, &mut string),
            };
            while (to_m - ahead.position_m) * moving >= 0.0 {
                // The string's noise may put an edge just behind where the motion begins: it is not met.
                if (ahead.position_m - from_m) * moving > 0.0 {
                    let true_time_s = piece.time_s(piece.string.passes(ahead.position_m));
                    self.see(true_time_s, self.blocks(ahead), &mut edges, &mut logger);
                }
                let place = ahead.place + if moving > 0.0 { 1 } else { -1 };
                ahead = self.edge_at(place, moving, pulley, &mut string);
            }
            next = Some(ahead);
        }
        edges.sort_by(|one, other| one.time_s.total_cmp(&other.time_s));
        edges
    }

    /// Writes an edge down once, twice or not at all.
    fn see(&self, true_time_s: f64, blocked: bool, edges: &mut Vec<Edge>, logger: &mut Logger) {
        let missed =
            logger.light.chance(self.missed.probability) || self.missed.places.contains(&logger.seen);
        let bounced =
            logger.light.chance(self.bounced.probability) || self.bounced.places.contains(&logger.seen);
        logger.seen += 1;
        if missed {
            return;
        }
        let time_s = self.clock.shows(true_time_s, &mut logger.clock);
        let edge = Edge { time_s, true_time_s, blocked, genuine: true };
        edges.push(edge);
        if bounced {
            let delay_s = logger.light.between(self.bounced.least_delay_s, self.bounced.most_delay_s);
            let time_s = self.clock.shows(true_time_s + delay_s, &mut logger.clock);
            edges.push(Edge { time_s, genuine: false, ..edge });
        }
    }

    /// Where the edge counted `place` lies, without noise. With one edge for each spoke they are the spokes;
    /// with both, even places are their near edges and odd ones their far edges.
    fn edge_m(&self, place: i64, moving: f64, pulley: &Pulley) -> f64 {
        let (spoke, far) = match self.edges {
            // On the way back the light is blocked at the far edge.
            EdgesSeen::Blocked => (place, moving < 0.0),
            EdgesSeen::Both => (place.div_euclid(2), place.rem_euclid(2) == 1),
        };
        let travel_m = pulley.travel_per_spoke_m;
        let shift_m = if far { self.blocked_share * travel_m } else { 0.0 };
        self.first_edge_m + spoke as f64 * travel_m + self.offset_m(spoke, pulley) + shift_m
    }

    fn offset_m(&self, spoke: i64, pulley: &Pulley) -> f64 {
        if self.spoke_offsets_m.is_empty() {
            return 0.0;
        }
        let spokes = i64::try_from(pulley.spokes.max(1)).unwrap_or(1);
        let place = usize::try_from(spoke.rem_euclid(spokes)).unwrap_or(0) + self.first_spoke;
        self.spoke_offsets_m.get(place % pulley.spokes.max(1)).copied().unwrap_or(0.0)
    }

    fn edge_at(&self, place: i64, moving: f64, pulley: &Pulley, random: &mut Random) -> Next {
        let noise_m = if self.position_noise_m > 0.0 { self.position_noise_m * random.normal() } else { 0.0 };
        Next { place, moving, position_m: self.edge_m(place, moving, pulley) + noise_m }
    }

    /// The first edge ahead of a position when the motion begins or turns back.
    fn first_ahead(&self, from_m: f64, moving: f64, pulley: &Pulley, random: &mut Random) -> Next {
        let spoke = ((from_m - self.first_edge_m) / pulley.travel_per_spoke_m).floor();
        // A position is a few meters at most, so the count of spokes is small.
        #[expect(clippy::cast_possible_truncation, reason = "a floor of a small number is a whole number")]
        let spoke = spoke as i64;
        let per_spoke = match self.edges {
            EdgesSeen::Blocked => 1,
            EdgesSeen::Both => 2,
        };
        let step = if moving > 0.0 { 1 } else { -1 };
        // Two spokes behind, and forward to the first that lies ahead.
        let mut place = (spoke - 2 * step) * per_spoke;
        while (self.edge_m(place, moving, pulley) - from_m) * moving <= 0.0 {
            place += step;
        }
        self.edge_at(place, moving, pulley, random)
    }

    /// Whether the light becomes blocked at this edge.
    fn blocks(&self, edge: Next) -> bool {
        match self.edges {
            EdgesSeen::Blocked => true,
            EdgesSeen::Both => (edge.place.rem_euclid(2) == 0) == (edge.moving > 0.0),
        }
    }
}

impl Clock {
    /// What the clock shows at a moment of the record.
    fn shows(&self, time_s: f64, random: &mut Random) -> f64 {
        let jitter_s = if self.jitter_s > 0.0 { self.jitter_s * random.normal() } else { 0.0 };
        let time_s = self.start_s + time_s + jitter_s;
        if self.step_s > 0.0 {
            let steps = time_s / self.step_s;
            let whole = match self.rounding {
                Rounding::Down => steps.floor(),
                Rounding::Nearest => steps.round(),
            };
            whole * self.step_s
        } else {
            time_s
        }
    }
}

#[cfg(test)]
mod tests;
