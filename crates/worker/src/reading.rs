//! Reading a file: `{id, file, name, choices, lab}` comes in, `{id, progress}` goes out now and then, and
//! `{id, intake, columns}` at the end, whatever the file holds.

use crate::pace::Pace;
use js_sys::{Array, Float64Array, Object, Reflect, Uint8Array};
use wasm_bindgen::prelude::*;
use web_sys::{Blob, DedicatedWorkerGlobalScope, FileReaderSync};
use whorl_core::intake::{Carries, Intake, columns, take_in, to_json};
use whorl_core::lab::{Configuration, Lab, ObjectId};
use whorl_core::lab_file;
use whorl_core::readings::{Choices, MAX_BYTES};

/// Reads the file of a message and tells the page about it.
pub(crate) fn read(message: &JsValue, page: &DedicatedWorkerGlobalScope) {
    let field = |name: &str| Reflect::get(message, &name.into()).unwrap_or_default();
    let words = |name: &str| field(name).as_string().unwrap_or_default();
    let id = field("id");
    let mut pace = Pace::new();
    let mut progress = |share: f64| {
        if pace.is_time() {
            let _ = page.post_message(&object(&[("id", &id), ("progress", &share.into())]));
        }
    };
    let file: Blob = field("file").unchecked_into();
    let mut read = || -> Result<Intake, String> {
        let lab = words("lab");
        let ids = ids(&lab);
        let lab = lab_file::open_alone(&lab).map_err(|why| why.in_file("the lab"))?;
        let choices =
            Choices::from_text(&words("choices")).ok_or("what is said of this file makes no sense")?;
        let bytes = bytes(&file)?;
        let mut intake = take_in(&words("name"), &bytes, &choices, &lab, &mut progress);
        rename(&mut intake, &lab, &ids);
        Ok(intake)
    };
    let intake = read().unwrap_or_else(|why| unread(words("name"), &file, why));
    answer(&id, &intake, page);
}

/// All of a file, unless it is too large: then nothing of it is loaded.
pub(crate) fn bytes(file: &Blob) -> Result<Vec<u8>, String> {
    let (size, limit) = (file.size(), MAX_BYTES as f64);
    if size > limit {
        return Err(format!(
            "the file is too large ({:.1} MB; the limit is {:.1} MB). Cut it to the run itself, or log more slowly",
            size / 1e6,
            limit / 1e6
        ));
    }
    let buffer = FileReaderSync::new().and_then(|reader| reader.read_as_array_buffer(file));
    let buffer =
        buffer.map_err(|_| "the browser could not read this file; is it still there? Pick it again")?;
    Ok(Uint8Array::new(&buffer).to_vec())
}

/// The objects' ids on the page, in their order: opening a lab numbers them anew.
fn ids(lab: &str) -> Vec<ObjectId> {
    let document: serde_json::Value = serde_json::from_str(lab).unwrap_or_default();
    let objects = document.get("objects").and_then(|objects| objects.as_array());
    let id = |object: &serde_json::Value| object.get("id")?.as_u64()?.try_into().ok();
    objects.into_iter().flatten().filter_map(id).map(ObjectId).collect()
}

/// Gives objects the ids that they have on the page.
fn rename(intake: &mut Intake, lab: &Lab, ids: &[ObjectId]) {
    for proposal in &mut intake.proposals {
        if let Carries::Known(Configuration::Loaded(id)) = &mut proposal.carries {
            let place = lab.objects().iter().position(|object| object.id == *id);
            if let Some(own) = place.and_then(|place| ids.get(place)) {
                *id = *own;
            }
        }
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a size is not negative, and of one beyond all memory the greatest number is near enough"
)]
fn unread(file: String, blob: &Blob, why: String) -> Intake {
    Intake::unread(file, blob.size() as usize, why)
}

/// Sends what came of a file; its numbers are handed over, not copied.
fn answer(id: &JsValue, intake: &Intake, page: &DedicatedWorkerGlobalScope) {
    let (pairs, handed_over) = (Array::new(), Array::new());
    for column in columns(intake) {
        let pair = column.map(|numbers| Float64Array::from(numbers.as_slice()));
        pair.iter().for_each(|numbers| {
            handed_over.push(&numbers.buffer());
        });
        let [times, values] = pair;
        pairs.push(&Array::of2(&times, &values));
    }
    let text = to_json(intake).to_string();
    let message = object(&[("id", id), ("intake", &text.into()), ("columns", &pairs)]);
    let _ = page.post_message_with_transfer(&message, &handed_over);
}

pub(crate) fn object(fields: &[(&str, &JsValue)]) -> Object {
    let object = Object::new();
    for &(name, value) in fields {
        let _ = Reflect::set(&object, &name.into(), value);
    }
    object
}
