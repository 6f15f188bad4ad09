//! Is each run one fall?
//!
//! From some edge on, the edges are given a place, a velocity and an acceleration of their own; every
//! edge is tried, and the p of the best is multiplied by how many there were. What is found gets a name
//! only by what the two parts look like when each is fitted by itself, and only when it is gross: half the
//! acceleration gone (floor, or held at the start), or half a millimeter of string that came
//! from nowhere (slip). A run that has no fit because of such a thing is asked all the same.

use super::{ALARM, Cause, Evidence, Finding, Fix, Look, Probe, Severity, millimeters, number, turns};
use crate::acceleration::{EdgeFit, Edges, LeftOver, SPOKE_TOLERANCE, fit_edges};
use crate::measured::coverage::f_tail;
use crate::quantity::Seconds;
use crate::runs::Stretch;
use core::ops::Range;
use whorl_words as words;

/// Where a run breaks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Break {
    /// The first edge of the second part.
    pub edge: usize,
    /// F of the second part's own motion.
    pub f: f64,
    /// Its degrees of freedom.
    pub degrees_of_freedom: (usize, usize),
    /// Its p times the edges tried.
    pub p: f64,
    /// By which factor the sum of squares falls.
    pub factor: f64,
}

/// The best place to break a run; `None` where the edges are too few.
pub fn best_break(left: &LeftOver) -> Option<Break> {
    let mut best: Option<(f64, Break)> = None;
    let (mut tried, before) = (0.0, left.sum_of_squares());
    left.breaks(&mut |edge, test| {
        tried += 1.0;
        let variance = test.sum_of_squares / test.denominator as f64;
        if best.is_none_or(|(least, _)| variance < least) {
            let degrees_of_freedom = (test.numerator, test.denominator);
            let factor = before / test.sum_of_squares;
            let p = f_tail(test.f, test.numerator, test.denominator);
            best = Some((variance, Break { edge, f: test.f, degrees_of_freedom, p, factor }));
        }
    });
    best.map(|(_, best)| Break { p: (best.p * tried).min(1.0), ..best })
}

/// Edges beside a break that belong to neither part.
const BESIDE: usize = 2;

/// Edges that make a part.
const PART: usize = 7;

/// Part of the acceleration that is left at the floor, or there while a hand still holds, at most.
const HALF: f64 = 0.5;

/// By how much the accelerations before and after a slip may differ.
const ALIKE: f64 = 0.25;

/// String that came from nowhere, in m, to be called a slip.
const SLIP: f64 = 5e-4;

/// By which factor the sum of squares must fall at least.
const GROSS: f64 = 4.0;

/// Finds what breaks runs, marks them as spoiled, and returns what has no name yet.
pub(super) fn check(look: &mut Look<'_>) -> Vec<(usize, Break)> {
    let count = look.probes.len() as f64;
    let radius = look.lab.apparatus.setup().effective_radius;
    let mut jolts = Vec::new();
    for index in 0..look.probes.len() {
        let Some(probe) = look.probes.get_mut(index) else { continue };
        let plain = |found: &Break| found.p * count < ALARM && found.factor > GROSS;
        let Some(found) = best_break(&probe.left).filter(plain) else { continue };
        // The table's turns are no breaks.
        let turning = radius.and_then(|radius| turns::test(probe, radius));
        if turning.is_some_and(|(test, _)| test.sum_of_squares * found.factor < probe.left.sum_of_squares()) {
            continue;
        }
        match named(probe, &found) {
            Some(named) => {
                probe.spoiled = true;
                let finding = named.finding(look, index, &found, count);
                look.found.extend(finding);
            }
            None => jolts.push((index, found)),
        }
    }
    jolts
}

/// Mentions what has no name, where the table's turns do not explain it.
pub(super) fn jolts(look: &mut Look<'_>, jolts: Vec<(usize, Break)>) {
    let count = look.probes.len() as f64;
    for (index, found) in jolts {
        let Some(probe) = look.probes.get(index) else { continue };
        if !turns::known(look, probe) {
            let named = Named { cause: Cause::Jolt, at: found.edge, keep: None, ahead: 0.0 };
            let finding = named.finding(look, index, &found, count);
            look.found.extend(finding);
        }
    }
}

/// A break with its name.
struct Named {
    cause: Cause,
    /// The edge at which it happened.
    at: usize,
    /// The edges that can be kept.
    keep: Option<Range<usize>>,
    /// How much further the string came than it should, in m.
    ahead: f64,
}

/// A part of a run, fitted by itself.
fn part(probe: &Probe, range: Range<usize>) -> Option<EdgeFit> {
    if range.len() < PART {
        return None;
    }
    let pitch = probe.fit.pitch.0;
    let edges = Edges {
        times: probe.times.get(range.clone())?,
        numbers: probe.fit.numbers.get(range)?,
        pitch,
        period: probe.fit.offsets.len(),
        tolerance: SPOKE_TOLERANCE * pitch,
    };
    fit_edges(&edges).ok()
}

/// How much further the string is at an edge than a part's fit says, in m; the part begins at edge `first`.
fn ahead(probe: &Probe, fit: &EdgeFit, first: usize, edge: usize) -> Option<f64> {
    let number = |edge: usize| probe.fit.numbers.get(edge).copied();
    let elapsed = probe.times.get(edge)? - fit.first_time.0;
    let expected = (fit.first_velocity.0 + 0.5 * fit.acceleration * elapsed) * elapsed;
    Some((number(edge)? - number(first)?) * probe.fit.pitch.0 - expected)
}

fn named(probe: &Probe, found: &Break) -> Option<Named> {
    let count = probe.times.len();
    let (head, tail) = (0..found.edge.saturating_sub(BESIDE), (found.edge + BESIDE).min(count)..count);
    let before = part(probe, head.clone());
    let after = part(probe, tail.clone());
    match (before, after) {
        (Some(before), Some(after)) => {
            let change = after.acceleration - before.acceleration;
            let plain =
                change.abs() > 4.0 * before.acceleration_uncertainty.hypot(after.acceleration_uncertainty);
            let ahead = ahead(probe, &before, 0, tail.start)?;
            if plain && after.acceleration < HALF * before.acceleration {
                let keep = shaved(probe, head);
                Some(Named { cause: Cause::FloorInside, at: keep.end, keep: Some(keep), ahead })
            } else if plain && before.acceleration < HALF * after.acceleration {
                Some(Named { cause: Cause::StartInside, at: found.edge, keep: Some(tail), ahead })
            } else if ahead > SLIP && change.abs() < ALIKE * before.acceleration.abs() {
                let keep = if head.len() >= tail.len() { head } else { tail };
                Some(Named { cause: Cause::StringSlip, at: found.edge, keep: Some(keep), ahead })
            } else {
                None
            }
        }
        (Some(before), None) => {
            let ahead = ahead(probe, &before, 0, count.checked_sub(1)?)?;
            (ahead < -SLIP).then(|| {
                let keep = shaved(probe, head);
                Named { cause: Cause::FloorInside, at: keep.end, keep: Some(keep), ahead }
            })
        }
        (None, Some(after)) => {
            let ahead = ahead(probe, &after, tail.start, 0)?;
            (ahead.abs() > SLIP).then_some(Named {
                cause: Cause::StartInside,
                at: found.edge,
                keep: Some(tail),
                ahead,
            })
        }
        (None, None) => None,
    }
}

/// A run's beginning without edges at its end that still do not belong.
fn shaved(probe: &Probe, mut range: Range<usize>) -> Range<usize> {
    for _ in 0..6 {
        let Some(fit) = part(probe, range.clone()) else { break };
        let times = probe.times.get(range.clone()).unwrap_or(&[]);
        let Some(left) = LeftOver::new(&fit, times, fit.offsets.len()) else { break };
        let late = best_break(&left).filter(|found| found.p < 0.01 && 2 * found.edge > range.len());
        let Some(found) = late.filter(|found| found.edge > PART + 1) else { break };
        range.end = range.start + found.edge - 1;
    }
    range
}

impl Named {
    fn finding(self, look: &Look<'_>, index: usize, found: &Break, count: f64) -> Option<Finding> {
        let probe = look.probes.get(index)?;
        let name = look.name(probe.run);
        let at = number(probe.times.get(self.at.min(probe.times.len().checked_sub(1)?)).copied()?, "s", 0, 4);
        let (words, remedy, severity) = match self.cause {
            Cause::FloorInside => (
                words::diagnosis::floor_inside(&name, &at),
                words::diagnosis::end_earlier(),
                Severity::Spoils,
            ),
            Cause::StartInside => (
                words::diagnosis::start_inside(&name, &at),
                words::diagnosis::begin_later(),
                Severity::Spoils,
            ),
            Cause::StringSlip => (
                words::diagnosis::string_slip(&name, &millimeters(self.ahead), &at),
                words::diagnosis::use_one_side(),
                Severity::Spoils,
            ),
            _ => (words::diagnosis::jolt(&name, &at), words::diagnosis::look_at_residuals(), Severity::Look),
        };
        let (numerator, denominator) = found.degrees_of_freedom;
        let fix = self.keep.and_then(|keep| {
            let time = |edge: usize| probe.times.get(edge).map(|time| Seconds(*time));
            Stretch::new(time(keep.start)?, time(keep.end.checked_sub(1)?)?)
        });
        let mut finding = Finding::new(self.cause, severity, words, remedy);
        finding.runs.push(probe.run);
        finding.configuration = Some(probe.configuration);
        let freedom = vec![numerator as f64, denominator as f64];
        finding.evidence.push(Evidence::test(
            words::diagnosis::second_fall(),
            found.f,
            freedom,
            found.p * count,
        ));
        finding.evidence.push(Evidence::plain(words::diagnosis::string_ahead(), self.ahead, "m"));
        finding.fix = fix.map(|stretch| Fix::SetStretch(probe.run, stretch));
        Some(finding)
    }
}
