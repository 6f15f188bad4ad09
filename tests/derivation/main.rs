//! The pre-lab from outside: a corpus of answers, algebra at random, hostile input, the second derivation, translations.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "clippy.toml allows them in test functions; here the functions they share are tests too"
)]

mod answers;
mod arithmetic;
mod corpus;
mod generated;
mod hostile;
mod identities;
mod rewriting;
mod says;
mod translated;
mod tree;
mod two_masses;

use proptest::test_runner::{Config, RngSeed, TestRunner};
use whorl_derivation::derivation::Derivation;
use whorl_derivation::file;

/// The main derivation.
fn turntable() -> Derivation {
    file::open(include_str!("../../web/derivations/turntable.json")).unwrap()
}

/// Another: nothing but its file is about its experiment.
fn two_masses() -> Derivation {
    file::open(two_masses::FILE).unwrap()
}

/// Runs as many cases, the same ones every time.
fn runner(cases: u32) -> TestRunner {
    TestRunner::new(Config {
        cases,
        rng_seed: RngSeed::Fixed(0x0077_686f_726c),
        failure_persistence: None,
        max_global_rejects: 100_000,
        ..Config::default()
    })
}
