//! How a file separates its fields and writes its decimals, told from a sample of its rows.
//!
//! Every pair of delimiter and decimal mark is tried. The best leaves the most rows in which each field
//! is a number or one of a column of words; among equals the one with fewer columns of words, then the one
//! with more columns of numbers. Where two pairs explain the sample equally well and mean different
//! numbers, times that must not run backwards may decide; if they do not, the user is asked.

use super::number::{Cell, cell};
use super::split::Rows;
use super::understood::{Answer, Confidence, Guess, Question};
use super::{Choice, Choices, DecimalMark, Delimiter};
use whorl_words as words;

/// Rows of numbers, rows at all, and bytes that a sample has at most.
const NUMERIC_ROWS: usize = 200;
const ROWS: usize = 2000;
const BYTES: usize = 1 << 18;
/// Fields of a row that are looked at.
const FIELDS: usize = 256;

/// What the sample says.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Dialect {
    pub(super) delimiter: Guess<Delimiter>,
    pub(super) decimal: Guess<DecimalMark>,
    /// Fields in most rows of numbers.
    pub(super) width: usize,
    /// For each of them whether it mostly holds words.
    pub(super) words: Vec<bool>,
    /// Whether units stand behind the numbers themselves.
    pub(super) units: bool,
    pub(super) question: Option<Question>,
}

/// One pair tried on the sample.
#[derive(Clone, Debug)]
struct Trial {
    delimiter: Delimiter,
    mark: DecimalMark,
    width: usize,
    words: Vec<bool>,
    units: bool,
    /// Rows in which all fields are as they should be.
    clean: usize,
    /// Columns with numbers.
    numeric: usize,
    /// How often the column that runs backwards least does so.
    backwards: usize,
    /// Whether a number has a point or a comma in it.
    marked: Option<char>,
}

/// `None` when no row holds a number.
#[inline(never)]
pub(super) fn dialect(text: &str, choices: &Choices, comma_language: &dyn Fn() -> bool) -> Option<Dialect> {
    let hinted = hint(text);
    // Long words above the table hold no rows of numbers.
    let digit = text.bytes().position(|byte| byte.is_ascii_digit())?;
    let start = text.get(..digit).and_then(|before| before.rfind(['\n', '\r'])).map_or(0, |end| end + 1);
    let (whole, text) = (text, text.get(start..).unwrap_or_default());
    let given = choices.delimiter.or(hinted);
    let mut best: Option<Trial> = None;
    let mut all = Vec::new();
    for delimiter in
        [Delimiter::Tab, Delimiter::Semicolon, Delimiter::Bar, Delimiter::Comma, Delimiter::Spaces]
    {
        if given.is_some_and(|given| given != delimiter) {
            continue;
        }
        for mark in DecimalMark::ALL {
            if choices.decimal.is_some_and(|chosen| chosen != mark) {
                continue;
            }
            let Some(trial) = tried(text, delimiter, mark) else { continue };
            if best.as_ref().is_none_or(|best| rank(&trial) > rank(best)) {
                best = Some(trial.clone());
            }
            all.push(trial);
        }
    }
    let mut best = best?;
    let lone = |trial: &&Trial| {
        // Three groups of digits are thousands, two may be decimals.
        let mark = if best.width == 2 { DecimalMark::Comma } else { DecimalMark::Point };
        let mark = choices.decimal.unwrap_or(mark);
        trial.numeric == 1 && trial.width == 1 && trial.mark == mark && trial.clean >= best.clean
    };
    // Decimal commas in a lone column look like two columns.
    if best.delimiter == Delimiter::Comma
        && best.width >= 2
        && best.marked.is_none()
        && given.is_none()
        && let Some(one) = all.iter().find(lone)
    {
        match one_or_two(whole, text, one, best.width) {
            Some(true) => best = one.clone(),
            Some(false) => {}
            None => {
                let question = one_or_two_question(text);
                return Some(best.into_dialect(Confidence::Open, Confidence::Open, None, Some(question)));
            }
        }
    }
    let other = all.iter().find(|trial| {
        trial.delimiter == best.delimiter && trial.mark != best.mark && rank(trial) == rank(&best)
    });
    let (mut certainty, mut question, mut why) = (Confidence::Sure, None, None);
    if let (Some(other), Some(mark)) = (other, best.marked) {
        // Each number reads with either mark: its groups of three may be thousands or decimals.
        if other.backwards < best.backwards {
            best = other.clone();
        }
        if other.backwards == best.backwards {
            let decimal = if mark == ',' { DecimalMark::Comma } else { DecimalMark::Point };
            if best.mark != decimal && other.mark == decimal {
                best = other.clone();
            }
            if mark == ',' || comma_language() {
                certainty = Confidence::Open;
                question = Some(thousands_question(text, best.delimiter, mark));
            } else {
                certainty = Confidence::Likely;
            }
            why = Some(words::readings::decimals_in_threes());
        } else {
            why = Some(words::readings::times_would_run_backwards());
        }
    }
    let delimiter_certainty =
        if given.is_some() || best.width > 1 { Confidence::Sure } else { Confidence::Likely };
    let mut dialect = best.into_dialect(delimiter_certainty, certainty, why, question);
    if choices.delimiter.is_some() {
        words::readings::you_chose_it().clone_into(&mut dialect.delimiter.reason);
    } else if hinted.is_some() {
        words::readings::first_line_says().clone_into(&mut dialect.delimiter.reason);
    }
    if choices.decimal.is_some() {
        words::readings::you_chose_it().clone_into(&mut dialect.decimal.reason);
    }
    Some(dialect)
}

impl Trial {
    fn into_dialect(
        self,
        delimiter: Confidence,
        decimal: Confidence,
        why: Option<&'static str>,
        question: Option<Question>,
    ) -> Dialect {
        let fields = match self.width {
            1 => words::readings::one_field().to_owned(),
            width => words::readings::many_fields(&width),
        };
        let reason = why.unwrap_or_else(|| match (self.marked, self.mark) {
            (None, _) => words::readings::no_decimals(),
            (Some(_), DecimalMark::Point) => words::readings::read_with_point(),
            (Some(_), DecimalMark::Comma) => words::readings::read_with_comma(),
        });
        Dialect {
            delimiter: Guess { value: self.delimiter, confidence: delimiter, reason: fields },
            decimal: Guess { value: self.mark, confidence: decimal, reason: reason.to_owned() },
            width: self.width,
            words: self.words,
            units: self.units,
            question,
        }
    }
}

/// Larger is better.
fn rank(trial: &Trial) -> (usize, core::cmp::Reverse<usize>, usize, usize) {
    let words = trial.words.iter().filter(|&&word| word).count();
    (trial.clean, core::cmp::Reverse(words), trial.numeric, trial.width)
}

/// The delimiter in a first line `sep=;`, which spreadsheets write for each other; common practice, no source.
fn hint(text: &str) -> Option<Delimiter> {
    let first = text.split(['\n', '\r']).next()?.trim_matches([' ', '"']);
    match first.strip_prefix("sep=").or_else(|| first.strip_prefix("SEP="))? {
        "," => Some(Delimiter::Comma),
        ";" => Some(Delimiter::Semicolon),
        "|" => Some(Delimiter::Bar),
        " " => Some(Delimiter::Spaces),
        "\t" | "\\t" => Some(Delimiter::Tab),
        _ => None,
    }
}

/// Whether a row is a remark of whoever wrote the file. `start` is its text.
pub(super) fn is_comment(start: &str, delimiter: Delimiter) -> bool {
    let start = start.trim_ascii_start().as_bytes();
    // Called for every row, of which nearly all begin with a digit.
    match start.first() {
        Some(b'#' | b'%' | b'!' | b'*') => true,
        Some(b'/') => start.starts_with(b"//"),
        Some(b';') => delimiter != Delimiter::Semicolon,
        Some(b's' | b'S' | b'"') => {
            let start = start.strip_prefix(b"\"").unwrap_or(start);
            start.get(..4).is_some_and(|word| word.eq_ignore_ascii_case(b"sep="))
        }
        _ => false,
    }
}

/// The sample's rows that hold numbers.
fn sample(text: &str, delimiter: Delimiter, mark: DecimalMark) -> Vec<Vec<&str>> {
    let mut rows = Rows::new(text, delimiter);
    let (mut fields, mut kept) = (Vec::new(), Vec::new());
    for _ in 0..ROWS {
        if kept.len() >= NUMERIC_ROWS || (rows.at() > BYTES && !kept.is_empty()) || rows.at() > 16 * BYTES {
            break;
        }
        let Some(place) = rows.next(&mut fields, FIELDS) else { break };
        if is_comment(
            text.get(place.start..place.end).unwrap_or_default().get(..8).unwrap_or_default(),
            delimiter,
        ) {
            continue;
        }
        let (mut numbers, mut words) = (0, 0);
        for field in &fields {
            let found = cell(field, mark);
            numbers += usize::from(found.is_number());
            words += usize::from(found == Cell::Word);
        }
        if numbers > 0 && words <= 3 {
            kept.push(fields.clone());
        }
    }
    kept
}

fn tried(text: &str, delimiter: Delimiter, mark: DecimalMark) -> Option<Trial> {
    let rows = sample(text, delimiter, mark);
    let width = most_common(rows.iter().map(Vec::len))?;
    let wide: Vec<&Vec<&str>> = rows.iter().filter(|row| row.len() == width).collect();
    let (mut words, mut numeric, mut backwards) = (Vec::new(), 0, usize::MAX);
    let (mut with_units, mut without_units) = (0, 0);
    for column in 0..width {
        let cells: Vec<Cell<'_>> =
            wide.iter().filter_map(|row| row.get(column)).map(|field| cell(field, mark)).collect();
        let count = |wanted: &dyn Fn(&Cell<'_>) -> bool| cells.iter().filter(|cell| wanted(cell)).count();
        let filled = count(&|cell| *cell != Cell::Missing);
        // What begins like a number is a number gone wrong.
        let wordy = |row: &&&Vec<&str>| {
            row.get(column)
                .is_some_and(|field| cell(field, mark) == Cell::Word && !begins_like_a_number(field))
        };
        words.push(wide.iter().filter(wordy).count() * 2 > filled);
        with_units += count(&|cell| matches!(cell, Cell::WithUnit(..)));
        without_units += count(&|cell| matches!(cell, Cell::Number(_)));
        if count(&|cell| cell.is_number()) * 2 >= cells.len() {
            numeric += 1;
            let values: Vec<f64> = cells.iter().map(|cell| cell.value()).collect();
            // A column without points and commas reads the same either way.
            let marks = wide.iter().filter_map(|row| row.get(column)).any(|field| field.contains(['.', ',']));
            let down = values.windows(2).filter(|pair| matches!(pair, [a, b] if b < a)).count();
            backwards = if marks { backwards.min(down) } else { backwards };
        }
    }
    let (mut clean, mut marked) = (0, None);
    for row in &rows {
        let fits = row.len() <= width
            && row.iter().zip(&words).all(|(field, &word)| word || cell(field, mark) != Cell::Word);
        clean += usize::from(fits);
        if fits && marked.is_none() {
            let numbers = row.iter().filter(|field| cell(field, mark).is_number());
            marked = numbers.flat_map(|field| field.chars()).find(|c| matches!(c, '.' | ','));
        }
    }
    let units = with_units > without_units;
    Some(Trial { delimiter, mark, width, words, units, clean, numeric, backwards, marked })
}

fn begins_like_a_number(field: &str) -> bool {
    // A date has a column of its own.
    let parts: Vec<&str> = field.trim().split(['-', '.', '/']).collect();
    if parts.len() == 3
        && parts.iter().all(|part| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit()))
    {
        return false;
    }
    field.trim_start().trim_start_matches(['+', '-', '−']).starts_with(|c: char| c.is_ascii_digit())
}

fn most_common(lengths: impl Iterator<Item = usize>) -> Option<usize> {
    let mut counts: Vec<(usize, usize)> = Vec::new();
    for length in lengths {
        match counts.iter_mut().find(|entry| entry.0 == length) {
            Some(entry) => entry.1 += 1,
            None => counts.push((length, 1)),
        }
    }
    counts.iter().max_by_key(|entry| entry.1).map(|entry| entry.0)
}

/// Are `0,125` and `0,250` one number each (true), or two (false)?
fn one_or_two(whole: &str, text: &str, one: &Trial, width: usize) -> Option<bool> {
    // The heading's fields tell, where it has any.
    let mut rows = Rows::new(whole, Delimiter::Comma);
    let mut fields = Vec::new();
    let mut heading = 0;
    while let Some(place) = rows.next(&mut fields, FIELDS) {
        if fields.iter().any(|field| cell(field, DecimalMark::Point).is_number()) {
            break;
        }
        let start = whole.get(place.start..place.end).unwrap_or_default();
        if !is_comment(start, Delimiter::Comma) && !start.trim().is_empty() {
            heading = fields.iter().filter(|field| !field.trim().is_empty()).count();
        }
    }
    match heading {
        1 => return Some(true),
        2.. => return Some(false),
        0 if width > 2 => return Some(true),
        0 => {}
    }
    let rows = sample(text, Delimiter::Comma, DecimalMark::Point);
    // No one writes 05 for five.
    let zero_before = |field: &&&str| field.len() > 1 && field.starts_with('0');
    if rows.iter().filter_map(|row| row.get(1)).filter(zero_before).count() > 0 {
        return Some(true);
    }
    let first: Vec<f64> = rows
        .iter()
        .filter_map(|row| row.first())
        .map(|field| cell(field, DecimalMark::Point).value())
        .collect();
    let stands_still = first.windows(2).any(|pair| matches!(pair, [a, b] if b <= a));
    match (stands_still, one.backwards) {
        (true, 0) => Some(true),
        (false, 1..) => Some(false),
        _ => None,
    }
}

/// The first field with a digit that a reading satisfies, for examples in questions.
fn example(text: &str, delimiter: Delimiter, mark: char) -> String {
    let mut rows = Rows::new(text, delimiter);
    let mut fields = Vec::new();
    while let Some(place) = rows.next(&mut fields, FIELDS) {
        if place.start > BYTES {
            break;
        }
        let shows = |field: &&&str| field.contains(mark) && cell(field, DecimalMark::Comma).is_number();
        if let Some(field) = fields.iter().find(shows) {
            return field.trim().to_owned();
        }
    }
    format!("1{mark}234")
}

fn one_or_two_question(text: &str) -> Question {
    let field = example(text, Delimiter::Semicolon, ',');
    let (whole, decimals) = field.split_once(',').unwrap_or(("0", "125"));
    let number = words::with_mark(&format!("{whole}.{decimals}"));
    let answers = vec![
        Answer {
            words: words::readings::one_number(&number),
            choices: vec![Choice::Delimiter(Delimiter::Semicolon), Choice::Decimal(DecimalMark::Comma)],
        },
        Answer {
            words: words::readings::two_columns(&whole, &decimals),
            choices: vec![Choice::Delimiter(Delimiter::Comma), Choice::Decimal(DecimalMark::Point)],
        },
    ];
    Question { words: words::readings::what_is(&field), answers }
}

fn thousands_question(text: &str, delimiter: Delimiter, mark: char) -> Question {
    let field = example(text, delimiter, mark);
    let plain: String = field.chars().filter(char::is_ascii_digit).collect();
    let decimal = words::with_mark(&field.replace(',', "."));
    let (small, large) = match mark {
        ',' => (DecimalMark::Comma, DecimalMark::Point),
        _ => (DecimalMark::Point, DecimalMark::Comma),
    };
    let said = |mark| vec![Choice::Delimiter(delimiter), Choice::Decimal(mark)];
    let answers = vec![
        Answer { words: words::readings::as_decimal(&decimal), choices: said(small) },
        Answer { words: words::readings::as_thousands(&plain), choices: said(large) },
    ];
    Question { words: words::readings::what_is_in_file(&field), answers }
}

#[cfg(test)]
mod tests;
