//! Files that were dropped → runs proposed for the lab, each with its first acceleration; nothing enters
//! the lab by itself.

mod first_look;
mod from_json;
mod names;
mod sha256;
mod to_json;

pub use from_json::{NotAnIntake, from_json};
pub use sha256::{hexadecimal, sha256_hex};
pub use to_json::{columns, to_json};

use crate::file_name;
use crate::lab::{Configuration, Lab, Record, RunEntry, RunId};
use crate::quantity::Kilograms;
use crate::readings::{Choices, FoundRun, Layout, ReadingError, Readings, Remark, Understood, read};
use crate::runs::Stretch;
use crate::torque::Motion;
use whorl_words as words;

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
    /// at most 120 points, all finite.
    pub curve: Vec<(f64, f64)>,
    /// The unit of the curve's speed.
    pub curve_unit: String,
}

/// A run proposed for the lab.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// Its name.
    pub name: String,
    /// What the file calls it; empty when it says nothing.
    pub label: String,
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
    /// SHA-256 (FIPS 180-4) of these bytes, in hexadecimal; empty while it is not known.
    pub sha256: String,
    /// What it was taken for; or what is wrong with it, one complaint a line, each with its place.
    pub layout: Result<Layout, String>,
    /// Its runs. With questions open: what the likeliest answers would give.
    pub proposals: Vec<Proposal>,
}

impl Intake {
    /// Whether it holds runs whose fingerprint is still to come.
    pub fn awaits_fingerprint(&self) -> bool {
        self.layout.is_ok() && self.sha256.is_empty()
    }

    /// A file of which nothing can be read, and why.
    pub fn unread(file: String, bytes: usize, why: String) -> Self {
        Self { file, bytes, sha256: String::new(), layout: Err(why), proposals: Vec::new() }
    }
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
    let understood = read(bytes, choices, &mut |share| progress(READING * share));
    let intake = look_at(file, bytes.len(), understood, lab, &mut |share| {
        progress(READING + (1.0 - READING) * share);
    });
    Intake { sha256: sha256_hex(bytes), ..intake }
}

/// Part of the work that reading is; the rest is looking at the runs.
const READING: f64 = 0.8;

/// What is left to do with a file that is read: a first look at each run. [`Intake::sha256`] stays empty.
#[inline(never)]
pub fn look_at(
    file: &str,
    bytes: usize,
    understood: Result<Understood, Vec<ReadingError>>,
    lab: &Lab,
    progress: &mut dyn FnMut(f64),
) -> Intake {
    match understood {
        Ok(Understood { layout, runs }) => {
            let mut proposals = Vec::new();
            let count = runs.len();
            for (done, run) in runs.into_iter().enumerate() {
                progress(done as f64 / count as f64);
                proposals.push(proposal(file, run, count, lab));
            }
            Intake { file: file.to_owned(), bytes, sha256: String::new(), layout: Ok(layout), proposals }
        }
        Err(errors) => {
            let lines: Vec<String> = errors.iter().map(ToString::to_string).collect();
            Intake::unread(file.to_owned(), bytes, lines.join("\n"))
        }
    }
}

#[inline(never)]
fn proposal(file: &str, run: FoundRun, count: usize, lab: &Lab) -> Proposal {
    let stem = file_name::run_name(file);
    let name = match (run.label.as_str(), count) {
        ("", 1) => stem,
        ("", _) => words::intake::name_by_lines(&stem, &run.lines.0, &run.lines.1),
        (label, 1) if stem.is_empty() => label.to_owned(),
        (label, _) => format!("{stem} {label}"),
    };
    let carries = names::carries(&run, file, count == 1, lab);
    let hanging_mass = run
        .hanging_mass
        .or_else(|| file_name::hanging_mass(&run.label))
        .or_else(|| file_name::hanging_mass(file));
    let motion = run.motion.unwrap_or(Motion::Falling);
    let remarks: Vec<String> = run.remarks.iter().map(Remark::to_string).collect();
    let readings = run.readings.clone();
    let entry = RunEntry {
        id: RunId(0),
        name,
        configuration: Configuration::EmptyTable,
        hanging_mass,
        motion,
        stretch: None,
        record: Record::Readings(run.readings),
        source: None,
    };
    let first = first_look::first_look(&entry, lab);
    Proposal { name: entry.name, label: run.label, carries, hanging_mass, motion, readings, remarks, first }
}

#[cfg(test)]
mod round_trip;
