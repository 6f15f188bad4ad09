//! What can be wrong with a text, in words that say what was expected.

use super::{MOST_CHARACTERS, MOST_NESTING, MOST_POWER};
use crate::expression::Span;

/// Something that cannot be read, and where.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{kind}")]
pub struct ReadingError {
    /// Where, in characters from 0.
    pub span: Span,
    /// What is wrong.
    pub kind: ReadingErrorKind,
}

/// The kinds of typing error.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ReadingErrorKind {
    /// Blank.
    #[error("Nothing is written yet.")]
    Empty,
    /// Too many characters.
    #[error(
        "This is longer than {MOST_CHARACTERS} characters. Answers here are short: write it more simply."
    )]
    TooLong,
    /// Too many brackets inside each other.
    #[error(
        "More than {MOST_NESTING} brackets stand inside each other. Take away those that are not needed."
    )]
    TooDeep,
    /// Powers or numbers too large to decide.
    #[error("The numbers or powers in this are too large. Answers here are short: write it more simply.")]
    TooLarge,
    /// A character that has no meaning here.
    #[error("“{0}” has no meaning here. Use symbols, numbers, + - * / ^ ( ) and =.")]
    Character(char),
    /// A full stop that is in no number.
    #[error("A full stop belongs only inside a number. To multiply, write * or nothing at all.")]
    Stop,
    /// `<`, `≈` and the like.
    #[error("“{0}” cannot be used here. Expected “=” between two sides.")]
    Comparison(char),
    /// A letter that is no symbol.
    #[error("There is no symbol “{name}” in this step. {remedy}")]
    Unknown {
        /// What was typed.
        name: String,
        /// What to do.
        remedy: String,
    },
    /// A function such as sin.
    #[error("“{0}” is not needed here: + - * / and whole powers are enough.")]
    Function(String),
    /// `x` between spaces.
    #[error("“x” is no symbol in this step. To multiply, write * or nothing at all.")]
    LetterAsTimes,
    /// An operator with nothing on one side.
    #[error("Something is missing {0}. Expected a symbol, a number or an opening bracket there.")]
    Missing(String),
    /// A bracket never closed.
    #[error("The bracket “{0}” is never closed. Expected a closing one after it.")]
    Unclosed(char),
    /// A closing bracket without its opening one.
    #[error("No bracket was opened for this “{0}”. Take it away, or open one before it.")]
    Unopened(char),
    /// `(` closed by `]`.
    #[error("“{open}” is closed by “{close}”. Expected “{expected}”.")]
    Mismatched {
        /// The opening bracket.
        open: char,
        /// What closed it.
        close: char,
        /// What should have.
        expected: char,
    },
    /// A second `=`.
    #[error("Only one “=” can stand in an answer. Keep the equation you want and take away the rest.")]
    SecondEquals,
    /// `a2`.
    #[error(
        "A number right after a symbol or a bracket is unclear. Write 2*a for twice a, or a^2 for its square."
    )]
    NumberAfter,
    /// Two points in a number.
    #[error("This number has more than one decimal point. Expected digits with at most one.")]
    TwoPoints,
    /// More digits than are exact.
    #[error("This number is too long. Expected at most 17 digits.")]
    NumberTooLong,
    /// A power that is not a whole number.
    #[error("Expected a whole number as the power, such as ^2 or ^-1, at most {MOST_POWER}.")]
    Power,
    /// A power of a power without brackets.
    #[error("Two powers follow each other. Use brackets to show which comes first.")]
    PowerOfPower,
}

impl ReadingErrorKind {
    pub(super) fn at(self, span: Span) -> ReadingError {
        ReadingError { span, kind: self }
    }
}
