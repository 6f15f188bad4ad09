//! JSON → settings, checked.

use super::save::edges_key;
use super::{BENCH_FORMAT, BENCH_VERSION};
use crate::bench::fault::Fault;
use crate::bench::fields::{FIELDS, SettingsProblem};
use crate::bench::instruments::{Instrument, Instruments};
use crate::bench::settings::{BenchSettings, ObjectSettings, PartSettings};
use crate::bench::spread::Spread;
use crate::bodies::Shape;
use crate::simulation::gate::EdgesSeen;
use core::num::NonZeroU32;
use serde_json::Value;
use whorl_document::{Node, NotJson, Wrong, parse, read};
use whorl_words as words;

/// Why a bench file cannot be opened.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum BenchFileError {
    /// Not JSON.
    #[error("{}", words::bench::not_json(line, column, message))]
    Json {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the JSON reader says.
        message: String,
    },
    /// Some other JSON document.
    #[error("{}", words::bench::not_a_bench(&BENCH_FORMAT))]
    NotABench,
    /// From a later program.
    #[error("{}", words::bench::newer(found, &BENCH_VERSION))]
    Newer {
        /// The file's version.
        found: u32,
    },
    /// A value that cannot be.
    #[error("{}", words::bench::wrong_value(place, problem))]
    Value {
        /// Where, as a path of names from the top.
        place: String,
        /// Why not, and what would do.
        problem: String,
    },
}

impl From<NotJson> for BenchFileError {
    fn from(NotJson { line, column, message }: NotJson) -> Self {
        Self::Json { line, column, message }
    }
}

impl From<Wrong> for BenchFileError {
    fn from(wrong: Wrong) -> Self {
        let (place, problem) = wrong.into_parts();
        Self::Value { place, problem }
    }
}

impl From<SettingsProblem> for BenchFileError {
    fn from(SettingsProblem { place, problem }: SettingsProblem) -> Self {
        Self::Value { place, problem }
    }
}

/// Groups of a file and the fields they have beside the quantities.
const GROUPS: [(&str, &[&str]); 5] =
    [("drum", &[]), ("pulley", &["spokes"]), ("table", &[]), ("friction", &[]), ("gate", &["edges"])];

/// Fields at the top beside groups and quantities.
const TOP: [&str; 6] = ["title", "about", "masses_kg", "objects", "instruments", "faults"];

/// Opens a bench file.
///
/// # Errors
/// Says where the file is not a bench and what to do about it.
pub fn open(text: &str) -> Result<BenchSettings, BenchFileError> {
    let document = parse(text)?;
    if document.get("format").and_then(Value::as_str) != Some(BENCH_FORMAT) {
        return Err(BenchFileError::NotABench);
    }
    if let Some(found) = document.get("version").and_then(Value::as_u64)
        && found > u64::from(BENCH_VERSION)
    {
        return Err(BenchFileError::Newer { found: u32::try_from(found).unwrap_or(u32::MAX) });
    }
    let settings = read(&document, settings)?;
    settings.check()?;
    Ok(settings)
}

fn settings(top: &Node<'_>) -> BenchSettings {
    if top.field("version").count() != Some(BENCH_VERSION) {
        top.field("version").wrong(words::lab_file::no_such_version());
    }
    // What stands in the standard bench's title and about is not said of another.
    let untitled = BenchSettings { title: String::new(), about: String::new(), ..BenchSettings::default() };
    choices(top, &["format", "version"], untitled)
}

/// The settings at a place of a document; what stands nowhere there is as in `settings`. `others` are fields that the
/// place may have beside them.
pub(crate) fn choices(top: &Node<'_>, others: &[&'static str], mut settings: BenchSettings) -> BenchSettings {
    let groups = GROUPS.map(|group| group.0);
    let known: Vec<&str> = others.iter().copied().chain(TOP).chain(groups).chain(quantities("")).collect();
    top.only(&known);
    for (name, place) in [("title", &mut settings.title), ("about", &mut settings.about)] {
        if let Some(text) = top.field(name).text() {
            *place = text;
        }
    }
    for (group, others) in GROUPS {
        let node = top.field(group);
        if !node.is_missing() {
            let known: Vec<&str> = others.iter().copied().chain(quantities(group)).collect();
            node.only(&known);
        }
    }
    for field in &FIELDS {
        let node = if field.group.is_empty() { top.clone() } else { top.field(field.group) };
        if let Some(found) = spread(&node.field(field.key)) {
            *(field.place)(&mut settings) = found;
        }
    }
    if let Some(spokes) = counted(&top.field("pulley").field("spokes")) {
        settings.pulley.spokes = spokes;
    }
    let place = top.field("gate").field("edges");
    if let Some(key) = place.text() {
        let both = [EdgesSeen::Blocked, EdgesSeen::Both];
        match both.into_iter().find(|edges| edges_key(*edges) == key) {
            Some(edges) => settings.gate.edges = edges,
            None => place.wrong(words::bench::blocked_or_both()),
        }
    }
    if let Some(masses) = top.field("masses_kg").numbers() {
        settings.masses_kg = masses;
    }
    let place = top.field("objects");
    if !place.is_missing() {
        settings.objects = place.list(&object);
    }
    instruments(&top.field("instruments"), &mut settings.instruments);
    settings.faults = top.field("faults").list(&fault).into_iter().flatten().collect();
    settings
}

/// Names of the quantities of a group.
fn quantities(group: &str) -> impl Iterator<Item = &'static str> {
    FIELDS.iter().filter(move |field| field.group == group).map(|field| field.key)
}

/// A number, or a range; `None` where nothing stands.
fn spread(node: &Node<'_>) -> Option<Spread> {
    if node.is_missing() {
        return None;
    }
    let mut found = None;
    if let Some((from, to)) = ends(node) {
        found = Some(Spread::Between { from, to });
    } else if node.is_fine() {
        found = node.number().map(Spread::Fixed);
    }
    found
}

/// Both ends of a range; `None` for anything else, complained about where it has fields.
fn ends(node: &Node<'_>) -> Option<(f64, f64)> {
    if !node.has_fields() {
        return None;
    }
    node.only(&["from", "to"]);
    let [from, to] = ["from", "to"].map(|name| node.field(name).number());
    let ends = from.zip(to);
    if ends.is_none() {
        node.wrong(&words::bench::number_or_range(&"{\"from\": 0.024, \"to\": 0.026}"));
    }
    ends
}

fn counted(node: &Node<'_>) -> Option<NonZeroU32> {
    let found = NonZeroU32::new(node.count()?);
    if found.is_none() {
        node.wrong(words::lab_file::one_or_more());
    }
    found
}

fn object(node: &Node<'_>) -> ObjectSettings {
    node.only(&["name", "parts"]);
    ObjectSettings { name: node.field("name").required_text(), parts: node.field("parts").list(&part) }
}

fn part(node: &Node<'_>) -> PartSettings {
    node.only(&["shape", "count", "mass_kg", "dimensions_m", "offset_m"]);
    let key = node.field("shape").text().unwrap_or_default();
    let shape = Shape::from_key(&key).unwrap_or_else(|| {
        let known: Vec<&str> = Shape::ALL.into_iter().map(Shape::key).collect();
        node.field("shape").wrong(&words::lab_file::unknown_shape(&key, &known.join(", ")));
        Shape::Disc
    });
    PartSettings {
        shape,
        count: counted(&node.field("count")).unwrap_or(NonZeroU32::MIN),
        mass_kg: needed(&node.field("mass_kg")),
        dimensions_m: node.field("dimensions_m").list(&needed),
        offset_m: spread(&node.field("offset_m")),
    }
}

/// A quantity that may not be missing.
fn needed(node: &Node<'_>) -> Spread {
    if node.is_missing() {
        node.wrong(&words::bench::number_or_range(&"{\"from\": 0.024, \"to\": 0.026}"));
    }
    spread(node).unwrap_or(Spread::NONE)
}

fn instruments(node: &Node<'_>, found: &mut Instruments) {
    if node.is_missing() {
        return;
    }
    let hanging = found.clone().hanging().map(|(key, ..)| key);
    let known: Vec<&str> = found.all().iter().map(|(key, _)| *key).chain(hanging).collect();
    node.only(&known);
    for (key, instrument) in found.all() {
        let place = node.field(key);
        if place.is_missing() {
            continue;
        }
        place.only(&["step", "u"]);
        let number = |name: &str| place.field(name).number().unwrap_or(0.0);
        *instrument = Instrument { step: number("step"), u: number("u") };
    }
    for (key, value, _) in found.hanging() {
        if let Some(number) = node.field(key).number() {
            *value = number;
        }
    }
}

fn fault(node: &Node<'_>) -> Option<Fault> {
    let place = node.field("fault");
    let key = place.text().unwrap_or_default();
    let Some(mut fault) = Fault::ALL.into_iter().find(|fault| fault.key() == key) else {
        let known: Vec<&str> = Fault::ALL.into_iter().map(Fault::key).collect();
        place.wrong(&words::bench::unknown_fault(&key, &known.join(", ")));
        return None;
    };
    let mut known = vec!["fault"];
    if let Fault::WrongStamp { mass, .. } = &mut fault {
        known.push("mass");
        if let Some(found) = node.field("mass").count() {
            *mass = found as usize;
        }
    }
    for (size, value) in fault.sizes() {
        known.push(size.key);
        if let Some(found) = node.field(size.key).number() {
            *value = found;
        }
    }
    node.only(&known);
    Some(fault)
}
