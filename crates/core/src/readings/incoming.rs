//! A file that is read while it comes in.

use super::dialect::dialect;
use super::encoding::decode;
use super::filling::Filling;
use super::reader::{self, speaks_with_commas};
use super::{Choices, ReadingError, Understood};
use std::borrow::Cow;

/// So many bytes tell how a file is written, for the time being.
const ENOUGH: usize = 1 << 20;

/// A file that comes in piece by piece. Rows are taken as they come, so that little is left to be done after the
/// last one; what is found is what [`super::read`] finds.
#[derive(Debug)]
pub struct Incoming {
    contents: Contents,
    /// Bytes that there will be.
    size: usize,
    choices: Choices,
    ahead: Ahead,
}

#[derive(Debug)]
enum Contents {
    /// All is valid UTF-8 so far, but for the beginning of a character.
    Text { text: String, begun: Vec<u8> },
    Bytes(Vec<u8>),
}

/// What has been read of a text while it came in.
#[derive(Debug)]
enum Ahead {
    NotYet,
    /// The first bytes are a mark; the rows behind it.
    Begun { mark: usize, filling: Filling },
    Never,
}

impl Incoming {
    /// Nothing yet of a file of about so many bytes, of which this is said.
    pub fn new(size: usize, choices: Choices) -> Self {
        let contents = Contents::Text { text: String::with_capacity(size), begun: Vec::new() };
        Self { contents, size, choices, ahead: Ahead::NotYet }
    }

    /// Adds the next bytes.
    pub fn add(&mut self, piece: &[u8]) {
        self.contents.add(piece);
        let Contents::Text { text, .. } = &self.contents else {
            self.ahead = Ahead::Never;
            return;
        };
        if matches!(self.ahead, Ahead::NotYet) && text.len() >= ENOUGH {
            self.ahead = begun(text, &self.choices, self.size);
        }
        if let Ahead::Begun { mark, filling } = &mut self.ahead {
            let goes_on = text.get(*mark..).map(|text| filling.ahead(text));
            if !matches!(goes_on, Some(Ok(true))) {
                self.ahead = Ahead::Never;
            }
        }
    }

    /// All that has come.
    pub fn bytes(&mut self) -> &[u8] {
        self.contents.whole();
        match &self.contents {
            Contents::Text { text, .. } => text.as_bytes(),
            Contents::Bytes(bytes) => bytes,
        }
    }

    /// Reads what has come, which is all of the file. What was read ahead is gone afterwards.
    ///
    /// # Errors
    /// As [`super::read`].
    pub fn read(&mut self, progress: &mut dyn FnMut(f64)) -> Result<Understood, Vec<ReadingError>> {
        self.contents.whole();
        let filling = match core::mem::replace(&mut self.ahead, Ahead::Never) {
            Ahead::Begun { filling, .. } => Some(filling),
            _ => None,
        };
        match &self.contents {
            Contents::Text { text, .. } => {
                reader::read(text.as_bytes(), Some(text), filling, &self.choices, progress)
            }
            Contents::Bytes(bytes) => reader::read(bytes, None, None, &self.choices, progress),
        }
    }
}

/// Begins with the rows of a text whose first part this is.
#[inline(never)]
fn begun(text: &str, choices: &Choices, size: usize) -> Ahead {
    let Ok(decoded) = decode(text.as_bytes(), Some(text), choices.encoding) else { return Ahead::Never };
    let Cow::Borrowed(body) = decoded.body else { return Ahead::Never };
    let mark = text.len() - body.len();
    let filling = dialect(body, choices, &|| speaks_with_commas(body))
        .and_then(|dialect| Filling::new(dialect, size.saturating_sub(mark)).ok());
    filling.map_or(Ahead::Never, |filling| Ahead::Begun { mark, filling })
}

impl Contents {
    /// Adds the next bytes.
    fn add(&mut self, piece: &[u8]) {
        match self {
            Self::Bytes(bytes) => bytes.extend_from_slice(piece),
            Self::Text { text, begun } => {
                let joined;
                let piece = if begun.is_empty() {
                    piece
                } else {
                    joined = [begun.as_slice(), piece].concat();
                    begun.clear();
                    joined.as_slice()
                };
                let valid = match core::str::from_utf8(piece) {
                    Ok(valid) => valid,
                    Err(error) => {
                        let (valid, rest) = piece.split_at(error.valid_up_to());
                        if error.error_len().is_some() {
                            let mut bytes = core::mem::take(text).into_bytes();
                            bytes.extend_from_slice(piece);
                            *self = Self::Bytes(bytes);
                            return;
                        }
                        begun.extend_from_slice(rest);
                        core::str::from_utf8(valid).unwrap_or_default()
                    }
                };
                text.push_str(valid);
            }
        }
    }

    /// Nothing more comes: a last character that is not whole makes it bytes.
    fn whole(&mut self) {
        if let Self::Text { text, begun } = self
            && !begun.is_empty()
        {
            let mut bytes = core::mem::take(text).into_bytes();
            bytes.append(begun);
            *self = Self::Bytes(bytes);
        }
    }
}

#[cfg(test)]
mod tests;
