//! A fingerprint of all readings of a lab, by which a report and a lab file are set beside each other.
//!
//! It is the SHA-256 (FIPS 180-4) of a text that anyone can make from a lab file ([`canonical`]):
//!
//! ```text
//! whorl-readings 1
//! run                          once for each run, in the lab's order
//! carries slate disc           or “empty”: what the table carried
//! mass 3fa999999999999a        or “mass none”: hanging mass in kg
//! motion falling
//! kind gate-times              as in the lab file
//! 3fe0000000000000             one reading a line: time in s, and its value behind a space where times are not all
//! ```
//!
//! Lines end with a line feed, the last one too. A number is the 16 hexadecimal digits of its bits (IEEE 754 binary64,
//! the sign first), so that nobody has to agree on how decimals are rounded. In a name a backslash is written `\\`, a
//! line feed `\n`, a carriage return `\r`. Names of runs, stretches and notes are left out: they are no readings.
//!
//! Whoever edits readings can make a fitting fingerprint, too. It tells whether two files hold the same readings, not
//! who took them.

use crate::intake::sha256_hex;
use crate::lab::{Configuration, Lab, Record, RunEntry};
use crate::measured::Measured;
use crate::quantity::Quantity;
use core::fmt::Write as _;
use serde::Deserialize;

/// The fingerprint of a lab's readings, 64 hexadecimal digits.
pub fn readings_sha256(lab: &Lab) -> String {
    sha256_hex(canonical(lab).as_bytes())
}

/// Whether a lab's readings are those that the text of its file was saved with; `None` where it does not say.
pub fn as_saved(text: &str, lab: &Lab) -> Option<bool> {
    #[derive(Deserialize)]
    struct Saved {
        readings_sha256: Option<String>,
    }
    let saved = serde_json::from_str::<Saved>(text).ok()?.readings_sha256?;
    Some(saved.eq_ignore_ascii_case(&readings_sha256(lab)))
}

/// The text whose fingerprint is taken.
pub fn canonical(lab: &Lab) -> String {
    let mut text = "whorl-readings 1\n".to_owned();
    for run in lab.runs() {
        text += "run\n";
        match run.configuration {
            Configuration::EmptyTable => text += "empty\n",
            Configuration::Loaded(_) => {
                text += "carries ";
                text += &on_one_line(&lab.configuration_name(run.configuration));
                text.push('\n');
            }
        }
        text += "mass ";
        text += &run.hanging_mass.map_or_else(|| "none".to_owned(), |mass| bits(mass.0));
        text += "\nmotion ";
        text += run.motion.key();
        text += "\nkind ";
        text += run.record.key();
        text.push('\n');
        push_record(&mut text, run);
    }
    text
}

fn push_record(text: &mut String, run: &RunEntry) {
    match &run.record {
        Record::Readings(readings) => {
            let alone = readings.kind().is_times_alone();
            for (time, value) in readings.pairs() {
                *text += &bits(time);
                if !alone {
                    text.push(' ');
                    *text += &bits(value);
                }
                text.push('\n');
            }
        }
        Record::Stopwatch(times) => {
            for time in times {
                *text += &bits(time.0);
                text.push('\n');
            }
        }
        Record::Acceleration(value) => push_typed(text, value.as_ref()),
        Record::AngularAcceleration(value) => push_typed(text, value.as_ref()),
    }
}

/// Value and standard uncertainty; nothing before they are typed.
fn push_typed<Q: Quantity>(text: &mut String, value: Option<&Measured<Q>>) {
    if let Some(value) = value {
        *text += &[bits(value.value().si()), bits(value.standard_uncertainty().si())].join(" ");
        text.push('\n');
    }
}

fn bits(number: f64) -> String {
    let mut text = String::with_capacity(16);
    // Writing to memory cannot fail.
    let _ = write!(text, "{:016x}", number.to_bits());
    text
}

fn on_one_line(name: &str) -> String {
    name.replace('\\', "\\\\").replace('\n', "\\n").replace('\r', "\\r")
}

#[cfg(test)]
mod tests;
