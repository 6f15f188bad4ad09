//! The results as documents: JSON for programs, a table for people.

mod findings;
mod json;
mod table;

pub use json::to_json;
pub use table::{grid, to_table};
