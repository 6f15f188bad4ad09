//! What a student should look at before trusting the stretch that was found.

use whorl_words as words;

/// A reason to look at the chart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// Nothing in the record speeds up evenly for long enough.
    NothingFound,
    /// The fall is short: a hand's smooth pull can look the same.
    Short {
        /// Readings in the stretch.
        readings: usize,
    },
    /// The stretch does not begin from rest.
    NotFromRest,
    /// Another stretch with another acceleration is nearly as good.
    Rivals,
    /// Two falls with the same acceleration.
    TwoEqualDrops,
    /// Another stretch with nearly the same acceleration follows or comes just before.
    TouchingPieces,
    /// A hand moved the string evenly right before.
    SmoothHandMotionBefore,
}

impl Doubt {
    /// What it is and what to do, for a student.
    pub fn words(self) -> String {
        let words = match self {
            Self::NothingFound => words::chain::no_stretch(),
            Self::Short { readings } => return words::chain::short_fall(&readings),
            Self::NotFromRest => words::chain::not_from_rest(),
            Self::Rivals => words::chain::rival_stretches(),
            Self::TwoEqualDrops => words::chain::two_equal_drops(),
            Self::TouchingPieces => words::chain::touching_pieces(),
            Self::SmoothHandMotionBefore => words::chain::smooth_motion_before(),
        };
        words.into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_name_the_number() {
        assert!(Doubt::Short { readings: 12 }.words().contains("only 12 readings"));
    }
}
