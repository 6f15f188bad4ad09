//! Are two labels exchanged, does one run lie off its line?
//!
//! Lines here are ordinary ones: what scatters is friction, alike in all runs, and a wrong label is
//! hundreds of times as large.

use super::{ALARM, Cause, Evidence, Finding, Fix, Look, Severity, number};
use crate::analysis::LineOutcome;
use crate::inertia::Inertia;
use crate::lab::{Configuration, RunId};
use crate::measured::coverage::{f_tail, student_t_tail};
use crate::runs::Motion;
use crate::torque::TorquePoint;
use whorl_words as words;

/// A run on its line: what its label says and what it did.
#[derive(Clone, Copy)]
struct Labeled {
    run: RunId,
    line: usize,
    mass: f64,
    motion: Motion,
    acceleration: f64,
}

/// Lines of all configurations with torques made anew from masses and accelerations.
struct Lines {
    runs: Vec<Labeled>,
    gravity: f64,
    pulley: f64,
}

impl Lines {
    /// Σ (τ − line)² in units of torque/Rₑ, over one line's runs.
    fn sum_of_squares(&self, line: usize) -> f64 {
        let point = |run: &Labeled| {
            // Rising, string and motion are against each other ([`crate::torque`]).
            let sign = if run.motion == Motion::Rising { -1.0 } else { 1.0 };
            let downwards = sign * run.acceleration;
            (run.acceleration, sign * (run.mass * (self.gravity - downwards) - self.pulley * downwards))
        };
        let points = || self.runs.iter().filter(|run| run.line == line).map(point);
        let count = points().count() as f64;
        let (x, y) =
            points().fold((0.0, 0.0), |sum, point| (sum.0 + point.0 / count, sum.1 + point.1 / count));
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for point in points() {
            let (u, v) = (point.0 - x, point.1 - y);
            (xx, xy, yy) = (xx + u * u, xy + u * v, yy + v * v);
        }
        // A line that falls is none: masses in reverse order lie on one.
        if xx > 0.0 && xy > 0.0 { (yy - xy * xy / xx).max(0.0) } else { yy }
    }

    fn exchanged(&mut self, one: usize, other: usize) {
        let at = |runs: &[Labeled], index: usize| runs.get(index).map(|run| run.acceleration);
        if let (Some(first), Some(second)) = (at(&self.runs, one), at(&self.runs, other)) {
            for (index, acceleration) in [(one, second), (other, first)] {
                if let Some(run) = self.runs.get_mut(index) {
                    run.acceleration = acceleration;
                }
            }
        }
    }
}

/// An exchange that mends the lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exchange {
    /// One run.
    pub one: RunId,
    /// The other.
    pub other: RunId,
    /// By which factor the sum of squares of all lines falls.
    pub factor: f64,
    /// The factor of the next best exchange.
    pub next: f64,
    /// F of what falls, with one and so many degrees of freedom.
    pub f: f64,
    /// The latter.
    pub degrees_of_freedom: usize,
    /// Its p times the pairs tried.
    pub p: f64,
}

/// The exchange of two labels that mends most; `None` where runs are too few to tell.
pub(super) fn best_exchange(look: &Look<'_>) -> Option<Exchange> {
    let apparatus = look.lab.apparatus.check().ok()?;
    let rig = apparatus.rig();
    let mut lines = Lines {
        runs: Vec::new(),
        gravity: rig.gravity.0,
        pulley: rig.pulley_inertia.0 / (rig.pulley_radius.0 * rig.pulley_radius.0),
    };
    let mut before: Vec<f64> = Vec::new();
    let mut freedom = 0;
    for (line, outcome) in sound(look) {
        for (run, point) in outcome.used.iter().zip(&line.line.points) {
            lines.runs.push(Labeled {
                run: *run,
                line: before.len(),
                mass: point.hanging_mass.0,
                motion: point.motion,
                acceleration: point.acceleration.value().0,
            });
        }
        freedom += outcome.used.len().saturating_sub(2);
        before.push(lines.sum_of_squares(before.len()));
    }
    let freedom = freedom.checked_sub(1).filter(|&freedom| freedom > 0)?;
    let total: f64 = before.iter().sum();
    let (mut tried, mut best, mut next) = (0.0, (f64::INFINITY, 0, 0), f64::INFINITY);
    for other in 0..lines.runs.len() {
        for one in 0..other {
            let (Some(first), Some(second)) = (lines.runs.get(one).copied(), lines.runs.get(other).copied())
            else {
                continue;
            };
            // The same label twice is no exchange.
            if first.line == second.line && (first.mass, first.motion) == (second.mass, second.motion) {
                continue;
            }
            tried += 1.0;
            lines.exchanged(one, other);
            let mut sum = total;
            for line in
                if first.line == second.line { vec![first.line] } else { vec![first.line, second.line] }
            {
                sum += lines.sum_of_squares(line) - before.get(line).copied().unwrap_or(0.0);
            }
            lines.exchanged(one, other);
            if sum < best.0 {
                next = best.0;
                best = (sum, one, other);
            } else {
                next = next.min(sum);
            }
        }
    }
    let (left, one, other) = best;
    let left = left.max(f64::MIN_POSITIVE);
    let f = (total - left) / (left / freedom as f64);
    let (one, other) = (lines.runs.get(one)?.run, lines.runs.get(other)?.run);
    Some(Exchange {
        one: one.min(other),
        other: one.max(other),
        factor: total / left,
        next: total / next.max(left),
        f,
        degrees_of_freedom: freedom,
        p: (f_tail(f, 1, freedom) * tried).min(1.0),
    })
}

/// Lines whose runs are all falls.
fn sound<'a>(look: &'a Look<'_>) -> impl Iterator<Item = (&'a Inertia, &'a LineOutcome)> {
    let spoiled = |configuration: Configuration| {
        look.probes.iter().any(|probe| probe.spoiled && probe.configuration == configuration)
    };
    let outcomes = look.analysis.lines.configurations.iter();
    outcomes
        .filter(move |outcome| !spoiled(outcome.configuration))
        .filter_map(|outcome| Some((outcome.inertia.as_ref().ok()?, outcome)))
}

/// An exchange must make the sum of squares this much smaller.
const OVERWHELMING: f64 = 20.0;

/// And the next best must leave this much more.
const UNIQUE: f64 = 4.0;

/// Finds two runs that carry each other's label.
pub(super) fn exchanged(look: &mut Look<'_>) {
    let Some(found) = best_exchange(look) else { return };
    if found.p >= ALARM || found.factor < OVERWHELMING || found.next * UNIQUE > found.factor {
        return;
    }
    let (one, other) = (look.name(found.one), look.name(found.other));
    let factor = number(found.factor, "", 0, 2);
    let words = words::diagnosis::exchanged_labels(&one, &other, &factor);
    let remedy = words::diagnosis::check_the_notes();
    let mut finding = Finding::new(Cause::ExchangedLabels, Severity::Spoils, words, remedy);
    let freedom = vec![1.0, found.degrees_of_freedom as f64];
    finding.evidence.push(Evidence::test(words::diagnosis::exchange_removes(), found.f, freedom, found.p));
    finding.evidence.push(Evidence::plain(words::diagnosis::smaller_by_factor(), found.factor, ""));
    finding.evidence.push(Evidence::plain(words::diagnosis::next_best_exchange(), found.next, ""));
    finding.runs = vec![found.one, found.other];
    finding.fix = Some(Fix::ExchangeLabels(found.one, found.other));
    look.found.push(finding);
}

/// A run's distance from its line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlier {
    /// Which run.
    pub run: RunId,
    /// Its externally studentized residual.
    pub t: f64,
    /// Degrees of freedom.
    pub degrees_of_freedom: usize,
    /// Its p times the number of runs.
    pub p: f64,
    /// Distance in torque, N·m.
    pub residual: f64,
}

/// The run furthest off, in units of what it should scatter by.
///
/// The residual is divided by its standard deviation without that run (R. D. Cook, S. Weisberg, *Residuals
/// and Influence in Regression*, Chapman and Hall 1982, 2.2.2), which all lines share.
pub(super) fn furthest(look: &Look<'_>) -> Option<Outlier> {
    let freedom = look.analysis.lines.together?.degrees_of_freedom;
    let lines =
        || look.analysis.lines.configurations.iter().filter_map(|outcome| outcome.inertia.as_ref().ok());
    let chi_square: f64 = lines().map(|inertia| inertia.line.fit.chi_square).sum();
    let without = freedom.checked_sub(1).filter(|&freedom| freedom > 0)?;
    let variance = chi_square / freedom as f64;
    let (mut best, mut count) = (None, 0.0);
    for (inertia, outcome) in sound(look) {
        let fit = &inertia.line.fit;
        let rows = fit.residuals.iter().zip(&fit.residual_variances).zip(&fit.leverages);
        for (((residual, own), leverage), (run, point)) in
            rows.zip(outcome.used.iter().zip(&inertia.line.points))
        {
            count += 1.0;
            let free = 1.0 - leverage_of(*leverage, point);
            let square = residual * residual / (own * variance * free);
            let rest = freedom as f64 - square;
            if free < 1e-6 || !square.is_finite() {
                continue;
            }
            let t = if rest > 0.0 { (square * without as f64 / rest).sqrt() } else { f64::MAX };
            if best.is_none_or(|best: Outlier| t > best.t) {
                let residual = *residual;
                best = Some(Outlier { run: *run, t, degrees_of_freedom: without, p: 1.0, residual });
            }
        }
    }
    best.map(|best| Outlier { p: (student_t_tail(best.t, without as f64) * count).min(1.0), ..best })
}

/// How much of a point's own error its line follows.
fn leverage_of(leverage: (f64, f64), point: &TorquePoint) -> f64 {
    leverage.0 * point.angular_acceleration.value().0 + leverage.1
}

/// Finds a run that lies off its line.
pub(super) fn outlying(look: &mut Look<'_>) {
    if look.has(|cause| matches!(cause, Cause::ExchangedLabels)) {
        return;
    }
    let Some(found) = furthest(look).filter(|found| found.p < ALARM) else { return };
    let name = look.name(found.run);
    let distance = number(found.residual.abs(), "mN·m", -3, 2);
    let words = if found.residual > 0.0 {
        words::diagnosis::run_above_its_line(&name, &distance)
    } else {
        words::diagnosis::run_below_its_line(&name, &distance)
    };
    let remedy = words::diagnosis::check_the_run();
    let mut finding = Finding::new(Cause::OutlyingRun, Severity::Look, words, remedy);
    let freedom = vec![found.degrees_of_freedom as f64];
    finding.evidence.push(Evidence::test(words::diagnosis::distance_without_it(), found.t, freedom, found.p));
    finding.evidence.push(Evidence::plain(words::diagnosis::distance_from_line(), found.residual, "N·m"));
    finding.configuration = look.lab.run(found.run).map(|run| run.configuration);
    finding.runs.push(found.run);
    look.found.push(finding);
}
