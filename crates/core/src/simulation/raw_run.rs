//! Whole records as students bring them: the good run with what comes before, after and between.

use core::ops::Range;

use script::Script;

use super::gate::{Bounced, Gate, edges_within, spoke_offsets};
use super::log::times_s;
use super::random::Random;
use super::rig::Rig;

mod script;

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
    /// The rig as it truly was, with its mass.
    pub rig: Rig,
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

/// A record of this kind on this rig, with this gate's errors and those the kind adds. Where the pulley
/// stands at the start is drawn. The mass falls 0.85 m, but for a short drop.
pub fn raw_run(kind: Kind, rig: &Rig, gate: &Gate, random: &mut Random) -> RawRun {
    // A rewind needs all string to run off at the end of the fall, the others that it does not.
    let wound_m = if kind == Kind::Rewind { DROP_M } else { 2.0 * DROP_M };
    let rig = Rig { wound_m, ..rig.clone() };
    let mut gate = gate.clone();
    gate.first_edge_m = random.between(0.0, rig.pulley.travel_per_spoke_m);
    gate.first_spoke = random.index(rig.pulley.spokes);
    add_errors(kind, &rig, &mut gate, random);
    let (path, falls) = Script::new(kind, &rig, &gate, random).play();
    let edges = gate.record(&path, &rig.pulley, random);
    let free_falls = falls.iter().map(|fall| FreeFall {
        edges: edges_within(&edges, fall.from_s, fall.to_s),
        from_s: fall.from_s,
        to_s: fall.to_s,
        acceleration_m_per_s2: fall.acceleration_m_per_s2,
    });
    RawRun {
        kind,
        free_falls: free_falls.collect(),
        gate_times_s: times_s(&edges),
        travel_per_spoke_m: rig.pulley.travel_per_spoke_m,
        ambiguous: matches!(kind, Kind::TwoDrops | Kind::StringSlip),
        rig,
    }
}

/// A record of this kind on a rig drawn at random: empty or loaded table, a mass that fits it, friction; a
/// string uncertain by 20 µm and a clock of 0.1 ms or finer.
pub fn any_raw_run(kind: Kind, random: &mut Random) -> RawRun {
    let loaded = random.chance(0.5);
    let [inertia, mass] = if loaded { [(5e-3, 12e-3), (0.05, 0.3)] } else { [(1e-3, 2e-3), (0.02, 0.14)] };
    let mut rig = Rig {
        inertia_kg_m2: random.between(inertia.0, inertia.1),
        mass_kg: random.between(mass.0, mass.1),
        ..Rig::default()
    };
    rig.friction.constant_n_m = random.between(0.6e-3, 1.6e-3);
    rig.pulley.inertia_kg_m2 = random.between(0.0, 3e-6);
    let mut gate = Gate { position_noise_m: 2e-5, ..Gate::default() };
    gate.clock.step_s = if random.chance(0.5) { 1e-4 } else { 1e-5 };
    gate.clock.start_s = random.between(0.0, 20.0);
    raw_run(kind, &rig, &gate, random)
}

/// How far the mass falls, m.
const DROP_M: f64 = 0.85;

/// The errors of gate and clock that belong to the kind.
fn add_errors(kind: Kind, rig: &Rig, gate: &mut Gate, random: &mut Random) {
    // Edges of the fall alone, which is all there is in these records: one in its middle half.
    let count = DROP_M / rig.pulley.travel_per_spoke_m;
    let mut in_the_middle = || place(random.between(0.25 * count, 0.75 * count));
    match kind {
        Kind::CoarseClock => gate.clock.step_s = 1e-3,
        Kind::MissedEdge => gate.missed.places = vec![in_the_middle()],
        Kind::BouncedEdges => {
            gate.bounced = Bounced {
                probability: 0.08,
                places: vec![in_the_middle()],
                least_delay_s: 1e-4,
                most_delay_s: 2e-3,
            };
        }
        Kind::UnequalSpokes => {
            let standard_deviation_m = 0.01 * rig.pulley.travel_per_spoke_m;
            gate.spoke_offsets_m = spoke_offsets(rig.pulley.spokes, standard_deviation_m, random);
        }
        Kind::Everything => {
            // Winding comes first and passes as many edges as the fall.
            gate.missed.places = vec![place(count) + in_the_middle()];
            gate.bounced = Bounced {
                probability: 0.0,
                places: vec![place(count) + in_the_middle()],
                least_delay_s: 1e-4,
                most_delay_s: 2e-3,
            };
        }
        _ => {}
    }
}

/// A place among edges.
fn place(count: f64) -> usize {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count of edges is small and not negative"
    )]
    let place = count as usize;
    place
}

#[cfg(test)]
mod tests;
