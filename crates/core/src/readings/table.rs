//! Blocks of rows of numbers, with the rows of words that stand above each.

use super::ReadingError;
use super::lines::Lines;
use super::understood::PreviewRow;

/// Complaints listed before giving up: more would help nobody.
pub(super) const MAX_ERRORS: usize = 10;
/// Most different words in a column of words.
const MAX_WORDS: usize = 256;
/// What is kept of a field of words.
pub(super) const LONGEST: usize = 80;

/// A row of words above a block.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct HeadRow {
    pub(super) line: usize,
    pub(super) fields: Vec<String>,
    pub(super) comment: bool,
}

/// One column of a block.
#[derive(Clone, Debug, Default)]
pub(super) struct ColumnData {
    /// A number for each row; NaN where none stands.
    pub(super) numbers: Vec<f64>,
    /// In a column of words: which of [`ColumnData::vocabulary`] each row has.
    pub(super) words: Vec<u32>,
    pub(super) vocabulary: Vec<String>,
    /// Whether moments are written as times of day.
    pub(super) clock: bool,
    /// The unit behind the numbers, where one stands.
    pub(super) unit: Option<String>,
}

impl ColumnData {
    /// Numbers that are there.
    pub(super) fn present(&self) -> impl Iterator<Item = f64> {
        self.numbers.iter().copied().filter(|value| !value.is_nan())
    }

    /// The word in a row.
    pub(super) fn word(&self, row: usize) -> Option<&str> {
        let index = usize::try_from(*self.words.get(row)?).ok()?;
        self.vocabulary.get(index).map(String::as_str)
    }
}

/// Rows of numbers that belong together.
#[derive(Clone, Debug, Default)]
pub(super) struct Block {
    pub(super) heads: Vec<HeadRow>,
    pub(super) columns: Vec<ColumnData>,
    pub(super) lines: Lines,
}

/// All blocks of a file.
#[derive(Clone, Debug, Default)]
pub(super) struct Table {
    pub(super) blocks: Vec<Block>,
    /// Rows of words after the last block.
    pub(super) after: Vec<HeadRow>,
    pub(super) preview: Vec<PreviewRow>,
    /// Rows that were left out, at most ten of them.
    pub(super) left_out: Vec<ReadingError>,
    pub(super) left_out_count: usize,
}

impl Table {
    pub(super) fn rows(&self) -> usize {
        self.blocks.iter().map(|block| block.lines.len()).sum()
    }

    pub(super) fn leave_out(&mut self, wrong: &ReadingError) {
        self.left_out_count += 1;
        if self.left_out.len() < MAX_ERRORS {
            self.left_out.push(wrong.clone());
        }
    }
}

pub(super) fn word_index(vocabulary: &mut Vec<String>, field: &str) -> u32 {
    let field = field.get(..field.len().min(LONGEST)).unwrap_or(field);
    // Runs and states repeat: the last word is the likeliest.
    let index = vocabulary.iter().rposition(|word| word == field).unwrap_or_else(|| {
        if vocabulary.len() < MAX_WORDS {
            vocabulary.push(field.to_owned());
        }
        vocabulary.len() - 1
    });
    u32::try_from(index).unwrap_or(u32::MAX)
}

/// A field without the quotes doubled inside it, its beginning only when it is long.
pub(super) fn cut(field: &str, longest: usize) -> String {
    let field = field.trim();
    let mut kept: String = field.chars().take(longest).collect();
    if kept.len() < field.len() {
        kept.push('…');
    }
    kept.replace("\"\"", "\"").replace(char::is_control, " ")
}
