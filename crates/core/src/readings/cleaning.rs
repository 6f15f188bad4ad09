//! Rows of one raw run → rows in order of time, one for each moment, no more than a lab keeps; each thing
//! that was done is said.

use super::condense::condense;
use super::grouping::Source;
use super::names::remark;
use super::standing::{Moment, Row, RunRows, Standing, pieces};
use super::{ReadingError, ReadingErrorKind, Remark};
use core::fmt::Display;
use whorl_words as words;

/// Rows that a run has at least, where one file holds several on end.
const SHORTEST: usize = 5;

/// Times later than this, in s, count from a day, a year or a start of the logger.
const FAR: f64 = 20_000.0;

/// Rows in order, and what was done to them.
#[derive(Clone, Debug)]
pub(super) struct Cleaned {
    pub(super) rows: Vec<Moment>,
    /// First and last line they come from.
    pub(super) lines: (usize, usize),
    pub(super) remarks: Vec<Remark>,
    /// Whether all of several rows had the same time.
    pub(super) clock_stood: bool,
}

/// Puts rows in order; several runs come back where time begins anew. With `clock`, times are times of day.
///
/// # Errors
/// When time runs backwards too often to be a slip.
#[inline(never)]
pub(super) fn cleaned(rows: RunRows<'_>, source: Source, clock: bool) -> Result<Vec<Cleaned>, ReadingError> {
    match rows {
        RunRows::Standing(standing) if source != Source::Intervals && all_is_well(&standing) => {
            let lines = (standing.line(0), standing.line(standing.len().saturating_sub(1)));
            let count = standing.len();
            Ok(vec![Cleaned::new(count, &|row| standing.moment(row), lines, source, clock, Vec::new())])
        }
        rows => mended(rows.into_rows(), source, clock),
    }
}

impl Cleaned {
    /// Rows in order of time.
    fn new(
        count: usize,
        moment: &impl Fn(usize) -> Moment,
        lines: (usize, usize),
        source: Source,
        clock: bool,
        mut remarks: Vec<Remark>,
    ) -> Self {
        let first = moment(0).time;
        let far = count > 0 && (clock || first.abs() > FAR);
        let origin = if far { first } else { 0.0 };
        if far {
            remarks.push(remark(None, words::readings::times_from_first().to_owned()));
        }
        let two_times = source == Source::TwoTimes;
        let counted = |row: usize| {
            let Moment { time, value } = moment(row);
            Moment { time: time - origin, value: if two_times { value - origin } else { value } }
        };
        let rows = if matches!(source, Source::Samples(_)) {
            let (rows, condensed) = condense(count, &counted);
            let words = condensed.map(|condensed| format!("{}.", condensed.words()));
            remarks.extend(words.map(|words| remark(None, words)));
            rows
        } else {
            (0..count).map(counted).collect()
        };
        Self { rows, lines, remarks, clock_stood: false }
    }
}

/// Whether all rows are there, each later than the one before.
fn all_is_well(standing: &Standing<'_>) -> bool {
    let mut before = f64::NEG_INFINITY;
    pieces(standing.len()).all(|piece| is_well(standing, piece, &mut before))
}

#[inline(never)]
fn is_well(standing: &Standing<'_>, piece: core::ops::Range<usize>, before: &mut f64) -> bool {
    piece.into_iter().all(|row| {
        let Moment { time, value } = standing.moment(row);
        let well = time > *before && !value.is_nan();
        *before = time;
        well
    })
}

fn mended(mut rows: Vec<Row>, source: Source, clock: bool) -> Result<Vec<Cleaned>, ReadingError> {
    let mut remarks = Vec::new();
    let gap = |row: &Row| row.time.is_nan() || row.value.is_nan();
    if let Some(first) = rows.iter().find(|row| gap(row)) {
        let line = first.line;
        // Where runs of different lengths stand side by side, the shorter one just ends.
        let ended = |row: &Row| row.time.is_nan();
        let end = rows.iter().rposition(|row| !ended(row)).map_or(0, |last| last + 1);
        let amid = rows.iter().take(end).filter(|row| gap(row)).count();
        rows.retain(|row| !gap(row));
        if amid > 0 {
            remarks.push(said(line, amid, words::readings::rows_without_number));
        }
    }
    if source == Source::Intervals {
        return Ok(vec![in_order(&summed(&rows), source, clock, remarks)]);
    }
    let falls =
        |rows: &[Row]| rows.windows(2).filter(|pair| matches!(pair, [a, b] if b.time < a.time)).count();
    if rows.len() > 2 && falls(&rows) * 10 >= (rows.len() - 1) * 9 {
        rows.reverse();
        remarks.push(remark(None, words::readings::turned_round().to_owned()));
    }
    let parts = split_at_new_starts(rows);
    let several = parts.len() > 1;
    let mut all = Vec::new();
    for mut part in parts {
        let mut remarks = if all.is_empty() { core::mem::take(&mut remarks) } else { Vec::new() };
        if several {
            let line = part.first().map(|row| row.line);
            remarks.push(remark(line, words::readings::time_begins_anew().to_owned()));
        }
        let backwards = falls(&part);
        sort(&mut part, backwards, &mut remarks)?;
        let count = part.len();
        let rows = one_for_each_moment(part, source, &mut remarks);
        let clock_stood = count > 1 && rows.len() == 1;
        all.push(Cleaned { clock_stood, ..in_order(&rows, source, clock, remarks) });
    }
    Ok(all)
}

fn in_order(rows: &[Row], source: Source, clock: bool, remarks: Vec<Remark>) -> Cleaned {
    let lines = rows.iter().map(|row| row.line);
    let lines = (lines.clone().min().unwrap_or(1), lines.max().unwrap_or(1));
    let moment = |row: usize| {
        let row = rows.get(row);
        row.map_or(Moment { time: 0.0, value: 0.0 }, |row| Moment { time: row.time, value: row.value })
    };
    Cleaned::new(rows.len(), &moment, lines, source, clock, remarks)
}

/// What was done to so many rows, the first of them on this line.
fn said(line: usize, count: usize, words: fn(&dyn Display) -> String) -> Remark {
    remark(Some(line), words(&count))
}

/// Times between events → times from the first event on.
fn summed(rows: &[Row]) -> Vec<Row> {
    let mut time = 0.0;
    let start = rows.first().map(|row| Row { time: 0.0, ..*row });
    let rest = rows.iter().map(|row| {
        time += row.time;
        Row { time, ..*row }
    });
    start.into_iter().chain(rest).collect()
}

/// A run of its own begins where time falls back to near its start and both sides are long enough to be
/// runs.
fn split_at_new_starts(rows: Vec<Row>) -> Vec<Vec<Row>> {
    let mut starts = Vec::new();
    let mut first = rows.first().map_or(0.0, |row| row.time);
    let mut length = 0;
    for (index, pair) in rows.windows(2).enumerate() {
        let [before, after] = pair else { continue };
        length += 1;
        let back = after.time < before.time && after.time - first < 0.25 * (before.time - first);
        let goes_on = || {
            let next: Vec<f64> = rows.iter().skip(index + 1).take(SHORTEST).map(|row| row.time).collect();
            next.len() == SHORTEST && next.windows(2).all(|pair| matches!(pair, [a, b] if a <= b))
        };
        if back && length >= SHORTEST && goes_on() {
            starts.push(index + 1);
            first = after.time;
            length = 0;
        }
    }
    if starts.is_empty() {
        return vec![rows];
    }
    let mut parts = Vec::new();
    let mut from = 0;
    for to in starts.into_iter().chain([rows.len()]) {
        parts.push(rows.get(from..to).unwrap_or_default().to_vec());
        from = to;
    }
    parts
}

fn sort(rows: &mut [Row], falls: usize, remarks: &mut Vec<Remark>) -> Result<(), ReadingError> {
    if falls == 0 {
        return Ok(());
    }
    let place = rows.windows(2).find_map(|pair| match pair {
        [a, b] if b.time < a.time => Some((*a, *b)),
        _ => None,
    });
    let Some((before, after)) = place else { return Ok(()) };
    if falls > 2 && falls * 10 > rows.len() {
        let kind = ReadingErrorKind::TimeRunsBackwards {
            previous: words::with_mark(&before.time.to_string()),
            found: words::with_mark(&after.time.to_string()),
            times: falls,
        };
        return Err(ReadingError { line: after.line, column: 1, kind });
    }
    rows.sort_unstable_by(|a, b| a.time.total_cmp(&b.time).then(a.line.cmp(&b.line)));
    remarks.push(said(after.line, falls, words::readings::rows_out_of_order));
    Ok(())
}

/// The same moment twice: the same row again is dropped, other values are averaged, and of two events one is
/// kept, since no two spokes pass at once.
fn one_for_each_moment(rows: Vec<Row>, source: Source, remarks: &mut Vec<Remark>) -> Vec<Row> {
    let same = |a: &Row, b: &Row| a.time.total_cmp(&b.time).is_eq();
    if !rows.windows(2).any(|pair| matches!(pair, [a, b] if same(a, b))) {
        return rows;
    }
    let mut kept: Vec<Row> = Vec::with_capacity(rows.len());
    let (mut doubled, mut averaged) = ((0, 0), (0, 0));
    let mut together = 1.0;
    for row in rows {
        match kept.last_mut() {
            Some(last) if same(last, &row) => {
                let samples = matches!(source, Source::Samples(_));
                if samples && last.value.total_cmp(&row.value).is_ne() {
                    together += 1.0;
                    last.value += (row.value - last.value) / together;
                    averaged = (averaged.0 + 1, if averaged.0 == 0 { row.line } else { averaged.1 });
                } else {
                    doubled = (doubled.0 + 1, if doubled.0 == 0 { row.line } else { doubled.1 });
                }
            }
            _ => {
                together = 1.0;
                kept.push(row);
            }
        }
    }
    if doubled.0 > 0 {
        let words = match source {
            Source::Samples(_) => words::readings::rows_twice,
            _ => words::readings::events_at_same_time,
        };
        remarks.push(said(doubled.1, doubled.0, words));
    }
    if averaged.0 > 0 {
        remarks.push(said(averaged.1, averaged.0, words::readings::rows_at_same_time));
    }
    kept
}
