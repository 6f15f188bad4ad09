//! What happens in a run, one thing after the other.

use whorl_words as words;

/// What happens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhaseKind {
    /// A hand holds the table.
    Held,
    /// A hand winds the string up.
    WoundUp,
    /// A hand lets go bit by bit.
    Released,
    /// A hand pushes the table off.
    Pushed,
    /// The mass falls, and the string turns the table.
    Falling,
    /// The string slips on the drum.
    Slipping,
    /// The mass reaches the floor; a moment, not a while.
    Landed,
    /// The mass jumps up from the floor and comes down again, on a slack string.
    Rebounded,
    /// The string is slack; table and pulley run on by themselves.
    Slack,
    /// All string has run out, and the turning table winds it up the other way round.
    Rewinding,
    /// The mass falls again, after rewinding.
    FallingAgain,
    /// A hand stops the table.
    Caught,
    /// Friction holds everything.
    AtRest,
}

/// A stretch of the record in which one thing happens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phase {
    /// What.
    pub kind: PhaseKind,
    /// From this time of the record, s.
    pub from_s: f64,
    /// To this time, s.
    pub to_s: f64,
}

impl PhaseKind {
    /// Name for programs.
    pub fn key(self) -> &'static str {
        match self {
            Self::Held => "held",
            Self::WoundUp => "wound-up",
            Self::Released => "released",
            Self::Pushed => "pushed",
            Self::Falling => "falling",
            Self::Slipping => "slipping",
            Self::Landed => "landed",
            Self::Rebounded => "rebounded",
            Self::Slack => "slack",
            Self::Rewinding => "rewinding",
            Self::FallingAgain => "falling-again",
            Self::Caught => "caught",
            Self::AtRest => "at-rest",
        }
    }

    /// A sentence that says what happens.
    pub fn words(self) -> &'static str {
        match self {
            Self::Held => words::bench::held(),
            Self::WoundUp => words::bench::wound_up(),
            Self::Released => words::bench::released(),
            Self::Pushed => words::bench::pushed(),
            Self::Falling => words::bench::falling(),
            Self::Slipping => words::bench::slipping(),
            Self::Landed => words::bench::landed(),
            Self::Rebounded => words::bench::rebounded(),
            Self::Slack => words::bench::slack(),
            Self::Rewinding => words::bench::rewinding(),
            Self::FallingAgain => words::bench::falling_again(),
            Self::Caught => words::bench::caught(),
            Self::AtRest => words::bench::at_rest(),
        }
    }
}

impl Phase {
    /// A line of a spoken account: when, and what.
    pub fn told(&self) -> String {
        // Hundredths, as one would say them.
        words::bench::told(&words::number(self.from_s, 2), &self.kind.words())
    }
}
