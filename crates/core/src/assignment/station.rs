//! The stations of the notebook, as an assignment names them.

/// A station, in the order of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Station {
    /// The derivation of the equations.
    Prelab,
    /// Cautions; drum, string, pulley, gravity.
    Apparatus,
    /// Taking runs.
    Runs,
    /// The acceleration of each run.
    Acceleration,
    /// Torque against angular acceleration.
    Line,
    /// Loaded less empty.
    Object,
    /// Measured against predicted.
    Comparison,
    /// What is handed in.
    Report,
}

impl Station {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Prelab,
        Self::Apparatus,
        Self::Runs,
        Self::Acceleration,
        Self::Line,
        Self::Object,
        Self::Comparison,
        Self::Report,
    ];

    /// Name in an assignment, and on the page.
    pub fn key(self) -> &'static str {
        match self {
            Self::Prelab => "prelab",
            Self::Apparatus => "apparatus",
            Self::Runs => "runs",
            Self::Acceleration => "acceleration",
            Self::Line => "line",
            Self::Object => "object",
            Self::Comparison => "comparison",
            Self::Report => "report",
        }
    }
}
