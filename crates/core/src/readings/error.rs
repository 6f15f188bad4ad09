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
    /// Not text in UTF-8.
    #[error("this is not plain UTF-8 text; export the table as “CSV UTF-8” and add it again")]
    NotText,
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
    /// An empty field or a row that ends early.
    #[error("a number is missing here; fill it in or delete the row")]
    MissingNumber,
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
    /// Time stands still or runs backwards.
    #[error("time {found} s does not come after {previous} s; delete the row or sort the rows by time")]
    TimeNotIncreasing {
        /// Time in the row before.
        previous: String,
        /// Time here.
        found: String,
    },
    /// Two columns and nothing that tells what the second one is.
    #[error("the heading does not say what the columns are; choose “{}” or “{}” for this file, or name the columns, for example “t (s), v (m/s)”",
        super::ReadingKind::Velocity.words(), super::ReadingKind::Position.words())]
    KindUnclear,
    /// The kind chosen needs a column that is not there.
    #[error("there is no column of {wanted} here; choose another kind of readings for this file")]
    NoSuchColumn {
        /// The column looked for.
        wanted: &'static str,
    },
    /// A unit that is not known.
    #[error(
        "the unit “{found}” is not known here; use s, ms or µs for time, m, cm or mm for position, m/s, cm/s or mm/s for velocity, m/s² or cm/s² for acceleration, rad or ° for the table’s angle, rad/s, °/s or rpm for its angular velocity"
    )]
    UnknownUnit {
        /// The unit as written.
        found: String,
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
