//! The lab file: one JSON document that holds everything a group entered, its readings included.
//!
//! `format` and `version` come first. What is read becomes the real
//! types through their checking constructors, so a hand-edited file cannot smuggle in readings
//! that run backwards. Numbers are written in the shortest form that reads back to the same bits
//! (serde_json with `float_roundtrip` reads them), so a reopened lab gives identical results. The format is
//! described in DEVELOPERS.md.

mod assigned;
mod dataset;
mod error;
mod migrations;
mod number;
mod open;
mod open_record;
mod salvage;
mod save;
mod saved;

use crate::lab::{Dataset, Lab};

pub(crate) use assigned::{criterion, given};
pub use error::LabFileError;
pub use open::{OpenedPath, open, open_alone, open_own};
pub use salvage::{Salvaged, salvage};
pub use save::{Piece, readings_text, save, save_in_pieces, save_with_fingerprint, save_without_runs};

/// What stands under `format`.
pub const FORMAT: &str = "whorl-lab";
/// What stands under `version`: raised when older programs could not read the file any more.
pub const VERSION: u32 = 3;

/// Makes a recorded lab of one: what it holds is locked from here on, for good. Objects without parts are left to
/// whoever works with it.
#[must_use]
pub fn recorded(lab: Lab, dataset: Dataset) -> Lab {
    lab.record(dataset, dataset::written)
}

#[cfg(test)]
mod dataset_tests;
#[cfg(test)]
mod pieces_tests;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod versions_tests;
