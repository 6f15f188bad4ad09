//! Answers that open after a result was committed to.

use super::truth::Truth;
use crate::quantity::KilogramMeters2;
use whorl_words as words;

/// What an answer is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SealedThing {
    /// The empty table's moment of inertia.
    Table,
    /// That of an object alone, loaded less empty; counted from 0.
    Object(usize),
}

/// A result that a student stands by: a value, and an interval that should hold the truth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Commitment {
    thing: SealedThing,
    value: KilogramMeters2,
    low: KilogramMeters2,
    high: KilogramMeters2,
}

/// A result that nobody can stand by: its value must be a number inside its interval.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::bench::commitment_outside())]
pub struct NotInside;

impl Commitment {
    /// Commits to a result.
    ///
    /// # Errors
    /// When the value does not lie in the interval, or one of them is no number.
    pub fn new(
        thing: SealedThing,
        value: KilogramMeters2,
        (low, high): (KilogramMeters2, KilogramMeters2),
    ) -> Result<Self, NotInside> {
        let finite = low.0.is_finite() && high.0.is_finite();
        if finite && (low.0..=high.0).contains(&value.0) {
            Ok(Self { thing, value, low, high })
        } else {
            Err(NotInside)
        }
    }

    /// What it is about.
    pub fn thing(&self) -> SealedThing {
        self.thing
    }

    /// The value.
    pub fn value(&self) -> KilogramMeters2 {
        self.value
    }

    /// The interval's ends.
    pub fn interval(&self) -> (KilogramMeters2, KilogramMeters2) {
        (self.low, self.high)
    }
}

/// The true moments of inertia of one student's apparatus. They come out one at a time, each for a commitment.
#[derive(Clone, Debug, PartialEq)]
pub struct Sealed {
    table: KilogramMeters2,
    objects: Vec<KilogramMeters2>,
}

/// An answer that was opened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opened {
    /// What the student stood by.
    pub commitment: Commitment,
    /// What is true.
    pub truth: KilogramMeters2,
    /// Whether the interval holds the truth.
    pub caught: bool,
    /// Value less truth.
    pub error: KilogramMeters2,
}

impl Sealed {
    pub(super) fn new(truth: &Truth) -> Self {
        Self {
            table: KilogramMeters2(truth.table_inertia_kg_m2()),
            objects: truth.objects.iter().map(|object| KilogramMeters2(object.inertia_kg_m2)).collect(),
        }
    }

    /// Opens one answer. `None` where the bench has no such object.
    pub fn open(&self, commitment: Commitment) -> Option<Opened> {
        let truth = match commitment.thing {
            SealedThing::Table => self.table,
            SealedThing::Object(index) => *self.objects.get(index)?,
        };
        let caught = (commitment.low.0..=commitment.high.0).contains(&truth.0);
        Some(Opened { commitment, truth, caught, error: commitment.value - truth })
    }
}

impl Opened {
    /// What came of it, in a sentence.
    pub fn words(&self) -> &'static str {
        if self.caught { words::bench::caught_truth() } else { words::bench::missed_truth() }
    }
}
