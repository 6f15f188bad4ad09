//! The light gate at the pulley: which times the logger writes for a motion.
//!
//! A spoke blocks the light while the string travels a share of the distance from spoke to spoke. When the
//! pulley turns back, the light is blocked at the spoke's other edge.

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

impl Gate {
    /// What the logger writes down of a motion.
    pub fn record(&self, path: &Path, pulley: &Pulley, random: &mut Random) -> Vec<Edge> {
        let _ = (path, pulley, random);
        Vec::new()
    }
}
