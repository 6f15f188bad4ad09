//! A lab as tables for a spreadsheet: its readings, accelerations, points and results as CSV (RFC 4180).
//!
//! UTF-8, one heading row, rows end with CR LF, numbers in SI units with a decimal point and as many digits
//! as bring back the same bits. A cell is empty where there is nothing to say. Text is guarded against
//! being taken for a formula ([`crate::csv_text`]).

mod names;
mod points;
mod readings;
mod results;
mod rows;
mod runs;

pub use points::line_points;
pub use readings::readings;
pub use results::results;
pub use runs::accelerations;

use crate::analysis::Analysis;
use crate::lab::Lab;
use whorl_words as words;

/// The tables that a lab gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Table {
    /// What the loggers saw.
    Readings,
    /// What each run gives.
    Accelerations,
    /// Torque against angular acceleration.
    Points,
    /// Moments of inertia, friction torques, predictions, comparisons.
    Results,
}

impl Table {
    /// All of them, in the order a menu shows them.
    pub const ALL: [Self; 4] = [Self::Readings, Self::Accelerations, Self::Points, Self::Results];

    /// Its name on the command line and in file names.
    pub fn key(self) -> &'static str {
        match self {
            Self::Readings => "readings",
            Self::Accelerations => "accelerations",
            Self::Points => "points",
            Self::Results => "results",
        }
    }

    /// Plain words for a button.
    pub fn words(self) -> &'static str {
        match self {
            Self::Readings => words::lab_file::readings_table(),
            Self::Accelerations => words::lab_file::accelerations_table(),
            Self::Points => words::lab_file::points_table(),
            Self::Results => words::lab_file::results_table(),
        }
    }

    /// The table as CSV.
    pub fn of(self, lab: &Lab, analysis: &Analysis) -> String {
        // A table is the same in every language.
        whorl_words::in_english(|| match self {
            Self::Readings => readings(lab),
            Self::Accelerations => accelerations(lab, analysis),
            Self::Points => line_points(lab, analysis),
            Self::Results => results(lab, analysis),
        })
    }
}
