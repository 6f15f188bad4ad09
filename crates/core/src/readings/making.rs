//! Rows in order of time → readings: gate states become events.

use super::cleaning::Cleaned;
use super::condense::MAX_KEPT;
use super::grouping::Source;
use super::names::remark;
use super::standing::Moment;
use super::{ReadingError, ReadingErrorKind, ReadingKind, Readings, Remark};
use crate::quantity::Seconds;
use whorl_words as words;

/// Readings that were made, from which lines, and what was done for it.
#[derive(Debug)]
pub(super) struct Made {
    pub(super) readings: Readings,
    /// First and last.
    pub(super) lines: (usize, usize),
    pub(super) remarks: Vec<Remark>,
}

/// Readings of rows, with their first and last line; all that was done is added to the remarks.
///
/// # Errors
/// When the rows hold no readings.
#[inline(never)]
pub(super) fn made(
    cleaned: Cleaned,
    source: Source,
    beside: bool,
    holds: Option<ReadingKind>,
) -> Result<Made, ReadingError> {
    let Cleaned { rows, lines, mut remarks, clock_stood } = cleaned;
    let fail = |kind| ReadingError { line: lines.0, column: 1, kind };
    let (kind, rows) = match source {
        Source::Samples(kind) => (kind, rows),
        Source::TwoTimes => (ReadingKind::BothEdges, both(&rows)),
        Source::States => (ReadingKind::BothEdges, changes(&rows, &mut remarks)),
        Source::Edges => (ReadingKind::BothEdges, rows),
        Source::Events | Source::Intervals => {
            // Beside another quantity three equal steps are enough to tell samples from events.
            let evenly = evenly_spaced(&rows, if beside { 3 } else { 8 });
            if evenly && holds.is_none() {
                return Err(fail(ReadingErrorKind::TimesWithoutValues));
            }
            let both_edges = holds.map_or_else(|| alternates(&rows), |kind| kind == ReadingKind::BothEdges);
            if both_edges && holds.is_none() {
                remarks.push(remark(None, words::readings::both_edges_alternate().to_owned()));
            }
            (if both_edges { ReadingKind::BothEdges } else { ReadingKind::GateTimes }, rows)
        }
    };
    if kind.is_times_alone() && rows.len() > MAX_KEPT {
        let (found, limit) =
            (words::readings::gate_events(&rows.len()), words::readings::gate_events(&MAX_KEPT));
        return Err(fail(ReadingErrorKind::TooLarge { found, limit }));
    }
    if let Some(wanted) = holds.filter(|&wanted| wanted != kind) {
        return Err(fail(ReadingErrorKind::NoSuchColumn { wanted: wanted.noun() }));
    }
    if clock_stood {
        return Err(fail(ReadingErrorKind::ClockStandsStill));
    }
    if rows.len() < 2 {
        return Err(fail(ReadingErrorKind::TooFew { found: rows.len() }));
    }
    let times: Vec<Seconds> = rows.iter().map(|row| Seconds(row.time)).collect();
    let values: Vec<f64> = rows.iter().map(|row| row.value).collect();
    let readings = Readings::from_columns(kind, &times, &values)
        .map_err(|error| fail(ReadingErrorKind::Series(error)))?;
    Ok(Made { readings, lines, remarks })
}

/// Events one after another from the times of both.
fn both(rows: &[Moment]) -> Vec<Moment> {
    rows.iter().flat_map(|row| [*row, Moment { time: row.value, ..*row }]).collect()
}

/// The moments at which the gate changed, from the first time it was blocked on.
fn changes(rows: &[Moment], remarks: &mut Vec<Remark>) -> Vec<Moment> {
    let same = |pair: &&[Moment]| matches!(pair, [a, b] if a.value.total_cmp(&b.value).is_eq());
    let repeats = rows.windows(2).filter(same).count();
    // A log of changes has hardly a row twice; one of samples hardly a row that changes anything.
    let sampled = repeats * 5 > rows.len();
    let mut before = if sampled { rows.first().map(|row| row.value) } else { None };
    let mut events: Vec<Moment> = Vec::new();
    for row in rows {
        let changed = before.is_none_or(|before| before.total_cmp(&row.value).is_ne());
        if changed && (!events.is_empty() || row.value > 0.5) {
            events.push(*row);
        }
        before = Some(row.value);
    }
    let step = rows
        .first()
        .zip(rows.last())
        .map_or(0.0, |(a, b)| (b.time - a.time) / (rows.len().max(2) - 1) as f64);
    if sampled {
        remarks.push(remark(None, words::readings::gate_sampled(&words::number(step * 1e3, 3))));
    } else if repeats > 0 {
        remarks.push(remark(None, words::readings::rows_say_again(&repeats)));
    }
    events
}

/// Whether times go on in equal steps, as those of samples do and those of a falling mass never.
fn evenly_spaced(rows: &[Moment], least: usize) -> bool {
    let steps = || {
        rows.windows(2).filter_map(|pair| match pair {
            [a, b] => Some(b.time - a.time),
            _ => None,
        })
    };
    let (shortest, greatest) =
        steps().fold((f64::INFINITY, 0.0_f64), |(low, high), step| (low.min(step), high.max(step)));
    rows.len() >= least && greatest - shortest <= 1e-3 * greatest
}

/// Whether long and short times alternate throughout, by a fifth or more.
fn alternates(rows: &[Moment]) -> bool {
    let steps: Vec<f64> = rows
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] => Some(b.time - a.time),
            _ => None,
        })
        .collect();
    let turn = |three: &&[f64]| match three {
        [a, b, c] => (*b > 1.2 * a && *b > 1.2 * c) || (*a > 1.2 * b && *c > 1.2 * b),
        _ => false,
    };
    let turns = steps.windows(3).filter(turn).count();
    // Each sort by itself changes little from one to the next, but for the first ones from rest.
    let smooth = |three: &&[f64]| matches!(three, [a, _, c] if *c > 0.7 * a && *c < 1.3 * a);
    let smooths = steps.windows(3).filter(smooth).count();
    let most = (steps.len().max(2) - 2) * 4;
    steps.len() >= 10 && turns * 5 >= most && smooths * 5 >= most
}
