//! A figure in words and in numbers, for readers who cannot see it and for anyone who wants the values.

mod summary;
mod table;

pub use summary::summary;
pub use table::{Table, table};
