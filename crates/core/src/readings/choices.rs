//! What a user says of a file, where the guess was wrong or two readings are possible.

use super::{ReadingKind, Role};
use whorl_words as words;

/// How bytes stand for characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, with or without a byte-order mark.
    Utf8,
    /// UTF-16, least byte first.
    Utf16Little,
    /// UTF-16, greatest byte first.
    Utf16Big,
    /// Windows code page 1252, a superset of printable ISO 8859-1.
    Windows1252,
}

/// What stands between the fields of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Delimiter {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
    /// One or more spaces.
    Spaces,
    /// `|`
    Bar,
}

/// What stands before the decimals of a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecimalMark {
    /// `0.5`
    Point,
    /// `0,5`
    Comma,
}

impl Encoding {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Utf8, Self::Utf16Little, Self::Utf16Big, Self::Windows1252];

    /// Its usual name, the same in all languages.
    pub fn words(self) -> &'static str {
        match self {
            Self::Utf8 => "UTF-8",
            Self::Utf16Little => "UTF-16LE",
            Self::Utf16Big => "UTF-16BE",
            Self::Windows1252 => "Windows-1252",
        }
    }
}

impl Delimiter {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Comma, Self::Semicolon, Self::Tab, Self::Spaces, Self::Bar];

    /// Its name in documents.
    pub fn key(self) -> &'static str {
        match self {
            Self::Comma => "commas",
            Self::Semicolon => "semicolons",
            Self::Tab => "tabs",
            Self::Spaces => "spaces",
            Self::Bar => "bars",
        }
    }

    /// A word for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Comma => words::readings::commas(),
            Self::Semicolon => words::readings::semicolons(),
            Self::Tab => words::readings::tabs(),
            Self::Spaces => words::readings::spaces(),
            Self::Bar => words::readings::bars(),
        }
    }
}

impl DecimalMark {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Point, Self::Comma];

    /// Its name in documents.
    pub fn key(self) -> &'static str {
        match self {
            Self::Point => "point",
            Self::Comma => "comma",
        }
    }

    /// A word for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Point => words::readings::point(),
            Self::Comma => words::readings::comma(),
        }
    }
}

/// One thing said of a file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Choice {
    /// How bytes stand for characters.
    Encoding(Encoding),
    /// What stands between fields.
    Delimiter(Delimiter),
    /// What stands before decimals.
    Decimal(DecimalMark),
    /// What a column, counted from 1, holds.
    Column(usize, Role),
    /// Which readings the file's runs are made of.
    Holds(ReadingKind),
}

/// All that was said of a file, and so of others of the same shape. What is not said is guessed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Choices {
    /// How bytes stand for characters.
    pub encoding: Option<Encoding>,
    /// What stands between fields.
    pub delimiter: Option<Delimiter>,
    /// What stands before decimals.
    pub decimal: Option<DecimalMark>,
    /// Which readings the file's runs are made of.
    pub holds: Option<ReadingKind>,
    columns: Vec<(usize, Role)>,
}

impl Choices {
    /// Adds one; a later choice of the same thing replaces an earlier one.
    pub fn set(&mut self, choice: Choice) {
        match choice {
            Choice::Encoding(encoding) => self.encoding = Some(encoding),
            Choice::Delimiter(delimiter) => self.delimiter = Some(delimiter),
            Choice::Decimal(mark) => self.decimal = Some(mark),
            Choice::Holds(kind) => self.holds = Some(kind),
            Choice::Column(column, role) => {
                self.columns.retain(|entry| entry.0 != column);
                self.columns.push((column, role));
            }
        }
    }

    /// What a column, counted from 1, was said to hold.
    pub fn column(&self, column: usize) -> Option<Role> {
        self.columns.iter().find(|entry| entry.0 == column).map(|entry| entry.1)
    }

    /// Whether nothing was said.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// As text, each choice as `what=which`, between semicolons: `decimal=comma;2=velocity cm/s`.
    pub fn to_text(&self) -> String {
        let mut parts = Vec::new();
        if let Some(encoding) = self.encoding {
            parts.push(format!("encoding={}", encoding.words()));
        }
        if let Some(delimiter) = self.delimiter {
            parts.push(format!("delimiter={}", delimiter.key()));
        }
        if let Some(mark) = self.decimal {
            parts.push(format!("decimal={}", mark.key()));
        }
        if let Some(kind) = self.holds {
            parts.push(format!("holds={}", kind.key()));
        }
        parts.extend(self.columns.iter().map(|(column, role)| format!("{column}={}", role.key())));
        parts.join(";")
    }

    /// Reads [`Choices::to_text`]; `None` when a part makes no sense.
    pub fn from_text(text: &str) -> Option<Self> {
        let mut choices = Self::default();
        for part in text.split(';').map(str::trim).filter(|part| !part.is_empty()) {
            choices.set(Choice::from_text(part)?);
        }
        Some(choices)
    }
}

impl Choice {
    /// Reads one `what=which`.
    pub fn from_text(text: &str) -> Option<Self> {
        let (what, which) = text.split_once('=')?;
        let (what, which) = (what.trim(), which.trim());
        Some(match what {
            "encoding" => Self::Encoding(
                Encoding::ALL.into_iter().find(|each| each.words().eq_ignore_ascii_case(which))?,
            ),
            "delimiter" => Self::Delimiter(Delimiter::ALL.into_iter().find(|each| each.key() == which)?),
            "decimal" => Self::Decimal(DecimalMark::ALL.into_iter().find(|each| each.key() == which)?),
            "holds" => Self::Holds(ReadingKind::ALL.into_iter().find(|kind| kind.key() == which)?),
            column => {
                let column = column.parse().ok().filter(|&column| column > 0)?;
                Self::Column(column, Role::from_key(which)?)
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn choices_are_told_as_text_and_read_back() {
        let text = "encoding=UTF-16LE;delimiter=tabs;decimal=comma;holds=velocity;2=velocity cm/s;1=time ms";
        let choices = Choices::from_text(text).unwrap();
        assert_eq!(choices.column(2), Some(Role::Velocity(1e-2)));
        assert_eq!(choices.to_text(), text);
        for wrong in ["decimal=dot", "0=time s", "x", "=", "1=apples"] {
            assert_eq!(Choices::from_text(wrong), None, "{wrong}");
        }
        assert_eq!(Choices::from_text(""), Some(Choices::default()));
    }

    #[test]
    fn a_later_choice_of_the_same_thing_counts() {
        let mut choices = Choices::default();
        choices.set(Choice::Column(1, Role::Time(1.0)));
        choices.set(Choice::Column(1, Role::Time(1e-3)));
        assert_eq!(choices.to_text(), "1=time ms");
    }
}
