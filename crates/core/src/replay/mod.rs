//! A recorded run to be watched: where string, table and mass are at every moment, as the readings tell.
//!
//! ```text
//! readings → track     travel, velocity and acceleration beside each reading, from its neighbors
//!          → Replay    a moment of it, forces and table included
//!          → account   the same told in sentences
//! ```
//!
//! Nothing here is a formula's ideal: at each moment velocity and acceleration are those of a curve through the
//! readings near it (parabola, line or level, as for the kind of reading; Savitzky and Golay, *Anal. Chem.* 36
//! (1964) 1627: smoothing by local least squares), each with the standard uncertainty of that curve. So noise is
//! seen as noise, and a slip as a slip. Neighborhoods do not reach over the ends of the good stretch, where the
//! motion changes at once.
//!
//! A gate counts spokes and does not see which way they go: outside the stretch the travel is a distance, and the
//! mass is left where it was.

mod account;
mod track;

pub use account::Landmark;

use crate::acceleration::AccelerationError;
use crate::analysis::RunOutcome;
use crate::lab::{ApparatusEntry, RunEntry};
use crate::measured::Measured;
use crate::quantity::{
    Kilograms, Meters, MetersPerSecond, MetersPerSecond2, Newtons, Radians, RadiansPerSecond, Seconds,
};
use crate::readings::ReadingKind;
use crate::runs::Motion;
use crate::stretch::number_edges;
use track::{Node, Track};
use whorl_words as words;

/// Why a run cannot be watched.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ReplayError {
    /// It was typed, or timed by hand.
    #[error("{}", words::replay::no_readings())]
    NoReadings,
    /// Gate times without the travel per spoke, angles without a radius.
    #[error(transparent)]
    Apparatus(#[from] AccelerationError),
    /// So few readings that nothing moves.
    #[error("{}", words::replay::too_few())]
    TooFew,
}

/// What a moment belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// Before the good stretch.
    Before,
    /// In it.
    Within,
    /// After it.
    After,
}

/// The two forces on the hanging mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forces {
    /// m g, downward.
    pub weight: Newtons,
    /// T, upward: m (g − a), a counted downward.
    pub tension: Measured<Newtons>,
}

/// The run at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Moment {
    /// When, as the logger counts.
    pub time: Seconds,
    /// What it belongs to.
    pub phase: Phase,
    /// Travel of the string since the stretch began; below zero before it.
    pub travel: Meters,
    /// Velocity of the string; `None` only for numbers so extreme that it is none.
    pub velocity: Option<Measured<MetersPerSecond>>,
    /// Its acceleration along the motion within the stretch: elsewhere a hand or the floor makes it what it is.
    pub acceleration: Option<Measured<MetersPerSecond2>>,
    /// Forces on the mass, where it is known and on a taut string.
    pub forces: Option<Forces>,
    /// Where the table has turned to since the stretch began, where the effective radius is known.
    pub table: Option<(Radians, RadiansPerSecond)>,
    /// How far the pulley has turned since the stretch began, where its radius is known.
    pub pulley: Option<Radians>,
    /// Spokes the gate has seen so far.
    pub spokes_passed: Option<usize>,
    /// Height of the mass within its fall, from 1 at the top to 0 at the bottom.
    pub height_share: f64,
}

/// A run to be watched.
#[derive(Clone, Debug, PartialEq)]
pub struct Replay {
    name: String,
    motion: Motion,
    track: Track,
    stretch: (f64, f64),
    /// Travel at the ends of the stretch, m.
    ends: (f64, f64),
    /// When spokes pass the gate, s.
    passes: Option<Vec<f64>>,
    /// With its standard uncertainty: of the weighing, and of the scale.
    mass: Option<(Kilograms, Kilograms)>,
    gravity: Option<Measured<MetersPerSecond2>>,
    effective_radius: Option<Meters>,
    pulley_radius: Option<Meters>,
}

impl Replay {
    /// A run of a lab, to be watched.
    ///
    /// # Errors
    /// When there are no readings, too few, or the apparatus lacks what turns them into lengths.
    pub fn of(run: &RunEntry, outcome: &RunOutcome, apparatus: &ApparatusEntry) -> Result<Self, ReplayError> {
        let readings = run.record.readings().ok_or(ReplayError::NoReadings)?;
        let kind = readings.kind();
        let setup = apparatus.setup();
        let factor = match kind {
            ReadingKind::GateTimes | ReadingKind::BothEdges => {
                setup.travel_per_spoke.ok_or(AccelerationError::TravelMissing)?.0
            }
            ReadingKind::Angle | ReadingKind::AngularVelocity => {
                setup.effective_radius.ok_or(AccelerationError::RadiusMissing)?.0
            }
            ReadingKind::Velocity | ReadingKind::Position | ReadingKind::Acceleration => 1.0,
        };
        let mut pairs = readings.pairs();
        let mut passes = None;
        if kind.is_times_alone() {
            // Of both edges those at which a spoke blocks the light: the others stand somewhere between.
            let every = if kind == ReadingKind::BothEdges { 2 } else { 1 };
            let times: Vec<f64> = pairs.iter().step_by(every).map(|pair| pair.0).collect();
            let edges = number_edges(&times);
            pairs = edges
                .times
                .iter()
                .copied()
                .zip(edges.numbers.iter().map(|number| f64::from(*number)))
                .collect();
            passes = Some(edges.times);
        }
        pairs.iter_mut().for_each(|pair| pair.1 *= factor);
        let first = pairs.first().map_or(0.0, |pair| pair.0);
        let last = pairs.last().map_or(0.0, |pair| pair.0);
        let within = |time: f64| time.clamp(first, last);
        let stretch = outcome
            .stretch
            .map_or((first, last), |stretch| (within(stretch.from().0), within(stretch.to().0)));
        let track = Track::new(pairs, kind.degree(), stretch).ok_or(ReplayError::TooFew)?;
        let ends = (track.at(stretch.0).travel, track.at(stretch.1).travel);
        Ok(Self {
            name: run.name.clone(),
            motion: run.motion,
            track,
            stretch,
            ends,
            passes,
            mass: run.hanging_mass.filter(|mass| mass.0 > 0.0).map(|mass| {
                let scale = apparatus.mass_scale_uncertainty.0 * mass.0;
                (mass, Kilograms(apparatus.hanging_mass_uncertainty.0.hypot(scale)))
            }),
            gravity: apparatus.gravity,
            effective_radius: setup.effective_radius,
            pulley_radius: apparatus.pulley_radius().filter(|radius| radius.0 > 0.0),
        })
    }

    /// The run's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// First and last moment.
    pub fn span(&self) -> (Seconds, Seconds) {
        let (first, last) = self.track.span();
        (Seconds(first), Seconds(last))
    }

    /// The good stretch.
    pub fn stretch(&self) -> (Seconds, Seconds) {
        (Seconds(self.stretch.0), Seconds(self.stretch.1))
    }

    /// The greatest force of the run, to which arrows are drawn: the weight, or a tension above it.
    pub fn greatest_force(&self) -> Option<Newtons> {
        let weight = self.weight()?;
        let within = self.track.nodes().iter().filter(|node| self.phase(node.time) == Phase::Within);
        let tensions = within.filter_map(|node| Some(self.forces(node, Phase::Within)?.tension.value().0));
        Some(Newtons(tensions.fold(weight.0, f64::max)))
    }

    /// The reading before or after a moment, for stepping; the ends of the record stay where they are.
    pub fn step(&self, time: Seconds, forward: bool) -> Seconds {
        // A step lands on the reading's very time: from there the next one is another.
        let times = self.track.times();
        let next = if forward {
            times.iter().find(|&&other| other > time.0 + TOUCHING)
        } else {
            times.iter().rev().find(|&&other| other < time.0 - TOUCHING)
        };
        next.map_or(if forward { self.span().1 } else { self.span().0 }, |&time| Seconds(time))
    }

    /// The run at a moment; before the record as at its beginning, after it as at its end.
    pub fn at(&self, time: Seconds) -> Moment {
        let (first, last) = self.track.span();
        let time = time.0.clamp(first, last);
        let node = self.track.at(time);
        let phase = self.phase(time);
        let travel = node.travel - self.ends.0;
        let fallen = self.ends.1 - self.ends.0;
        let share = if fallen > 0.0 { (travel / fallen).clamp(0.0, 1.0) } else { 0.0 };
        let height_share = match self.motion {
            Motion::Falling => 1.0 - share,
            Motion::Rising => share,
            Motion::Coasting => 0.0,
        };
        Moment {
            time: Seconds(time),
            phase,
            travel: Meters(travel),
            velocity: Measured::new(MetersPerSecond(node.velocity), MetersPerSecond(node.velocity_u)).ok(),
            acceleration: Measured::new(
                MetersPerSecond2(node.acceleration),
                MetersPerSecond2(node.acceleration_u),
            )
            .ok()
            .filter(|_| phase == Phase::Within),
            forces: self.forces(&node, phase),
            table: self
                .effective_radius
                .map(|radius| (Radians(travel / radius.0), RadiansPerSecond(node.velocity / radius.0))),
            pulley: self.pulley_radius.map(|radius| Radians(travel / radius.0)),
            spokes_passed: self.passes.as_ref().map(|passes| passes.partition_point(|pass| *pass <= time)),
            height_share,
        }
    }

    fn phase(&self, time: f64) -> Phase {
        if time < self.stretch.0 {
            Phase::Before
        } else if time > self.stretch.1 {
            Phase::After
        } else {
            Phase::Within
        }
    }

    fn weight(&self) -> Option<Newtons> {
        Some(Newtons(self.mass?.0.0 * self.gravity?.value().0))
    }

    /// Outside the stretch a hand, the floor or nothing at all may hold the mass.
    ///
    /// u(T) from T = m (g − a): of the acceleration here, of the mass and of g, by the law of propagation (JCGM 100:2008,
    /// 5.1.2).
    fn forces(&self, node: &Node, phase: Phase) -> Option<Forces> {
        if phase != Phase::Within || self.motion == Motion::Coasting {
            return None;
        }
        let (mass, mass_u) = self.mass?;
        let (weight, gravity) = (self.weight()?, self.gravity?);
        let downward = if self.motion == Motion::Rising { -1.0 } else { 1.0 };
        let net = gravity.value().0 - downward * node.acceleration;
        let scatter = mass.0 * node.acceleration_u;
        let u = scatter.hypot(net * mass_u.0).hypot(mass.0 * gravity.standard_uncertainty().0);
        let tension = Measured::new(Newtons(mass.0 * net), Newtons(u)).ok()?;
        Some(Forces { weight, tension })
    }
}

/// Moments closer than this, in s, are one.
const TOUCHING: f64 = 1e-9;

#[cfg(test)]
mod tests;
