//! How well the good stretch is found: whole records whose truth is known, hundreds of each kind.

use crate::{Check, parallel};
use core::num::NonZeroU32;
use whorl_core::acceleration::{Setup, estimate};
use whorl_core::quantity::{Meters, Seconds};
use whorl_core::readings::Readings;
use whorl_core::runs::Run;
use whorl_core::simulation::random::Random;
use whorl_core::simulation::raw_run::{Kind, RawRun, any_raw_run};
use whorl_core::stretch::{Found, find};

/// What became of the records of one kind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Records.
    pub records: u32,
    /// Usable: no edge from outside the true fall, 70 % of its edges or 20, acceleration right to 1 %.
    pub usable: u32,
    /// No stretch at all.
    pub nothing: u32,
    /// An edge from outside the true fall.
    pub outside: u32,
    /// Too few of its edges.
    pub few: u32,
    /// Acceleration off by more than 1 %.
    pub wrong: u32,
    /// The same without any doubt said.
    pub silently_wrong: u32,
    /// A doubt was said.
    pub doubted: u32,
    /// Edges kept and edges of the falls they are from.
    pub edges: (u32, u32),
}

/// One record and what was found in it.
pub struct Trial {
    /// The record.
    pub record: RawRun,
    /// What was found.
    pub found: Found,
    /// Edges in the stretch: first, and one past the last.
    pub kept: (usize, usize),
    /// Edges of the true fall it shares most with.
    pub truth: (usize, usize),
    /// Error of the acceleration fitted there, as a part of the true one.
    pub error: f64,
}

/// Record `number` of a kind.
pub fn trial(kind: Kind, number: u64) -> Trial {
    let record = any_raw_run(kind, &mut Random::new(2_718_281_828).fork(kind as u64).fork(number));
    let times: Vec<Seconds> = record.gate_times_s.iter().copied().map(Seconds).collect();
    let readings = Readings::from_gate_times(&times).unwrap();
    let travel = Meters(record.travel_per_spoke_m);
    let spokes = u32::try_from(record.rig.pulley.spokes).ok().and_then(NonZeroU32::new);
    let found = find(&readings, Some(travel), spokes);
    let (from, to) = found.best.map_or((0.0, 0.0), |best| (best.stretch.from().0, best.stretch.to().0));
    let all = &record.gate_times_s;
    let kept = (all.partition_point(|time| *time < from), all.partition_point(|time| *time <= to));
    let shared =
        |edges: &core::ops::Range<usize>| edges.end.min(kept.1).saturating_sub(edges.start.max(kept.0));
    let fall = record.free_falls.iter().max_by_key(|fall| shared(&fall.edges)).unwrap();
    let truth = (fall.edges.start, fall.edges.end);
    let error = acceleration(&all[kept.0..kept.1.max(kept.0)], travel, spokes)
        .map_or(f64::NAN, |a| a / fall.acceleration_m_per_s2 - 1.0);
    Trial { record, found, kept, truth, error }
}

/// The acceleration of the lab's own chain; none when the edges are too few.
fn acceleration(times: &[f64], travel: Meters, spokes: Option<NonZeroU32>) -> Option<f64> {
    let times: Vec<Seconds> = times.iter().copied().map(Seconds).collect();
    let readings = Readings::from_gate_times(&times).ok()?;
    let setup = Setup { travel_per_spoke: Some(travel), spokes, ..Setup::default() };
    let fit = estimate(&Run::new(&readings, None).ok()?, &setup).ok()?;
    Some(fit.acceleration.value().0)
}

/// Rows of the table: every kind usable in 98 % of `count` records, and hardly any silently wrong.
pub fn rows(count: usize) -> Vec<Check> {
    let records = u32::try_from(count).unwrap_or(u32::MAX);
    let tallies = parallel::map(Kind::ALL.len(), |at| Tally::of(Kind::ALL[at], records));
    let mut checks = Vec::new();
    let (mut silently, mut all) = (0, 0);
    for (kind, tally) in Kind::ALL.into_iter().zip(tallies) {
        let usable = tally.percent(tally.usable);
        checks.push(Check::between(format!("stretch, {}: usable %", kind.words()), usable, 98.0, 100.0));
        silently += tally.silently_wrong;
        all += tally.records;
    }
    let share = 100.0 * f64::from(silently) / f64::from(all);
    checks.push(Check::at_most("a wrong by more than 1 % without a word, % of all records", share, 0.5));
    checks
}

impl Tally {
    /// Records 0 to `records` − 1 of a kind.
    pub fn of(kind: Kind, records: u32) -> Self {
        let mut tally = Self { records, ..Self::default() };
        for number in 0..records {
            tally.add(&trial(kind, u64::from(number)));
        }
        tally
    }

    fn add(&mut self, trial: &Trial) {
        let doubted = !trial.found.doubts.is_empty();
        self.doubted += u32::from(doubted);
        if trial.found.best.is_none() {
            self.nothing += 1;
            return;
        }
        let count = |range: (usize, usize)| u32::try_from(range.1.saturating_sub(range.0)).unwrap();
        let (kept, truth) = (count(trial.kept), count(trial.truth));
        let outside = trial.kept.0 < trial.truth.0 || trial.kept.1 > trial.truth.1;
        let few = kept < 20 && 10 * kept < 7 * truth;
        // Not a number is wrong too.
        let right = trial.error.abs() < 0.01;
        self.outside += u32::from(outside);
        self.few += u32::from(few);
        self.wrong += u32::from(!right);
        self.silently_wrong += u32::from(!right && !doubted);
        self.usable += u32::from(!outside && !few && right);
        self.edges = (self.edges.0 + kept, self.edges.1 + truth);
    }

    /// `part` of the records, in percent.
    pub fn percent(&self, part: u32) -> f64 {
        100.0 * f64::from(part) / f64::from(self.records)
    }

    /// One line of a table.
    pub fn line(&self, kind: Kind) -> String {
        let percent = |part| self.percent(part);
        format!(
            "{:46} {:6.1} {:7.1} {:7.1} {:5.1} {:5.1} {:8.1} {:7.1} {:5.0}",
            kind.words(),
            percent(self.usable),
            percent(self.nothing),
            percent(self.outside),
            percent(self.few),
            percent(self.wrong),
            percent(self.silently_wrong),
            percent(self.doubted),
            100.0 * f64::from(self.edges.0) / f64::from(self.edges.1.max(1)),
        )
    }
}

/// The table's head.
pub const HEAD: &str = "kind, % of records                             usable nothing outside   few wrong silently doubted  kept";
