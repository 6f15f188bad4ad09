//! What a student should look at before trusting the stretch that was found.

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
            Self::NothingFound => {
                "No stretch was found in which the mass speeds up evenly. Choose the fall yourself on the chart, or record it again."
            }
            Self::Short { readings } => {
                return format!(
                    "The fall has only {readings} readings. That is few: check on the chart that they are the fall and not a push by hand, and let the mass fall further next time."
                );
            }
            Self::NotFromRest => {
                "The mass was already moving where the chosen stretch begins. Check on the chart that your hand had let go by then."
            }
            Self::Rivals => {
                "More than one part of the record could be the fall. Look at the chart and choose the one in which nothing touched the table or the string."
            }
            Self::TwoEqualDrops => {
                "The record holds more than one fall. One of them is chosen; you may choose another, but only one."
            }
            Self::TouchingPieces => {
                "The fall is broken in two, as if the string had slipped. The longer piece is chosen; look at the chart, or record the run again."
            }
            Self::SmoothHandMotionBefore => {
                "A smooth motion comes right before the fall. Check on the chart that the stretch begins after your hand had let go."
            }
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
