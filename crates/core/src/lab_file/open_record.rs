//! JSON → what a run is known by, and where it came from.

use super::error::LabFileError;
use super::open::{OpenedPath, measured};
use crate::intake::sha256_hex;
use crate::lab::{Record, Source};
use crate::quantity::Seconds;
use crate::readings::{FileProblem, ReadingKind, Readings, parse};
use whorl_document::Node;
use whorl_words as words;

/// What a run is known by; `None` when it is wrong.
pub(super) fn record(node: &Node<'_>) -> Option<Record> {
    match node.field("kind").text().as_deref() {
        Some("stopwatch") => {
            let times = node.field("times_s").numbers().unwrap_or_default();
            Some(Record::Stopwatch(times.into_iter().map(Seconds).collect()))
        }
        Some("acceleration") => Some(Record::Acceleration(measured(&node.field("acceleration_m_per_s2")))),
        Some("angular-acceleration") => {
            Some(Record::AngularAcceleration(measured(&node.field("angular_acceleration_rad_per_s2"))))
        }
        _ => readings(node).map(Record::Readings),
    }
}

/// Name of the column beside the times; `None` where times are all.
fn value_column(kind: ReadingKind) -> Option<&'static str> {
    match kind {
        ReadingKind::GateTimes | ReadingKind::BothEdges => None,
        ReadingKind::Velocity => Some("velocity_m_per_s"),
        ReadingKind::Position => Some("position_m"),
        ReadingKind::Acceleration => Some("sampled_acceleration_m_per_s2"),
        ReadingKind::Angle => Some("angle_rad"),
        ReadingKind::AngularVelocity => Some("angular_velocity_rad_per_s"),
    }
}

fn kind(node: &Node<'_>) -> Option<ReadingKind> {
    let place = node.field("kind");
    let key = place.text()?;
    let found = ReadingKind::ALL.into_iter().find(|kind| kind.key() == key);
    if found.is_none() {
        place.wrong(words::lab_file::kinds_of_readings());
    }
    found
}

/// The file a run came from.
pub(super) fn source(run: &Node<'_>) -> Option<Source> {
    let place = run.field("source");
    if place.is_missing() {
        return None;
    }
    Some(Source {
        file: place.field("file").required_text(),
        bytes: place.field("bytes").count().map(|bytes| bytes as usize),
        sha256: place.field("sha256").text(),
        run: place.field("run").text().unwrap_or_default(),
        remarks: place.field("remarks").list(&|remark| remark.text().unwrap_or_default()),
    })
}

/// What gives the readings of a file that a run names, with where they came from; `None` when the path is
/// wrong.
pub(super) type NamedFiles<'a> =
    dyn FnMut(&Node<'_>, &str) -> Result<Option<(Record, Source)>, LabFileError> + 'a;

/// No file is at hand.
pub(super) fn not_to_be_had(node: &Node<'_>, file: &str) -> Result<Option<(Record, Source)>, LabFileError> {
    Err(LabFileError::ReadingsMissing {
        place: node.place().to_owned(),
        file: file.to_owned(),
        reason: words::lab_file::not_picked().to_owned(),
    })
}

/// The readings and the file they came from; `None` when the path is wrong.
pub(super) fn readings_from_file(
    node: &Node<'_>,
    file: &str,
    read_file: &mut dyn FnMut(&OpenedPath<'_>) -> Result<Vec<u8>, String>,
) -> Result<Option<(Record, Source)>, LabFileError> {
    let outside =
        file.starts_with('/') || file.contains(['\\', ':']) || file.split('/').any(|part| part == "..");
    if outside {
        node.field("file").wrong(words::lab_file::path_outside());
    }
    if file.trim().is_empty() {
        node.field("file").wrong(words::lab_file::file_without_name());
    }
    let kind = kind(node);
    // No file is asked for once the lab cannot be opened any more.
    if !node.is_fine() {
        return Ok(None);
    }
    let bytes = read_file(&OpenedPath(file)).map_err(|reason| LabFileError::ReadingsMissing {
        place: node.place().to_owned(),
        file: file.to_owned(),
        reason,
    })?;
    let readings = parse(&bytes, kind)
        .map_err(|errors| LabFileError::Readings(FileProblem { file: file.to_owned(), errors }))?;
    let source = Source {
        file: file.to_owned(),
        bytes: Some(bytes.len()),
        sha256: Some(sha256_hex(&bytes)),
        ..Source::default()
    };
    Ok(Some((Record::Readings(readings), source)))
}

/// The readings; `None` when they are wrong.
fn readings(node: &Node<'_>) -> Option<Readings> {
    let Some(kind) = kind(node) else {
        node.field("kind").wrong(words::lab_file::kinds_of_readings());
        return None;
    };
    let column = |name: &str| {
        let place = node.field(name);
        let found = place.numbers();
        if found.is_none() {
            place.wrong(words::lab_file::column_missing());
        }
        found
    };
    let times = column("time_s")?;
    let values = match value_column(kind) {
        None => Vec::new(),
        Some(name) => {
            let values = column(name)?;
            if values.len() != times.len() {
                node.field(name).wrong(&words::lab_file::column_of_other_length(&"time_s"));
            }
            values
        }
    };
    let times: Vec<Seconds> = times.into_iter().map(Seconds).collect();
    Readings::from_columns(kind, &times, &values).map_err(|problem| node.wrong(&problem.to_string())).ok()
}
