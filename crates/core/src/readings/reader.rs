//! A file's bytes → its runs, and what it was taken for.

use super::cleaning::cleaned;
use super::dialect::{Dialect, dialect};
use super::encoding::{Text, decode};
use super::filling::Filling;
use super::grouping::{RawRun, raw_runs};
use super::headings::heading;
use super::making::{Made, made};
use super::names::{Names, names, remark};
use super::roles::roles;
use super::table::{Block, MAX_ERRORS, Table};
use super::understood::{Column, FoundRun, Guess, Layout, Question, Remark, Understood};
use super::{Choices, ReadingError, ReadingErrorKind, Role};
use whorl_words as words;

/// Bytes at the beginning of a long file that tell how all of it is written.
pub(super) const HEAD: usize = 1 << 20;

/// Largest file that is read, in bytes.
pub const MAX_BYTES: usize = 64 << 20;

#[inline(never)]
pub(super) fn read(
    bytes: &[u8],
    known: Option<&str>,
    choices: &Choices,
    progress: &mut dyn FnMut(f64),
) -> Result<Understood, Vec<ReadingError>> {
    too_many_bytes(bytes.len())?;
    let text = decode(bytes, known, choices.encoding).map_err(|error| vec![error])?;
    let dialect = written(&text.body, choices).ok_or_else(|| vec![NO_READINGS])?;
    let filling = Filling::new(dialect, text.body.len()).map_err(|error| vec![error])?;
    read_on(filling, text, choices, progress)
}

/// How a text is written: told from its first part where it is long, unless that holds nothing but words.
pub(super) fn written(text: &str, choices: &Choices) -> Option<Dialect> {
    let told = |text: &str| dialect(text, choices, &|| speaks_with_commas(text));
    head(text).and_then(told).or_else(|| told(text))
}

/// The whole lines at the beginning of a long text; `None` when it is not long enough.
pub(super) fn head(text: &str) -> Option<&str> {
    let end = text.as_bytes().get(..HEAD)?.iter().rposition(|&byte| byte == b'\n')?;
    text.get(..=end)
}

/// Refuses a file of too many bytes.
pub(super) fn too_many_bytes(found: usize) -> Result<(), Vec<ReadingError>> {
    if found <= MAX_BYTES {
        return Ok(());
    }
    let megabytes = |bytes: usize| words::readings::megabytes(&words::number(bytes as f64 / 1e6, 1));
    let kind = ReadingErrorKind::TooLarge { found: megabytes(found), limit: megabytes(MAX_BYTES) };
    Err(vec![ReadingError { line: 1, column: 1, kind }])
}

const NO_READINGS: ReadingError = ReadingError { line: 1, column: 1, kind: ReadingErrorKind::NoReadings };

/// Reads what is left of a text, and finds out what all of it means.
pub(super) fn read_on(
    mut filling: Filling,
    text: Text<'_>,
    choices: &Choices,
    progress: &mut dyn FnMut(f64),
) -> Result<Understood, Vec<ReadingError>> {
    filling.rest(&text.body, progress).map_err(|error| vec![error])?;
    let (dialect, mut table) = filling.done();
    keep_long_blocks(&mut table);
    let Some(first) = table.blocks.first() else {
        return Err(vec![NO_READINGS]);
    };
    if table.left_out_count * 10 > table.rows() {
        return Err(table.left_out);
    }
    let delimiter = dialect.delimiter.value;
    let names = names(first, delimiter);
    if let Some(error) = half_named(first, &names, &dialect) {
        return Err(vec![error]);
    }
    let (guesses, mut questions) = roles(first, &names, choices);
    let mut file = File { choices, errors: Vec::new(), runs: Vec::new(), questions: Vec::new() };
    questions.splice(0..0, dialect.question.clone());
    let used = file.runs_of_blocks(&table, &names, &guesses, delimiter);
    for question in core::mem::take(&mut file.questions) {
        if !questions.contains(&question) && questions.len() < MAX_ERRORS {
            questions.push(question);
        }
    }
    if file.runs.is_empty() && questions.is_empty() {
        if file.errors.is_empty() {
            file.errors.push(without_times(first, &guesses));
        }
        file.errors.truncate(MAX_ERRORS);
        return Err(file.errors);
    }
    let mut remarks: Vec<Remark> = text.remark.into_iter().collect();
    remarks.extend(
        table
            .left_out
            .iter()
            .map(|wrong| remark(Some(wrong.line), words::readings::row_left_out(&wrong.column, &wrong.kind))),
    );
    remarks.extend(
        file.errors.iter().map(|error| remark(Some(error.line), words::readings::run_left_out(&error.kind))),
    );
    if let Some(after) = table.after.iter().find(|row| !row.comment) {
        remarks.push(remark(Some(after.line), words::readings::below_table().to_owned()));
    }
    let layout = Layout {
        shape: shape(&names, &dialect),
        encoding: text.encoding,
        columns: columns(&names, guesses, &used),
        rows: table.rows(),
        delimiter: dialect.delimiter,
        decimal: dialect.decimal,
        preview: core::mem::take(&mut table.preview),
        questions,
        remarks,
    };
    Ok(Understood { layout, runs: file.runs })
}

/// What has been found of a file so far.
struct File<'c> {
    choices: &'c Choices,
    errors: Vec<ReadingError>,
    runs: Vec<FoundRun>,
    /// Asked about tables below the first.
    questions: Vec<Question>,
}

impl File<'_> {
    /// The runs of all blocks; gives the columns used.
    fn runs_of_blocks(
        &mut self,
        table: &Table,
        first: &Names,
        guesses: &[Guess<Role>],
        delimiter: super::Delimiter,
    ) -> Vec<usize> {
        let mut used = Vec::new();
        let mut raw: Vec<RawRun<'_>> = Vec::new();
        let several = table.blocks.len() > 1;
        for (index, block) in table.blocks.iter().enumerate() {
            let own = names(block, delimiter);
            // Below the first block, words may be nothing but a title: its columns are the first one's.
            let new_names = index > 0 && own.any;
            let (block_names, block_guesses) = if new_names {
                let (guesses, questions) = roles(block, &own, self.choices);
                self.questions.extend(questions);
                (own, guesses)
            } else {
                let names = Names {
                    title: own.title,
                    about: own.about,
                    columns: first.columns.clone(),
                    any: first.any,
                };
                (names, guesses.to_vec())
            };
            let found = raw_runs(block, &block_names, &block_guesses, self.choices.holds);
            let (mut runs, columns) = match found {
                Ok(found) => found,
                Err(error) => {
                    self.errors.push(error);
                    continue;
                }
            };
            if index == 0 {
                used = columns;
            }
            if several {
                for run in &mut runs {
                    if run.label.is_empty() {
                        run.label = block_names.title.clone().unwrap_or_default();
                    }
                }
            }
            if let ([run], Some(last)) = (runs.as_slice(), raw.last_mut())
                && !new_names
                && goes_on(last, run)
            {
                runs.drain(..).for_each(|run| last.rows.append(run.rows));
                continue;
            }
            raw.append(&mut runs);
        }
        for run in raw {
            self.finish(run);
        }
        used
    }

    fn finish(&mut self, raw: RawRun<'_>) {
        let RawRun { label, about, source, rows, clock, beside } = raw;
        let parts = match cleaned(rows, source, clock) {
            Ok(parts) => parts,
            Err(error) => {
                self.errors.push(error);
                return;
            }
        };
        let several = parts.len() > 1;
        for (index, part) in parts.into_iter().enumerate() {
            match made(part, source, beside, self.choices.holds) {
                Ok(Made { readings, lines, remarks }) => {
                    let label = if several {
                        format!("{label} {}", index + 1).trim().to_owned()
                    } else {
                        label.clone()
                    };
                    self.runs.push(FoundRun {
                        label,
                        carries: about.carries.clone(),
                        hanging_mass: about.hanging_mass,
                        motion: about.motion,
                        lines,
                        readings,
                        remarks,
                    });
                }
                Err(error) => self.errors.push(error),
            }
        }
    }
}

/// Whether a block is the block before it, interrupted by words: time goes on as before.
fn goes_on(before: &RawRun<'_>, after: &RawRun<'_>) -> bool {
    let (Some(first), Some(last)) = (before.rows.first(), before.rows.last()) else { return false };
    let Some(next) = after.rows.first() else { return false };
    let step = (last.time - first.time) / before.rows.len() as f64;
    before.source == after.source && next.time > last.time && next.time - last.time < 5.0 * step
}

/// Blocks of a single row are remarks with a number, where there are longer ones.
fn keep_long_blocks(table: &mut Table) {
    if table.blocks.iter().any(|block| block.lines.len() > 1) {
        table.blocks.retain(|block| block.lines.len() > 1);
    }
}

/// Rows with twice as many fields as names, all whole: decimal commas that also separate.
fn half_named(block: &Block, names: &Names, dialect: &Dialect) -> Option<ReadingError> {
    let named = names.columns.iter().filter(|name| !name.written.is_empty()).count();
    let whole = block.columns.iter().all(|column| column.present().all(|value| value.fract() == 0.0));
    let twice = named > 0
        && dialect.width == 2 * named
        && names.columns.iter().skip(named).all(|name| name.written.is_empty());
    let comma = dialect.delimiter.value == super::Delimiter::Comma;
    (twice && whole && comma).then(|| ReadingError {
        line: block.lines.of(0),
        column: named + 1,
        kind: ReadingErrorKind::TooManyFields { found: dialect.width, expected: named },
    })
}

/// What is wrong with a table that gives no run.
fn without_times(block: &Block, guesses: &[Guess<Role>]) -> ReadingError {
    let has_time = guesses.iter().any(|guess| matches!(guess.value, Role::Time(_) | Role::Interval(_)));
    let few = has_time || block.lines.len() < 2;
    let kind = if few { ReadingErrorKind::TooFew { found: 1 } } else { ReadingErrorKind::NoTimes };
    let line = block.lines.of(0);
    ReadingError { line, column: 1, kind }
}

fn columns(names: &Names, guesses: Vec<Guess<Role>>, used: &[usize]) -> Vec<Column> {
    let column = |(index, (name, role)): (usize, (&super::names::Name, Guess<Role>))| Column {
        heading: name.written.clone(),
        role,
        used: used.contains(&index),
    };
    names.columns.iter().zip(guesses).enumerate().map(column).collect()
}

/// The same for files with the same headings and punctuation. Digits do not matter: they number runs.
fn shape(names: &Names, dialect: &Dialect) -> String {
    let plain =
        |name: &super::names::Name| name.written.chars().filter(|c| !c.is_ascii_digit()).collect::<String>();
    let headings: Vec<String> = names.columns.iter().map(plain).collect();
    format!("{}|{}", dialect.delimiter.value.key(), headings.join("|"))
}

/// Whether a heading near the top is in a language that writes decimal commas.
fn speaks_with_commas(text: &str) -> bool {
    text.lines()
        .take(30)
        .flat_map(|line| line.split([';', '\t', '|', ',']))
        .take(200)
        .any(|field| field.len() < 60 && heading(field).decimal_comma_language)
}
