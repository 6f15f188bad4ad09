//! `whorl export`: a saved lab as tables.

use crate::open_lab;
use std::path::Path;
use whorl_core::analysis::analyze;
use whorl_core::export::Table;

/// What was asked for.
pub(crate) struct Request<'a> {
    lab: &'a str,
    table: Table,
}

impl<'a> Request<'a> {
    /// `None` when the words make no sense.
    pub(crate) fn from_words(words: &[&'a str]) -> Option<Self> {
        let [lab, table] = *words else { return None };
        let table = Table::ALL.into_iter().find(|each| each.key() == table)?;
        Some(Self { lab, table })
    }

    /// The table as CSV; the error begins with the file's name.
    pub(crate) fn answer(&self) -> Result<String, String> {
        let lab = open_lab(Path::new(self.lab))?;
        Ok(self.table.of(&lab, &analyze(&lab)))
    }
}
