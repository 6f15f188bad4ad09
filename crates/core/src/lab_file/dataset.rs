//! The record of a recorded lab, both ways.
//!
//! A group's own lab has none, and most labs are: the page learns to read it only when there is one
//! ([`super::open_own`]), and its text is written once, since it never changes.

use super::number::OneLine;
use crate::lab::dataset::{LONGEST_NOTES, LONGEST_TEXT, Picture};
use crate::lab::{Dataset, ObjectId};
use serde::Serialize;
use std::collections::BTreeMap;
use whorl_document::Node;
use whorl_words as words;

/// Under which name it stands in the file.
pub(super) const FIELD: &str = "dataset";

/// Reads the record; `None` for a group's own lab.
pub(super) fn dataset(node: &Node<'_>, ids: &BTreeMap<u32, ObjectId>) -> Option<Dataset> {
    if node.is_missing() {
        return None;
    }
    // Where there is something of another kind, this says so.
    let _ = node.fields();
    Some(Dataset {
        title: line(node, "title", true),
        recorded_by: line(node, "recorded_by", true),
        recorded_on: line(node, "recorded_on", false),
        licence: line(node, "licence", true),
        apparatus_notes: text(&node.field("apparatus_notes"), LONGEST_NOTES, false),
        origin: line(node, "origin", false),
        picture: picture(&node.field("picture")),
        to_predict: node.field("to_predict").list(&|one| object(one, ids)).into_iter().flatten().collect(),
    })
}

fn line(node: &Node<'_>, name: &str, needed: bool) -> String {
    text(&node.field(name), LONGEST_TEXT, needed)
}

fn text(node: &Node<'_>, longest: usize, needed: bool) -> String {
    let text = if needed { node.required_text() } else { node.text().unwrap_or_default() };
    let length = text.chars().count();
    if length > longest {
        node.wrong(&words::datasets::text_too_long(&length, &longest));
    }
    text
}

fn picture(node: &Node<'_>) -> Option<Picture> {
    if node.is_missing() {
        return None;
    }
    let alternative = node.field("alternative").text().unwrap_or_default();
    Picture::new(node.field("data_url").required_text(), alternative)
        .map_err(|problem| node.wrong(&problem.to_string()))
        .ok()
}

fn object(node: &Node<'_>, ids: &BTreeMap<u32, ObjectId>) -> Option<ObjectId> {
    let found = node.count().and_then(|id| ids.get(&id).copied());
    if found.is_none() {
        node.wrong(words::lab_file::no_object());
    }
    found
}

#[derive(Serialize)]
struct SavedDataset<'a> {
    title: &'a str,
    recorded_by: &'a str,
    recorded_on: &'a str,
    licence: &'a str,
    apparatus_notes: &'a str,
    origin: &'a str,
    picture: Option<SavedPicture<'a>>,
    to_predict: Vec<u32>,
}

#[derive(Serialize)]
struct SavedPicture<'a> {
    data_url: &'a str,
    alternative: &'a str,
}

/// The record as JSON.
pub(crate) fn written(dataset: &Dataset) -> String {
    let saved = SavedDataset {
        title: &dataset.title,
        recorded_by: &dataset.recorded_by,
        recorded_on: &dataset.recorded_on,
        licence: &dataset.licence,
        apparatus_notes: &dataset.apparatus_notes,
        origin: &dataset.origin,
        picture: dataset
            .picture
            .as_ref()
            .map(|picture| SavedPicture { data_url: picture.data_url(), alternative: picture.alternative() }),
        to_predict: dataset.to_predict.iter().map(|id| id.0).collect(),
    };
    let mut bytes = Vec::new();
    // Plain data with text keys, written to memory: this cannot fail, and what is written is UTF-8.
    let _ = saved.serialize(&mut serde_json::Serializer::with_formatter(&mut bytes, OneLine));
    String::from_utf8(bytes).unwrap_or_default()
}
