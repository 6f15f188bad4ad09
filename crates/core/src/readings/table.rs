//! Text → blocks of rows of numbers, with the rows of words that stand above each.
//!
//! A row belongs to a block when it has no more fields than most, holds a number, and every other field is
//! a number, a gap or a word where a column of words is. Rows without numbers begin a new block; a row with
//! a number and a wrong word amid a block is left out and noted.

use super::dialect::{Dialect, is_comment};
use super::headings::{Meaning, UnitFound, heading};
use super::number::{Cell, cell};
use super::split::{Place, Rows};
use super::understood::PreviewRow;
use super::{Delimiter, ReadingError, ReadingErrorKind};
use crate::csv_text::unguard;

/// Most rows that are read.
pub const MAX_ROWS: usize = 2_000_000;
/// Most fields that are read in all.
const MAX_FIELDS: usize = 8_000_000;
/// Most columns.
const MAX_COLUMNS: usize = 64;
/// Complaints listed before giving up: more would help nobody.
pub(super) const MAX_ERRORS: usize = 10;
/// Most different words in a column of words, and most blocks.
const MAX_WORDS: usize = 256;
const MAX_BLOCKS: usize = 2000;
/// Rows between two words of progress.
const PAUSE: usize = 1 << 15;
/// What is kept of a field of words.
const LONGEST: usize = 80;
/// Rows above and in a table that the preview shows.
const PREVIEW: usize = 8;

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
    /// The line of each row.
    pub(super) lines: Vec<u32>,
}

impl Block {
    /// The line of a row, from 1.
    pub(super) fn line(&self, row: usize) -> usize {
        self.lines.get(row).and_then(|&line| usize::try_from(line).ok()).unwrap_or(1)
    }
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

    fn leave_out(&mut self, wrong: &ReadingError) {
        self.left_out_count += 1;
        if self.left_out.len() < MAX_ERRORS {
            self.left_out.push(wrong.clone());
        }
    }
}

/// A row that may be a heading or a mistake: what comes next tells.
struct Waiting {
    head: HeadRow,
    /// What is wrong with it if it is a row of readings.
    wrong: Option<ReadingError>,
}

struct Reader<'d> {
    dialect: &'d Dialect,
    table: Table,
    waiting: Vec<Waiting>,
    fields: usize,
    /// The numbers of the row at hand.
    values: Vec<f64>,
}

/// Reads all rows.
///
/// # Errors
/// When there are more than are taken.
pub(super) fn table(
    text: &str,
    dialect: &Dialect,
    progress: &mut dyn FnMut(f64),
) -> Result<Table, ReadingError> {
    let too_large = |line, found: String, limit: String| ReadingError {
        line,
        column: 1,
        kind: ReadingErrorKind::TooLarge { found, limit },
    };
    if dialect.width > MAX_COLUMNS {
        let (found, limit) = (format!("{} columns or more", dialect.width), format!("{MAX_COLUMNS} columns"));
        return Err(too_large(1, found, limit));
    }
    let mut reader =
        Reader { dialect, table: Table::default(), waiting: Vec::new(), fields: 0, values: Vec::new() };
    let mut rows = Rows::new(text, dialect.delimiter.value);
    let (mut fields, mut count, mut kept) = (Vec::new(), 0_usize, 0_usize);
    // One field more than there are columns shows that a row is too long.
    while let Some(place) = rows.next(&mut fields, dialect.width.max(4) + MAX_COLUMNS) {
        count += 1;
        if count.is_multiple_of(PAUSE) {
            progress(rows.at() as f64 / text.len() as f64);
        }
        kept += usize::from(reader.row(&fields, place, text));
        if kept > MAX_ROWS {
            let limit = format!("{MAX_ROWS} rows");
            return Err(too_large(place.line, format!("more than {limit}"), limit));
        }
        if reader.fields > MAX_FIELDS {
            let limit = format!("{MAX_FIELDS} numbers");
            return Err(too_large(place.line, format!("more than {limit}"), limit));
        }
    }
    reader.end();
    let mut table = reader.table;
    table.after = reader.waiting.into_iter().map(|waiting| waiting.head).collect();
    for column in table.blocks.iter_mut().flat_map(|block| &mut block.columns) {
        for word in &mut column.vocabulary {
            let whole = word.replace("\"\"", "\"");
            unguard(&whole).clone_into(word);
        }
    }
    Ok(table)
}

impl Reader<'_> {
    /// Takes one row; whether it holds readings.
    // A browser makes a function quick while it is called again, not while it runs: no loop over a million rows
    // has all the work inside.
    #[inline(never)]
    fn row(&mut self, fields: &[&str], place: Place, text: &str) -> bool {
        let mark = self.dialect.decimal.value;
        let full = fields.iter().rposition(|field| !field.trim().is_empty()).map_or(0, |last| last + 1);
        if full == 0 {
            return false;
        }
        let raw = text.get(place.start..place.end).unwrap_or_default();
        if is_comment(raw, self.dialect.delimiter.value) {
            self.wait(place, &[raw.trim_start_matches(['#', '%', '!', '*', '/', ';', ' '])], None, true);
            return false;
        }
        let mut numbers = 0_usize;
        let mut wrong = None;
        let mut special = false;
        self.values.clear();
        for (index, field) in fields.iter().take(self.dialect.width).enumerate() {
            let mut found = cell(field, mark);
            special |= matches!(found, Cell::Clock(_) | Cell::WithUnit(..));
            // Where numbers stand alone, one with a unit is a heading such as `50 g`.
            if matches!(found, Cell::WithUnit(..)) && !self.dialect.units {
                found = Cell::Word;
            }
            self.values.push(found.value());
            numbers += usize::from(found.is_number());
            if found == Cell::Word && wrong.is_none() && self.dialect.words.get(index) != Some(&true) {
                wrong = Some((index + 1, ReadingErrorKind::NotANumber { found: cut(field, 40) }));
            }
        }
        if full > self.dialect.width && wrong.is_none() {
            let kind = ReadingErrorKind::TooManyFields { found: full, expected: self.dialect.width };
            wrong = Some((self.dialect.width + 1, kind));
        }
        if numbers == 0 || wrong.is_some() {
            let error = wrong.filter(|_| numbers > 0).map(|(column, kind)| ReadingError {
                line: place.line,
                column,
                kind,
            });
            if self.dialect.delimiter.value == Delimiter::Spaces {
                let words = words_between_spaces(raw, self.dialect.width);
                if error.is_none() || (words.len() == 1 && heading(raw).label.is_some()) {
                    self.wait(place, &words, None, false);
                    return false;
                }
            }
            self.wait(place, fields.get(..full).unwrap_or(fields), error, false);
            return false;
        }
        self.begin_block();
        self.keep(fields, special, place.line);
        true
    }

    fn wait(&mut self, place: Place, fields: &[&str], wrong: Option<ReadingError>, comment: bool) {
        // A file of words alone is not kept whole: headings stand close above their table.
        if self.waiting.len() >= 200 {
            self.waiting.drain(..100);
        }
        let fields = fields.iter().take(MAX_COLUMNS).map(|field| cut(field, LONGEST)).collect();
        self.waiting.push(Waiting { head: HeadRow { line: place.line, fields, comment }, wrong });
    }

    /// Settles what the rows before a row of numbers were.
    fn begin_block(&mut self) {
        if self.waiting.is_empty() && !self.table.blocks.is_empty() {
            return;
        }
        let words = self.waiting.iter().any(|waiting| waiting.wrong.is_none() && !waiting.head.comment);
        let waiting = core::mem::take(&mut self.waiting);
        let amid = !words && !self.table.blocks.is_empty();
        // Below the last heading, a row with a number is a row of readings.
        let last_heading =
            waiting.iter().rposition(|waiting| waiting.wrong.is_none() && !waiting.head.comment);
        let from = if amid { 0 } else { last_heading.unwrap_or(usize::MAX) };
        for wrong in waiting.iter().skip(from).filter_map(|waiting| waiting.wrong.as_ref()) {
            self.table.leave_out(wrong);
        }
        if amid || self.table.blocks.len() >= MAX_BLOCKS {
            return;
        }
        let heads: Vec<HeadRow> = waiting.into_iter().map(|waiting| waiting.head).collect();
        if self.table.blocks.is_empty() {
            let first = heads.len().saturating_sub(PREVIEW);
            let shown = heads.iter().skip(first);
            self.table.preview = shown
                .map(|head| PreviewRow { line: head.line, fields: head.fields.clone(), data: false })
                .collect();
        }
        let columns = vec![ColumnData::default(); self.dialect.width];
        self.table.blocks.push(Block { heads, columns, lines: Vec::new() });
    }

    /// Rows at the end whose first field is a number are rows of readings; “Mean” and the like are not.
    fn end(&mut self) {
        let of_readings = |waiting: &&Waiting| waiting.wrong.as_ref().is_some_and(|wrong| wrong.column > 1);
        let count = self.waiting.iter().take_while(of_readings).count();
        for wrong in self.waiting.drain(..count).filter_map(|waiting| waiting.wrong) {
            self.table.leave_out(&wrong);
        }
    }

    /// Keeps a row; `special` says that a number in it has more to it.
    fn keep(&mut self, fields: &[&str], special: bool, line: usize) {
        self.fields += self.dialect.width;
        let first = self.table.blocks.len() == 1;
        let Some(block) = self.table.blocks.last_mut() else { return };
        if first && block.lines.len() < PREVIEW {
            let fields = fields.iter().take(self.dialect.width).map(|field| cut(field, LONGEST)).collect();
            self.table.preview.push(PreviewRow { line, fields, data: true });
        }
        block.lines.push(u32::try_from(line).unwrap_or(u32::MAX));
        for (index, column) in block.columns.iter_mut().enumerate() {
            column.numbers.push(self.values.get(index).copied().unwrap_or(f64::NAN));
            if special && let Some(field) = fields.get(index) {
                match cell(field, self.dialect.decimal.value) {
                    Cell::Clock(_) => column.clock = true,
                    Cell::WithUnit(_, unit) if column.unit.is_none() => column.unit = Some(unit.to_owned()),
                    _ => {}
                }
            }
            if self.dialect.words.get(index) == Some(&true) {
                let field = fields.get(index).map_or("", |field| field.trim());
                column.words.push(word_index(&mut column.vocabulary, field));
            }
        }
    }
}

/// A row of words in a table whose columns are set with spaces: words of one heading have one space between
/// them, headings mostly more; a unit in brackets goes with the word before.
fn words_between_spaces(row: &str, width: usize) -> Vec<&str> {
    let row = row.trim();
    let wide: Vec<&str> = row.split("  ").map(str::trim).filter(|part| !part.is_empty()).collect();
    if wide.len() == width {
        return wide;
    }
    let mut words: Vec<&str> = Vec::new();
    let mut start = 0;
    for (at, _) in row.match_indices(' ').chain([(row.len(), "")]) {
        let next = row.get(at..).unwrap_or_default().trim_start();
        if at > start && !next.starts_with(['(', '[', '{']) {
            words.push(row.get(start..at).unwrap_or_default().trim());
            start = row.len() - next.len();
        } else if at <= start {
            start = start.max(row.len() - next.len());
        }
    }
    words.retain(|word| !word.is_empty());
    // `Run 1` is one label, `t v` are two names.
    let names = words.iter().any(|word| {
        let found = heading(word);
        found.meaning.is_some_and(|meaning| meaning != Meaning::Run) || found.unit != UnitFound::None
    });
    if words.len() == width && names { words } else { vec![row] }
}

fn word_index(vocabulary: &mut Vec<String>, field: &str) -> u32 {
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

#[cfg(test)]
mod tests {
    use super::super::dialect::dialect;
    use super::*;
    use crate::readings::Choices;

    fn read(text: &str) -> Table {
        let dialect = dialect(text, &Choices::default(), &|| false).unwrap();
        table(text, &dialect, &mut |_| {}).unwrap()
    }

    #[test]
    fn a_block_has_its_heads_and_its_lines() {
        let found = read("Rate;100\n\nt;v\ns;m/s\n0,1;2\n# note\n0,2;NaN\n");
        let block = &found.blocks[0];
        assert_eq!((block.heads.len(), &block.lines), (3, &vec![5, 7]));
        assert_eq!(block.columns[0].numbers, [0.1, 0.2]);
        assert!(block.columns[1].numbers[1].is_nan());
        assert_eq!(found.preview.len(), 5);
    }

    #[test]
    fn words_between_numbers_begin_a_block_and_a_wrong_word_does_not() {
        let found = read("t,v\n0,1\n1,2\nRun 2\nt,v\n0,3\n1,x\n2,4\nMean,3.5\n");
        assert_eq!(found.blocks.iter().map(|block| block.lines.len()).collect::<Vec<_>>(), [2, 2]);
        assert_eq!((found.left_out[0].line, found.left_out[0].column), (7, 2));
        assert_eq!(found.after.len(), 1);
    }

    #[test]
    fn words_are_kept_once() {
        let found = read("t,gate\n0,open\n1,shut\n2,open\n");
        let gate = &found.blocks[0].columns[1];
        assert_eq!((gate.vocabulary.len(), gate.word(2)), (2, Some("open")));
    }
}
