//! Files that were dropped → runs proposed for the lab, each with its first acceleration; nothing enters
//! the lab by itself.

mod from_json;
mod to_json;

pub use from_json::{NotAnIntake, from_json};
pub use to_json::{columns, to_json};

use crate::lab::{Configuration, Lab};
use crate::quantity::Kilograms;
use crate::readings::{Choices, Layout, Readings};
use crate::runs::Stretch;
use crate::torque::Motion;

/// What the table carries in a proposed run.
#[derive(Clone, Debug, PartialEq)]
pub enum Carries {
    /// A configuration of the lab.
    Known(Configuration),
    /// An object that the lab does not have yet, by its name in the file or the file's name.
    New(String),
    /// Nothing tells.
    Untold,
}

/// A first look at a run: where the mass falls, and how fast it speeds up.
#[derive(Clone, Debug, PartialEq)]
pub struct FirstLook {
    /// The stretch that was found; `None` for all readings.
    pub stretch: Option<Stretch>,
    /// The acceleration of the string with its uncertainty, as shown; or what is missing for it.
    pub acceleration: Result<String, String>,
    /// What to look at before trusting it.
    pub doubts: Vec<String>,
    /// Time in s and speed (m/s, or for a lab without apparatus in the file's own unit per second),
    /// at most 120 points.
    pub curve: Vec<(f64, f64)>,
    /// The unit of the curve's speed.
    pub curve_unit: String,
}

/// A run proposed for the lab.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// Its name.
    pub name: String,
    /// What the table carries.
    pub carries: Carries,
    /// m.
    pub hanging_mass: Option<Kilograms>,
    /// Which way the mass went.
    pub motion: Motion,
    /// Its readings, not more than the lab keeps.
    pub readings: Readings,
    /// What was done with its rows, each with its line.
    pub remarks: Vec<String>,
    /// A first look.
    pub first: FirstLook,
}

/// A file with what is proposed from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Intake {
    /// The file's name.
    pub file: String,
    /// How many bytes it has.
    pub bytes: usize,
    /// SHA-256 (FIPS 180-4) of these bytes, in hexadecimal.
    pub sha256: String,
    /// What it was taken for; or what is wrong with it, one complaint a line, each with its place.
    pub layout: Result<Layout, String>,
    /// Its runs. With questions open: what the likeliest answers would give.
    pub proposals: Vec<Proposal>,
}

/// Reads one file: what it holds, its runs, and a first look at each.
///
/// `lab` gives the objects that names are compared with and the apparatus of the first look; `progress`
/// is told now and then which part of the work is done, from 0 to 1.
pub fn take_in(
    file: &str,
    bytes: &[u8],
    choices: &Choices,
    lab: &Lab,
    progress: &mut dyn FnMut(f64),
) -> Intake {
    let _ = (choices, lab, progress);
    Intake {
        file: file.to_owned(),
        bytes: bytes.len(),
        sha256: String::new(),
        layout: Err("not yet".to_owned()),
        proposals: Vec::new(),
    }
}
