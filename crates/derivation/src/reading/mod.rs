//! Text → [`Answer`], or a complaint that points at the character.
//!
//! ```text
//! answer  = sum [ "=" sum ]
//! sum     = sign* product { sign+ product }
//! product = factor { [ "*" | "/" ] sign* factor }       nothing between: multiplied
//! factor  = ( number | symbol | "(" sum ")" ) [ power ]
//! power   = "^" whole | superscript digits
//! ```
//!
//! A run of letters is cut into the step's own symbols (`names.rs`): `mga` is m·g·a.
//! Division goes from left to right: `a/2R` is (a/2)·R. Many people mean a/(2R); [`Reading::other`]
//! holds that second understanding so that the judge can ask.

mod error;
mod names;
mod parser;
mod token;

pub use error::{Gap, ReadingError, ReadingErrorKind};

use crate::expression::Answer;
use crate::identity::Size;
use crate::symbols::{SymbolId, Symbols};

/// Longer answers are refused before they are looked at.
pub const MOST_CHARACTERS: usize = 400;
/// Brackets inside brackets.
pub const MOST_NESTING: usize = 40;
/// Highest power, either sign.
pub const MOST_POWER: i32 = 12;

/// What was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The answer, divisions taken from left to right.
    pub answer: Answer,
    /// The answer with products that have no sign between their factors taken first, where that
    /// makes a difference.
    pub other: Option<Answer>,
}

/// Reads an answer. Only the symbols of `readable` are known.
///
/// # Errors
/// Points at what cannot be read and says what was expected there.
pub fn read(text: &str, symbols: &Symbols, readable: &[SymbolId]) -> Result<Reading, ReadingError> {
    let n_characters = text.chars().take(MOST_CHARACTERS + 1).count();
    if n_characters > MOST_CHARACTERS {
        return Err(ReadingErrorKind::TooLong.at(MOST_CHARACTERS..MOST_CHARACTERS + 1));
    }
    let tokens = token::tokens(text, &names::Names::new(symbols, readable))?;
    let answer = parser::parse(&tokens, parser::Division::LeftToRight)?;
    let too_large = answer.sides().map(Size::of).find(|size| !size.is_decidable());
    if too_large.is_some() {
        return Err(ReadingErrorKind::TooLarge.at(0..n_characters));
    }
    let other =
        parser::parse(&tokens, parser::Division::BareProductsFirst).ok().filter(|other| *other != answer);
    Ok(Reading { answer, other })
}

#[cfg(test)]
mod tests;
