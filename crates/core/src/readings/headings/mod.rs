//! What the heading of a column, a unit cell or the label of a group says, in several languages.
//!
//! Only words are judged here, never the numbers below them: a name tells a quantity, a unit tells
//! which quantities it can be of, and whoever has the whole table decides.

mod labels;
mod names;
mod split;
mod units;
mod values;
mod words;

#[cfg(test)]
mod tests;

use std::cell::RefCell;
use std::collections::BTreeMap;

pub(in crate::readings) use names::says_both;
pub(in crate::readings) use units::{is_unit_cell, unit};
pub(crate) use values::empty_table_word;
pub(in crate::readings) use values::{motion_word, state_word};
pub(crate) use words::fold;

thread_local! {
    /// Headings already read: those of a file are asked for again and again, and files come in classes.
    static READ: RefCell<BTreeMap<String, Heading>> = const { RefCell::new(BTreeMap::new()) };
}

/// Headings remembered at most.
const REMEMBERED: usize = 500;

/// Reads a heading: `t (s)`, `Zeit in Sekunden`, `Run 1: v / (m/s)`, `time_ms`, `v1`.
pub(in crate::readings) fn heading(text: &str) -> Heading {
    READ.with_borrow_mut(|read| {
        if let Some(known) = read.get(text) {
            return known.clone();
        }
        if read.len() >= REMEMBERED {
            read.clear();
        }
        let heading = split::heading(text);
        // Long texts are no headings; they need not be kept.
        if text.len() <= words::LONGEST {
            read.insert(text.to_owned(), heading.clone());
        }
        heading
    })
}

/// What a name says is in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::readings) enum Meaning {
    /// Moments.
    Time,
    /// Moments, and the name says: of gate events.
    GateTime,
    /// Time from one event to the next.
    Interval,
    /// Whether the gate is blocked.
    State,
    /// Position of the string.
    Position,
    /// Velocity of the string.
    Velocity,
    /// Acceleration of the string.
    Acceleration,
    /// Angle of the table.
    Angle,
    /// Angular velocity of the table.
    AngularVelocity,
    /// Angular acceleration of the table.
    AngularAcceleration,
    /// Which run a row belongs to.
    Run,
    /// What the table carries.
    Carries,
    /// The hanging mass.
    Mass,
    /// Which way the mass goes.
    Motion,
    /// A number that only counts rows, samples or events.
    Index,
    /// The uncertainty of another column; never read.
    Uncertainty,
    /// A quantity that is none of ours, such as a temperature; never read.
    Other,
}

/// The unit that was found.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::readings) enum UnitFound {
    /// None is written.
    None,
    /// A unit of one of our quantities.
    Known {
        /// What it can be a unit of, each with the SI units in one of it.
        fits: &'static [(Meaning, f64)],
        /// As we write it.
        symbol: &'static str,
    },
    /// Something written where a unit belongs that we do not know, or not for this quantity.
    Unknown(String),
}

/// What a heading says.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::readings) struct Heading {
    /// As written, without unit and label; empty when these are all.
    pub(in crate::readings) name: String,
    /// What the name says, in the light of the unit where the name alone is loose (`speed (rpm)`).
    ///
    /// A unit that fits another quantity is otherwise left beside it, for the caller to judge.
    pub(in crate::readings) meaning: Option<Meaning>,
    /// The unit.
    pub(in crate::readings) unit: UnitFound,
    /// Which run or group it belongs to, as written: `Run 2`, `150 g`, `ring 50g`; only the number of `v1`.
    pub(in crate::readings) label: Option<String>,
    /// Whether a word is of a language that writes `0,5`.
    pub(in crate::readings) decimal_comma_language: bool,
}

impl Heading {
    /// The heading with the unit that stands in a cell below it; one in the heading itself counts more.
    pub(in crate::readings) fn with_unit(mut self, cell: &str) -> Self {
        if self.unit == UnitFound::None {
            let named = names::named(&self.name);
            let (read, comma) = units::read(cell);
            (self.meaning, self.unit) = units::join(named, read, units::bare(cell));
            self.decimal_comma_language |= comma;
        }
        self
    }
}
