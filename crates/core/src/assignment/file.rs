//! The assignment file, both ways. What a file leaves out is as in [`Assignment::default`]; of the practice bench as
//! in [`BenchSettings::default`]. Unknown fields are refused, so that a misspelled one is noticed.

use super::{Assignment, Source, Station};
use crate::bench::file::layout::{block, line, list, number, text};
use crate::bench::file::{choices, fields};
use crate::bench::{BenchSettings, Seed};
use crate::comparison::Criterion;
use crate::lab::{ApparatusField, Given};
use crate::lab_file;
use serde_json::Value;
use std::collections::BTreeSet;
use whorl_document::{Node, NotJson, line_and_column, parse, read};
use whorl_words as words;

/// What stands under `format`.
pub const ASSIGNMENT_FORMAT: &str = "whorl-assignment";
/// What stands under `version`: raised when older programs could not read the file any more.
pub const ASSIGNMENT_VERSION: u32 = 1;
/// The largest file that is opened, in bytes.
pub const LARGEST: usize = 1_000_000;

/// Why an assignment file cannot be opened.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum AssignmentFileError {
    /// Not JSON.
    #[error("{}", words::assigning::not_json(line, column, message))]
    Json {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the JSON reader says.
        message: String,
    },
    /// Some other JSON document.
    #[error("{}", words::assigning::not_an_assignment(&ASSIGNMENT_FORMAT))]
    NotAnAssignment,
    /// From a later program.
    #[error("{}", words::assigning::newer(found, &ASSIGNMENT_VERSION))]
    Newer {
        /// The file's version.
        found: u64,
    },
    /// A value that cannot be.
    #[error("{}", words::assigning::wrong_value(line, column, place, problem))]
    Value {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// Where, as a path of names from the top.
        place: String,
        /// Why not, and what would do.
        problem: String,
    },
}

impl From<NotJson> for AssignmentFileError {
    fn from(NotJson { line, column, message }: NotJson) -> Self {
        Self::Json { line, column, message }
    }
}

/// Opens an assignment file.
///
/// # Errors
/// Says by line and column where the file is not an assignment and what to do about it.
pub fn open(text: &str) -> Result<Assignment, AssignmentFileError> {
    let document = parse(text)?;
    if document.get("format").and_then(Value::as_str) != Some(ASSIGNMENT_FORMAT) {
        return Err(AssignmentFileError::NotAnAssignment);
    }
    if let Some(found) = document.get("version").and_then(Value::as_u64)
        && found > u64::from(ASSIGNMENT_VERSION)
    {
        return Err(AssignmentFileError::Newer { found });
    }
    opened(&document, &["format", "version"]).map_err(|(place, problem)| {
        let (line, column) = line_and_column(text, &place);
        AssignmentFileError::Value { line, column, place, problem }
    })
}

/// An assignment from its fields, checked; `others` are fields that stand there, too. The error says where, and what.
pub(super) fn opened(document: &Value, others: &[&str]) -> Result<Assignment, (String, String)> {
    let assignment =
        read(document, |top| assignment(top, others)).map_err(whorl_document::Wrong::into_parts)?;
    assignment.check().map_err(|wrong| (wrong.place, wrong.problem))?;
    Ok(assignment)
}

/// Fields beside format and version.
const KNOWN: [&str; 12] = [
    "title",
    "instructions",
    "stations",
    "derivation",
    "given",
    "measure",
    "pieces_kg",
    "agreement",
    "objects",
    "bench",
    "code",
    "recorded",
];

fn assignment(top: &Node<'_>, others: &[&str]) -> Assignment {
    let known: Vec<&str> = others.iter().copied().chain(KNOWN).collect();
    top.only(&known);
    if others.contains(&"version") && top.field("version").count() != Some(ASSIGNMENT_VERSION) {
        top.field("version").wrong(words::lab_file::no_such_version());
    }
    let place = top.field("stations");
    let stations = if place.is_missing() {
        Station::ALL.into_iter().collect()
    } else {
        keyed(&place, &Station::ALL, Station::key)
    };
    Assignment {
        title: top.field("title").text().unwrap_or_default(),
        instructions: top.field("instructions").text().unwrap_or_default(),
        stations,
        derivation: top.field("derivation").text(),
        given: lab_file::given(&top.field("given")),
        measure: keyed(&top.field("measure"), &ApparatusField::ALL, ApparatusField::key),
        pieces_kg: top.field("pieces_kg").numbers().unwrap_or_default(),
        agreement: lab_file::criterion(&top.field("agreement")),
        readings: source(top),
    }
}

/// The members of a list of names.
fn keyed<T: Copy + Ord>(node: &Node<'_>, all: &[T], key: fn(T) -> &'static str) -> BTreeSet<T> {
    let one = |item: &Node<'_>| {
        let name = item.text().unwrap_or_default();
        let found = all.iter().copied().find(|one| key(*one) == name);
        if found.is_none() {
            let known: Vec<&str> = all.iter().map(|one| key(*one)).collect();
            item.wrong(&words::assigning::unknown_name(&known.join(", ")));
        }
        found
    };
    node.list(&one).into_iter().flatten().collect()
}

fn source(top: &Node<'_>) -> Source {
    let [objects, bench, recorded] = ["objects", "bench", "recorded"].map(|name| top.field(name));
    let several = [&objects, &bench, &recorded].into_iter().filter(|node| !node.is_missing()).count() > 1;
    if several {
        top.wrong(words::assigning::one_source());
    }
    let code = top.field("code");
    if !code.is_missing() && bench.is_missing() {
        code.wrong(words::assigning::code_without_bench());
    }
    if !bench.is_missing() {
        let code = code
            .text()
            .and_then(|text| Seed::from_code(&text).map_err(|problem| code.wrong(&problem.to_string())).ok());
        let settings = choices(&bench, &[], BenchSettings::default());
        return Source::Bench { settings: Box::new(settings), code };
    }
    match recorded.text() {
        Some(address) => Source::Recorded { address },
        None => Source::Own { objects: objects.list(&Node::required_text) },
    }
}

/// Writes an assignment as a file, for people to read and change.
pub fn save(assignment: &Assignment) -> String {
    let stations: Vec<String> = assignment.stations.iter().map(|station| text(station.key())).collect();
    let measure: Vec<String> = assignment.measure.iter().map(|field| text(field.key())).collect();
    let pieces: Vec<String> = assignment.pieces_kg.iter().map(|piece| number(*piece)).collect();
    let short = |items: &[String]| format!("[{}]", items.join(", "));
    let mut top = vec![
        ("format", text(ASSIGNMENT_FORMAT)),
        ("version", ASSIGNMENT_VERSION.to_string()),
        ("title", text(&assignment.title)),
        ("instructions", text(&assignment.instructions)),
        ("stations", short(&stations)),
    ];
    top.extend(assignment.derivation.as_ref().map(|id| ("derivation", text(id))));
    top.push(("given", given(&assignment.given)));
    top.push(("measure", short(&measure)));
    top.push(("pieces_kg", short(&pieces)));
    top.push(("agreement", criterion(assignment.agreement)));
    match &assignment.readings {
        Source::Own { objects } => {
            let names: Vec<String> = objects.iter().map(|name| text(name)).collect();
            top.push(("objects", list(&names)));
        }
        Source::Bench { settings, code } => {
            top.push(("bench", block(&fields(settings), '{', 0).replace('\n', "\n  ")));
            top.extend(code.map(|code| ("code", text(&code.code()))));
        }
        Source::Recorded { address } => top.push(("recorded", text(address))),
    }
    block(&top, '{', 0) + "\n"
}

fn given(given: &Given) -> String {
    let entry = |field: ApparatusField| {
        let (value, u) = given.value(field)?;
        let written = match field {
            // Read as a whole number: never with a power of ten.
            ApparatusField::Spokes => format!("{value:.0}"),
            _ if field.has_u() => line(&[("value", number(value)), ("u", number(u))]),
            _ => number(value),
        };
        Some((field.key(), written))
    };
    let entries: Vec<_> = given.fields().filter_map(entry).collect();
    if entries.is_empty() { "{}".to_owned() } else { block(&entries, '{', 1) }
}

fn criterion(criterion: Criterion) -> String {
    match criterion {
        Criterion::Interval => text("interval"),
        Criterion::NormalizedError => text("normalized-error"),
        Criterion::Percent(most) => line(&[("percent", number(most))]),
    }
}
