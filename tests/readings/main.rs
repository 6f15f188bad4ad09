//! The reader of readings against files a class brings, written by `numpy/make_readings.py` with their
//! truth, and against other libraries.
//!
//! `good/`: read right without a question. `asks/`: a question with the right answers, and what follows
//! from each. `hostile/`: data, or an error with place and remedy.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "clippy.toml allows both in test functions; here the functions they share are tests too"
)]

mod arrangements;
mod asks;
mod corpus;
mod dialects;
mod good;
mod hostile;
mod names;
mod outside;
mod oversized;
mod truth;
