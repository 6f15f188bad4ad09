//! Text → blocks of rows of numbers.
//!
//! A row belongs to a block when it has no more fields than most, holds a number, and every other field is
//! a number, a gap or a word where a column of words is. Rows without numbers begin a new block; a row with
//! a number and a wrong word amid a block is left out and noted.

use super::dialect::{Dialect, is_comment};
use super::encoding::is_control;
use super::headings::{Meaning, UnitFound, heading};
use super::lines::Lines;
use super::number::{Cell, cell};
use super::plain::{PIECE, Plain};
use super::split::{Place, Rows};
use super::table::{Block, ColumnData, HeadRow, LONGEST, Table, cut, word_index};
use super::understood::PreviewRow;
use super::{Delimiter, ReadingError, ReadingErrorKind};
use crate::csv_text::unguard;
use whorl_words as words;

/// Most rows that are read.
pub const MAX_ROWS: usize = 2_000_000;
/// Most fields that are read in all.
const MAX_FIELDS: usize = 8_000_000;
/// Most columns.
const MAX_COLUMNS: usize = 64;
/// Most blocks.
const MAX_BLOCKS: usize = 2000;
/// Bytes between two words of progress.
const PAUSE: usize = 1 << 19;
/// Rows above and in a table that the preview shows.
const PREVIEW: usize = 8;

/// A row that may be a heading or a mistake: what comes next tells.
#[derive(Debug)]
struct Waiting {
    head: HeadRow,
    /// What is wrong with it if it is a row of readings.
    wrong: Option<ReadingError>,
}

/// A text on its way into a table.
#[derive(Debug)]
pub(super) struct Filling {
    dialect: Dialect,
    plain: Option<Plain>,
    /// Bytes of the whole text, of which less may be there yet.
    size: usize,
    /// Where the next row begins, and on which line.
    at: usize,
    line: usize,
    table: Table,
    waiting: Vec<Waiting>,
    /// Rows in blocks, and control characters.
    kept: usize,
    controls: usize,
    /// The numbers of the row at hand.
    values: Vec<f64>,
}

impl Filling {
    /// Nothing yet of a text of so many bytes.
    ///
    /// # Errors
    /// When it has more columns than are taken.
    pub(super) fn new(dialect: Dialect, size: usize) -> Result<Self, ReadingError> {
        if dialect.width > MAX_COLUMNS {
            let found = words::readings::columns_or_more(&dialect.width);
            return Err(too_large(1, found, words::readings::columns(&MAX_COLUMNS)));
        }
        let plain = Plain::of(&dialect);
        let (table, waiting, values) = (Table::default(), Vec::new(), Vec::new());
        Ok(Self { dialect, plain, size, at: 0, line: 1, table, waiting, kept: 0, controls: 0, values })
    }

    /// The text before the next row is taken away; gives how many bytes that is.
    pub(super) fn let_go(&mut self) -> usize {
        core::mem::take(&mut self.at)
    }

    /// Takes the rows that have come whole and can be told from those that have not: `text` ends anywhere.
    /// Whether it can go on like this.
    ///
    /// # Errors
    /// As [`Filling::rest`].
    pub(super) fn ahead(&mut self, text: &str) -> Result<bool, ReadingError> {
        let whole = text.rfind('\n').map_or(0, |end| end + 1);
        let text = text.get(..whole).unwrap_or_default();
        let mut rows = Rows::on(text, self.dialect.delimiter.value, self.at, self.line);
        let mut fields = Vec::new();
        while rows.at() < whole {
            if self.plain_rows(&mut rows, text) {
                continue;
            }
            // Quotes may hold line ends, and what closes them may not be here yet.
            let rest = text.get(rows.at()..).unwrap_or_default();
            if rest.split('\n').next().is_some_and(|row| row.contains('"')) {
                break;
            }
            self.any_row(&mut rows, &mut fields, text)?;
        }
        (self.at, self.line) = (rows.at(), rows.line());
        Ok(rows.at() == whole)
    }

    /// Takes all rows that are left.
    ///
    /// # Errors
    /// When there are more than are taken, or a row is no text.
    pub(super) fn rest(&mut self, text: &str, progress: &mut dyn FnMut(f64)) -> Result<(), ReadingError> {
        let mut rows = Rows::on(text, self.dialect.delimiter.value, self.at, self.line);
        let (mut fields, mut told) = (Vec::new(), rows.at());
        loop {
            if rows.at() - told > PAUSE {
                told = rows.at();
                progress(told as f64 / text.len() as f64);
            }
            if !self.plain_rows(&mut rows, text) && !self.any_row(&mut rows, &mut fields, text)? {
                return Ok(());
            }
        }
    }

    /// How the text is taken to be written, and its table.
    pub(super) fn done(mut self) -> (Dialect, Table) {
        self.end();
        let mut table = self.table;
        table.after = self.waiting.into_iter().map(|waiting| waiting.head).collect();
        for column in table.blocks.iter_mut().flat_map(|block| &mut block.columns) {
            for word in &mut column.vocabulary {
                let whole = word.replace("\"\"", "\"");
                unguard(&whole).clone_into(word);
            }
        }
        (self.dialect, table)
    }

    /// Takes one row, whatever it holds; whether there was one.
    fn any_row<'t>(
        &mut self,
        rows: &mut Rows<'t>,
        fields: &mut Vec<&'t str>,
        text: &str,
    ) -> Result<bool, ReadingError> {
        // One field more than there are columns shows that a row is too long.
        let Some(place) = rows.next(fields, self.dialect.width.max(4) + MAX_COLUMNS) else {
            return Ok(false);
        };
        let raw = text.get(place.start..place.end).unwrap_or_default();
        self.controls += raw.bytes().filter(|&byte| is_control(byte)).count();
        if raw.contains('\0') || self.controls * 20 > self.size {
            return Err(ReadingError { line: place.line, column: 1, kind: ReadingErrorKind::NotText });
        }
        self.kept += usize::from(self.row(fields, place, raw));
        let too_many = |limit: String| too_large(place.line, words::readings::more_than(&limit), limit);
        if self.kept > MAX_ROWS {
            return Err(too_many(words::readings::rows(&MAX_ROWS)));
        }
        if self.kept * self.dialect.width > MAX_FIELDS {
            return Err(too_many(words::readings::numbers(&MAX_FIELDS)));
        }
        Ok(true)
    }

    /// Takes rows of plain numbers from here on, [`PIECE`] of them at most; whether there was one.
    ///
    /// They are read as [`Filling::row`] would read them, several times as fast.
    fn plain_rows(&mut self, rows: &mut Rows<'_>, text: &str) -> bool {
        let few = self.kept + PIECE <= MAX_ROWS && (self.kept + PIECE) * self.dialect.width <= MAX_FIELDS;
        let first = self.table.blocks.len() == 1;
        let (Some(plain), Some(block)) = (&self.plain, self.table.blocks.last_mut()) else { return false };
        // What the rows above were is not settled yet, or the preview wants the fields themselves.
        if !few || !self.waiting.is_empty() || (first && block.lines.len() < PREVIEW) {
            return false;
        }
        let from = rows.at();
        let (count, end) = plain.rows(text.as_bytes(), from, &mut block.columns, self.size);
        block.lines.add(rows.line(), count);
        self.kept += count;
        rows.skip(count, end);
        count > 0
    }

    /// Takes one row; whether it holds readings.
    // A browser makes a function quick while it is called again, not while it runs: no loop over a million rows
    // has all the work inside.
    #[inline(never)]
    fn row(&mut self, fields: &[&str], place: Place, raw: &str) -> bool {
        let mark = self.dialect.decimal.value;
        let full = fields.iter().rposition(|field| !field.trim().is_empty()).map_or(0, |last| last + 1);
        if full == 0 {
            return false;
        }
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
        self.table.blocks.push(Block { heads, columns, lines: Lines::default() });
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
        let first = self.table.blocks.len() == 1;
        let Some(block) = self.table.blocks.last_mut() else { return };
        if first && block.lines.len() < PREVIEW {
            let fields = fields.iter().take(self.dialect.width).map(|field| cut(field, LONGEST)).collect();
            self.table.preview.push(PreviewRow { line, fields, data: true });
        }
        block.lines.add(line, 1);
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

fn too_large(line: usize, found: String, limit: String) -> ReadingError {
    ReadingError { line, column: 1, kind: ReadingErrorKind::TooLarge { found, limit } }
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

#[cfg(test)]
mod tests {
    use super::super::dialect::dialect;
    use super::*;
    use crate::readings::Choices;

    fn read(text: &str) -> Table {
        let dialect = dialect(text, &Choices::default(), &|| false).unwrap();
        let mut filling = Filling::new(dialect, text.len()).unwrap();
        filling.rest(text, &mut |_| {}).unwrap();
        filling.done().1
    }

    #[test]
    fn a_block_has_its_heads_and_its_lines() {
        let found = read("Rate;100\n\nt;v\ns;m/s\n0,1;2\n# note\n0,2;NaN\n");
        let block = &found.blocks[0];
        assert_eq!((block.heads.len(), block.lines.len()), (3, 2));
        assert_eq!((block.lines.of(0), block.lines.of(1)), (5, 7));
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
