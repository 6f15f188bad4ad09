//! Whorl's words: every sentence a user meets, once per language.
//!
//! `en/` holds the English messages, a file per part of the program; each becomes a function here:
//! `runs = {count} {count|run|runs}` of `en/path.txt` is [`path::runs`]. The other languages stand beside it in
//! files of the same names. A message that is missing in one of them, or takes other values, ends the build.
//!
//! English is part of every program that uses a message, and only the messages it uses. The other languages
//! are tables of text that are read when they are chosen ([`speak`]).

use core::cell::Cell;
use core::fmt::Display;

mod language;
mod messages {
    //! Made from `en/` by the build script.
    include!(concat!(env!("OUT_DIR"), "/messages.rs"));
}
mod numbers;

#[cfg(not(target_family = "wasm"))]
pub use language::table;
pub use language::{Language, NotOurs, Translation, in_english, speak, spoken};
pub use messages::*;
pub use numbers::{DecimalMark, decimal_mark, number, use_decimal_mark, with_mark};

thread_local! {
    static TEXTS: Cell<Option<&'static [&'static str]>> = const { Cell::new(None) };
}

/// A message in the language spoken.
#[inline(never)]
fn say(place: usize, english: &'static str) -> &'static str {
    TEXTS.get().and_then(|texts| texts.get(place)).copied().unwrap_or(english)
}

/// A message with its values put in: `{0}` stands for the first, `{0|file|files}` for one of two words by whether
/// it is 1.
#[inline(never)]
fn fill(message: &str, values: &[&dyn Display]) -> String {
    let mut pieces = message.split('{');
    let mut text = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let (inside, rest) = piece.split_once('}').unwrap_or((piece, ""));
        let mut parts = inside.split('|');
        let place = parts.next().and_then(|place| place.parse::<usize>().ok());
        let value = place.and_then(|place| values.get(place)).map(ToString::to_string).unwrap_or_default();
        match (parts.next(), parts.next()) {
            (Some(one), Some(other)) => text += if value == "1" { one } else { other },
            _ => text += &value,
        }
        text += rest;
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_put_in_by_their_places() {
        assert_eq!(fill("{1} of {0}, {1}", &[&3, &"two"]), "two of 3, two");
        assert_eq!(fill("no values", &[]), "no values");
    }

    #[test]
    fn a_number_chooses_between_two_words() {
        let files = |count: i32| fill("{0} {0|file|files}", &[&count]);
        assert_eq!([files(0), files(1), files(2)], ["0 files", "1 file", "2 files"]);
    }

    #[test]
    fn what_is_put_in_is_not_read_as_a_message() {
        assert_eq!(fill("“{0}”", &[&"{0} } {"]), "“{0} } {”");
    }
}
