//! How restless are string and clock, and which travel did the logger use?
//!
//! On a real string the scatter is always larger than the clock's; that is no fault. Only what is large is
//! spoken of.

use super::{Cause, Evidence, Finding, Look, Severity, millimeters, number};
use crate::acceleration::{Curve, Scale};
use crate::lab::RunId;
use crate::readings::ReadingKind;
use whorl_words as words;

/// String noise that is worth a word, in m: above what strings in use show (common practice, no source).
const RESTLESS: f64 = 1.5e-4;

/// Finds runs whose scatter is large.
pub(super) fn check(look: &mut Look<'_>) {
    // What has another name is not noise.
    if look.has(|cause| matches!(cause, Cause::SpokeCount { .. })) {
        return;
    }
    let (mut runs, mut largest): (Vec<RunId>, f64) = (Vec::new(), 0.0);
    let (mut of_string, mut of_clock, mut clock) = (0.0, 0.0, 0.0);
    for probe in &look.probes {
        let named = look.found.iter().any(|finding| {
            matches!(finding.cause, Cause::NotLevel | Cause::Jolt) && finding.runs.contains(&probe.run)
        });
        // Without offsets, unequal spokes would be taken for it.
        if named || probe.spoiled || probe.fit.offsets.is_empty() {
            continue;
        }
        let velocities = &probe.fit.velocities;
        let mean = velocities.iter().sum::<f64>() / velocities.len() as f64;
        // What drag explains is no noise either.
        let variance = probe.left.sum_of_squares() / probe.left.degrees_of_freedom() as f64;
        let timing = variance.sqrt();
        let string = probe.fit.crossover.0 * timing;
        let size = string.hypot(timing * mean);
        if size < RESTLESS {
            continue;
        }
        runs.push(probe.run);
        largest = largest.max(size);
        of_string += string * string;
        of_clock += variance * mean * mean;
        clock += variance;
    }
    if runs.is_empty() {
        return;
    }
    let names = look.names(&runs);
    let clock = (clock / runs.len() as f64).sqrt();
    let (cause, words, remedy) = if of_clock > of_string {
        (
            Cause::CoarseClock,
            words::diagnosis::coarse_clock(&number(clock, "ms", -3, 2), &names),
            words::diagnosis::finest_time_step(),
        )
    } else {
        (
            Cause::StringNoise,
            words::diagnosis::restless_string(&millimeters(largest), &names),
            words::diagnosis::let_it_hang_still(),
        )
    };
    let mut finding = Finding::new(cause, Severity::Note, words, remedy);
    finding.evidence.push(Evidence::plain(words::diagnosis::largest_scatter(), largest, "m"));
    finding.evidence.push(Evidence::plain(words::diagnosis::part_of_clock(), clock, "s"));
    finding.runs = runs;
    look.found.push(finding);
}

/// Finds files that were made with another travel per spoke than the apparatus has.
pub(super) fn travel(look: &mut Look<'_>) {
    let Some(entered) = look.lab.apparatus.setup().travel_per_spoke else { return };
    let (mut runs, mut used) = (Vec::new(), 0.0);
    for (entry, outcome) in look.lab.runs().iter().zip(&look.analysis.runs) {
        let spoke_by_spoke =
            matches!(entry.record.kind(), Some(ReadingKind::Velocity | ReadingKind::Position));
        if let (true, Ok(fit)) = (spoke_by_spoke, &outcome.fit)
            && let (Scale::Itself, Curve::Edges(edges)) = (fit.scale, &fit.curve)
        {
            runs.push(entry.id);
            used = edges.pitch.0;
        }
    }
    if runs.is_empty() {
        return;
    }
    let words = words::diagnosis::logger_travel_differs(
        &millimeters(used),
        &look.names(&runs),
        &millimeters(entered.0),
    );
    let remedy = words::diagnosis::which_travel_is_right();
    let mut finding = Finding::new(Cause::LoggerTravelDiffers, Severity::Look, words, remedy);
    finding.evidence.push(Evidence::plain(
        words::diagnosis::logger_travel_over_yours(),
        used / entered.0,
        "",
    ));
    finding.runs = runs;
    look.found.push(finding);
}
