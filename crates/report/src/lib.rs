//! The report that is handed in.
//!
//! ```text
//! lab + analysis + derivation → Document   what it says: sections of few kinds of blocks
//! Document → Element                       how that is marked up: a tree of HTML and MathML
//! Element → html                           a file that stands alone; the page makes elements of the same tree
//! ```
//!
//! Nothing here knows a browser. What a user typed, or a file holds, is text from the first to the last step: only
//! [`mod@html`] writes marks around it, and it escapes all text in one place.

pub mod document;
pub mod element;
pub mod html;
pub mod math;

mod derived;
mod marked_up;
mod plain;
mod sections;

pub use derived::accepted;
pub use document::Document;
pub use element::Element;
pub use html::html;
pub use marked_up::marked_up;
pub use sections::{Sheet, document};

/// How the report looks, on paper and on a screen.
pub const STYLE: &str = include_str!("../../../web/styles/later/report-sheet.css");
