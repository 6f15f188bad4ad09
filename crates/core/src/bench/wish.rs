//! What a student wishes for a run.

use whorl_words as words;

/// What the table carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Load {
    /// Nothing.
    Empty,
    /// One of the bench's objects, counted from 0.
    Object(usize),
}

/// How the mass is let go.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Start {
    /// At once, from rest.
    #[default]
    FromRest,
    /// Bit by bit.
    Softly,
    /// With a push.
    Pushed,
}

impl Start {
    /// All of them, in the order of a menu.
    pub const ALL: [Self; 3] = [Self::FromRest, Self::Softly, Self::Pushed];

    /// Name for programs.
    pub fn key(self) -> &'static str {
        match self {
            Self::FromRest => "rest",
            Self::Softly => "softly",
            Self::Pushed => "pushed",
        }
    }

    /// Plain words for a menu.
    pub fn words(self) -> &'static str {
        match self {
            Self::FromRest => words::bench::start_from_rest(),
            Self::Softly => words::bench::start_softly(),
            Self::Pushed => words::bench::start_pushed(),
        }
    }
}

/// Whether the string grips the drum.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Grip {
    /// It does.
    #[default]
    Holds,
    /// It slips once in the fall.
    Slips,
}

impl Grip {
    /// Both, in the order of a menu.
    pub const ALL: [Self; 2] = [Self::Holds, Self::Slips];

    /// Name for programs.
    pub fn key(self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::Slips => "slips",
        }
    }

    /// Plain words for a menu.
    pub fn words(self) -> &'static str {
        match self {
            Self::Holds => words::bench::grip_holds(),
            Self::Slips => words::bench::grip_slips(),
        }
    }
}

/// How the run ends, where the string is longer than the drop. A shorter one runs out, and the table winds it up
/// again.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ending {
    /// The mass lands on a pad.
    #[default]
    OnPad,
    /// It lands on the bare floor and jumps.
    OnFloor,
    /// A hand catches the table before.
    Caught,
}

impl Ending {
    /// All of them, in the order of a menu.
    pub const ALL: [Self; 3] = [Self::OnPad, Self::OnFloor, Self::Caught];

    /// Name for programs.
    pub fn key(self) -> &'static str {
        match self {
            Self::OnPad => "pad",
            Self::OnFloor => "floor",
            Self::Caught => "caught",
        }
    }

    /// Plain words for a menu.
    pub fn words(self) -> &'static str {
        match self {
            Self::OnPad => words::bench::ending_on_pad(),
            Self::OnFloor => words::bench::ending_on_floor(),
            Self::Caught => words::bench::ending_caught(),
        }
    }
}

/// A run as wished.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wish {
    /// What the table carries.
    pub load: Load,
    /// Which of the bench's masses hangs, counted from 0.
    pub mass: usize,
    /// How it is let go.
    pub start: Start,
    /// Whether the string grips.
    pub grip: Grip,
    /// How it ends.
    pub ending: Ending,
    /// Whether the logger already runs while the string is wound up.
    pub winding: bool,
}

impl Wish {
    /// The usual run: from rest onto a pad, with the winding before it.
    pub fn usual(load: Load, mass: usize) -> Self {
        Self { load, mass, start: Start::FromRest, grip: Grip::Holds, ending: Ending::OnPad, winding: true }
    }
}
