//! Values that cannot be are left out, one by one, until the opener understands the rest.

use super::known::{unknown, without_numbers};
use super::lost::Lost;
use super::pieces::Item;
use crate::lab_file::migrations::{Moved, to_current};
use crate::lab_file::open::understood_alone;
use crate::lab_file::{FORMAT, LabFileError, VERSION};
use serde_json::{Map, Value};
use std::collections::BTreeSet;
use whorl_document::offset_of;
use whorl_words as words;

/// In one document no more than this many values are left out before it is given up.
const MOST_ROUNDS: usize = 100;

/// Values without which those beside them mean something else, or nothing.
const NEVER_ALONE: [&str; 10] = [
    "objects.id",
    "objects.parts.shape",
    "objects.parts.count",
    "objects.parts.dimensions_m",
    "objects.parts.offset_m",
    "runs.object",
    "runs.motion",
    "balancing.object",
    "prelab.steps.step",
    "runs.source.file",
];

pub(super) struct Mending<'a, 'b> {
    pub(super) text: &'a str,
    /// Of the file.
    pub(super) version: u32,
    pub(super) lost: &'b mut Lost<'a>,
}

/// Where in the file that stands which is `root` of a document made for it.
struct Inside<'a> {
    root: &'a str,
    place: &'a str,
    at: usize,
}

impl Mending<'_, '_> {
    /// An item without what is wrong with it; `None` where nothing of use is left. `alone` makes a document of it.
    pub(super) fn item(&mut self, item: Item, alone: impl Fn(Value) -> Value) -> Option<Value> {
        let Item { value, place, at } = item;
        if !value.is_object() {
            self.lost.told(at, &place, &words::documents::fields_expected(&"{ }"));
            return None;
        }
        let root = format!("{}[0]", without_numbers(&place));
        let mut document = alone(value);
        let fine = self.mend(&mut document, &Inside { root: &root, place: &place, at });
        let value = value_at(&mut document, &root)?.take();
        fine.then_some(value)
    }

    /// The fields at the top without what is wrong with them.
    pub(super) fn rest(&mut self, fields: Map<String, Value>) -> Option<Map<String, Value>> {
        let mut document = Value::Object(fields);
        let fine = self.mend(&mut document, &Inside { root: "", place: "", at: 0 });
        match document {
            Value::Object(fields) if fine => Some(fields),
            _ => None,
        }
    }

    /// Leaves out what is wrong, until the document is understood; `false` where that takes all of it.
    fn mend(&mut self, document: &mut Value, inside: &Inside<'_>) -> bool {
        if let Some(fields) = document.as_object_mut() {
            fields.insert("format".to_owned(), FORMAT.into());
            fields.insert("version".to_owned(), VERSION.into());
        }
        let moved =
            if self.version < VERSION { to_current(document, self.version) } else { Moved::default() };
        let mut emptied = BTreeSet::new();
        if self.version <= VERSION {
            let names = value_at(document, inside.root).map(|value| unknown(value, inside.root));
            for name in names.unwrap_or_default() {
                self.tell(inside, &name, words::lab_file::no_such_field());
                let missing = meaning_missing_beside(document, &name);
                if missing.is_some_and(|missing| !empty(document, &missing, inside.root, &mut emptied)) {
                    return false;
                }
            }
        }
        for _ in 0..MOST_ROUNDS {
            let (place, problem) = match understood_alone(document) {
                Ok(_) => return true,
                Err(LabFileError::Value { place, problem }) => (place, problem),
                Err(LabFileError::ReadingsMissing { file, .. }) => {
                    (format!("{}.readings", inside.root), words::lab_file::readings_elsewhere(&file))
                }
                Err(problem) => (inside.root.to_owned(), problem.to_string()),
            };
            self.tell(inside, &moved.back(&place), &problem);
            if !empty(document, &place, inside.root, &mut emptied) {
                return false;
            }
        }
        false
    }

    fn tell(&mut self, inside: &Inside<'_>, place: &str, problem: &str) {
        let rest = place.strip_prefix(inside.root).unwrap_or_default();
        let inner = rest.trim_start_matches('.');
        let text = self.text.get(inside.at..).unwrap_or_default();
        self.lost.told(inside.at + offset_of(text, inner), &format!("{}{rest}", inside.place), problem);
    }
}

/// Beside a field without meaning, one that is missing and changes the meaning of the others: it may be the same one.
fn meaning_missing_beside(document: &mut Value, unknown: &str) -> Option<String> {
    let parent = parent(unknown);
    let needed: &[&str] = match without_numbers(parent).as_str() {
        "runs" => &["object", "motion"],
        "objects.parts" => &["shape", "count", "dimensions_m", "offset_m"],
        _ => &["u"],
    };
    let fields = value_at(document, parent)?.as_object()?;
    let is_quantity = fields.contains_key("value");
    let missing = needed.iter().find(|name| !fields.contains_key(**name))?;
    (*missing != "u" || is_quantity).then(|| format!("{parent}.{missing}"))
}

/// Leaves out the value at a place, with all whose meaning hangs on it; `false` where that takes all of `root`.
fn empty(document: &mut Value, place: &str, root: &str, emptied: &mut BTreeSet<String>) -> bool {
    let mut place = place;
    while place.len() > root.len() && place.starts_with(root) {
        let names = without_numbers(place);
        let never_alone = NEVER_ALONE.contains(&names.as_str())
            || names.rsplit('.').next().is_some_and(|last| matches!(last, "value" | "u"))
            || names.starts_with("runs.readings")
            || place.ends_with(']');
        if !never_alone && emptied.insert(place.to_owned()) {
            if let Some(value) = value_at(document, place) {
                *value = Value::Null;
            }
            return true;
        }
        place = parent(place);
    }
    false
}

/// The place around one.
fn parent(place: &str) -> &str {
    place.rfind(['.', '[']).and_then(|at| place.get(..at)).unwrap_or_default()
}

fn value_at<'v>(document: &'v mut Value, place: &str) -> Option<&'v mut Value> {
    let mut value = document;
    for part in place.split('.').filter(|part| !part.is_empty()) {
        let mut pieces = part.split('[');
        value = value.get_mut(pieces.next().unwrap_or_default())?;
        for index in pieces {
            value = value.get_mut(index.trim_end_matches(']').parse::<usize>().ok()?)?;
        }
    }
    Some(value)
}
