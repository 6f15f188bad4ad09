//! Why a lab file cannot be opened.

use super::{FORMAT, VERSION};
use crate::readings::FileProblem;
use whorl_document::{NotJson, Wrong, line_and_column};
use whorl_words as words;

/// Why a lab file cannot be opened.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum LabFileError {
    /// Not JSON, or not shaped like a lab.
    #[error("{}", words::lab_file::not_json(line, column, message))]
    Json {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the JSON reader says.
        message: String,
    },
    /// Some other JSON document.
    #[error("{}", words::lab_file::not_a_lab(&FORMAT))]
    NotALab,
    /// Of another version than the current one, where no other is opened ([`super::open_own`]).
    #[error("{}", words::lab_file::other_version(found, &VERSION))]
    OtherVersion {
        /// The file's version.
        found: u32,
    },
    /// From a later program, and this one cannot even show it.
    #[error("{}", words::lab_file::newer_not_understood(found, &VERSION, place, problem))]
    NewerNotUnderstood {
        /// The file's version.
        found: u32,
        /// Where, as a path of names from the top.
        place: String,
        /// What is not understood there.
        problem: String,
    },
    /// Not a group's own lab but a recorded one.
    #[error("{}", words::datasets::is_recorded())]
    Recorded,
    /// A value that cannot be.
    #[error("{}", words::lab_file::wrong_value(place, problem))]
    Value {
        /// Where, as a path of names from the top.
        place: String,
        /// Why not.
        problem: String,
    },
    /// A run names a file that is not to be had.
    #[error("{}", words::lab_file::readings_missing(place, file, reason))]
    ReadingsMissing {
        /// Where, as a path of names from the top.
        place: String,
        /// The file named.
        file: String,
        /// What the one who looked for it says.
        reason: String,
    },
    /// A run names a file that cannot be read.
    #[error("{0}")]
    Readings(FileProblem),
}

impl LabFileError {
    /// The message with the lab file's name in front, and where in its text something is wrong.
    pub fn in_text_of(&self, name: &str, text: &str) -> String {
        match self {
            Self::Value { place, problem } => {
                let (line, column) = line_and_column(text, place);
                words::datasets::wrong_value_in(&name, &line, &column, place, problem)
            }
            Self::NewerNotUnderstood { place, .. } => {
                let (line, column) = line_and_column(text, place);
                words::lab_file::in_file_at(&name, &line, &column, &self.to_string())
            }
            _ => self.in_file(name),
        }
    }

    /// The message with the lab file's name in front; a readings file has its own.
    pub fn in_file(&self, name: &str) -> String {
        match self {
            Self::Readings(problem) => problem.to_string(),
            Self::OtherVersion { .. } | Self::NewerNotUnderstood { .. } => format!("{name}: {self}"),
            _ => format!("{name}, {self}"),
        }
    }
}

impl From<NotJson> for LabFileError {
    fn from(NotJson { line, column, message }: NotJson) -> Self {
        Self::Json { line, column, message }
    }
}

impl From<Wrong> for LabFileError {
    fn from(wrong: Wrong) -> Self {
        let (place, problem) = wrong.into_parts();
        Self::Value { place, problem }
    }
}
