//! The project's own rules, which no other tool checks.

use std::fs;

use crate::problem::{OrSay, Outcome, Problem};
use crate::project;
use crate::walk;

const MOST_LINES: usize = 400;
const REASON_FOR_LENGTH: &str = "// Long because: ";
/// How far from the top of a file the reason for its length may stand.
const NEAR_THE_TOP: usize = 20;

/// Names that say nothing: an item without a home is a missing concept.
const EMPTY_NAMES: [&str; 6] = ["utils", "util", "helpers", "helper", "common", "misc"];

/// What knows a browser, and the folders where that is welcome.
const BROWSER_CRATES: [&str; 3] = ["web-sys", "js-sys", "wasm-bindgen"];
const BROWSER_HOMES: [&str; 2] = ["crates/app/", "crates/worker/"];

/// Folders of one machine, as they would start a path, in parts so that this file keeps its own rule.
const MACHINE_FOLDERS: [&str; 3] = ["work", "root", "home"];
/// Hosts of package registries, in parts for the same reason.
const REGISTRIES: [&[&str]; 7] = [
    &["crates", "io"],
    &["npmjs", "org"],
    &["npmjs", "com"],
    &["pypi", "org"],
    &["pythonhosted", "org"],
    &["deb", "debian", "org"],
    &["static", "rust-lang", "org"],
];

/// Look at every file of the project; an error that lists all that is untidy.
pub(crate) fn check() -> Outcome {
    let files = walk::project_files()?;
    let mut complaints = Vec::new();
    for path in &files {
        let bytes = fs::read(project::root().join(path)).or_say(path)?;
        // Pictures and fonts have only a name to look at.
        let text = String::from_utf8(bytes).unwrap_or_default();
        complaints.extend(untidy(path, &text).into_iter().map(|what| format!("  {path}{what}")));
    }
    if complaints.is_empty() {
        println!("{} files are tidy.", files.len());
        return Ok(());
    }
    Err(Problem::new(complaints.join("\n")))
}

/// What is wrong with one file, each with its line where it has one: `:12: names a package registry`.
fn untidy(path: &str, text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for part in path.split('/') {
        let stem = part.split('.').next().unwrap_or_default();
        if EMPTY_NAMES.contains(&stem) {
            found.push(format!(": `{stem}` says nothing; name the concept"));
        }
    }
    if path.rsplit('.').next() == Some("rs") {
        found.extend(untidy_rust(path, text));
    } else if path.ends_with("/Cargo.toml") && !is_for_the_browser(path) {
        for (number, line) in numbered(text) {
            if BROWSER_CRATES.iter().any(|name| line.starts_with(name)) {
                found.push(format!(":{number}: only {} may depend on the browser", homes()));
            }
        }
    }
    for (number, line) in numbered(text) {
        if names_machine_folder(line) {
            found.push(format!(":{number}: a path of one machine"));
        }
        if names_registry(path, line) {
            found.push(format!(":{number}: names a package registry's host"));
        }
    }
    found
}

fn is_for_the_browser(path: &str) -> bool {
    BROWSER_HOMES.iter().any(|home| path.starts_with(home))
}

fn homes() -> String {
    BROWSER_HOMES.join(" and ")
}

fn untidy_rust(path: &str, text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let n_lines = text.lines().count();
    let has_reason = text.lines().take(NEAR_THE_TOP).any(|line| line.starts_with(REASON_FOR_LENGTH));
    if n_lines > MOST_LINES && !has_reason {
        found.push(format!(
            ": {n_lines} lines; split it by concept, or say `{REASON_FOR_LENGTH}…` near its top"
        ));
    }
    if !text.trim_start().starts_with("//!") {
        found.push(": starts with no `//!` that says what the module is".into());
    }
    if is_for_the_browser(path) && text.lines().any(|line| line.trim() == "#[test]") {
        found.push(
            ": nothing runs a test here; move what it tests into core, or test it in the browser".into(),
        );
    }
    for (number, line) in numbered(text) {
        if !is_for_the_browser(path)
            && BROWSER_CRATES.iter().any(|name| has_word(line, &name.replace('-', "_")))
        {
            found.push(format!(":{number}: only {} may know the browser", homes()));
        }
    }
    for (number, attribute) in allow_attributes(text) {
        if !attribute.contains("reason") {
            found.push(format!(":{number}: `allow` without a reason; better is `expect` with one"));
        }
    }
    found
}

fn numbered(text: &str) -> impl Iterator<Item = (usize, &str)> {
    (1..).zip(text.lines())
}

/// Each `#[allow(…)]` or `#![allow(…)]` that starts a line, with the line's number.
fn allow_attributes(text: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut start = 0;
    for (number, line) in (1..).zip(text.split_inclusive('\n')) {
        let attribute = line.trim_start();
        if attribute.starts_with("#[allow(") || attribute.starts_with("#![allow(") {
            let rest = text.get(start..).unwrap_or_default();
            let end = rest.find(")]").unwrap_or(rest.len());
            found.push((number, rest.get(..end).unwrap_or_default()));
        }
        start += line.len();
    }
    found
}

/// Does the word stand in the line on its own, not as a part of a longer name?
fn has_word(line: &str, word: &str) -> bool {
    let in_a_name = |letter: char| letter.is_alphanumeric() || letter == '_';
    line.match_indices(word).any(|(at, _)| {
        let before = line.get(..at).and_then(|before| before.chars().next_back());
        let after = line.get(at + word.len()..).and_then(|after| after.chars().next());
        !before.is_some_and(in_a_name) && !after.is_some_and(in_a_name)
    })
}

/// `/folder/` at the start of a path: `a/folder/b` and `../folder/b` are paths inside something.
fn names_machine_folder(line: &str) -> bool {
    MACHINE_FOLDERS.iter().any(|folder| {
        line.match_indices(&format!("/{folder}/")).any(|(at, _)| {
            let before = line.get(..at).and_then(|before| before.chars().next_back());
            !before.is_some_and(|letter| letter.is_alphanumeric() || "_-.}/)".contains(letter))
        })
    })
}

/// Cargo itself writes its registry into Cargo.lock.
fn names_registry(path: &str, line: &str) -> bool {
    if path == "Cargo.lock" && line.starts_with("source = ") {
        return false;
    }
    REGISTRIES.iter().any(|host| {
        let host = host.join(".");
        line.match_indices(&host).any(|(at, _)| {
            let after = line.get(at + host.len()..).and_then(|after| after.chars().next());
            !after.is_some_and(char::is_alphanumeric)
        })
    })
}

#[cfg(test)]
mod tests;
