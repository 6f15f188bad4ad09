//! How restless are string and clock, and which travel did the logger use?
//!
//! On a real string the scatter is always larger than the clock's; that is no fault. Only what is large is
//! spoken of.

use super::{Cause, Evidence, Finding, Look, Severity, millimeters, number};
use crate::acceleration::{Curve, Scale};
use crate::lab::RunId;
use crate::readings::ReadingKind;

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
        let words = [
            "The clock scatters by ",
            &number(clock, "ms", -3, 2),
            " (",
            &names,
            "); a light gate can do a hundred times better.",
        ]
        .concat();
        (
            Cause::CoarseClock,
            words,
            "Set the logger to its finest time step, and write all its digits to the file.",
        )
    } else {
        let words = [
            "The string is restless: it is off by ",
            &millimeters(largest),
            " from edge to edge (",
            &names,
            ").",
        ]
        .concat();
        (
            Cause::StringNoise,
            words,
            "Let the mass hang still before you release it, and guide the string straight onto pulley and drum.",
        )
    };
    let mut finding = Finding::new(cause, Severity::Note, words, remedy);
    finding.evidence.push(Evidence::plain("largest scatter of a run, at its mean velocity", largest, "m"));
    finding.evidence.push(Evidence::plain("the clock’s part", clock, "s"));
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
    let words = [
        "The logger worked with a travel of ",
        &millimeters(used),
        " per spoke (",
        &look.names(&runs),
        "), the apparatus has ",
        &millimeters(entered.0),
        ". These runs go by the logger’s.",
    ]
    .concat();
    let remedy =
        "Find out which is right. If it is yours, set the logger to it, or load the times themselves.";
    let mut finding = Finding::new(Cause::LoggerTravelDiffers, Severity::Look, words, remedy);
    finding.evidence.push(Evidence::plain("logger’s travel/yours", used / entered.0, ""));
    finding.runs = runs;
    look.found.push(finding);
}
