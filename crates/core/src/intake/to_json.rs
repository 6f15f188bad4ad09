//! What was read from a file → JSON, with everything but the numbers of the readings.

use super::{Carries, FirstLook, Intake, Proposal};
use crate::lab::Configuration;
use crate::quantity::Seconds;
use crate::readings::{Choices, Column, Guess, Layout, PreviewRow, Question, Readings, Remark};
use serde_json::{Value, json};

/// What was read, as JSON; of the readings their kind and how many there are.
#[inline(never)]
pub fn to_json(intake: &Intake) -> Value {
    json!({
        "file": intake.file,
        "bytes": intake.bytes,
        "sha256": intake.sha256,
        "problem": intake.layout.as_ref().err(),
        "layout": intake.layout.as_ref().ok().map(layout),
        "runs": intake.proposals.iter().map(proposal).collect::<Vec<_>>(),
    })
}

/// The numbers that [`to_json`] leaves out: of each proposal its times in s and its values in the SI unit.
pub fn columns(intake: &Intake) -> Vec<[Vec<f64>; 2]> {
    let unzipped = |readings: &Readings| {
        let (times, values) = readings.pairs().into_iter().unzip();
        [times, values]
    };
    intake.proposals.iter().map(|proposal| unzipped(&proposal.readings)).collect()
}

fn guess<T>(guess: &Guess<T>, key: &str) -> Value {
    json!({ "value": key, "confidence": guess.confidence.key(), "reason": guess.reason })
}

fn layout(layout: &Layout) -> Value {
    json!({
        "encoding": guess(&layout.encoding, layout.encoding.value.words()),
        "delimiter": guess(&layout.delimiter, layout.delimiter.value.key()),
        "decimal": guess(&layout.decimal, layout.decimal.value.key()),
        "rows": layout.rows,
        "columns": layout.columns.iter().map(column).collect::<Vec<_>>(),
        "preview": layout.preview.iter().map(preview_row).collect::<Vec<_>>(),
        "questions": layout.questions.iter().map(question).collect::<Vec<_>>(),
        "remarks": layout.remarks.iter().map(remark).collect::<Vec<_>>(),
        "shape": layout.shape,
    })
}

fn column(column: &Column) -> Value {
    json!({
        "heading": column.heading,
        "role": guess(&column.role, column.role.value.key()),
        "used": column.used,
    })
}

fn preview_row(row: &PreviewRow) -> Value {
    json!({ "line": row.line, "fields": row.fields, "data": row.data })
}

fn question(question: &Question) -> Value {
    let answers = question.answers.iter().map(|answer| {
        let each = answer.choices.iter().map(|&choice| {
            let mut alone = Choices::default();
            alone.set(choice);
            alone.to_text()
        });
        json!({ "words": answer.words, "choices": each.collect::<Vec<_>>().join(";") })
    });
    json!({ "words": question.words, "answers": answers.collect::<Vec<_>>() })
}

fn remark(remark: &Remark) -> Value {
    json!({ "line": remark.line, "words": remark.words })
}

fn proposal(proposal: &Proposal) -> Value {
    let (carries, object, new_object) = match &proposal.carries {
        Carries::Known(Configuration::EmptyTable) => ("empty", None, None),
        Carries::Known(Configuration::Loaded(id)) => ("object", Some(id.0), None),
        Carries::New(name) => ("new", None, Some(name)),
        Carries::Untold => ("untold", None, None),
    };
    json!({
        "name": proposal.name,
        "carries": carries,
        "object": object,
        "new_object": new_object,
        "hanging_mass_kg": proposal.hanging_mass.map(|mass| mass.0),
        "motion": proposal.motion.key(),
        "kind": proposal.readings.kind().key(),
        "readings": proposal.readings.count(),
        "label": proposal.label,
        "remarks": proposal.remarks,
        "first_look": first_look(&proposal.first),
    })
}

fn first_look(first: &FirstLook) -> Value {
    let ends = |(from, to): (Seconds, Seconds)| [from.0, to.0];
    // JSON has no infinity; a point there could not be drawn either.
    let drawn = first.curve.iter().filter(|point| point.0.is_finite() && point.1.is_finite());
    json!({
        "stretch_s": first.stretch.map(|stretch| ends((stretch.from(), stretch.to()))),
        "acceleration": first.acceleration.as_ref().ok(),
        "acceleration_problem": first.acceleration.as_ref().err(),
        "doubts": first.doubts,
        "curve": drawn.map(|&(time, speed)| [time, speed]).collect::<Vec<_>>(),
        "curve_unit": first.curve_unit,
    })
}
