//! The results as documents: JSON for programs, a table for people.

mod findings;
mod json;
mod simulated;
mod table;

pub use json::to_json;
pub use simulated::{monte_carlo_to_json, monte_carlo_to_table};
pub use table::{grid, to_table};
