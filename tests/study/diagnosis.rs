//! Whole labs with one fault each, and labs without any: what the diagnosis says of them.

mod trials;

pub use trials::{KINDS, Planted, Trial, clean, dragged, entered, other_clean, spokes_off, trial};

use crate::{Check, parallel, percent};
use trials::trial_in;
use whorl_core::analysis::{Analysis, analyze};
use whorl_core::diagnosis::{Cause, Finding, apply, diagnose, p_values};
use whorl_core::quantity::Quantity;
use whorl_core::simulation::lab::{LabPlan, SimulatedLab, lab};
use whorl_core::simulation::random::Random;

/// What became of the labs with one fault.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    /// Labs.
    pub labs: u32,
    /// The fault was named, with the right runs and nothing more serious above it.
    pub named: u32,
    /// Labs of which anything else was said.
    pub else_said: u32,
    /// What else was said, and how often.
    pub other: Vec<(&'static str, u32)>,
    /// The fix was offered and, made, left nothing to say of this cause.
    pub fixed: u32,
    /// With the fix made, I of the object came out within 2 %.
    pub right: u32,
}

/// Whether the finding is the one expected.
fn is_it(finding: &Finding, trial: &Trial) -> bool {
    let mut runs = finding.runs.clone();
    runs.sort_unstable();
    Some(finding.cause.key()) == trial.expected
        && (trial.runs.is_empty() || runs == trial.runs)
        && match finding.cause {
            Cause::SpokeCount { likely } => likely as usize == trial.truth.runs[0].rig.pulley.spokes,
            _ => true,
        }
}

/// Diagnoses labs `range` with a fault.
pub fn tally(planted: Planted, range: core::ops::Range<u64>) -> Tally {
    tally_of(range, &|number| trial(planted, number))
}

/// Diagnoses labs `range` without any, of a kind of [`other_clean`].
pub fn tally_clean(kind: u64, range: core::ops::Range<u64>) -> Tally {
    tally_of(range, &|number| trial_in(other_clean(kind), Planted::Nothing, 1_000_000 * kind + number))
}

/// What was said of one lab: the fault named, what else, whether the fix mended it, whether I came out right.
type Said = (bool, Vec<&'static str>, bool, bool);

fn tally_of(range: core::ops::Range<u64>, make: &(dyn Fn(u64) -> Trial + Sync)) -> Tally {
    let mut tally = Tally::default();
    let count = usize::try_from(range.end - range.start).unwrap();
    for (named, others, fixed, right) in parallel::map(count, |index| said(make(range.start + index as u64)))
    {
        tally.labs += 1;
        tally.named += u32::from(named);
        tally.else_said += u32::from(!others.is_empty());
        tally.fixed += u32::from(fixed);
        tally.right += u32::from(right);
        for key in others {
            match tally.other.iter_mut().find(|entry| entry.0 == key) {
                Some(entry) => entry.1 += 1,
                None => tally.other.push((key, 1)),
            }
        }
    }
    tally
}

fn said(mut trial: Trial) -> Said {
    let found = diagnose(&trial.lab, &analyze(&trial.lab));
    let named = found.iter().find(|finding| is_it(finding, &trial));
    let others = found.iter().filter(|finding| !is_it(finding, &trial)).map(|other| other.cause.key());
    let others = others.collect();
    let (mut fixed, mut right) = (false, false);
    if let Some(fix) = named.and_then(|finding| finding.fix.clone()) {
        apply(&fix, &mut trial.lab);
        let analysis = analyze(&trial.lab);
        let again = diagnose(&trial.lab, &analysis);
        fixed = !again.iter().any(|finding| is_it(finding, &trial));
        right = error(&analysis, &trial.truth).abs() < 0.02;
    }
    (named.is_some(), others, fixed, right)
}

/// Relative error of the object's moment of inertia.
fn error(analysis: &Analysis, truth: &SimulatedLab) -> f64 {
    let measured = analysis.objects[0].measured.as_ref().unwrap();
    measured.moment_of_inertia.total.value().si() / truth.object_inertia_kg_m2 - 1.0
}

/// How often a single test's p is small.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rate {
    /// The test.
    pub test: &'static str,
    /// Below 1 %.
    pub hundredth: u32,
    /// Below 0.1 %.
    pub thousandth: u32,
    /// Of how many.
    pub count: u32,
}

/// The name of the rate at which the number of spokes entered, the true one, is the one found.
pub const COUNTED: &str = "spoke count is that entered";

/// The name of the rate at which no number is found.
pub const NONE: &str = "spoke count is none";

/// How often each single test's p is small.
pub fn single_tests(plan: &LabPlan, labs: core::ops::Range<u64>) -> Vec<Rate> {
    let count = usize::try_from(labs.end - labs.start).unwrap();
    let of_labs = parallel::map(count, |index| tests_of(plan, labs.start + index as u64));
    let mut rates: Vec<Rate> = Vec::new();
    for (test, p) in of_labs.into_iter().flatten() {
        let (hundredth, thousandth) = (u32::from(p < 0.01), u32::from(p < 0.001));
        match rates.iter_mut().find(|rate| rate.test == test) {
            Some(rate) => {
                rate.hundredth += hundredth;
                rate.thousandth += thousandth;
                rate.count += 1;
            }
            None => rates.push(Rate { test, hundredth, thousandth, count: 1 }),
        }
    }
    rates
}

fn tests_of(plan: &LabPlan, number: u64) -> Vec<(&'static str, f64)> {
    let mut random = Random::new(31_415_926).fork(number);
    let truth = lab(plan, &mut random);
    let entry = entered(&truth, &[], &mut random);
    let ps = p_values(&entry, &analyze(&entry));
    let mut found = Vec::new();
    for run in &ps.runs {
        found.push(("cubic term, one run", run.drag));
        found.push(("spoke F, one run", run.spokes));
        found.push(("table turn F, one run", run.turns));
        found.push(("break, one run", run.fall));
    }
    found.push(("cubic term, all runs", ps.drag));
    found.push(("spokes, all runs", ps.spokes));
    found.extend(ps.turns.iter().map(|p| ("table turn, one configuration", *p)));
    found.push(("exchange", ps.exchanged));
    found.push(("outlier", ps.outlying));
    let spokes = u32::try_from(truth.runs[0].rig.pulley.spokes).ok();
    let best = ps.spoke_count.unwrap().best;
    found.push((COUNTED, if best == spokes { 0.0 } else { 1.0 }));
    found.push((NONE, if best.is_none() { 0.0 } else { 1.0 }));
    found
}

/// All rates with their limits, of so many labs each.
pub fn rows(count: usize) -> Vec<Check> {
    let labs = 0..count as u64;
    let share = |of: u32, all: u32| percent(of as usize, all as usize);
    let mut checks = Vec::new();
    for planted in Planted::ALL.into_iter().skip(1) {
        let tally = tally(planted, labs.clone());
        let named = share(tally.named, tally.labs);
        checks.push(Check::between(format!("{planted:?}: named, %"), named, 95.0, 100.0));
        let other = format!("{planted:?}: something else said as well, % {:?}", tally.other);
        checks.push(Check::at_most(other, share(tally.else_said, tally.labs), 5.0));
        if tally.fixed > 0 {
            let right = share(tally.right.min(tally.fixed), tally.named);
            checks.push(Check::between(format!("{planted:?}: mended by the fix, %"), right, 99.0, 100.0));
        }
    }
    for kind in 0..KINDS {
        let tally = tally_clean(kind, labs.clone());
        let what = format!("no fault, kind {kind}: false alarms, % {:?}", tally.other);
        checks.push(Check::at_most(what, share(false_alarms(kind, &tally), tally.labs), 2.5));
    }
    let faults = [("b = 3 µN·m·s", dragged()), ("spokes 0.5 %", spokes_off())];
    for kind in 0..KINDS {
        for rate in single_tests(&other_clean(kind), labs.clone()) {
            let alarms = share(rate.hundredth, rate.count);
            let what = format!("no fault, kind {kind}: {}, p < 1 %, %", rate.test);
            checks.push(if rate.test == NONE {
                Check::between(what, alarms, 97.0, 100.0)
            } else {
                Check::at_most(what, alarms, 3.0)
            });
        }
    }
    for (name, plan) in faults {
        let seen: &[&str] = if name.starts_with('b') {
            &["cubic term, all runs"]
        } else {
            &["spoke F, one run", "spokes, all runs", COUNTED]
        };
        for rate in single_tests(&plan, labs.clone()).iter().filter(|rate| seen.contains(&rate.test)) {
            let what = format!("{name}: {}, p < 1 %, %", rate.test);
            checks.push(Check::between(what, share(rate.hundredth, rate.count), 95.0, 100.0));
        }
    }
    checks
}

/// Labs of which something untrue was said. In kind 4 friction does dominate.
pub fn false_alarms(kind: u64, tally: &Tally) -> u32 {
    let dominating =
        tally.other.iter().find(|entry| entry.0 == "dominating-input").map_or(0, |entry| entry.1);
    if kind == 4 { tally.else_said - dominating } else { tally.else_said }
}
