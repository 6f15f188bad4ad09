//! JSON → lab, through the checking constructors.

use super::number::Number;
use super::saved::{
    SavedApparatus, SavedKind, SavedLab, SavedMeasured, SavedPart, SavedProvenance, SavedReadings, SavedRun,
};
use super::{FORMAT, VERSION};
use crate::bodies::Shape;
use crate::lab::{ApparatusEntry, Configuration, Lab, ObjectId, PartEntry, Provenance, RunEntry, RunId};
use crate::measured::Measured;
use crate::quantity::{Kilograms, Meters, MetersPerSecond, Quantity, Ratio, Seconds};
use crate::readings::{FileProblem, ReadingKind, Readings, Series, parse};
use crate::runs::Stretch;
use core::num::NonZeroU32;
use serde::Deserialize;
use serde_json::value::RawValue;
use std::collections::BTreeMap;

/// A relative path that a lab file names, seen to stay beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenedPath<'a>(&'a str);

impl OpenedPath<'_> {
    /// The path, with `/` between its parts.
    pub fn as_str(&self) -> &str {
        self.0
    }
}

/// Why a lab file cannot be opened.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum LabFileError {
    /// Not JSON, or not shaped like a lab.
    #[error("line {line}, column {column}: {message}. Open a file that Whorl saved, or mend this place")]
    Json {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the JSON reader says.
        message: String,
    },
    /// Some other JSON document.
    #[error(
        "line 1, column 1: this is not a Whorl lab (its “format” is not “{FORMAT}”). Open a file that Whorl saved"
    )]
    NotALab,
    /// From a later program.
    #[error(
        "this lab was saved by a newer Whorl (version {found}; this one reads up to {VERSION}). Reload the page to get the newest Whorl, or ask for the file to be saved again"
    )]
    Newer {
        /// The file's version.
        found: u32,
    },
    /// A value that cannot be.
    #[error("at {place}: {problem}. Mend this place in the file")]
    Value {
        /// Where, as a path of names from the top.
        place: String,
        /// Why not.
        problem: String,
    },
    /// A run names a file that is not to be had.
    #[error(
        "at {place}: the readings file “{file}” is missing ({reason}). Choose it together with the lab file, or put it beside the lab file"
    )]
    ReadingsMissing {
        /// Where, as a path of names from the top.
        place: String,
        /// The file named.
        file: String,
        /// What the one who looked for it says.
        reason: String,
    },
    /// A run names a file that cannot be read.
    #[error("{0}")]
    Readings(FileProblem),
}

/// Opens a lab file. `read_file` is asked for the files that runs name by relative path.
///
/// # Errors
/// Says where the file is not a lab and what to do about it.
pub fn open(
    text: &str,
    read_file: &mut dyn FnMut(&OpenedPath<'_>) -> Result<Vec<u8>, String>,
) -> Result<Lab, LabFileError> {
    /// Whatever stands there, unread: a wrong document may have anything.
    #[derive(Deserialize)]
    struct Head<'a> {
        #[serde(borrow, default)]
        format: Option<&'a RawValue>,
        #[serde(borrow, default)]
        version: Option<&'a RawValue>,
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    // The head alone first: a newer version may well not have the fields this one wants.
    let head: Head<'_> = serde_json::from_str(text).map_err(|error| json_error(&error))?;
    if head.format.is_none_or(|format| format.get() != format!("\"{FORMAT}\"")) {
        return Err(LabFileError::NotALab);
    }
    let version = head.version.and_then(|version| version.get().parse::<u32>().ok());
    if let Some(found) = version.filter(|&found| found > VERSION) {
        return Err(LabFileError::Newer { found });
    }
    let saved: SavedLab = serde_json::from_str(text).map_err(|error| json_error(&error))?;
    if saved.version != VERSION {
        return Err(value("version", "there is no such version"));
    }

    let mut lab = Lab::default();
    lab.title = saved.title;
    lab.notes = saved.notes;
    lab.provenance = match saved.provenance {
        SavedProvenance::Measured => Provenance::Measured,
        SavedProvenance::Simulated => Provenance::Simulated,
    };
    lab.apparatus = apparatus(&saved.apparatus)?;
    // Ids in the file may be any numbers; the lab gives its own.
    let mut ids: BTreeMap<u32, ObjectId> = BTreeMap::new();
    for (index, object) in saved.objects.into_iter().enumerate() {
        let place = format!("objects[{index}]");
        let parts = object
            .parts
            .into_iter()
            .enumerate()
            .map(|(number, saved)| part(saved, &format!("{place}.parts[{number}]")))
            .collect::<Result<Vec<_>, _>>()?;
        if ids.contains_key(&object.id) {
            return Err(value(&format!("{place}.id"), "another object has this id"));
        }
        ids.insert(object.id, lab.add_object(object.name, parts));
    }
    for (index, saved) in saved.runs.into_iter().enumerate() {
        let entry = run(saved, &ids, &format!("runs[{index}]"), read_file)?;
        lab.add_run(entry);
    }
    Ok(lab)
}

fn apparatus(saved: &SavedApparatus) -> Result<ApparatusEntry, LabFileError> {
    Ok(ApparatusEntry {
        drum_radius: measured(saved.drum_radius_m, "apparatus.drum_radius_m")?,
        string_diameter: measured(saved.string_diameter_m, "apparatus.string_diameter_m")?,
        gravity: measured(saved.gravity_m_per_s2, "apparatus.gravity_m_per_s2")?,
        spokes: saved.spokes.map(|spokes| counted(spokes, "apparatus.spokes")).transpose()?,
        travel_per_spoke: measured(saved.travel_per_spoke_m, "apparatus.travel_per_spoke_m")?,
        mass_scale_uncertainty: Ratio(saved.mass_scale_relative_u.0),
    })
}

fn json_error(error: &serde_json::Error) -> LabFileError {
    let message = error.to_string();
    // serde_json ends its message with the place, which is told apart here.
    let message = message.split(" at line ").next().unwrap_or(&message).to_owned();
    LabFileError::Json { line: error.line().max(1), column: error.column().max(1), message }
}

fn value(place: &str, problem: impl core::fmt::Display) -> LabFileError {
    LabFileError::Value { place: place.to_owned(), problem: problem.to_string() }
}

fn measured<Q: Quantity>(
    saved: Option<SavedMeasured>,
    place: &str,
) -> Result<Option<Measured<Q>>, LabFileError> {
    saved
        .map(|saved| Measured::new(Q::from_si(saved.value.0), Q::from_si(saved.u.0)))
        .transpose()
        .map_err(|problem| value(place, problem))
}

fn counted(count: u32, place: &str) -> Result<NonZeroU32, LabFileError> {
    NonZeroU32::new(count).ok_or_else(|| value(place, "this must be 1 or more"))
}

fn part(saved: SavedPart, place: &str) -> Result<PartEntry, LabFileError> {
    let shape = Shape::from_key(&saved.shape).ok_or_else(|| {
        let known: Vec<&str> = Shape::ALL.into_iter().map(Shape::key).collect();
        value(&format!("{place}.shape"), format!("“{}” is not one of {}", saved.shape, known.join(", ")))
    })?;
    let needed = shape.dimensions().len();
    if saved.dimensions_m.len() != needed {
        return Err(value(&format!("{place}.dimensions_m"), format!("a {} has {needed}", shape.words())));
    }
    let dimensions = saved
        .dimensions_m
        .into_iter()
        .enumerate()
        .map(|(index, length)| measured(length, &format!("{place}.dimensions_m[{index}]")))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(PartEntry {
        shape,
        count: counted(saved.count, &format!("{place}.count"))?,
        mass: measured(saved.mass_kg, &format!("{place}.mass_kg"))?,
        dimensions,
        offset: measured(saved.offset_m, &format!("{place}.offset_m"))?,
    })
}

fn run(
    saved: SavedRun,
    ids: &BTreeMap<u32, ObjectId>,
    place: &str,
    read_file: &mut dyn FnMut(&OpenedPath<'_>) -> Result<Vec<u8>, String>,
) -> Result<RunEntry, LabFileError> {
    let configuration = match saved.object {
        None => Configuration::EmptyTable,
        Some(id) => Configuration::Loaded(
            *ids.get(&id)
                .ok_or_else(|| value(&format!("{place}.object"), "there is no object with this id"))?,
        ),
    };
    let stretch = saved
        .stretch_s
        .map(|[from, to]| {
            Stretch::new(Seconds(from.0), Seconds(to.0))
                .ok_or_else(|| value(&format!("{place}.stretch_s"), "this must be two times in seconds"))
        })
        .transpose()?;
    let source_file = saved.source_file.or_else(|| saved.readings.file.clone());
    Ok(RunEntry {
        id: RunId(0),
        name: saved.name,
        configuration,
        hanging_mass: saved.hanging_mass_kg.map(|mass| Kilograms(mass.0)),
        stretch,
        readings: readings(saved.readings, &format!("{place}.readings"), read_file)?,
        source_file,
    })
}

fn readings(
    saved: SavedReadings,
    place: &str,
    read_file: &mut dyn FnMut(&OpenedPath<'_>) -> Result<Vec<u8>, String>,
) -> Result<Readings, LabFileError> {
    let kind = saved.kind.map(|kind| match kind {
        SavedKind::GateTimes => ReadingKind::GateTimes,
        SavedKind::Velocity => ReadingKind::Velocity,
        SavedKind::Position => ReadingKind::Position,
    });
    if let Some(file) = saved.file {
        let outside = file.starts_with('/')
            || file.contains('\\')
            || file.contains(':')
            || file.split('/').any(|part| part == "..");
        if outside {
            return Err(value(
                &format!("{place}.file"),
                "the path must stay beside or below the lab file, with “/” between folders",
            ));
        }
        let bytes = read_file(&OpenedPath(&file)).map_err(|reason| LabFileError::ReadingsMissing {
            place: place.to_owned(),
            file: file.clone(),
            reason,
        })?;
        return parse(&bytes, kind).map_err(|errors| LabFileError::Readings(FileProblem { file, errors }));
    }
    let kind =
        kind.ok_or_else(|| value(&format!("{place}.kind"), "say “gate-times”, “velocity” or “position”"))?;
    let column = |name: &str, column: Option<Vec<Number>>| {
        column.ok_or_else(|| value(&format!("{place}.{name}"), "this column of numbers is missing"))
    };
    let times = column("time_s", saved.time_s)?;
    let same_length = |values: Vec<Number>, name: &str| {
        if values.len() == times.len() {
            Ok(values)
        } else {
            Err(value(&format!("{place}.{name}"), "this column is not as long as time_s"))
        }
    };
    let readings = match kind {
        ReadingKind::GateTimes => {
            Readings::from_gate_times(&times.iter().map(|time| Seconds(time.0)).collect::<Vec<_>>())
        }
        ReadingKind::Velocity => {
            let values =
                same_length(column("velocity_m_per_s", saved.velocity_m_per_s)?, "velocity_m_per_s")?;
            let pairs = times.iter().zip(values).map(|(t, v)| (Seconds(t.0), MetersPerSecond(v.0))).collect();
            Series::new(pairs).map(Readings::Velocity)
        }
        ReadingKind::Position => {
            let values = same_length(column("position_m", saved.position_m)?, "position_m")?;
            let pairs = times.iter().zip(values).map(|(t, x)| (Seconds(t.0), Meters(x.0))).collect();
            Series::new(pairs).map(Readings::Position)
        }
    };
    readings.map_err(|problem| value(place, problem))
}
