//! A lab from a damaged file: all of it that is whole, and a list of what is not.
//!
//! Nothing is invented. A value that may stand empty, such as a hanging mass, is left out alone; one that changes the
//! meaning of others takes them along, as the motion takes its run and the count its object's parts. Each item of a
//! list is looked at in a document of its own, by the same opener as any lab.

mod known;
mod lost;
mod mending;
mod pieces;

use super::open::understood_alone;
use super::{FORMAT, VERSION};
use crate::lab::Lab;
use lost::Lost;
use mending::Mending;
use pieces::{Item, Pieces, pieces};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use whorl_document::offset_of;
use whorl_words as words;

/// What a damaged file still holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Salvaged {
    /// All that can be saved; it may be changed, and is in no file.
    pub lab: Lab,
    /// What was left out, in words: where it stands, and why. Empty for a file that is whole.
    pub lost: Vec<String>,
}

/// Saves what can be saved of a file that does not open; `None` where there is nothing of a lab in it.
pub fn salvage(bytes: &[u8]) -> Option<Salvaged> {
    let mut text = String::with_capacity(bytes.len());
    let mut broken = Vec::new();
    for chunk in bytes.utf8_chunks() {
        text.push_str(chunk.valid());
        if !chunk.invalid().is_empty() {
            broken.push(text.len());
            text.push(char::REPLACEMENT_CHARACTER);
        }
    }
    let mut lost = Lost::of(&text);
    for at in broken {
        lost.told(at, "", words::lab_file::not_text());
    }
    let found = pieces(&text, &mut lost).filter(Pieces::hold_something)?;
    let says_lab = found.fields.get("format").and_then(Value::as_str) == Some(FORMAT);
    let lab = put_together(&text, found, &mut lost)?;
    // Without the word for it, runs alone tell a lab from any other document.
    let is_lab = !lab.is_blank() && (says_lab || !lab.runs().is_empty());
    is_lab.then(|| Salvaged { lab, lost: lost.into_lines() })
}

fn put_together<'a>(text: &'a str, found: Pieces, lost: &mut Lost<'a>) -> Option<Lab> {
    let Pieces { mut fields, objects, runs, balancing, steps } = found;
    let said = fields.get("version").and_then(Value::as_u64).and_then(|found| u32::try_from(found).ok());
    let version = said.filter(|&found| found > 0).unwrap_or_else(|| {
        lost.told(offset_of(text, "version"), "version", words::lab_file::no_such_version());
        VERSION
    });
    if version > VERSION {
        lost.general(words::lab_file::newer_left_out(&version, &VERSION));
    }
    if fields.get("format").and_then(Value::as_str) != Some(FORMAT) {
        lost.told(offset_of(text, "format"), "format", &words::lab_file::not_a_lab_by_name(&FORMAT));
    }
    let mut mending = Mending { text, version, lost };
    // Objects first: runs name them.
    let mut ids = BTreeSet::new();
    let mut whole_objects = Vec::new();
    for item in objects {
        let (at, place) = (item.at, item.place.clone());
        let Some(object) = mending.item(item, |object| json!({ "objects": [object] })) else { continue };
        match object.get("id").and_then(Value::as_u64) {
            Some(id) if ids.insert(id) => whole_objects.push(object),
            _ => mending.lost.told(at, &format!("{place}.id"), words::lab_file::id_taken()),
        }
    }
    let with_object = |list: &str, item: Value| {
        let id = item.get("object").cloned().unwrap_or_default();
        let objects = if id.is_u64() { json!([{ "id": id }]) } else { json!([]) };
        json!({ "objects": objects, list: [item] })
    };
    let mut whole = |items: Vec<Item>, list: &str| -> Vec<Value> {
        items.into_iter().filter_map(|item| mending.item(item, |item| with_object(list, item))).collect()
    };
    let runs = whole(runs, "runs");
    let balancing = whole(balancing, "balancing");
    let step_alone = |step: Value| json!({ "prelab": { "steps": [step] } });
    let steps: Vec<Value> = steps.into_iter().filter_map(|item| mending.item(item, step_alone)).collect();
    // An object that runs name was there, whatever it was.
    let named = runs.iter().chain(&balancing).filter_map(|item| item.get("object").and_then(Value::as_u64));
    for id in named.collect::<BTreeSet<_>>() {
        if ids.insert(id) {
            mending.lost.general(words::lab_file::object_not_there(&id));
            whole_objects.push(json!({ "id": id, "name": words::lab_file::object_of_id(&id), "parts": [] }));
        }
    }
    let of_ids: Vec<Value> = ids.iter().map(|id| json!({ "id": id })).collect();
    fields.insert("objects".to_owned(), of_ids.into());
    let mut document = mending.rest(fields)?;
    if !steps.is_empty() {
        let mut prelab = document.get("prelab").and_then(Value::as_object).cloned().unwrap_or_default();
        prelab.insert("steps".to_owned(), steps.into());
        document.insert("prelab".to_owned(), prelab.into());
    }
    document.extend(
        [("objects", whole_objects), ("runs", runs), ("balancing", balancing)]
            .map(|(name, items)| (name.to_owned(), Value::from(items))),
    );
    understood_alone(&document.into()).ok()
}

#[cfg(test)]
mod tests;
