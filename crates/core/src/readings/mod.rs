//! File bytes → readings: what a logger saw, before anyone chose a stretch.

mod dialect;
mod error;
mod header;
mod parse;
mod series;

pub use error::{FileProblem, ReadingError, ReadingErrorKind};
pub use parse::{MAX_BYTES, MAX_ROWS, parse};
pub use series::{ReadingKind, Readings, Series, SeriesError};
