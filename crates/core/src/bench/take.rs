//! Taking a run.

use super::apparatus::Bench;
use super::fault::Fault;
use super::phase::Phase;
use super::story::{Landed, Mishaps, play};
use super::wish::{Grip, Wish};
use crate::quantity::Seconds;
use crate::readings::{ReadingKind, Readings};
use crate::simulation::course::Fall;
use crate::simulation::energy::Energy;
use crate::simulation::gate::{Edge, EdgesSeen, Gate};
use crate::simulation::path::Path;
use crate::simulation::random::Random;
use crate::simulation::rig::Rig;

/// A run that was taken: what the logger wrote, what happened, and what is true.
#[derive(Clone, Debug, PartialEq)]
pub struct TakenRun {
    /// Its number on this bench.
    pub number: u32,
    /// What was wished.
    pub wish: Wish,
    /// What is stamped on the mass, kg.
    pub stamped_mass_kg: f64,
    /// Which edges the logger writes.
    pub edges_seen: EdgesSeen,
    /// The edges as written, in order; each time as it stands in the file. When each truly happened is in it too.
    pub edges: Vec<Edge>,
    /// String and table at every moment. While the string is slack it is the pulley's travel.
    pub path: Path,
    /// What happens, in order, from the start of the record to its end.
    pub phases: Vec<Phase>,
    /// What is true.
    pub truth: RunTruth,
    landed: Option<Landed>,
    decimals: usize,
}

/// What is true of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct RunTruth {
    /// Drum, table with what it carries, friction, pulley and mass as they were in this run.
    pub rig: Rig,
    /// The free falls: none where the table did not move, two where the string slipped between them.
    pub falls: Vec<Fall>,
    /// Acceleration of the mass in the first fall, m/s²: its mean, where it changes; 0 without a fall.
    pub acceleration_m_per_s2: f64,
    /// Tension of the string at the drum, N: its mean over the time of that fall.
    pub tension_n: f64,
    /// Torque of the table's friction, N·m: its mean over the angle of that fall.
    pub friction_n_m: f64,
    /// Where the work of the weight went in that fall.
    pub energy: Energy,
}

/// Digits behind the point where the clock has no step: below a nanosecond.
const FINE: usize = 10;

impl Bench {
    /// Takes a run. The same wish with the same number gives the same run; another number another one.
    ///
    /// `None` where the bench has no such object or mass.
    pub fn take(&self, wish: &Wish, number: u32) -> Option<TakenRun> {
        let stamped_mass_kg = *self.settings.masses_kg.get(wish.mass)?;
        let own = self.seed.stream("run").fork(u64::from(number));
        let rig = self.truth.run_rig(wish.load, wish.mass, &mut own.fork(0))?;
        let story = play(&rig, self.truth.drop_m, wish, self.mishaps(wish, &mut own.fork(1)), own.fork(2));
        let mut gate = self.truth.gate.clone();
        let mut place = own.fork(3);
        gate.first_edge_m = place.between(0.0, rig.pulley.travel_per_spoke_m);
        gate.first_spoke = place.index(rig.pulley.spokes);
        let decimals = decimals(gate.clock.step_s);
        let edges = written(&gate, &story.path, &rig, decimals, &mut own.fork(4));
        Some(TakenRun {
            number,
            wish: *wish,
            stamped_mass_kg,
            edges_seen: gate.edges,
            edges,
            truth: truth(rig, &story.path, story.falls),
            path: story.path,
            phases: story.phases,
            landed: story.landed,
            decimals,
        })
    }

    /// What goes wrong in this run. Drawn whether or not it is planted, so that a fault changes nothing else.
    fn mishaps(&self, wish: &Wish, random: &mut Random) -> Mishaps {
        let (slip_m, slips, pushes) = (random.between(0.01, 0.05), random.uniform(), random.uniform());
        let mut mishaps =
            Mishaps { slip_m: (wish.grip == Grip::Slips).then_some(slip_m), push_m_per_s: None };
        for fault in &self.settings.faults {
            match *fault {
                Fault::StringSlips { length_m, share } if slips < share => {
                    mishaps.slip_m = mishaps.slip_m.or(Some(length_m));
                }
                Fault::PushedRelease { speed_m_per_s, share } if pushes < share => {
                    mishaps.push_m_per_s = Some(speed_m_per_s);
                }
                _ => {}
            }
        }
        mishaps
    }
}

/// How many digits behind the point a clock with this step writes.
fn decimals(step_s: f64) -> usize {
    let mut unit = 1.0;
    for decimals in 0..FINE {
        let steps = step_s * unit;
        if step_s > 0.0 && (steps - steps.round()).abs() < 1e-6 * steps {
            return decimals;
        }
        unit *= 10.0;
    }
    FINE
}

/// What the logger writes: times with its digits. A second edge within one tick of the clock is lost, as a
/// counter of ticks that remembers its last one loses it.
fn written(gate: &Gate, path: &Path, rig: &Rig, decimals: usize, random: &mut Random) -> Vec<Edge> {
    let mut edges: Vec<Edge> = gate.record(path, &rig.pulley, random);
    for edge in &mut edges {
        // Through the text, so that a file gives the same bits as the run itself.
        edge.time_s = shown(edge.time_s, decimals).parse().unwrap_or(edge.time_s);
    }
    edges.dedup_by(|later, earlier| later.time_s <= earlier.time_s);
    edges
}

fn shown(time_s: f64, decimals: usize) -> String {
    format!("{time_s:.decimals$}")
}

fn truth(rig: Rig, path: &Path, falls: Vec<Fall>) -> RunTruth {
    let first = falls.first();
    let acceleration_m_per_s2 = first.map_or(0.0, |fall| fall.acceleration_m_per_s2);
    let energy =
        first.and_then(|fall| Energy::between(&rig, path, fall.from_s, fall.to_s)).unwrap_or_default();
    let turned = first.and_then(|fall| {
        let [start, end] = [fall.from_s, fall.to_s].map(|time_s| path.moment(time_s).map(|at| at.table_rad));
        Some(end? - start?)
    });
    let moving_kg = rig.mass_kg + rig.pulley.effective_mass_kg();
    // At rest friction holds the table, and the pulley's bearing takes no part.
    let dragging_n = if first.is_some() { rig.pulley.friction_n_m / rig.pulley.radius_m() } else { 0.0 };
    RunTruth {
        tension_n: rig.mass_kg * rig.gravity_m_per_s2 - dragging_n - moving_kg * acceleration_m_per_s2,
        friction_n_m: turned.map_or(0.0, |turned| energy.friction_j / turned),
        acceleration_m_per_s2,
        energy,
        falls,
        rig,
    }
}

impl TakenRun {
    /// The times as written, s.
    pub fn gate_times_s(&self) -> Vec<f64> {
        self.edges.iter().map(|edge| edge.time_s).collect()
    }

    /// The logger's file: one edge a row, times in seconds; with both edges a second column, 1 where the gate
    /// becomes blocked.
    pub fn csv(&self) -> String {
        let both = self.edges_seen == EdgesSeen::Both;
        let mut text = String::from(if both { "time (s),gate (1 = blocked)\n" } else { "time (s)\n" });
        for edge in &self.edges {
            text += &shown(edge.time_s, self.decimals);
            if both {
                text += if edge.blocked { ",1" } else { ",0" };
            }
            text.push('\n');
        }
        text
    }

    /// The readings, as the file gives them; `None` where no edge was written.
    pub fn readings(&self) -> Option<Readings> {
        let kind = match self.edges_seen {
            EdgesSeen::Blocked => ReadingKind::GateTimes,
            EdgesSeen::Both => ReadingKind::BothEdges,
        };
        let times: Vec<Seconds> = self.edges.iter().map(|edge| Seconds(edge.time_s)).collect();
        Readings::from_columns(kind, &times, &[]).ok()
    }

    /// When the record ends, s.
    pub fn end_s(&self) -> f64 {
        self.path.end_s()
    }

    /// How far below its highest place the mass is, m, floor and jumps included.
    pub fn mass_below_m(&self, time_s: f64) -> f64 {
        let string_m = self.path.moment(time_s).map_or(0.0, |moment| moment.string_m);
        let Some(landed) = self.landed.as_ref().filter(|landed| time_s >= landed.at_s) else {
            return string_m;
        };
        let inside = |jump: &&(f64, f64)| (jump.0..jump.1).contains(&time_s);
        landed.jumps_s.iter().find(inside).map_or(landed.at_m, |(from_s, to_s)| {
            // Up and down again: height ½ g (t − t₀)(t₁ − t).
            let height_m = 0.5 * self.truth.rig.gravity_m_per_s2 * (time_s - from_s) * (to_s - time_s);
            landed.at_m - height_m
        })
    }

    /// The phase at a moment of the record, s.
    pub fn phase(&self, time_s: f64) -> Option<&Phase> {
        self.phases.iter().rfind(|phase| phase.from_s <= time_s)
    }

    /// What happens, a line for each phase: an account to be read or spoken.
    pub fn account(&self) -> Vec<String> {
        self.phases.iter().map(Phase::told).collect()
    }

    /// A number made of every bit of the times as written: two machines that made the same run have the same.
    pub fn fingerprint(&self) -> u64 {
        // The hash of Fowler, Noll and Vo, 64 bits, variant 1a.
        let bytes = self.edges.iter().flat_map(|edge| edge.time_s.to_bits().to_le_bytes());
        bytes.fold(0xcbf2_9ce4_8422_2325, |hash: u64, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        })
    }
}
