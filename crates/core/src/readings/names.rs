//! The rows of words above a block → a name, a unit and a label for each column, and what they tell of
//! the whole block.

use super::Delimiter;
use super::headings::{Meaning, UnitFound, heading, is_unit_cell, unit};
use super::number::{Cell, cell};
use super::split::Rows;
use super::table::{Block, HeadRow};
use super::{DecimalMark, Remark};
use crate::quantity::Kilograms;

/// What the words above a block say.
#[derive(Clone, Debug, Default)]
pub(super) struct Names {
    /// One for each column.
    pub(super) columns: Vec<Name>,
    /// What the block is called.
    pub(super) title: Option<String>,
    pub(super) about: About,
    /// Whether any column has a name or a unit.
    pub(super) any: bool,
}

/// What the words say of one column.
#[derive(Clone, Debug, Default)]
pub(super) struct Name {
    /// As the file has it, the unit included.
    pub(super) written: String,
    pub(super) meaning: Option<Meaning>,
    pub(super) unit: Option<UnitFound>,
    /// Which run it belongs to.
    pub(super) label: Option<String>,
}

/// What a file says of a run beside its readings.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct About {
    pub(super) run: Option<String>,
    pub(super) carries: Option<String>,
    pub(super) hanging_mass: Option<Kilograms>,
    pub(super) motion: Option<crate::torque::Motion>,
}

/// Reads the rows above a block.
#[inline(never)]
pub(super) fn names(block: &Block, delimiter: Delimiter) -> Names {
    let width = block.columns.len();
    let words: Vec<&HeadRow> = block.heads.iter().filter(|head| !head.comment).collect();
    let filled = |head: &HeadRow| head.fields.iter().filter(|field| !field.is_empty()).count();
    let all_units = |head: &HeadRow| {
        filled(head) > 0
            && head.fields.iter().filter(|field| !field.is_empty()).all(|field| is_unit_cell(field))
    };
    let says = |field: &str| {
        let heading = heading(field);
        heading.meaning.is_some() || matches!(heading.unit, UnitFound::Known { .. })
    };
    let names_something = |head: &HeadRow| head.fields.iter().any(|field| says(field));
    let is_name_row = |head: &&&HeadRow| {
        let enough = filled(head) >= 2 || width == 1 || (filled(head) == 1 && head.fields.len() > 1);
        enough && !all_units(head) && !is_pair(head) && names_something(head)
    };
    let could_name = |head: &&&HeadRow| {
        !all_units(head)
            && !is_pair(head)
            && head.fields.len() <= width
            && filled(head) * 2 >= width
            && (width > 1 || filled(head) == 1)
    };
    let units = words.iter().rev().find(|head| all_units(head) && head.fields.len() <= width);
    let named = words
        .iter()
        .rev()
        .find(is_name_row)
        .or_else(|| words.iter().rev().find(could_name))
        .copied()
        .cloned();
    let named = named.or_else(|| if units.is_none() { from_comment(block, delimiter, width) } else { None });
    let unit_cell =
        |index: usize| units.and_then(|row| row.fields.get(index)).filter(|field| !field.is_empty());
    let name = |index: usize| {
        let written = named.as_ref().and_then(|row| row.fields.get(index)).map_or("", String::as_str);
        let mut found = heading(written);
        let mut written = written.to_owned();
        if let Some(cell) = unit_cell(index).filter(|_| found.unit == UnitFound::None) {
            found = found.with_unit(cell);
            let space = if written.is_empty() { "" } else { " " };
            written = format!("{written}{space}({})", cell.trim_matches(['(', ')', '[', ']']));
        }
        Name { written, meaning: found.meaning, unit: known(found.unit), label: found.label }
    };
    let mut columns: Vec<Name> = (0..width).map(name).collect();
    let name_line = named.as_ref().or(units.copied()).map_or(usize::MAX, |row| row.line);
    let above = || words.iter().rev().filter(|head| head.line < name_line);
    label_groups(&mut columns, above().copied());
    for (name, data) in columns.iter_mut().zip(&block.columns) {
        if name.unit.is_none()
            && let Some(written) = &data.unit
        {
            name.unit = known(unit(written));
        }
    }
    let one_field = |head: &&&&HeadRow| {
        filled(head) == 1 && !is_pair(head) && Some(head.line) != named.as_ref().map(|row| row.line)
    };
    let title = words
        .iter()
        .rev()
        .find(|head| one_field(&head))
        .and_then(|head| head.fields.iter().find(|field| !field.is_empty()));
    let any = columns.iter().any(|name| name.meaning.is_some() || name.unit.is_some());
    Names { columns, title: title.cloned(), about: about(&block.heads), any }
}

fn known(unit: UnitFound) -> Option<UnitFound> {
    if matches!(unit, UnitFound::None) { None } else { Some(unit) }
}

/// Names of runs in a row above the names, each over the columns to its right.
fn label_groups<'h>(columns: &mut [Name], above: impl Iterator<Item = &'h HeadRow>) {
    let is_label = |field: &String| !field.is_empty() && !is_unit_cell(field);
    for head in above {
        let filled = head.fields.iter().filter(|field| is_label(field)).count();
        // A title alone in its row names the block, not the first column.
        if head.fields.len() < 2 || is_pair(head) || filled == 0 || head.fields.len() > columns.len() {
            continue;
        }
        let mut label: Option<&String> = None;
        for (index, name) in columns.iter_mut().enumerate() {
            if let Some(field) = head.fields.get(index).filter(|field| is_label(field)) {
                label = Some(field);
            }
            if name.label.is_none() {
                name.label = label.cloned();
            }
        }
        return;
    }
}

/// `key: value`, `key = value`, or a word and what it says beside it.
fn pair(head: &HeadRow) -> Option<(String, String)> {
    let filled: Vec<&String> = head.fields.iter().filter(|field| !field.is_empty()).collect();
    match filled.as_slice() {
        [only] => {
            let (key, value) = only.split_once([':', '='])?;
            (!key.trim().is_empty() && !value.trim().is_empty())
                .then(|| (key.trim().to_owned(), value.trim().to_owned()))
        }
        [key, value] => {
            let number =
                cell(value, DecimalMark::Point).is_number() || cell(value, DecimalMark::Comma).is_number();
            let colon = key.ends_with([':', '=']);
            let about =
                matches!(heading(key).meaning, Some(Meaning::Carries | Meaning::Run | Meaning::Motion))
                    && heading(value).meaning.is_none();
            (number || colon || about)
                .then(|| (key.trim_end_matches([':', '=', ' ']).to_owned(), (*value).clone()))
        }
        _ => None,
    }
}

fn is_pair(head: &HeadRow) -> bool {
    pair(head).is_some_and(|(key, value)| heading(&key).label.is_none() || heading(&value).label.is_none())
}

fn about(heads: &[HeadRow]) -> About {
    let mut about = About::default();
    for head in heads {
        let Some((key, value)) = pair(head) else { continue };
        let key = heading(&key);
        match key.meaning {
            Some(Meaning::Mass) => about.hanging_mass = mass(&value, &key.unit).or(about.hanging_mass),
            Some(Meaning::Carries) => about.carries = Some(value),
            Some(Meaning::Run) => about.run = Some(value),
            Some(Meaning::Motion) => about.motion = super::headings::motion_word(&value).or(about.motion),
            _ => {}
        }
    }
    about
}

/// A mass with the unit behind it or in its heading.
pub(super) fn mass(value: &str, heading_unit: &UnitFound) -> Option<Kilograms> {
    let mark = if value.contains(',') { DecimalMark::Comma } else { DecimalMark::Point };
    let of = |unit: &UnitFound| match unit {
        UnitFound::Known { fits, .. } => fits.iter().find(|fit| fit.0 == Meaning::Mass).map(|fit| fit.1),
        _ => None,
    };
    let (number, factor) = match cell(value, mark) {
        Cell::WithUnit(number, written) => (number, of(&unit(written))?),
        Cell::Number(number) => (number, of(heading_unit)?),
        _ => return None,
    };
    let kilograms = number * factor;
    (kilograms > 0.0 && kilograms.is_finite()).then_some(Kilograms(kilograms))
}

/// Names in the last remark before a table, as programs write them that mark all words as remarks.
fn from_comment(block: &Block, delimiter: Delimiter, width: usize) -> Option<HeadRow> {
    let comment = block.heads.iter().rev().find(|head| head.comment)?;
    let text = comment.fields.first()?;
    for delimiter in [delimiter, Delimiter::Comma, Delimiter::Semicolon, Delimiter::Tab] {
        let mut fields = Vec::new();
        Rows::new(text, delimiter).next(&mut fields, width + 1);
        let says = fields.iter().any(|field| heading(field).meaning.is_some());
        if fields.len() == width && says {
            let fields = fields.iter().map(|field| field.trim().to_owned()).collect();
            return Some(HeadRow { line: comment.line, fields, comment: false });
        }
    }
    None
}

/// A remark on a whole file or from one line on.
pub(super) fn remark(line: Option<usize>, words: String) -> Remark {
    Remark { line, words }
}
