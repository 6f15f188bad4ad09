//! Files of older versions, brought to the current one step by step; the opener knows that one alone.
//!
//! A version that older programs cannot read any more adds a step here and a sample in `tests/labs/versions`. Steps
//! pass over whatever is not as it should be: the opener says so.

mod from_1;
mod from_2;

use super::VERSION;
use serde_json::Value;

/// Makes a file of one version a file of the next.
type Step = fn(&mut Value, &mut Moved);

/// The step from version 1, the one from version 2 …: one for each version there was.
const STEPS: [Step; VERSION as usize - 1] = [from_1::step, from_2::step];

/// What stands elsewhere now, so that a complaint names the place in the file as it is.
#[derive(Debug, Default)]
pub(super) struct Moved(Vec<(String, String)>);

impl Moved {
    fn note(&mut self, was: String, now: String) {
        self.0.push((now, was));
    }

    /// Where in the file as it is something stands.
    pub(super) fn back(&self, place: &str) -> String {
        let inside = |now: &str| {
            place.strip_prefix(now).filter(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        // What was moved last is moved back first.
        let found = self.0.iter().rev().find_map(|(now, was)| Some(format!("{was}{}", inside(now)?)));
        found.unwrap_or_else(|| place.to_owned())
    }
}

/// Brings a document of version `from` to the current one.
pub(super) fn to_current(document: &mut Value, from: u32) -> Moved {
    let mut moved = Moved::default();
    let passed = (from as usize).saturating_sub(1);
    for step in STEPS.iter().skip(passed) {
        step(document, &mut moved);
    }
    if let Some(version) = document.get_mut("version") {
        *version = VERSION.into();
    }
    moved
}

/// The runs of a document with their numbers from 0.
fn runs(document: &mut Value) -> impl Iterator<Item = (usize, &mut serde_json::Map<String, Value>)> {
    let runs = document.get_mut("runs").and_then(Value::as_array_mut).into_iter().flatten();
    runs.enumerate().filter_map(|(index, run)| Some((index, run.as_object_mut()?)))
}
