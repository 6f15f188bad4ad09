//! Checks against numbers that nobody here wrote, and whole labs from file to verdict.
//!
//! Where each published number came from stands beside it or in `reference/README.md`.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "clippy.toml allows both in test functions; here the functions they share are tests too"
)]

mod bench;
mod bodies;
mod coverage;
mod diagnosis;
mod digits;
mod drag;
mod estimators;
mod export;
mod falling_mass;
mod gravity;
mod monte_carlo;
mod nist;
mod planned;
mod quantiles;
mod report;
mod samples;
mod simulation;
mod stretch;
mod thermometer;
mod whole_lab;
mod wrong_files;
mod york;
