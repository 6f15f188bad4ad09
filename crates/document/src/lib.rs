//! A JSON document whose places know where they are.
//!
//! Lab files and derivations are written by hand as well as by Whorl, so what is wrong with one is
//! told with the place it stands at: `runs[3].readings.time_s: expected a list of numbers`.

mod locate;
mod node;

pub use locate::{line_and_column, offset_of, position};
pub use node::{Node, Wrong, read};

use serde_json::Value;
use whorl_words as words;

/// Text that is not JSON.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::documents::at_line(line, column, message))]
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
    serde_json::from_str(text.strip_prefix('\u{feff}').unwrap_or(text)).map_err(|error| not_json(&error))
}

/// Reads the value with which a text begins, whatever stands behind it, and how many bytes it takes.
///
/// # Errors
/// Says at which line and column the text stops being JSON.
pub fn parse_first(text: &str) -> Result<(Value, usize), NotJson> {
    let mut values = serde_json::Deserializer::from_str(text).into_iter();
    let found = values.next().unwrap_or_else(|| serde_json::from_str(""));
    found.map(|value| (value, values.byte_offset())).map_err(|error| not_json(&error))
}

fn not_json(error: &serde_json::Error) -> NotJson {
    let message = error.to_string();
    // serde_json ends its message with the place, which is told apart here.
    let message = in_words(message.split(" at line ").next().unwrap_or(&message));
    NotJson { line: error.line().max(1), column: error.column().max(1), message }
}

/// A message without values.
type Words = fn() -> &'static str;

/// What serde_json says of a text, and the words for it.
const SAYINGS: [(&str, Words); 16] = [
    ("EOF while parsing a list", words::documents::ends_in_list),
    ("EOF while parsing an object", words::documents::ends_in_object),
    ("EOF while parsing a string", words::documents::ends_in_string),
    ("EOF while parsing a value", words::documents::ends_in_value),
    ("expected `:`", words::documents::colon_expected),
    ("expected `,` or `]`", words::documents::comma_or_bracket_expected),
    ("expected ident", words::documents::word_expected),
    ("expected value", words::documents::value_expected),
    ("invalid escape", words::documents::escape_unknown),
    ("invalid number", words::documents::number_invalid),
    ("number out of range", words::documents::number_too_large),
    ("control character (\\u0000-\\u001F) found while parsing a string", words::documents::control_character),
    ("key must be a string", words::documents::key_without_quotes),
    ("trailing comma", words::documents::comma_too_many),
    ("trailing characters", words::documents::text_behind),
    ("recursion limit exceeded", words::documents::nested_too_deep),
];

/// What serde_json says, in the language spoken; what it says hardly ever stays as it is.
fn in_words(said: &str) -> String {
    if said == "expected `,` or `}`" {
        return words::documents::comma_or_brace_expected(&'}');
    }
    let found = SAYINGS.iter().find(|(saying, _)| *saying == said);
    found.map_or(said, |(_, words)| words()).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn english_words_are_those_of_the_json_reader() {
        for (saying, words) in SAYINGS {
            assert_eq!(saying, words());
        }
        assert_eq!(parse("{\"a\": 1 2}").unwrap_err().message, "expected `,` or `}`");
        assert_eq!(parse("[1, ]").unwrap_err().to_string(), "line 1, column 5: trailing comma");
    }
}
