//! Lab → JSON.

use super::dataset::FIELD as DATASET;
use super::number::OneLine;
use super::saved::{
    SavedApparatus, SavedBalancing, SavedLab, SavedMeasured, SavedObject, SavedPart, SavedPlan, SavedPrelab,
    SavedProvenance, SavedReadings, SavedRun, SavedSource, SavedStep,
};
use super::{FORMAT, VERSION};
use crate::fingerprint::readings_sha256;
use crate::lab::{
    Configuration, Lab, ObjectEntry, PartEntry, PlanEntry, Provenance, Record, RunEntry, Source,
};
use crate::measured::Measured;
use crate::prelab::{DerivationSource, Prelab, StepRecord};
use crate::quantity::Quantity;
use crate::readings::{ReadingKind, Readings};
use serde::Serialize;
use std::sync::Arc;

/// A part of a saved lab.
#[derive(Clone, Debug)]
pub enum Piece<'a> {
    /// Text as it stands in the file.
    Text(String),
    /// Readings of a run: [`readings_text`] stands in the file. They never change, and are told apart by
    /// [`Readings::is_same`].
    Readings(&'a Readings),
    /// Text that never changes either: the record of a recorded lab as it stands in the file, or the whole file of a
    /// newer program.
    Record(&'a Arc<str>),
}

/// Writes a lab with all its readings; one from the file of a newer program ([`Lab::newer`]) is that file.
pub fn save(lab: &Lab) -> String {
    joined(save_in_pieces(lab))
}

/// The same with the fingerprint of its readings, by which a report is set beside it.
pub fn save_with_fingerprint(lab: &Lab) -> String {
    let mut text = save(lab);
    // The last field of all: it goes in before the brace that closes the document.
    text.pop();
    text + ",\"readings_sha256\":\"" + &readings_sha256(lab) + "\"}"
}

/// Writes a lab without its runs: what a file of readings is looked at with.
pub fn save_without_runs(lab: &Lab) -> String {
    joined(written(lab, &[]))
}

/// What [`save`] writes, in pieces and without a look at the readings: whoever keeps a lab at every change writes the
/// many readings of a run once. Their texts, one behind the other, are the file.
pub fn save_in_pieces(lab: &Lab) -> Vec<Piece<'_>> {
    match lab.newer_text() {
        Some(text) => vec![Piece::Record(text)],
        None => written(lab, lab.runs()),
    }
}

/// Readings as they stand in the file.
pub fn readings_text(readings: &Readings) -> String {
    json(&columns(readings))
}

fn joined(pieces: Vec<Piece<'_>>) -> String {
    let mut text = String::new();
    for piece in pieces {
        match piece {
            Piece::Text(piece) => text += &piece,
            Piece::Readings(readings) => text += &readings_text(readings),
            Piece::Record(record) => text += record,
        }
    }
    text
}

fn written<'a>(lab: &'a Lab, runs: &'a [RunEntry]) -> Vec<Piece<'a>> {
    let mut pieces = Vec::new();
    let mut text = opened(&beginning(lab)) + ",\"runs\":[";
    for (index, run) in runs.iter().enumerate() {
        text = text + if index == 0 { "" } else { "," } + &opened(&saved_run(run)) + ",\"readings\":";
        match run.record.readings() {
            Some(readings) => {
                pieces.extend([Piece::Text(core::mem::take(&mut text)), Piece::Readings(readings)]);
            }
            None => text += &json(&saved_record(&run.record)),
        }
        text += "}";
    }
    text = text + "],\"balancing\":" + &json(&balancing(lab));
    if let Some(record) = lab.dataset_written() {
        text = text + ",\"" + DATASET + "\":";
        pieces.extend([Piece::Text(core::mem::take(&mut text)), Piece::Record(record)]);
    }
    pieces.push(Piece::Text(text + "}"));
    pieces
}

fn json(saved: &impl Serialize) -> String {
    let mut bytes = Vec::new();
    // Plain data with text keys, written to memory: this cannot fail, and what is written is UTF-8.
    let _ = saved.serialize(&mut serde_json::Serializer::with_formatter(&mut bytes, OneLine));
    String::from_utf8(bytes).unwrap_or_default()
}

/// Fields without the brace that closes them: more come behind.
fn opened(saved: &impl Serialize) -> String {
    let mut text = json(saved);
    text.pop();
    text
}

/// All that stands in front of the runs.
fn beginning(lab: &Lab) -> SavedLab {
    let apparatus = &lab.apparatus;
    SavedLab {
        format: FORMAT.to_owned(),
        version: VERSION,
        title: lab.title.clone(),
        notes: lab.notes.clone(),
        provenance: match lab.provenance {
            Provenance::Measured => SavedProvenance::Measured,
            Provenance::Simulated => SavedProvenance::Simulated,
        },
        apparatus: SavedApparatus {
            drum_radius_m: measured(apparatus.drum_radius.as_ref()),
            string_diameter_m: measured(apparatus.string_diameter.as_ref()),
            gravity_m_per_s2: measured(apparatus.gravity.as_ref()),
            spokes: apparatus.spokes.map(core::num::NonZeroU32::get),
            travel_per_spoke_m: measured(apparatus.travel_per_spoke.as_ref()),
            mass_scale_relative_u: apparatus.mass_scale_uncertainty.0,
            hanging_mass_u_kg: apparatus.hanging_mass_uncertainty.0,
            pulley_inertia_kg_m2: measured(apparatus.pulley_inertia.as_ref()),
            drop_height_m: measured(apparatus.drop_height.as_ref()),
        },
        prelab: prelab(&lab.prelab),
        plan: plan(&lab.plan),
        bench: lab.bench.clone(),
        forecasts: lab.forecasts.clone(),
        hand_in: lab.hand_in.clone(),
        assignment: lab.assignment().map(str::to_owned),
        objects: lab.objects().iter().map(object).collect(),
    }
}

fn measured<Q: Quantity>(entry: Option<&Measured<Q>>) -> Option<SavedMeasured> {
    entry.map(SavedMeasured::of)
}

fn prelab(prelab: &Prelab) -> Option<SavedPrelab> {
    if *prelab == Prelab::default() {
        return None;
    }
    let (derivation, own_file) = match &prelab.derivation {
        None => (None, None),
        Some(DerivationSource::Shipped(id)) => (Some(id.clone()), None),
        Some(DerivationSource::Own(text)) => (None, Some(text.clone())),
    };
    Some(SavedPrelab { derivation, own_file, steps: prelab.steps.iter().map(step).collect() })
}

fn plan(plan: &PlanEntry) -> Option<SavedPlan> {
    if *plan == PlanEntry::default() {
        return None;
    }
    Some(SavedPlan {
        pieces_kg: plan.pieces.iter().map(|piece| piece.0).collect(),
        holder_kg: plan.holder.map(|holder| holder.0),
        runs: plan.runs.map(core::num::NonZeroU32::get),
        table_inertia_kg_m2: plan.table_inertia.map(|inertia| inertia.0),
        friction_empty_n_m: plan.friction_empty.map(|torque| torque.0),
        friction_loaded_n_m: plan.friction_loaded.map(|torque| torque.0),
    })
}

fn step(record: &StepRecord) -> SavedStep {
    SavedStep {
        step: record.step.clone(),
        entered: record.entered.clone(),
        accepted: record.accepted.clone(),
        attempts: record.attempts,
        hints: record.hints,
        worked: record.worked,
        time_s: record.seconds,
    }
}

/// `None`: the empty table.
fn object_id(configuration: Configuration) -> Option<u32> {
    match configuration {
        Configuration::EmptyTable => None,
        Configuration::Loaded(id) => Some(id.0),
    }
}

fn balancing(lab: &Lab) -> Vec<SavedBalancing> {
    let mut saved = Vec::new();
    for configuration in lab.configurations() {
        if let Some(mass) = lab.balancing_mass(configuration) {
            saved
                .push(SavedBalancing { object: object_id(configuration), mass_kg: SavedMeasured::of(&mass) });
        }
    }
    saved
}

fn object(object: &ObjectEntry) -> SavedObject {
    SavedObject { id: object.id.0, name: object.name.clone(), parts: object.parts.iter().map(part).collect() }
}

fn part(part: &PartEntry) -> SavedPart {
    SavedPart {
        shape: part.shape.key().to_owned(),
        count: part.count.get(),
        mass_kg: measured(part.mass.as_ref()),
        dimensions_m: part.dimensions.iter().map(|length| measured(length.as_ref())).collect(),
        offset_m: measured(part.offset.as_ref()),
    }
}

fn saved_run(run: &RunEntry) -> SavedRun {
    SavedRun {
        id: run.id.0,
        name: run.name.clone(),
        object: object_id(run.configuration),
        hanging_mass_kg: run.hanging_mass.map(|mass| mass.0),
        motion: run.motion.key(),
        stretch_s: run.stretch.map(|stretch| [stretch.from().0, stretch.to().0]),
        source: run.source.as_ref().map(source),
    }
}

fn source(source: &Source) -> SavedSource {
    SavedSource {
        file: source.file.clone(),
        bytes: source.bytes,
        sha256: source.sha256.clone(),
        run: source.run.clone(),
        remarks: source.remarks.clone(),
    }
}

fn saved_record(record: &Record) -> SavedReadings {
    let saved = SavedReadings { kind: Some(record.key()), ..SavedReadings::default() };
    match record {
        Record::Readings(readings) => columns(readings),
        Record::Stopwatch(times) => {
            SavedReadings { times_s: Some(times.iter().map(|time| time.0).collect()), ..saved }
        }
        Record::Acceleration(value) => {
            SavedReadings { acceleration_m_per_s2: measured(value.as_ref()), ..saved }
        }
        Record::AngularAcceleration(value) => {
            SavedReadings { angular_acceleration_rad_per_s2: measured(value.as_ref()), ..saved }
        }
    }
}

fn columns(readings: &Readings) -> SavedReadings {
    let (times, values): (Vec<f64>, Vec<f64>) = readings.pairs().into_iter().unzip();
    let kind = Some(readings.kind().key());
    let mut saved = SavedReadings { kind, time_s: Some(times), ..SavedReadings::default() };
    let place = match readings.kind() {
        ReadingKind::GateTimes | ReadingKind::BothEdges => return saved,
        ReadingKind::Velocity => &mut saved.velocity_m_per_s,
        ReadingKind::Position => &mut saved.position_m,
        ReadingKind::Acceleration => &mut saved.sampled_acceleration_m_per_s2,
        ReadingKind::Angle => &mut saved.angle_rad,
        ReadingKind::AngularVelocity => &mut saved.angular_velocity_rad_per_s,
    };
    *place = Some(values);
    saved
}
