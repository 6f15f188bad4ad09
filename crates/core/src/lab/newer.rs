//! A lab from a file of a newer program: it is looked at, never changed, and saved as the file it came from.

use super::Lab;
use std::sync::Arc;

/// The file of a newer program.
#[derive(Debug, PartialEq)]
pub(super) struct Newer {
    version: u32,
    text: Arc<str>,
}

impl Lab {
    /// Locks all of a lab that was understood from the text of a newer program's file.
    pub(crate) fn of_newer(mut self, version: u32, text: &str) -> Self {
        self.newer = Some(Arc::new(Newer { version, text: text.into() }));
        self
    }

    /// The version of the newer program's file that it came from; nothing in it may be changed then. `None` for a lab
    /// that this program knows all of.
    pub fn newer(&self) -> Option<u32> {
        self.newer.as_ref().map(|newer| newer.version)
    }

    /// The text of that file.
    pub(crate) fn newer_text(&self) -> Option<&Arc<str>> {
        self.newer.as_ref().map(|newer| &newer.text)
    }

    /// Whether readings, and what was measured with them, are locked: in a recorded lab, and with all else in one from
    /// a newer program.
    pub fn is_locked(&self) -> bool {
        self.is_recorded() || self.newer.is_some()
    }
}
