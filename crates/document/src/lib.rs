//! A JSON document whose places know where they are.
//!
//! Lab files and derivations are written by hand as well as by Whorl, so what is wrong with one is
//! told with the place it stands at: `runs[3].readings.time_s: expected a list of numbers`.

mod node;

pub use node::{Node, Wrong, read};

use serde_json::Value;

/// Text that is not JSON.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}, column {column}: {message}")]
pub struct NotJson {
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1.
    pub column: usize,
    /// What the JSON reader says.
    pub message: String,
}

/// Reads JSON; a byte-order mark in front is passed over.
///
/// # Errors
/// Says at which line and column the text stops being JSON.
pub fn parse(text: &str) -> Result<Value, NotJson> {
    serde_json::from_str(text.strip_prefix('\u{feff}').unwrap_or(text)).map_err(|error| {
        let message = error.to_string();
        // serde_json ends its message with the place, which is told apart here.
        let message = message.split(" at line ").next().unwrap_or(&message).to_owned();
        NotJson { line: error.line().max(1), column: error.column().max(1), message }
    })
}
