//! What a student added, as text.

use super::{HandIn, Prompt};
use serde_json::{Map, Value, json};

/// Longer texts are not read: many times as much as all fields together may hold.
const LONGEST: usize = 1_000_000;

/// As text for a lab; `None` where nothing was added.
pub fn save(added: &HandIn) -> Option<String> {
    if *added == HandIn::default() {
        return None;
    }
    let answers = added.conclusions.iter().map(|(prompt, answer)| (prompt.key().to_owned(), json!(answer)));
    let all = json!({
        "names": added.names,
        "date": added.date,
        "cautions_read": added.cautions_read,
        "conclusions": answers.collect::<Map<_, _>>(),
    });
    Some(all.to_string())
}

/// From a lab's text. Whatever is not as it should be is left out: a report shows the rest, and says what is missing.
pub fn open(text: Option<&str>) -> HandIn {
    let mut added = HandIn::default();
    let Some(text) = text.filter(|text| text.len() <= LONGEST) else { return added };
    let Ok(all) = serde_json::from_str::<Value>(text) else { return added };
    let text_of = |name: &str| all.get(name).and_then(Value::as_str).unwrap_or_default();
    added.set_names(text_of("names"));
    added.set_date(text_of("date"));
    added.cautions_read = all.get("cautions_read").and_then(Value::as_bool).unwrap_or(false);
    for prompt in Prompt::ALL {
        let answer =
            all.get("conclusions").and_then(|answers| answers.get(prompt.key())).and_then(Value::as_str);
        added.conclude(prompt, answer.unwrap_or_default());
    }
    added
}
