//! JSON and columns of numbers → what was read from a file.

use super::{Carries, FirstLook, Intake, Proposal};
use crate::lab::{Configuration, ObjectId};
use crate::quantity::{Kilograms, Seconds};
use crate::readings::{
    Answer, Choice, Column, Confidence, DecimalMark, Delimiter, Encoding, Guess, Layout, PreviewRow,
    Question, ReadingKind, Readings, Remark, Role,
};
use crate::runs::Stretch;
use crate::torque::Motion;
use whorl_document::{Node, NotJson, Wrong, parse, read};
use whorl_words::intake as said;

/// Why a text is not what [`super::to_json`] writes.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct NotAnIntake(String);

impl From<NotJson> for NotAnIntake {
    fn from(problem: NotJson) -> Self {
        Self(problem.to_string())
    }
}

impl From<Wrong> for NotAnIntake {
    fn from(problem: Wrong) -> Self {
        Self(problem.to_string())
    }
}

/// Reads what [`super::to_json`] and [`super::columns`] give.
///
/// # Errors
/// Says where the text is something else, or where the columns do not fit it.
pub fn from_json(text: &str, columns: &[[Vec<f64>; 2]]) -> Result<Intake, NotAnIntake> {
    let document = parse(text)?;
    Ok(read(&document, |top| intake(top, columns))?)
}

fn intake(top: &Node<'_>, columns: &[[Vec<f64>; 2]]) -> Intake {
    let runs = top.field("runs").items();
    if runs.len() != columns.len() {
        top.field("runs").wrong(said::other_number_of_runs());
    }
    let mut proposals = Vec::with_capacity(runs.len());
    for (node, columns) in runs.iter().zip(columns) {
        proposals.extend(proposal(node, columns));
    }
    Intake {
        file: words(top, "file"),
        bytes: count(top, "bytes"),
        sha256: words(top, "sha256"),
        layout: match top.field("problem").text() {
            Some(problem) => Err(problem),
            None => Ok(layout(&top.field("layout"))),
        },
        proposals,
    }
}

fn layout(node: &Node<'_>) -> Layout {
    let encoding = node.field("encoding");
    let delimiter = node.field("delimiter");
    let decimal = node.field("decimal");
    Layout {
        encoding: guess(
            &encoding,
            one_of(&encoding, "value", &Encoding::ALL, Encoding::words, Encoding::Utf8),
        ),
        delimiter: guess(
            &delimiter,
            one_of(&delimiter, "value", &Delimiter::ALL, Delimiter::key, Delimiter::Comma),
        ),
        decimal: guess(
            &decimal,
            one_of(&decimal, "value", &DecimalMark::ALL, DecimalMark::key, DecimalMark::Point),
        ),
        rows: count(node, "rows"),
        columns: node.field("columns").list(&column),
        preview: node.field("preview").list(&preview_row),
        questions: node.field("questions").list(&question),
        remarks: node.field("remarks").list(&remark),
        shape: words(node, "shape"),
    }
}

fn column(node: &Node<'_>) -> Column {
    let place = node.field("role");
    let role = Role::from_key(&words(&place, "value"));
    if role.is_none() {
        place.wrong(said::column_cannot_hold());
    }
    Column {
        heading: words(node, "heading"),
        role: guess(&place, role.unwrap_or(Role::Ignored)),
        used: node.field("used").flag().unwrap_or_default(),
    }
}

fn preview_row(node: &Node<'_>) -> PreviewRow {
    PreviewRow {
        line: count(node, "line"),
        fields: texts(node, "fields"),
        data: node.field("data").flag().unwrap_or_default(),
    }
}

fn question(node: &Node<'_>) -> Question {
    Question { words: words(node, "words"), answers: node.field("answers").list(&answer) }
}

fn answer(node: &Node<'_>) -> Answer {
    let mut choices = Vec::new();
    for text in words(node, "choices").split(';').filter(|text| !text.is_empty()) {
        match Choice::from_text(text) {
            Some(choice) => choices.push(choice),
            None => node.field("choices").wrong(said::cannot_be_said()),
        }
    }
    Answer { words: words(node, "words"), choices }
}

fn remark(node: &Node<'_>) -> Remark {
    Remark { line: node.field("line").count().map(|line| line as usize), words: words(node, "words") }
}

/// `None` after a complaint.
fn proposal(node: &Node<'_>, [times, values]: &[Vec<f64>; 2]) -> Option<Proposal> {
    let carries = match words(node, "carries").as_str() {
        "empty" => Carries::Known(Configuration::EmptyTable),
        "object" => {
            Carries::Known(Configuration::Loaded(ObjectId(node.field("object").count().unwrap_or_default())))
        }
        "new" => Carries::New(words(node, "new_object")),
        "untold" => Carries::Untold,
        _ => {
            node.field("carries").wrong(said::no_such_word());
            return None;
        }
    };
    let kind = one_of(node, "kind", &ReadingKind::ALL, ReadingKind::key, ReadingKind::GateTimes);
    let times: Vec<Seconds> = times.iter().copied().map(Seconds).collect();
    let readings = match Readings::from_columns(kind, &times, values) {
        Ok(readings) if readings.count() == count(node, "readings") => readings,
        _ => {
            node.field("readings").wrong(said::other_readings());
            return None;
        }
    };
    Some(Proposal {
        name: words(node, "name"),
        carries,
        hanging_mass: node.field("hanging_mass_kg").number().map(Kilograms),
        motion: one_of(node, "motion", &Motion::ALL, Motion::key, Motion::Falling),
        readings,
        label: words(node, "label"),
        remarks: texts(node, "remarks"),
        first: first_look(&node.field("first_look")),
    })
}

fn first_look(node: &Node<'_>) -> FirstLook {
    FirstLook {
        stretch: pair(&node.field("stretch_s"))
            .and_then(|(from, to)| Stretch::new(Seconds(from), Seconds(to))),
        acceleration: node.field("acceleration").text().ok_or_else(|| words(node, "acceleration_problem")),
        doubts: texts(node, "doubts"),
        curve: node.field("curve").list(&|point| pair(point).unwrap_or_default()),
        curve_unit: words(node, "curve_unit"),
    }
}

/// The one whose key stands in a field; `stand_in`, after a complaint, when there is none.
fn one_of<T: Copy>(
    node: &Node<'_>,
    name: &str,
    all: &[T],
    key: impl Fn(T) -> &'static str,
    stand_in: T,
) -> T {
    let text = words(node, name);
    all.iter().copied().find(|&each| key(each) == text).unwrap_or_else(|| {
        node.field(name).wrong(said::no_such_word());
        stand_in
    })
}

fn guess<T>(node: &Node<'_>, value: T) -> Guess<T> {
    let key = |confidence: Confidence| confidence.key();
    let confidence = one_of(node, "confidence", &Confidence::ALL, key, Confidence::Open);
    Guess { value, confidence, reason: words(node, "reason") }
}

/// Two numbers, where any stand.
fn pair(node: &Node<'_>) -> Option<(f64, f64)> {
    let &[first, second] = node.numbers()?.as_slice() else {
        node.wrong(said::two_numbers_expected());
        return None;
    };
    Some((first, second))
}

fn texts(node: &Node<'_>, name: &str) -> Vec<String> {
    node.field(name).list(&|item| item.text().unwrap_or_default())
}

fn words(node: &Node<'_>, name: &str) -> String {
    node.field(name).text().unwrap_or_default()
}

fn count(node: &Node<'_>, name: &str) -> usize {
    node.field(name).count().unwrap_or_default() as usize
}
