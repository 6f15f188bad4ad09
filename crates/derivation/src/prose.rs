//! Sentences with mathematics in them: `Write $T$ with $m$, $g$ and $a$.`

use crate::expression::Answer;
use crate::reading::{ReadingError, read};
use crate::symbols::{SymbolId, Symbols};

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
    #[error("a “$” has no partner; put one on each side of the mathematics")]
    Unclosed,
    /// Mathematics that cannot be read.
    #[error("“{math}” cannot be read: {error}")]
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
        let mut pieces = Vec::new();
        let mut parts = text.split('$');
        loop {
            let Some(words) = parts.next() else { return Ok(Self(pieces)) };
            if !words.is_empty() {
                pieces.push(Piece::Words(words.to_owned()));
            }
            let Some(math) = parts.next() else { return Ok(Self(pieces)) };
            let reading = read(math, symbols, &all)
                .map_err(|error| ProseError::Math { math: math.to_owned(), error })?;
            pieces.push(Piece::Math(reading.answer));
            // An odd number of parts means that each `$` had its partner.
            if parts.clone().next().is_none() {
                return Err(ProseError::Unclosed);
            }
        }
    }

    /// The sentence as plain text.
    pub fn shown(&self, symbols: &Symbols) -> String {
        let piece = |piece: &Piece| match piece {
            Piece::Words(words) => words.clone(),
            Piece::Math(answer) => answer.shown(symbols),
        };
        self.0.iter().map(piece).collect()
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
