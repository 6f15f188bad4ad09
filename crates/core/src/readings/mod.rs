//! File bytes → readings: what a logger saw, before anyone chose a stretch.

mod choices;
mod cleaning;
mod condense;
mod dialect;
mod encoding;
mod error;
mod filling;
mod grouping;
mod headings;
mod incoming;
mod lines;
mod making;
mod names;
mod number;
mod plain;
mod reader;
mod role;
mod roles;
mod series;
mod split;
mod standing;
mod statistics;
mod table;
#[cfg(test)]
mod tests;
mod understood;

pub use choices::{Choice, Choices, DecimalMark, Delimiter, Encoding};
pub use condense::MAX_KEPT;
pub use error::{FileProblem, ReadingError, ReadingErrorKind};
pub use filling::MAX_ROWS;
pub(crate) use headings::{empty_table_word, fold};
pub use incoming::Incoming;
pub use reader::MAX_BYTES;
pub use role::Role;
pub use series::{ReadingKind, Readings, Series, SeriesError};
pub use understood::{
    Answer, Column, Confidence, FoundRun, Guess, Layout, PreviewRow, Question, Remark, Understood,
};

/// Reads a file: finds out how it is laid out and what its columns mean, and gives its runs.
///
/// What `choices` says is taken; everything else is guessed, each guess with its reason. Where two
/// readings are possible, [`Layout::questions`] asks. `progress` is told now and then which part of the
/// work is done, from 0 to 1.
///
/// # Errors
/// When it holds no readings, or more than is taken: at most ten complaints, each with line, column and
/// remedy.
pub fn read(
    bytes: &[u8],
    choices: &Choices,
    progress: &mut dyn FnMut(f64),
) -> Result<Understood, Vec<ReadingError>> {
    reader::read(bytes, None, choices, progress)
}

/// Reads a file that holds one run; `wanted` is the kind of readings, `None` to find out.
///
/// # Errors
/// As [`read`], and when something would have to be asked or the file holds several runs.
pub fn parse(bytes: &[u8], wanted: Option<ReadingKind>) -> Result<Readings, Vec<ReadingError>> {
    let mut choices = Choices::default();
    if let Some(kind) = wanted {
        choices.set(Choice::Holds(kind));
    }
    let Understood { layout, mut runs } = read(bytes, &choices, &mut |_| {})?;
    let fail = |kind| vec![ReadingError { line: 1, column: 1, kind }];
    if let Some(question) = layout.questions.first() {
        return Err(fail(ReadingErrorKind::Unclear { question: question.words.clone() }));
    }
    if runs.len() > 1 {
        return Err(fail(ReadingErrorKind::SeveralRuns { found: runs.len() }));
    }
    runs.pop().map(|run| run.readings).ok_or_else(|| fail(ReadingErrorKind::NoReadings))
}
