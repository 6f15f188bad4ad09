//! The pre-lab from outside: a corpus of answers, algebra at random, hostile input, the second derivation.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "clippy.toml allows them in test functions; here the functions they share are tests too"
)]

mod answers;
mod corpus;
mod two_masses;

use whorl_derivation::derivation::Derivation;
use whorl_derivation::file;

/// The main derivation.
fn turntable() -> Derivation {
    file::open(include_str!("../../web/derivations/turntable.json")).unwrap()
}
