//! A file that is read while it comes in.

use super::encoding::{decode, decode_rest};
use super::filling::Filling;
use super::reader::{self, head, read_on, too_many_bytes, written};
use super::{Choices, ReadingError, Understood};
use std::borrow::Cow;

/// A file that comes in piece by piece. Rows of plain letters are taken as they come, and let go, so that little is
/// left to be done after the last one; what is found is what [`super::read`] finds.
#[derive(Debug)]
pub struct Incoming {
    contents: Contents,
    /// Bytes that have come, and that there will be.
    length: usize,
    size: usize,
    choices: Choices,
    ahead: Ahead,
}

/// What has come and was not let go.
#[derive(Debug)]
enum Contents {
    /// All is valid UTF-8 so far, but for the beginning of a character.
    Text {
        text: String,
        begun: Vec<u8>,
    },
    Bytes(Vec<u8>),
}

/// What has been read of a text while it came in.
#[derive(Debug)]
enum Ahead {
    NotYet,
    /// Rows of plain letters, which are gone.
    Begun(Filling),
    /// The same; what comes now waits for the end.
    Stopped(Filling),
    Failed(ReadingError),
    Never,
}

impl Incoming {
    /// Nothing yet of a file of about so many bytes, of which this is said.
    pub fn new(size: usize, choices: Choices) -> Self {
        let contents = Contents::Text { text: String::new(), begun: Vec::new() };
        Self { contents, length: 0, size, choices, ahead: Ahead::NotYet }
    }

    /// Adds the next bytes.
    pub fn add(&mut self, piece: &[u8]) {
        self.length += piece.len();
        if matches!(self.ahead, Ahead::Failed(_)) {
            return;
        }
        self.contents.add(piece);
        let Contents::Text { text, begun } = &mut self.contents else {
            self.stop();
            return;
        };
        match &mut self.ahead {
            Ahead::NotYet if text.len() >= reader::HEAD => {
                let first = begun.is_empty().then(|| first_rows(text, &self.choices, self.size));
                self.ahead = first.flatten().map_or(Ahead::Never, Ahead::Begun);
            }
            Ahead::Begun(_) if piece.is_ascii() => {}
            _ => {
                self.stop();
                return;
            }
        }
        if let Ahead::Begun(filling) = &mut self.ahead {
            let goes_on = filling.ahead(text);
            text.drain(..filling.let_go());
            match goes_on {
                Ok(true) => {}
                Ok(false) => self.stop(),
                Err(error) => self.ahead = Ahead::Failed(error),
            }
        }
    }

    fn stop(&mut self) {
        if let Ahead::Begun(_) = self.ahead
            && let Ahead::Begun(filling) = core::mem::replace(&mut self.ahead, Ahead::Never)
        {
            self.ahead = Ahead::Stopped(filling);
        }
    }

    /// How many bytes have come.
    pub fn length(&self) -> usize {
        self.length
    }

    /// All that has come, if nothing was let go.
    pub fn bytes(&mut self) -> Option<&[u8]> {
        self.contents.whole();
        match (&self.ahead, &self.contents) {
            (Ahead::NotYet | Ahead::Never, Contents::Text { text, .. }) => Some(text.as_bytes()),
            (Ahead::NotYet | Ahead::Never, Contents::Bytes(bytes)) => Some(bytes),
            _ => None,
        }
    }

    /// Reads what has come, which is all of the file; afterwards nothing of it is left.
    ///
    /// # Errors
    /// As [`super::read`].
    pub fn read(mut self, progress: &mut dyn FnMut(f64)) -> Result<Understood, Vec<ReadingError>> {
        too_many_bytes(self.length)?;
        self.contents.whole();
        let (bytes, known) = match &self.contents {
            Contents::Text { text, .. } => (text.as_bytes(), Some(text.as_str())),
            Contents::Bytes(bytes) => (bytes.as_slice(), None),
        };
        match self.ahead {
            Ahead::Failed(error) => Err(vec![error]),
            Ahead::Begun(filling) | Ahead::Stopped(filling) => {
                let rest = decode_rest(bytes, known, self.choices.encoding);
                read_on(filling, rest, &self.choices, progress)
            }
            Ahead::NotYet | Ahead::Never => reader::read(bytes, known, &self.choices, progress),
        }
    }
}

/// Begins with the rows of a text whose first part this is, if it holds plain letters and rows of numbers.
#[inline(never)]
fn first_rows(text: &str, choices: &Choices, size: usize) -> Option<Filling> {
    if !text.is_ascii() {
        return None;
    }
    let decoded = decode(text.as_bytes(), Some(text), choices.encoding).ok()?;
    // Plain letters may be something else as well.
    if !matches!(decoded.body, Cow::Borrowed(body) if body.len() == text.len()) {
        return None;
    }
    let dialect = written(head(text)?, choices)?;
    Filling::new(dialect, size).ok()
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
