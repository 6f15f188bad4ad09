//! A quantity as the teacher sets it.

use crate::simulation::random::Random;

/// A quantity that is the same for everyone, or drawn for each student. In SI units, as the field that holds it
/// says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// The same for everyone.
    Fixed(f64),
    /// Drawn evenly from one to the other.
    Between {
        /// The least.
        from: f64,
        /// The most.
        to: f64,
    },
}

impl Spread {
    /// Nothing, for everyone.
    pub const NONE: Self = Self::Fixed(0.0);

    /// The least it can be.
    pub fn least(self) -> f64 {
        match self {
            Self::Fixed(value) => value,
            Self::Between { from, .. } => from,
        }
    }

    /// The most it can be.
    pub fn most(self) -> f64 {
        match self {
            Self::Fixed(value) => value,
            Self::Between { to, .. } => to,
        }
    }

    /// One student's.
    pub(super) fn draw(self, random: &mut Random) -> f64 {
        match self {
            Self::Fixed(value) => value,
            Self::Between { from, to } => random.between(from, to),
        }
    }

    /// Whether both ends are numbers in order, within limits.
    pub(super) fn is_within(self, least: f64, most: f64) -> bool {
        let (low, high) = (self.least(), self.most());
        // NaN fails each comparison.
        low >= least && high <= most && low <= high
    }
}
