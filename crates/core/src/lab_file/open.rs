//! JSON → lab, through the checking constructors.

use super::assigned::{FIELD as ASSIGNMENT, assigned};
use super::dataset::{FIELD, dataset};
use super::error::LabFileError;
use super::migrations::{Moved, to_current};
use super::open_record::{NamedFiles, not_to_be_had, readings_from_file, record, source};
use super::{FORMAT, VERSION, recorded};
use crate::bodies::Shape;
use crate::lab::{
    ApparatusEntry, Configuration, Lab, ObjectId, PartEntry, PlanEntry, Provenance, RunEntry, RunId,
};
use crate::measured::Measured;
use crate::prelab::{DerivationSource, Prelab, StepRecord};
use crate::quantity::Quantity;
use crate::quantity::{KilogramMeters2, Kilograms, NewtonMeters, Ratio, Seconds};
use crate::runs::Stretch;
use crate::torque::Motion;
use core::num::NonZeroU32;
use serde_json::Value;
use std::collections::BTreeMap;
use whorl_document::{Node, parse as parse_json, read};
use whorl_words as words;

/// A relative path that a lab file names, seen to stay beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenedPath<'a>(pub(super) &'a str);

impl OpenedPath<'_> {
    /// The path, with `/` between its parts.
    pub fn as_str(&self) -> &str {
        self.0
    }
}

/// Opens a lab file. `read_file` is asked for the files that runs name by relative path.
///
/// One of an older version is brought to the current one. One of a newer version opens as far as
/// it is understood, as a lab that cannot be changed ([`Lab::newer`]).
///
/// # Errors
/// Says where the file is not a lab and what to do about it.
pub fn open(
    text: &str,
    read_file: &mut dyn FnMut(&OpenedPath<'_>) -> Result<Vec<u8>, String>,
) -> Result<Lab, LabFileError> {
    open_with(text, Some(&ALL), &mut |place, file| readings_from_file(place, file, read_file))
}

/// Opens a lab file that holds all its readings itself.
///
/// # Errors
/// Says where the file is not a lab, or which file it names, and what to do about it.
pub fn open_alone(text: &str) -> Result<Lab, LabFileError> {
    open_with(text, Some(&ALL), &mut |place, file| not_to_be_had(place, file))
}

/// The same, unless it is a recorded lab, work that was set, or of another version than the current one; the page carries no more than this.
///
/// # Errors
/// Says where the file is not a lab, or which file it names, and what to do about it, or that it is one of those.
pub fn open_own(text: &str) -> Result<Lab, LabFileError> {
    open_with(text, None, &mut |place, file| not_to_be_had(place, file))
}

/// What a group's own lab of the current version does not need.
struct More {
    /// Reads what such a lab does not hold: the record of a recorded one, the work that was set. From here on nothing
    /// that was recorded can be changed, and nothing that was given.
    reads: fn(Lab, &Node<'_>, &BTreeMap<u32, ObjectId>) -> Lab,
    /// Brings older files to the current version.
    migrate: fn(&mut Value, u32) -> Moved,
    /// Locks a lab from a newer file.
    lock: fn(Lab, u32, &str) -> Lab,
}

const ALL: More = More { reads: with_more, migrate: to_current, lock: Lab::of_newer };

fn with_more(lab: Lab, top: &Node<'_>, ids: &BTreeMap<u32, ObjectId>) -> Lab {
    let lab = match dataset(&top.field(FIELD), ids) {
        Some(found) => recorded(lab, found),
        None => lab,
    };
    assigned(lab, &top.field(ASSIGNMENT))
}

fn open_with(text: &str, more: Option<&More>, named: &mut NamedFiles<'_>) -> Result<Lab, LabFileError> {
    let mut document = parse_json(text)?;
    if document.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(LabFileError::NotALab);
    }
    let version = document.get("version").and_then(Value::as_u64).and_then(|version| version.try_into().ok());
    match (version, more) {
        (Some(found), None) if found != VERSION => Err(LabFileError::OtherVersion { found }),
        (Some(found @ 1..VERSION), Some(more)) => {
            let moved = (more.migrate)(&mut document, found);
            understood(&document, Some(more), named).map_err(|problem| moved_back(problem, &moved))
        }
        (Some(found), Some(more)) if found > VERSION => match understood(&document, Some(more), named) {
            Ok(lab) => Ok((more.lock)(lab, found, text)),
            Err(LabFileError::Value { place, problem }) => {
                Err(LabFileError::NewerNotUnderstood { found, place, problem })
            }
            Err(problem) => Err(problem),
        },
        _ => understood(&document, more, named),
    }
}

/// A complaint about a place in the file as it is.
fn moved_back(problem: LabFileError, moved: &Moved) -> LabFileError {
    match problem {
        LabFileError::Value { place, problem } => LabFileError::Value { place: moved.back(&place), problem },
        other => other,
    }
}

/// What a document of the current version says, all of it in the document.
pub(super) fn understood_alone(document: &Value) -> Result<Lab, LabFileError> {
    understood(document, Some(&ALL), &mut |place, file| not_to_be_had(place, file))
}

/// What a document of the current version says; of a newer one, what is still said the same way.
fn understood(
    document: &Value,
    more: Option<&More>,
    named: &mut NamedFiles<'_>,
) -> Result<Lab, LabFileError> {
    // Files that runs name have complaints of their own, which end the reading.
    let mut elsewhere = None;
    let lab = read(document, |top| lab(top, more, named, &mut elsewhere));
    match (lab, elsewhere) {
        (Err(wrong), _) => Err(wrong.into()),
        (Ok(_), Some(problem)) => Err(problem),
        (Ok(lab), None) => Ok(lab),
    }
}

fn lab(
    top: &Node<'_>,
    more: Option<&More>,
    named: &mut NamedFiles<'_>,
    elsewhere: &mut Option<LabFileError>,
) -> Lab {
    let mut lab = Lab::default();
    if top.field("version").count().is_none_or(|version| version < VERSION) {
        top.field("version").wrong(words::lab_file::no_such_version());
    }
    lab.title = top.field("title").text().unwrap_or_default();
    lab.notes = top.field("notes").text().unwrap_or_default();
    lab.provenance = match top.field("provenance").text().as_deref() {
        Some("simulated") => Provenance::Simulated,
        None | Some("measured") => Provenance::Measured,
        Some(_) => {
            top.field("provenance").wrong(words::lab_file::measured_or_simulated());
            Provenance::Measured
        }
    };
    lab.bench = top.field("bench").text();
    lab.forecasts = top.field("forecasts").text();
    lab.hand_in = top.field("hand_in").text();
    lab.apparatus = apparatus(&top.field("apparatus"));
    lab.prelab = prelab(&top.field("prelab"));
    lab.plan = plan(&top.field("plan"));
    // Ids in the file may be any numbers; the lab gives its own.
    let mut ids: BTreeMap<u32, ObjectId> = BTreeMap::new();
    for node in top.field("objects").items() {
        let place = node.field("id");
        let parts = node.field("parts").list(&part);
        let name = node.field("name").text().unwrap_or_default();
        let own = lab.add_object(name, parts);
        match place.count() {
            None => place.wrong(words::lab_file::object_without_id()),
            Some(id) => {
                if ids.insert(id, own).is_some() {
                    place.wrong(words::lab_file::id_taken());
                }
            }
        }
    }
    for node in top.field("runs").items() {
        match run(&node, &ids, named) {
            Ok(Some(entry)) => drop(lab.add_run(entry)),
            Ok(None) => {}
            Err(problem) => {
                *elsewhere = Some(problem);
                break;
            }
        }
    }
    for node in top.field("balancing").items() {
        let mass = measured(&node.field("mass_kg"));
        lab.set_balancing_mass(configuration(&node, &ids), mass);
    }
    if let Some(more) = more {
        return (more.reads)(lab, top, &ids);
    }
    if [FIELD, ASSIGNMENT].iter().any(|name| !top.field(name).is_missing()) {
        *elsewhere = Some(LabFileError::Recorded);
    }
    lab
}

/// A value with its standard uncertainty; without one it is zero.
pub(super) fn measured<Q: Quantity>(node: &Node<'_>) -> Option<Measured<Q>> {
    if node.is_missing() {
        return None;
    }
    let Some(value) = node.field("value").number() else {
        node.field("value").wrong(words::lab_file::number_expected());
        return None;
    };
    let u = node.field("u").number().unwrap_or(0.0);
    Measured::new(Q::from_si(value), Q::from_si(u)).map_err(|problem| node.wrong(&problem.to_string())).ok()
}

pub(super) fn apparatus(node: &Node<'_>) -> ApparatusEntry {
    ApparatusEntry {
        drum_radius: measured(&node.field("drum_radius_m")),
        string_diameter: measured(&node.field("string_diameter_m")),
        gravity: measured(&node.field("gravity_m_per_s2")),
        spokes: counted(&node.field("spokes")),
        travel_per_spoke: measured(&node.field("travel_per_spoke_m")),
        mass_scale_uncertainty: Ratio(node.field("mass_scale_relative_u").number().unwrap_or(0.0)),
        hanging_mass_uncertainty: Kilograms(node.field("hanging_mass_u_kg").number().unwrap_or(0.0)),
        pulley_inertia: measured(&node.field("pulley_inertia_kg_m2")),
        drop_height: measured(&node.field("drop_height_m")),
    }
}

fn prelab(node: &Node<'_>) -> Prelab {
    let shipped = node.field("derivation").text().map(DerivationSource::Shipped);
    let own = node.field("own_file").text().map(DerivationSource::Own);
    Prelab { derivation: shipped.or(own), steps: node.field("steps").list(&step_record) }
}

fn plan(node: &Node<'_>) -> PlanEntry {
    PlanEntry {
        pieces: node.field("pieces_kg").numbers().unwrap_or_default().into_iter().map(Kilograms).collect(),
        holder: node.field("holder_kg").number().map(Kilograms),
        runs: counted(&node.field("runs")),
        table_inertia: node.field("table_inertia_kg_m2").number().map(KilogramMeters2),
        friction_empty: node.field("friction_empty_n_m").number().map(NewtonMeters),
        friction_loaded: node.field("friction_loaded_n_m").number().map(NewtonMeters),
    }
}

fn step_record(node: &Node<'_>) -> StepRecord {
    let place = node.field("time_s");
    let seconds = place.number().unwrap_or(0.0);
    if seconds < 0.0 {
        place.wrong(words::lab_file::negative_time());
    }
    StepRecord {
        step: node.field("step").required_text(),
        entered: node.field("entered").text().unwrap_or_default(),
        accepted: node.field("accepted").text(),
        attempts: node.field("attempts").count().unwrap_or(0),
        hints: node.field("hints").count().unwrap_or(0),
        worked: node.field("worked").flag().unwrap_or(false),
        seconds,
    }
}

fn counted(node: &Node<'_>) -> Option<NonZeroU32> {
    let found = NonZeroU32::new(node.count()?);
    if found.is_none() {
        node.wrong(words::lab_file::one_or_more());
    }
    found
}

fn part(node: &Node<'_>) -> PartEntry {
    let key = node.field("shape").text().unwrap_or_default();
    let shape = Shape::from_key(&key).unwrap_or_else(|| {
        let known: Vec<&str> = Shape::ALL.into_iter().map(Shape::key).collect();
        node.field("shape").wrong(&words::lab_file::unknown_shape(&key, &known.join(", ")));
        Shape::Disc
    });
    let place = node.field("dimensions_m");
    let dimensions = place.list(&measured);
    let needed = shape.dimensions().len();
    if dimensions.len() != needed {
        place.wrong(&words::lab_file::other_number_of_dimensions(&shape.words(), &needed));
    }
    PartEntry {
        shape,
        count: counted(&node.field("count")).unwrap_or(NonZeroU32::MIN),
        mass: measured(&node.field("mass_kg")),
        dimensions,
        offset: measured(&node.field("offset_m")),
    }
}

/// A run; `None` when its readings are wrong.
fn run(
    node: &Node<'_>,
    ids: &BTreeMap<u32, ObjectId>,
    named: &mut NamedFiles<'_>,
) -> Result<Option<RunEntry>, LabFileError> {
    let configuration = configuration(node, ids);
    let motion = match node.field("motion").text() {
        None => Motion::Falling,
        Some(key) => {
            let found = Motion::ALL.into_iter().find(|motion| motion.key() == key);
            if found.is_none() {
                node.field("motion").wrong(words::lab_file::falling_rising_or_coasting());
            }
            found.unwrap_or_default()
        }
    };
    let stretch = match node.field("stretch_s").numbers().as_deref() {
        None => None,
        Some(&[from, to]) => Stretch::new(Seconds(from), Seconds(to)),
        Some(_) => {
            node.field("stretch_s").wrong(words::lab_file::two_times_expected());
            None
        }
    };
    let place = node.field("readings");
    let file = place.field("file").text();
    let (record, from_file) = match &file {
        Some(file) => named(&place, file)?.unzip(),
        None => (record(&place), None),
    };
    let name = node.field("name").text().unwrap_or_default();
    let hanging_mass = node.field("hanging_mass_kg").number().map(Kilograms);
    let source = source(node).or(from_file);
    let id = RunId(node.field("id").count().unwrap_or_default());
    let entry = |record| RunEntry { id, name, configuration, hanging_mass, motion, stretch, record, source };
    Ok(record.map(entry))
}

/// What the table carried; `null` or nothing is the empty table.
fn configuration(node: &Node<'_>, ids: &BTreeMap<u32, ObjectId>) -> Configuration {
    let place = node.field("object");
    let Some(id) = place.count() else { return Configuration::EmptyTable };
    if !ids.contains_key(&id) {
        place.wrong(words::lab_file::no_object());
    }
    ids.get(&id).copied().map_or(Configuration::EmptyTable, Configuration::Loaded)
}
