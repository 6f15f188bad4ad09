//! Sentences with mathematics in them: `Write $T$ with $m$, $g$ and $a$.`

use crate::expression::{Answer, Expression};
use crate::reading::{ReadingError, read};
use crate::symbols::{SymbolId, Symbols};
use whorl_words as words;

/// Stand in a message for what is no text, the first for the first part, and so on ([`Prose::filled`]): characters for
/// private use, which nobody types.
pub(crate) const HOLES: [char; 4] = ['\u{e000}', '\u{e001}', '\u{e002}', '\u{e003}'];

/// A sentence in pieces.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Prose(pub Vec<Piece>);

/// One piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Words.
    Words(String),
    /// What stood between two `$`.
    Math(Answer),
}

/// Why a sentence cannot be used.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ProseError {
    /// An odd number of `$`.
    #[error("{}", words::derivations::dollar_without_partner())]
    Unclosed,
    /// Mathematics that cannot be read.
    #[error("{}", words::derivations::unreadable_mathematics(math, error))]
    Math {
        /// What stood between the `$`.
        math: String,
        /// What is wrong with it.
        error: ReadingError,
    },
}

impl Prose {
    /// Plain words.
    pub fn words(text: impl Into<String>) -> Self {
        Self(vec![Piece::Words(text.into())])
    }

    /// Reads a sentence; all symbols are known in its mathematics.
    ///
    /// # Errors
    /// When a `$` has no partner or what stands between two cannot be read.
    pub fn read(text: &str, symbols: &Symbols) -> Result<Self, ProseError> {
        let all: Vec<SymbolId> = symbols.ids().collect();
        let parts: Vec<&str> = text.split('$').collect();
        // Words and mathematics take turns, beginning and ending with words.
        if parts.len().is_multiple_of(2) {
            return Err(ProseError::Unclosed);
        }
        let mut pieces = Vec::new();
        for (index, part) in parts.into_iter().enumerate() {
            if !index.is_multiple_of(2) {
                let reading = read(part, symbols, &all)
                    .map_err(|error| ProseError::Math { math: part.to_owned(), error })?;
                pieces.push(Piece::Math(reading.answer));
            } else if !part.is_empty() {
                pieces.push(Piece::Words(part.to_owned()));
            }
        }
        Ok(Self(pieces))
    }

    /// The sentence as plain text.
    pub fn shown(&self, symbols: &Symbols) -> String {
        let piece = |piece: &Piece| match piece {
            Piece::Words(words) => words.clone(),
            Piece::Math(answer) => answer.shown(symbols),
        };
        self.0.iter().map(piece).collect()
    }

    /// A symbol alone.
    pub(crate) fn symbol(id: SymbolId) -> Self {
        Self::default().math(Answer::Value(Expression::symbol(id)))
    }

    /// Mathematics alone.
    pub(crate) fn of(answer: Answer) -> Self {
        Self::default().math(answer)
    }

    /// A message that was given [`HOLES`] as values, with a sentence or mathematics in each of them.
    pub(crate) fn filled(message: &str, parts: &[Self]) -> Self {
        let mut filled = Self::default();
        for piece in message.split_inclusive(HOLES) {
            let words = piece.trim_end_matches(HOLES);
            if !words.is_empty() {
                filled = filled.and(words);
            }
            let hole = HOLES.iter().position(|&hole| piece.ends_with(hole));
            if let Some(part) = hole.and_then(|hole| parts.get(hole)) {
                filled = filled.followed_by(part);
            }
        }
        filled
    }

    /// With more words behind.
    #[must_use]
    pub fn and(mut self, words: impl Into<String>) -> Self {
        self.0.push(Piece::Words(words.into()));
        self
    }

    /// With mathematics behind.
    #[must_use]
    pub fn math(mut self, answer: Answer) -> Self {
        self.0.push(Piece::Math(answer));
        self
    }

    /// With another sentence behind.
    #[must_use]
    pub fn followed_by(mut self, other: &Self) -> Self {
        self.0.extend(other.0.iter().cloned());
        self
    }

    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derivation::tests::symbols;

    #[test]
    fn a_message_is_filled_in_the_order_of_its_language() {
        let [first, second, ..] = HOLES;
        let parts = [Prose::words("one"), Prose::words("two")];
        let filled = Prose::filled(&format!("{second} after {first}, {second}"), &parts);
        assert_eq!(filled.shown(&symbols()), "two after one, two");
    }

    #[test]
    fn mathematics_between_dollars_is_read() {
        let symbols = symbols();
        let prose = Prose::read("Write $T=m(g-a)$ for $tau_s$.", &symbols).unwrap();
        assert_eq!(prose.shown(&symbols), "Write T = m·(g − a) for τ_s.");
        assert_eq!(prose.0.len(), 5);
        assert_eq!(Prose::read("no math", &symbols).unwrap().0.len(), 1);
        assert_eq!(Prose::read("", &symbols).unwrap(), Prose::default());
        assert_eq!(Prose::read("cost $5", &symbols), Err(ProseError::Unclosed));
        let error = Prose::read("$T=$", &symbols).unwrap_err().to_string();
        assert!(error.starts_with("“T=” cannot be read: Something is missing after “=”"), "{error}");
    }
}
