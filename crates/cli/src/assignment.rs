//! `whorl assignment`: work that an instructor sets, as a file and as a link.

use crate::read_text;
use std::path::Path;
use whorl_core::assignment::{fragment, open, read_link, save};

/// The fragment of a link for a file, or the file of a link; `None` when the words make no call.
pub(crate) fn answer(words: &[&str]) -> Option<Result<String, String>> {
    match *words {
        ["--link", link] => Some(read_link(link).map(|set| save(&set)).map_err(|why| why.to_string())),
        [path] if !path.starts_with('-') => Some(of_file(path)),
        _ => None,
    }
}

fn of_file(path: &str) -> Result<String, String> {
    let text = read_text(Path::new(path), "save the assignment as UTF-8")?;
    let set = open(&text).map_err(|problem| format!("{path}, {problem}"))?;
    Ok(fragment(&set) + "\n")
}
