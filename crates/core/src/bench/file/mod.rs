//! The bench file: what a teacher sets as one JSON document, which is also what `whorl bench` takes.
//!
//! `format` and `version` come first. A quantity is a number, the same for everyone, or `{"from", "to"}`, drawn for
//! each student. What a file leaves out is as in [`super::BenchSettings::default`]; unknown fields are refused, so
//! that a misspelled one is noticed. Numbers are written in the shortest form that reads back to the same bits.
//! The format is described in DEVELOPERS.md.

pub(crate) mod layout;
mod open;
mod save;

pub(crate) use open::choices;
pub use open::{BenchFileError, open};
pub(crate) use save::fields;
pub use save::save;

/// What stands under `format`.
pub const BENCH_FORMAT: &str = "whorl-bench";
/// What stands under `version`: raised when older programs could not read the file any more.
pub const BENCH_VERSION: u32 = 1;
