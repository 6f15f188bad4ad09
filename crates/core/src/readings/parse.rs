//! A table of numbers, read field by field.

use super::dialect::Dialect;
use super::header::{Heading, Meaning, heading, unit};
use super::{ReadingError, ReadingErrorKind, ReadingKind, Readings};
use crate::quantity::Seconds;
use csv_core::{ReadRecordResult, Reader, ReaderBuilder};

/// Largest file that is read, in bytes.
pub const MAX_BYTES: usize = 16 << 20;
/// Most rows that are read.
pub const MAX_ROWS: usize = 200_000;
/// Complaints listed before giving up: more would help nobody.
const MAX_ERRORS: usize = 10;
/// Most fields a row may have.
const MAX_FIELDS: usize = 64;

/// One row of the file.
struct Row {
    line: usize,
    fields: Vec<String>,
}

/// Reads a file of readings: times with velocity, position, angle or angular velocity, or gate times.
///
/// Understood: comma, semicolon or tab between the fields (quoted or not); a decimal comma where
/// the separator is another; heading rows; `#` comments; blank lines; units in the heading.
/// `wanted` is the kind the user chose, `None` to go by the heading; one lone column is gate times.
///
/// # Errors
/// Every complaint found (at most ten), each with line, column and remedy.
pub fn parse(bytes: &[u8], wanted: Option<ReadingKind>) -> Result<Readings, Vec<ReadingError>> {
    let fail = |line, column, kind| vec![ReadingError { line, column, kind }];
    if bytes.len() > MAX_BYTES {
        let megabytes = |bytes: usize| format!("{:.1} MB", bytes as f64 / 1e6);
        let kind = ReadingErrorKind::TooLarge { found: megabytes(bytes.len()), limit: megabytes(MAX_BYTES) };
        return Err(fail(1, 1, kind));
    }
    let text = decode(bytes).map_err(|error| vec![error])?;
    let dialect = Dialect::of(text);
    let rows = split_rows(text, dialect).map_err(|error| vec![error])?;

    let is_data = |row: &Row| row.fields.iter().any(|field| dialect.number(field).is_some());
    let Some(first_data) = rows.iter().position(is_data) else {
        return Err(fail(1, 1, ReadingErrorKind::NoReadings));
    };
    let (heads, data) = rows.split_at(first_data);
    let (line, width) = data.first().map_or((1, 0), |row| (row.line, row.fields.len()));
    let headed = heads.iter().map(|row| row.fields.len()).max().filter(|&count| count > 1);
    if let Some(expected) = headed.filter(|&expected| width > expected) {
        let kind = ReadingErrorKind::TooManyFields { found: width, expected };
        return Err(fail(line, expected + 1, kind));
    }
    let columns = choose_columns(heads, width, wanted)
        .map_err(|(column, kind)| fail(heads.last().map_or(1, |row| row.line), column, kind))?;
    let numbers = read_numbers(data, width, dialect, &columns)?;
    assemble(columns.kind, &numbers)
}

/// UTF-8, with or without a byte-order mark.
fn decode(bytes: &[u8]) -> Result<&str, ReadingError> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let not_text = |at: usize| {
        let before = bytes.get(..at).unwrap_or_default();
        let line = 1 + before.iter().filter(|&&byte| byte == b'\n').count();
        ReadingError { line, column: 1, kind: ReadingErrorKind::NotText }
    };
    let text = std::str::from_utf8(bytes).map_err(|error| not_text(error.valid_up_to()))?;
    match text.find('\0') {
        Some(at) => Err(not_text(at)),
        None => Ok(text),
    }
}

/// Splits the text into rows of fields; comments and blank lines are passed over.
fn split_rows(text: &str, dialect: Dialect) -> Result<Vec<Row>, ReadingError> {
    let mut reader: Reader = ReaderBuilder::new().delimiter(dialect.delimiter).comment(Some(b'#')).build();
    let mut input = text.as_bytes();
    let mut output = vec![0_u8; 4096];
    let mut ends = vec![0_usize; MAX_FIELDS];
    let (mut written, mut ended) = (0, 0);
    let mut rows = Vec::new();
    loop {
        let line = usize::try_from(reader.line()).unwrap_or(usize::MAX);
        let (result, read, wrote, end_count) = reader.read_record(
            input,
            output.get_mut(written..).unwrap_or_default(),
            ends.get_mut(ended..).unwrap_or_default(),
        );
        input = input.get(read..).unwrap_or_default();
        written += wrote;
        ended += end_count;
        match result {
            ReadRecordResult::InputEmpty => {}
            ReadRecordResult::OutputFull => output.resize(output.len() * 2, 0),
            ReadRecordResult::OutputEndsFull => {
                let kind = ReadingErrorKind::TooManyFields { found: ended + 1, expected: MAX_FIELDS };
                return Err(ReadingError { line, column: ended + 1, kind });
            }
            ReadRecordResult::Record => {
                let fields = fields_of(&output, ends.get(..ended).unwrap_or_default());
                let line = usize::try_from(reader.line()).map_or(line, |next| next.saturating_sub(1).max(1));
                if fields.iter().any(|field| !field.trim().is_empty()) {
                    rows.push(Row { line, fields });
                }
                if rows.len() > MAX_ROWS {
                    let kind = ReadingErrorKind::TooLarge {
                        found: format!("more than {MAX_ROWS} rows"),
                        limit: format!("{MAX_ROWS} rows"),
                    };
                    return Err(ReadingError { line, column: 1, kind });
                }
                (written, ended) = (0, 0);
            }
            ReadRecordResult::End => return Ok(rows),
        }
    }
}

fn fields_of(output: &[u8], ends: &[usize]) -> Vec<String> {
    let starts = std::iter::once(0).chain(ends.iter().copied());
    starts
        .zip(ends)
        .map(|(start, &end)| String::from_utf8_lossy(output.get(start..end).unwrap_or_default()).into_owned())
        .collect()
}

/// Which fields are used, and how many SI units one of theirs is.
struct Columns {
    kind: ReadingKind,
    time: (usize, f64),
    /// `None` for gate times.
    value: Option<(usize, f64)>,
}

fn choose_columns(
    heads: &[Row],
    width: usize,
    wanted: Option<ReadingKind>,
) -> Result<Columns, (usize, ReadingErrorKind)> {
    let mut headings = vec![Heading { meaning: None, factor: 1.0 }; width];
    // The last heading row that says something of a column decides: units often stand under names.
    for row in heads {
        let units_alone = row.fields.iter().all(|field| field.trim().is_empty() || unit(field).is_some());
        for (column, (slot, text)) in headings.iter_mut().zip(&row.fields).enumerate() {
            let found = match unit(text).filter(|_| units_alone) {
                Some(known) => known,
                None => {
                    heading(text).map_err(|found| (column + 1, ReadingErrorKind::UnknownUnit { found }))?
                }
            };
            if found.meaning.is_some() {
                *slot = found;
            }
        }
    }
    let find = |meaning: Meaning| {
        let column = headings.iter().position(|heading| heading.meaning == Some(meaning))?;
        Some((column, headings.get(column)?.factor))
    };
    let unnamed = headings.iter().all(|heading| heading.meaning.is_none());
    let kind = match wanted {
        Some(kind) => kind,
        None if find(Meaning::Velocity).is_some() => ReadingKind::Velocity,
        None if find(Meaning::Position).is_some() => ReadingKind::Position,
        None if find(Meaning::Acceleration).is_some() => ReadingKind::Acceleration,
        None if find(Meaning::AngularVelocity).is_some() => ReadingKind::AngularVelocity,
        None if find(Meaning::Angle).is_some() => ReadingKind::Angle,
        None if width == 1 || find(Meaning::Time).is_some() => ReadingKind::GateTimes,
        None => return Err((1, ReadingErrorKind::KindUnclear)),
    };
    let missing = |meaning: Meaning| (1, ReadingErrorKind::NoSuchColumn { wanted: meaning.words() });
    // Without any heading the first column is time and the second the rest, as everyone writes it.
    let time = find(Meaning::Time)
        .or((unnamed || find(kind.into()).is_none_or(|found| found.0 > 0)).then_some((0, 1.0)))
        .ok_or_else(|| missing(Meaning::Time))?;
    let value = if kind.is_times_alone() {
        None
    } else {
        let second = (unnamed && width >= 2).then_some((1, 1.0));
        Some(find(kind.into()).or(second).ok_or_else(|| missing(kind.into()))?)
    };
    Ok(Columns { kind, time, value })
}

/// The used fields of every row as numbers in SI units; times are seen to increase.
fn read_numbers(
    data: &[Row],
    width: usize,
    dialect: Dialect,
    columns: &Columns,
) -> Result<Vec<(f64, f64)>, Vec<ReadingError>> {
    let mut errors = Vec::new();
    let mut numbers: Vec<(f64, f64)> = Vec::with_capacity(data.len());
    for row in data {
        if errors.len() >= MAX_ERRORS {
            break;
        }
        let mut complain = |column: usize, kind| errors.push(ReadingError { line: row.line, column, kind });
        if row.fields.len() > width {
            complain(width + 1, ReadingErrorKind::TooManyFields { found: row.fields.len(), expected: width });
            continue;
        }
        let read = |(column, factor): (usize, f64)| match row.fields.get(column).map(|field| field.trim()) {
            None | Some("") => Err((column + 1, ReadingErrorKind::MissingNumber)),
            Some(field) => dialect
                .number(field)
                .map(|number| number * factor)
                .ok_or_else(|| (column + 1, ReadingErrorKind::NotANumber { found: shortened(field) })),
        };
        match (read(columns.time), columns.value.map_or(Ok(0.0), read)) {
            (Ok(time), Ok(value)) => match numbers.last() {
                Some(&(previous, _)) if time <= previous => complain(
                    columns.time.0 + 1,
                    ReadingErrorKind::TimeNotIncreasing {
                        previous: previous.to_string(),
                        found: time.to_string(),
                    },
                ),
                _ => numbers.push((time, value)),
            },
            (time, value) => {
                for (column, kind) in [time.err(), value.err()].into_iter().flatten() {
                    complain(column, kind);
                }
            }
        }
    }
    if errors.is_empty() { Ok(numbers) } else { Err(errors) }
}

/// A field as quoted in a message: a hostile one may be a megabyte long.
fn shortened(field: &str) -> String {
    if field.chars().count() <= 24 {
        field.to_owned()
    } else {
        field.chars().take(23).chain(['…']).collect()
    }
}

fn assemble(kind: ReadingKind, numbers: &[(f64, f64)]) -> Result<Readings, Vec<ReadingError>> {
    let (times, values): (Vec<Seconds>, Vec<f64>) =
        numbers.iter().map(|&(time, value)| (Seconds(time), value)).unzip();
    let readings = Readings::from_columns(kind, &times, &values);
    // Every number was checked on its own row already; only "none at all" is left.
    readings.map_err(|_| vec![ReadingError { line: 1, column: 1, kind: ReadingErrorKind::NoReadings }])
}

#[cfg(test)]
mod tests;
