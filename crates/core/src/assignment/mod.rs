//! Work that an instructor sets, without a server: an assignment travels as a link or as a file.
//!
//! ```text
//! station         which stations are part of the work
//! file            an assignment as JSON, for people to read and change
//! link            the same in the fragment of a page's address
//! apply           an assignment → the lab it begins with; what is given stands fast in it
//! ```
//!
//! What travels so can be read by whoever has it: a page without a server keeps no secrets. The format is described in
//! DEVELOPERS.md.

mod apply;
mod check;
mod file;
mod link;
mod station;
#[cfg(test)]
mod tests;

pub use check::AssignmentProblem;
pub use file::{ASSIGNMENT_FORMAT, ASSIGNMENT_VERSION, AssignmentFileError, LARGEST, open, save};
pub use link::{LINK, LONGEST_LINK, LinkProblem, Shorten, TooLong, fragment, read_link, too_long};
pub use station::Station;

use crate::bench::{BenchSettings, Seed};
use crate::comparison::Criterion;
use crate::lab::{ApparatusField, Given};
use std::collections::BTreeSet;

/// The longest title, in characters.
pub const LONGEST_TITLE: usize = 120;
/// The longest instructions, in characters.
pub const LONGEST_INSTRUCTIONS: usize = 4_000;
/// The longest address of a recorded lab, in characters.
pub const LONGEST_ADDRESS: usize = 1_000;
/// The most objects that are named, and the longest name.
pub const MOST_OBJECTS: usize = 20;
/// The longest name of an object, in characters.
pub const LONGEST_NAME: usize = 60;

/// The work set.
#[derive(Clone, Debug, PartialEq)]
pub struct Assignment {
    /// Its name, which the lab takes on.
    pub title: String,
    /// What the instructor says: plain text; lines end where they end here.
    pub instructions: String,
    /// The stations that are part of the work; the others are not shown.
    pub stations: BTreeSet<Station>,
    /// The derivation to begin with, by its id among those that come with Whorl; `None` for none.
    pub derivation: Option<String>,
    /// What of the apparatus is given. It cannot be changed then.
    pub given: Given,
    /// What of the apparatus is to be measured. The rest is left to the group.
    pub measure: BTreeSet<ApparatusField>,
    /// The masses that can be hung, each as often as there is one, kg.
    pub pieces_kg: Vec<f64>,
    /// What counts as agreement.
    pub agreement: Criterion,
    /// Where the readings come from.
    pub readings: Source,
}

/// Where the readings come from.
#[derive(Clone, Debug, PartialEq)]
pub enum Source {
    /// An apparatus of one's own.
    Own {
        /// Names of the objects to be put on it.
        objects: Vec<String>,
    },
    /// The practice bench.
    Bench {
        /// What the instructor set.
        settings: Box<BenchSettings>,
        /// The same apparatus for everyone; `None`: one of their own for each.
        code: Option<Seed>,
    },
    /// A recorded lab.
    Recorded {
        /// Where it is: with `http:` or `https:`, or relative to the page.
        address: String,
    },
}

impl Default for Assignment {
    /// All stations, nothing given, an apparatus of one's own.
    fn default() -> Self {
        Self {
            title: String::new(),
            instructions: String::new(),
            stations: Station::ALL.into_iter().collect(),
            derivation: None,
            given: Given::default(),
            measure: BTreeSet::new(),
            pieces_kg: Vec::new(),
            agreement: Criterion::Interval,
            readings: Source::Own { objects: Vec::new() },
        }
    }
}
