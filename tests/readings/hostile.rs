//! Files nobody should send: each gives data, or an error that says where and what to do.

use super::corpus::{Case, read_as};
use super::truth::{loose_ends, questions, runs_differ, words};
use whorl_core::readings::{ReadingError, Understood};

/// Words in which a remedy begins; every message has one of them.
const REMEDIES: [&str; 26] = [
    "save", "export", "open", "choose", "delete", "fill", "sort", "cut", "write", "name", "add", "send",
    "log", "check", "drop", "split", "remove", "expected", "use", "separate", "copy", "unpack", "close",
    "put", "give", "take",
];
/// Longest message, in characters: a hostile field may be a megabyte long.
const LONGEST_MESSAGE: usize = 600;
/// Most complaints about one file.
const MOST: usize = 10;

pub(crate) fn complaints(case: &Case) -> Vec<String> {
    let outcome = read_as(&case.bytes, "");
    let mut told = unfit(&outcome);
    match (case.truth["outcome"].as_str().unwrap(), &outcome) {
        ("data" | "asks", Err(errors)) => told.push(format!("refused: {}", words(errors))),
        ("data", Ok(understood)) => {
            told.extend(runs_differ(&understood.runs, &case.truth["runs"]));
            let remarks = understood.layout.remarks.len()
                + understood.runs.iter().map(|run| run.remarks.len()).sum::<usize>();
            if case.truth["remark"] == true && remarks == 0 {
                told.push("nothing was said of what was passed over".to_owned());
            }
        }
        ("error", Ok(understood)) => {
            let rows = understood.runs.iter().map(|run| run.readings.count()).sum::<usize>();
            told.push(format!("taken: {} runs, {rows} readings", understood.runs.len()));
        }
        ("asks", Ok(understood)) => {
            let asked = questions(understood);
            let said = |word: &str| asked.contains(word);
            let wanted = case.truth["says"].as_array().unwrap();
            if !wanted.iter().all(|word| said(word.as_str().unwrap())) {
                told.push(format!("asks “{asked}”, which does not say {wanted:?}"));
            }
        }
        ("error", Err(errors)) => told.extend(unlike(errors, &case.truth)),
        _ => {}
    }
    told
}

/// Where an error does not say what it should, or stands at another place.
fn unlike(errors: &[ReadingError], truth: &serde_json::Value) -> Vec<String> {
    let message = words(errors);
    let lower = message.to_lowercase();
    let mut told = Vec::new();
    for wanted in truth["says"].as_array().unwrap().iter().map(|wanted| wanted.as_str().unwrap()) {
        if !wanted.split('|').any(|word| lower.contains(&word.to_lowercase())) {
            told.push(format!("does not say “{wanted}”: {message}"));
        }
    }
    for (what, found) in [("line", errors[0].line), ("column", errors[0].column)] {
        if truth[what].as_u64().is_some_and(|wanted| wanted != found as u64) {
            told.push(format!("{what} {found}, not {}: {message}", truth[what]));
        }
    }
    told
}

/// What no answer may be: without a place, a remedy, an end, or with what a terminal or a page would obey.
pub(crate) fn unfit(outcome: &Result<Understood, Vec<ReadingError>>) -> Vec<String> {
    let errors = match outcome {
        Ok(understood) => return loose_ends(understood),
        Err(errors) => errors,
    };
    let mut told = Vec::new();
    if errors.is_empty() || errors.len() > MOST {
        told.push(format!("{} complaints", errors.len()));
    }
    for error in errors {
        let message = error.to_string();
        let lower = message.to_lowercase();
        if error.line == 0 || error.column == 0 {
            told.push(format!("no place: {message}"));
        }
        if !REMEDIES
            .iter()
            .any(|remedy| lower.split(|c: char| !c.is_alphabetic()).any(|word| word == *remedy))
        {
            told.push(format!("no remedy: {message}"));
        }
        if message.chars().count() > LONGEST_MESSAGE {
            told.push(format!("{} characters: {:.80}…", message.chars().count(), message));
        }
        if message.contains(|c: char| c.is_control()) {
            told.push(format!("control characters: {message:?}"));
        }
    }
    told
}
