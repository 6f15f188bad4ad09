//! Files of messages: a section per file, `key = text` per message, indented lines go on, `#` remarks.

use std::collections::BTreeSet;
use std::{fs, path::Path};

/// One file of messages.
pub(crate) struct Section {
    /// The file's name.
    pub(crate) file: String,
    /// The same without its ending: the name of the module.
    pub(crate) name: String,
    pub(crate) messages: Vec<Message>,
}

/// One message.
pub(crate) struct Message {
    pub(crate) key: String,
    pub(crate) text: String,
    /// Names of the values put in, in the order in which they first come.
    pub(crate) values: Vec<String>,
}

impl Message {
    /// Names of the values, in no order.
    pub(crate) fn names(&self) -> BTreeSet<&str> {
        self.values.iter().map(String::as_str).collect()
    }

    /// The text with values by their places among `order`: `{0}`, `{0|file|files}`.
    pub(crate) fn normalized(&self, order: &[String]) -> String {
        let mut pieces = self.text.split('{');
        let mut text = pieces.next().unwrap_or_default().to_owned();
        for piece in pieces {
            let end = piece.find(['}', '|']).unwrap_or(piece.len());
            let (name, rest) = piece.split_at(end);
            let place = order.iter().position(|value| value == name).unwrap_or_default();
            text.push('{');
            text += &place.to_string();
            text += rest;
        }
        text
    }
}

/// All sections of a language, in the order of their names.
pub(crate) fn read_language(language: &str) -> Result<Vec<Section>, Vec<String>> {
    let folder = Path::new(language);
    let entries = fs::read_dir(folder).map_err(|error| vec![format!("{language}: {error}")])?;
    let mut files: Vec<String> =
        entries.flatten().filter_map(|entry| entry.file_name().into_string().ok()).collect();
    files.sort();
    let (mut sections, mut problems) = (Vec::new(), Vec::new());
    for file in files {
        let Some(name) = file.strip_suffix(".txt").map(str::to_owned) else { continue };
        match fs::read_to_string(folder.join(&file)) {
            Ok(text) => match messages(&text) {
                Ok(messages) => {
                    sections.push(Section { file, name, messages });
                }
                Err(found) => {
                    problems.extend(found.iter().map(|problem| format!("{language}/{file}, {problem}")));
                }
            },
            Err(error) => problems.push(format!("{language}/{file}: {error}")),
        }
    }
    if problems.is_empty() { Ok(sections) } else { Err(problems) }
}

fn messages(text: &str) -> Result<Vec<Message>, Vec<String>> {
    let (mut messages, mut problems): (Vec<Message>, Vec<String>) = (Vec::new(), Vec::new());
    for (index, line) in text.lines().enumerate() {
        if line.trim().is_empty() || line.starts_with('#') {
            continue;
        }
        let goes_on = line.starts_with(' ');
        match (line.split_once(" = "), messages.last_mut()) {
            (_, Some(last)) if goes_on => {
                last.text.push(' ');
                last.text += line.trim();
            }
            (Some((key, text)), _) if is_name(key) => messages.push(Message {
                key: key.to_owned(),
                text: text.trim().to_owned(),
                values: Vec::new(),
            }),
            _ => problems.push(format!("line {}: not of the form `key = text`", index + 1)),
        }
    }
    let mut keys = BTreeSet::new();
    for message in &mut messages {
        match values(&message.text) {
            Ok(values) => message.values = values,
            Err(problem) => problems.push(format!("{}: {problem}", message.key)),
        }
        if !keys.insert(message.key.clone()) {
            problems.push(format!("{}: given twice", message.key));
        }
    }
    if problems.is_empty() { Ok(messages) } else { Err(problems) }
}

fn is_name(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_lowercase())
        && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
}

/// The names in braces; a choice of words by number has two: `{count|file|files}`.
fn values(text: &str) -> Result<Vec<String>, String> {
    let mut values = Vec::new();
    let mut pieces = text.split('{');
    if pieces.next().is_some_and(|start| start.contains('}')) {
        return Err("a } without {".to_owned());
    }
    for piece in pieces {
        let (inside, rest) = piece.split_once('}').ok_or("a { without }")?;
        let parts: Vec<&str> = inside.split('|').collect();
        let name = parts.first().copied().unwrap_or_default();
        if !is_name(name) || !matches!(parts.len(), 1 | 3) || rest.contains('}') {
            return Err(format!("{{{inside}}} is neither a value nor a choice of two words by a number"));
        }
        if !values.iter().any(|value| value == name) {
            values.push(name.to_owned());
        }
    }
    Ok(values)
}
