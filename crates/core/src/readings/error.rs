//! What is wrong with a file, where, and what to do about it.

/// One complaint. Line and column count from 1, as a spreadsheet does; the column is the field's.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}, column {column}: {kind}")]
pub struct ReadingError {
    /// Line in the file, from 1.
    pub line: usize,
    /// Field in the line, from 1.
    pub column: usize,
    /// What is wrong and what to do.
    pub kind: ReadingErrorKind,
}

/// What can be wrong with a file of readings.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ReadingErrorKind {
    /// No number anywhere.
    #[error("no readings found; expected rows of numbers, for example “0.125, 0.31”")]
    NoReadings,
    /// Control characters.
    #[error("this is not text; export the table as CSV or plain text and add that file")]
    NotText,
    /// A file of another sort.
    #[error(
        "this file is {found}, not a table of readings; export the readings as CSV or plain text and add that file"
    )]
    NotATable {
        /// What it is.
        found: &'static str,
    },
    /// Larger than the page takes.
    #[error(
        "the file is too large ({found}); the limit is {limit}. Cut it to the run itself, or log more slowly"
    )]
    TooLarge {
        /// What was found.
        found: String,
        /// What is taken.
        limit: String,
    },
    /// A word where a number belongs.
    #[error("“{found}” is not a number; write it like 0.125, or delete the row")]
    NotANumber {
        /// The text that stands there.
        found: String,
    },
    /// More fields than columns, where a decimal comma is the likely cause.
    #[error(
        "this row has {found} fields, the rows above have {expected}; if commas are decimal marks here, separate the columns by semicolons or tabs"
    )]
    TooManyFields {
        /// Fields in this row.
        found: usize,
        /// Fields in the rows before.
        expected: usize,
    },
    /// Time runs backwards too often for a slip.
    #[error(
        "time runs backwards {times} times, first from {previous} s to {found} s; check which column holds the times, or sort the rows by time"
    )]
    TimeRunsBackwards {
        /// Time in the row before.
        previous: String,
        /// Time here.
        found: String,
        /// How often.
        times: usize,
    },
    /// No column of times.
    #[error(
        "no column of times was found; choose the column that holds them, or add one: whole rows such as “0.125, 0.31” are needed"
    )]
    NoTimes,
    /// Times of samples, and nothing sampled.
    #[error(
        "these times are evenly spaced, so they are no gate times, and no column beside them holds velocities or positions; choose the column that holds what was measured, or add one"
    )]
    TimesWithoutValues,
    /// All times are the same.
    #[error("the time is the same in all rows; check which column holds the times")]
    ClockStandsStill,
    /// Fewer than two readings.
    #[error(
        "only {found} reading was found here; a run needs more, so check that the file holds the whole run"
    )]
    TooFew {
        /// How many there are.
        found: usize,
    },
    /// Several runs where one is wanted.
    #[error(
        "this file holds {found} runs; put each run into a file of its own, or add the file on the page, which takes them all"
    )]
    SeveralRuns {
        /// How many there are.
        found: usize,
    },
    /// A question that only the user can answer.
    #[error(
        "{question} Say so with the file, or write units into its headings, for example “t (s), v (m/s)”"
    )]
    Unclear {
        /// What is not clear.
        question: String,
    },
    /// Readings that are none.
    #[error("{0}; check the file's rows here")]
    Series(super::SeriesError),
    /// The kind chosen needs a column that is not there.
    #[error("there is no column of {wanted} here; choose another kind of readings for this file")]
    NoSuchColumn {
        /// The column looked for.
        wanted: &'static str,
    },
}

/// Everything that is wrong with one file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileProblem {
    /// The file's name as the user knows it.
    pub file: String,
    /// The complaints, in order of line; at least one.
    pub errors: Vec<ReadingError>,
}

impl core::fmt::Display for FileProblem {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        for (index, error) in self.errors.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{}, {error}", self.file)?;
        }
        Ok(())
    }
}
