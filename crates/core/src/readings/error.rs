//! What is wrong with a file, where, and what to do about it.

use whorl_words as words;

/// One complaint. Line and column count from 1, as a spreadsheet does; the column is the field's.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::readings::at(line, column, kind))]
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
    #[error("{}", words::readings::no_readings())]
    NoReadings,
    /// Control characters.
    #[error("{}", words::readings::not_text())]
    NotText,
    /// A file of another sort.
    #[error("{}", words::readings::not_a_table(found))]
    NotATable {
        /// What it is.
        found: &'static str,
    },
    /// Larger than the page takes.
    #[error("{}", words::readings::too_large(found, limit))]
    TooLarge {
        /// What was found.
        found: String,
        /// What is taken.
        limit: String,
    },
    /// A word where a number belongs.
    #[error("{}", words::readings::not_a_number(found))]
    NotANumber {
        /// The text that stands there.
        found: String,
    },
    /// More fields than columns, where a decimal comma is the likely cause.
    #[error("{}", words::readings::too_many_fields(found, expected))]
    TooManyFields {
        /// Fields in this row.
        found: usize,
        /// Fields in the rows before.
        expected: usize,
    },
    /// Time runs backwards too often for a slip.
    #[error("{}", words::readings::time_runs_backwards(times, previous, found))]
    TimeRunsBackwards {
        /// Time in the row before.
        previous: String,
        /// Time here.
        found: String,
        /// How often.
        times: usize,
    },
    /// No column of times.
    #[error("{}", words::readings::no_times())]
    NoTimes,
    /// Times of samples, and nothing sampled.
    #[error("{}", words::readings::times_without_values())]
    TimesWithoutValues,
    /// All times are the same.
    #[error("{}", words::readings::clock_stands_still())]
    ClockStandsStill,
    /// Fewer than two readings.
    #[error("{}", words::readings::too_few(found))]
    TooFew {
        /// How many there are.
        found: usize,
    },
    /// Several runs where one is wanted.
    #[error("{}", words::readings::several_runs(found))]
    SeveralRuns {
        /// How many there are.
        found: usize,
    },
    /// A question that only the user can answer.
    #[error("{}", words::readings::unclear(question))]
    Unclear {
        /// What is not clear.
        question: String,
    },
    /// Readings that are none.
    #[error("{}", words::readings::no_series(.0))]
    Series(super::SeriesError),
    /// The kind chosen needs a column that is not there.
    #[error("{}", words::readings::no_such_column(wanted))]
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
