//! What can be wrong with a text, in words that say what was expected.

use super::{MOST_CHARACTERS, MOST_NESTING, MOST_POWER};
use crate::expression::Span;
use whorl_words as words;

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
    #[error("{}", words::algebra::nothing_written())]
    Empty,
    /// Too many characters.
    #[error("{}", words::algebra::too_long(&MOST_CHARACTERS))]
    TooLong,
    /// Too many brackets inside each other.
    #[error("{}", words::algebra::nested_too_deep(&MOST_NESTING))]
    TooDeep,
    /// Powers or numbers too large to decide.
    #[error("{}", words::algebra::too_large())]
    TooLarge,
    /// A character that has no meaning here.
    #[error("{}", words::algebra::no_meaning(.0))]
    Character(char),
    /// A full stop that is in no number.
    #[error("{}", words::algebra::full_stop())]
    Stop,
    /// `<`, `≈` and the like.
    #[error("{}", words::algebra::comparison(.0))]
    Comparison(char),
    /// A letter that is no symbol.
    #[error("{}", words::algebra::unknown(name, remedy))]
    Unknown {
        /// What was typed.
        name: String,
        /// What to do.
        remedy: String,
    },
    /// A function such as sin.
    #[error("{}", words::algebra::function(.0))]
    Function(String),
    /// `x` between spaces.
    #[error("{}", words::algebra::letter_as_times())]
    LetterAsTimes,
    /// An operator with nothing on one side.
    #[error("{0}")]
    Missing(Gap),
    /// A bracket never closed.
    #[error("{}", words::algebra::unclosed(.0))]
    Unclosed(char),
    /// A closing bracket without its opening one.
    #[error("{}", words::algebra::unopened(.0))]
    Unopened(char),
    /// `(` closed by `]`.
    #[error("{}", words::algebra::mismatched(open, close, expected))]
    Mismatched {
        /// The opening bracket.
        open: char,
        /// What closed it.
        close: char,
        /// What should have.
        expected: char,
    },
    /// A second `=`.
    #[error("{}", words::algebra::second_equals())]
    SecondEquals,
    /// `a2`.
    #[error("{}", words::algebra::number_after())]
    NumberAfter,
    /// Two points in a number.
    #[error("{}", words::algebra::two_points())]
    TwoPoints,
    /// More digits than are exact.
    #[error("{}", words::algebra::number_too_long())]
    NumberTooLong,
    /// A power that is not a whole number.
    #[error("{}", words::algebra::whole_power(&MOST_POWER))]
    Power,
    /// A power of a power without brackets.
    #[error("{}", words::algebra::power_of_power())]
    PowerOfPower,
}

/// Where something is missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Gap {
    /// Before what is pointed at.
    #[error("{}", words::algebra::missing_before())]
    Before,
    /// After this sign.
    #[error("{}", words::algebra::missing_after(.0))]
    After(&'static str),
    /// Between two brackets.
    #[error("{}", words::algebra::missing_inside())]
    Inside,
}

impl ReadingErrorKind {
    pub(super) fn at(self, span: Span) -> ReadingError {
        ReadingError { span, kind: self }
    }
}
