//! Force diagrams: arrows that a student places on a body, and what has to be true of them.

use crate::prose::Prose;
use whorl_words as words;

/// The longest arrow; the shortest is 1.
pub const LONGEST: u8 = 5;

/// Where an arrow points: along the page, or round the axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each says what it is")]
pub enum Direction {
    Up,
    UpRight,
    Right,
    DownRight,
    Down,
    DownLeft,
    Left,
    UpLeft,
    Clockwise,
    Anticlockwise,
}

impl Direction {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::Up,
        Self::UpRight,
        Self::Right,
        Self::DownRight,
        Self::Down,
        Self::DownLeft,
        Self::Left,
        Self::UpLeft,
        Self::Clockwise,
        Self::Anticlockwise,
    ];

    /// As it stands in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Up => "up",
            Self::UpRight => "up-right",
            Self::Right => "right",
            Self::DownRight => "down-right",
            Self::Down => "down",
            Self::DownLeft => "down-left",
            Self::Left => "left",
            Self::UpLeft => "up-left",
            Self::Clockwise => "clockwise",
            Self::Anticlockwise => "anticlockwise",
        }
    }

    /// As it is read on the page.
    pub fn words(self) -> &'static str {
        match self {
            Self::Up => words::algebra::up(),
            Self::UpRight => words::algebra::up_right(),
            Self::Right => words::algebra::right(),
            Self::DownRight => words::algebra::down_right(),
            Self::Down => words::algebra::down(),
            Self::DownLeft => words::algebra::down_left(),
            Self::Left => words::algebra::left(),
            Self::UpLeft => words::algebra::up_left(),
            Self::Clockwise => words::algebra::clockwise(),
            Self::Anticlockwise => words::algebra::anticlockwise(),
        }
    }

    /// The direction with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|direction| direction.key() == key)
    }

    /// Whether it goes round the axis.
    pub fn turns(self) -> bool {
        matches!(self, Self::Clockwise | Self::Anticlockwise)
    }

    /// The unit vector, x to the right and y **down** as on a screen; `None` for one that turns.
    pub fn vector(self) -> Option<(f64, f64)> {
        let half = core::f64::consts::FRAC_1_SQRT_2;
        Some(match self {
            Self::Up => (0.0, -1.0),
            Self::UpRight => (half, -half),
            Self::Right => (1.0, 0.0),
            Self::DownRight => (half, half),
            Self::Down => (0.0, 1.0),
            Self::DownLeft => (-half, half),
            Self::Left => (-1.0, 0.0),
            Self::UpLeft => (-half, -half),
            Self::Clockwise | Self::Anticlockwise => return None,
        })
    }

    /// The straight direction nearest to a vector (y down); `None` for no vector.
    pub fn nearest(x: f64, y: f64) -> Option<Self> {
        let along = |direction: Self| direction.vector().map(|(dx, dy)| (direction, dx * x + dy * y));
        let best = Self::ALL.into_iter().filter_map(along).max_by(|(_, a), (_, b)| a.total_cmp(b))?;
        (best.1 > 0.0).then_some(best.0)
    }

    /// The sense of turning about a center from one place to another (y down); `None` when neither.
    pub fn turning(center: (f64, f64), from: (f64, f64), to: (f64, f64)) -> Option<Self> {
        let (ax, ay) = (from.0 - center.0, from.1 - center.1);
        let (bx, by) = (to.0 - center.0, to.1 - center.1);
        let cross = ax * by - ay * bx;
        // With y down, a positive cross product goes clockwise on the screen.
        if cross.abs() < f64::EPSILON {
            None
        } else if cross > 0.0 {
            Some(Self::Clockwise)
        } else {
            Some(Self::Anticlockwise)
        }
    }
}

/// A diagram to be completed.
#[derive(Clone, Debug, PartialEq)]
pub struct DiagramTask {
    /// What is drawn.
    pub scene: Scene,
    /// The kinds of force on offer, right and wrong ones.
    pub forces: Vec<Force>,
    /// Where an arrow can start.
    pub points: Vec<Place>,
    /// The arrows that belong there.
    pub needed: Vec<Needed>,
    /// What has to be shorter than what.
    pub lengths: Vec<LengthRule>,
}

/// A drawing in a square of 100 × 100, x to the right and y down.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// What it shows, for those who cannot see it.
    pub told: String,
    /// What it is made of.
    pub shapes: Vec<SceneShape>,
}

/// One shape of a scene.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "coordinates in the scene's square")]
pub enum SceneShape {
    Rectangle {
        x: f64,
        y: f64,
        width: f64,
        height: f64,
    },
    Circle {
        x: f64,
        y: f64,
        radius: f64,
    },
    Line {
        from: (f64, f64),
        to: (f64, f64),
    },
    Words {
        x: f64,
        y: f64,
        text: String,
    },
    /// An arrow round a center that shows which way something turns.
    Turning {
        x: f64,
        y: f64,
        radius: f64,
        direction: Direction,
    },
    /// An arrow that shows which way something moves.
    Moving {
        from: (f64, f64),
        to: (f64, f64),
    },
}

/// A kind of force (or torque) on offer.
#[derive(Clone, Debug, PartialEq)]
pub struct Force {
    /// Which one.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Whether it is a torque, drawn as an arrow round the axis.
    pub turns: bool,
    /// What is said when it does not belong here; empty where it does.
    pub invented: Prose,
}

/// Where an arrow can start.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Which one.
    pub id: String,
    /// Its name.
    pub name: String,
    /// To the right, in the scene's square.
    pub x: f64,
    /// Down, in the scene's square.
    pub y: f64,
}

/// An arrow that belongs there.
#[derive(Clone, Debug, PartialEq)]
pub struct Needed {
    /// Index of the kind of force.
    pub force: usize,
    /// Whether it may be left out: a real force that does not matter here.
    pub optional: bool,
    /// Its direction.
    pub direction: Direction,
    /// Indices of the places it may start from.
    pub places: Vec<usize>,
    /// Said when it is missing.
    pub missing: Prose,
    /// Said when it points elsewhere.
    pub wrong_direction: Prose,
    /// Said when it starts elsewhere.
    pub wrong_place: Prose,
}

/// One arrow has to be shorter than another, or as long.
#[derive(Clone, Debug, PartialEq)]
pub struct LengthRule {
    /// Index of the force whose arrow is the shorter one.
    pub shorter: usize,
    /// Index of the force whose arrow is the longer one.
    pub longer: usize,
    /// Said when it is not so.
    pub say: Prose,
}

/// An arrow that a student placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Arrow {
    /// Index of the kind of force.
    pub force: usize,
    /// Index of the place where it starts.
    pub place: usize,
    /// Where it points.
    pub direction: Direction,
    /// From 1 to [`LONGEST`].
    pub length: u8,
}

/// What is wrong with a diagram.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each says what it is")]
pub enum DiagramFault {
    Invented,
    Missing,
    Twice,
    Direction,
    Place,
    Length,
}

impl DiagramFault {
    /// As it stands in reports.
    pub fn key(self) -> &'static str {
        match self {
            Self::Invented => "invented",
            Self::Missing => "missing",
            Self::Twice => "twice",
            Self::Direction => "direction",
            Self::Place => "place",
            Self::Length => "length",
        }
    }
}

impl DiagramTask {
    /// Everything that is wrong with the arrows, worst first; nothing when they are right.
    pub fn faults(&self, arrows: &[Arrow]) -> Vec<(DiagramFault, Prose)> {
        let mut faults = Vec::new();
        for arrow in arrows {
            if let Some(force) = self.forces.get(arrow.force)
                && !self.needed.iter().any(|needed| needed.force == arrow.force)
            {
                faults.push((DiagramFault::Invented, force.invented.clone()));
            }
        }
        let of = |force: usize| arrows.iter().filter(move |arrow| arrow.force == force);
        for needed in &self.needed {
            if !needed.optional && of(needed.force).next().is_none() {
                faults.push((DiagramFault::Missing, needed.missing.clone()));
            }
        }
        for needed in &self.needed {
            let mut of_kind = of(needed.force);
            let (Some(arrow), more) = (of_kind.next(), of_kind.next()) else { continue };
            if more.is_some() {
                let name = self.forces.get(needed.force).map(|force| force.name.as_str()).unwrap_or_default();
                faults.push((DiagramFault::Twice, Prose::words(words::algebra::drawn_twice(&name))));
            } else if arrow.direction != needed.direction {
                faults.push((DiagramFault::Direction, needed.wrong_direction.clone()));
            } else if !needed.places.contains(&arrow.place) {
                faults.push((DiagramFault::Place, needed.wrong_place.clone()));
            }
        }
        // Lengths are worth a word only once the right arrows are there.
        if faults.is_empty() {
            let length = |force: usize| of(force).map(|arrow| arrow.length).next();
            for rule in &self.lengths {
                if length(rule.shorter) >= length(rule.longer) {
                    faults.push((DiagramFault::Length, rule.say.clone()));
                }
            }
        }
        faults
    }

    /// An arrow in words: `weight, from the middle of the mass, down, length 4 of 5`.
    pub fn told(&self, arrow: &Arrow) -> String {
        let force = self.forces.get(arrow.force).map(|force| force.name.as_str()).unwrap_or_default();
        let place = self.points.get(arrow.place).map(|place| place.name.as_str()).unwrap_or_default();
        words::algebra::arrow(&force, &place, &arrow.direction.words(), &arrow.length, &LONGEST)
    }
}
