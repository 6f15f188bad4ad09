//! What a file was taken for, and why.

use super::{Choice, DecimalMark, Delimiter, Encoding, Readings, Role};
use crate::quantity::Kilograms;
use crate::torque::Motion;
use whorl_words as words;

/// How sure a guess is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Confidence {
    /// Another reading is possible: the user is asked.
    Open,
    /// Taken, and worth a look.
    Likely,
    /// The file says so itself, or the user did.
    Sure,
}

impl Confidence {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Open, Self::Likely, Self::Sure];

    /// Its name in documents.
    pub fn key(self) -> &'static str {
        match self {
            Self::Sure => "sure",
            Self::Likely => "likely",
            Self::Open => "open",
        }
    }

    /// A word for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Sure => words::readings::sure(),
            Self::Likely => words::readings::likely(),
            Self::Open => words::readings::please_choose(),
        }
    }
}

/// Something guessed, with its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Guess<T> {
    /// What it was taken for.
    pub value: T,
    /// How sure that is.
    pub confidence: Confidence,
    /// Why, for the user.
    pub reason: String,
}

/// A column as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its heading with the unit as the file has it; may be empty.
    pub heading: String,
    /// What it holds.
    pub role: Guess<Role>,
    /// Whether the readings are made from it.
    pub used: bool,
}

/// Something that was done with the file's rows, or is worth knowing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// The first line it is about, from 1; `None` for all of the file.
    pub line: Option<usize>,
    /// What, for the user.
    pub words: String,
}

impl core::fmt::Display for Remark {
    /// `Line 9: …`, or the words alone.
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self.line {
            Some(line) => f.write_str(&words::readings::on_line(&line, &self.words)),
            None => f.write_str(&self.words),
        }
    }
}

/// A question that must be answered before the readings can be used.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The question.
    pub words: String,
    /// Two answers or more, the likeliest first.
    pub answers: Vec<Answer>,
}

/// One answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// What it says.
    pub words: String,
    /// What is then said of the file.
    pub choices: Vec<Choice>,
}

/// A row of the preview.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PreviewRow {
    /// Its line in the file, from 1.
    pub line: usize,
    /// Its fields as the file has them, long ones cut.
    pub fields: Vec<String>,
    /// Whether it holds readings; otherwise headings or units.
    pub data: bool,
}

/// A run found in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundRun {
    /// What the file calls it; empty when it says nothing.
    pub label: String,
    /// What the table carries, where the file says so.
    pub carries: Option<String>,
    /// The hanging mass, where the file says so.
    pub hanging_mass: Option<Kilograms>,
    /// Which way the mass went, where the file says so.
    pub motion: Option<Motion>,
    /// First and last line it was read from.
    pub lines: (usize, usize),
    /// Its readings.
    pub readings: Readings,
    /// What was done with its rows.
    pub remarks: Vec<Remark>,
}

/// How a file is laid out, as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// How bytes stand for characters.
    pub encoding: Guess<Encoding>,
    /// What stands between fields.
    pub delimiter: Guess<Delimiter>,
    /// What stands before decimals.
    pub decimal: Guess<DecimalMark>,
    /// Rows of numbers.
    pub rows: usize,
    /// The columns of the first table in the file.
    pub columns: Vec<Column>,
    /// Its first rows.
    pub preview: Vec<PreviewRow>,
    /// What is not sure; while there is any, the runs are only what the likeliest answers give.
    pub questions: Vec<Question>,
    /// What is worth knowing of the whole file.
    pub remarks: Vec<Remark>,
    /// The same for all files with the same headings and punctuation: what is said of one goes for all.
    pub shape: String,
}

/// A file as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Understood {
    /// How it is laid out.
    pub layout: Layout,
    /// Its runs, at least one unless a question is open.
    pub runs: Vec<FoundRun>,
}
