//! Reading a file: `{id, file, name, choices, lab}` comes in, `{id, progress}` goes out now and then, and
//! `{id, intake, columns}` at the end, whatever the file holds. Of a large file the fingerprint comes behind, as
//! `{id, sha256}`.

use crate::fingerprint::fingerprint;
use crate::loading::load;
use crate::pace::Pace;
use js_sys::{Array, Float64Array, Object, Reflect};
use wasm_bindgen::prelude::*;
use web_sys::{Blob, DedicatedWorkerGlobalScope};
use whorl_core::intake::{Carries, Intake, columns, look_at, sha256_hex, to_json};
use whorl_core::lab::{Configuration, Lab, ObjectId};
use whorl_core::lab_file;
use whorl_core::readings::Incoming;
use whorl_words as said;

/// Part of the work that loading a file is, and of the rest that reading it is.
const LOADING: f64 = 0.5;
const READING: f64 = 0.5;

/// Longest file, in bytes, whose fingerprint is made here.
const SMALL: usize = 1 << 16;

/// Reads the file of a message and tells the page about it.
pub(crate) async fn read(message: JsValue, page: DedicatedWorkerGlobalScope) {
    let field = |name: &str| Reflect::get(&message, &name.into()).unwrap_or_default();
    let words = |name: &str| field(name).as_string().unwrap_or_default();
    let id = field("id");
    let file: Blob = field("file").unchecked_into();
    let mut pace = Pace::new();
    let mut progress = |share: f64| {
        if pace.is_time() {
            let _ = page.post_message(&object(&[("id", &id), ("progress", &share.into())]));
        }
    };
    let loaded = load(&file, &words("choices"), &mut |share| progress(LOADING * share)).await;
    let intake = loaded.and_then(|loaded| {
        let progress = &mut |share| progress(LOADING + (1.0 - LOADING) * share);
        look(&words("name"), loaded, &words("lab"), progress)
    });
    let intake = intake.unwrap_or_else(|why| unread(words("name"), &file, why));
    answer(&id, &intake, &page);
    if intake.awaits_fingerprint() {
        let sha256 = fingerprint(&file, &page).await;
        let _ = page.post_message(&object(&[("id", &id), ("sha256", &sha256.into())]));
    }
}

/// Reads what was loaded and looks at its runs. A small file has its fingerprint with it at once.
#[inline(never)]
pub(crate) fn look(
    name: &str,
    mut loaded: Incoming,
    lab_text: &str,
    progress: &mut dyn FnMut(f64),
) -> Result<Intake, String> {
    let lab = lab_file::open_alone(lab_text).map_err(|why| why.in_file(said::intake::the_lab()))?;
    let sha256 = loaded.bytes().filter(|bytes| bytes.len() <= SMALL).map(sha256_hex).unwrap_or_default();
    let length = loaded.length();
    let understood = loaded.read(&mut |share| progress(READING * share));
    let progress = &mut |share| progress(READING + (1.0 - READING) * share);
    let mut intake = Intake { sha256, ..look_at(name, length, understood, &lab, progress) };
    rename(&mut intake, &lab, &ids(lab_text));
    Ok(intake)
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
