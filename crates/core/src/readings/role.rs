//! What a column holds, and in which unit.

use core::f64::consts::{PI, TAU};

/// What a column holds; each quantity with the SI units per unit of the column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Role {
    /// Moments: of samples, or of gate events.
    Time(f64),
    /// Time from one gate event to the next.
    Interval(f64),
    /// 1 while the gate is blocked, 0 while it is open.
    State,
    /// Position of the string.
    Position(f64),
    /// Velocity of the string.
    Velocity(f64),
    /// Acceleration of the string.
    Acceleration(f64),
    /// Angle of the table.
    Angle(f64),
    /// Angular velocity of the table.
    AngularVelocity(f64),
    /// Which run a row belongs to.
    Run,
    /// What the table carries.
    Carries,
    /// The hanging mass.
    Mass(f64),
    /// Which way the mass goes.
    Motion,
    /// Not read.
    Ignored,
}

/// One degree in radians, one turn a minute in radians per second.
const DEGREE: f64 = PI / 180.0;
const PER_MINUTE: f64 = TAU / 60.0;

/// Every role and unit that can be chosen: key (in messages and on the command line), words.
const CHOICES: [(&str, Role); 30] = [
    ("time s", Role::Time(1.0)),
    ("time ms", Role::Time(1e-3)),
    ("time µs", Role::Time(1e-6)),
    ("time min", Role::Time(60.0)),
    ("interval s", Role::Interval(1.0)),
    ("interval ms", Role::Interval(1e-3)),
    ("interval µs", Role::Interval(1e-6)),
    ("gate blocked or open", Role::State),
    ("position m", Role::Position(1.0)),
    ("position cm", Role::Position(1e-2)),
    ("position mm", Role::Position(1e-3)),
    ("velocity m/s", Role::Velocity(1.0)),
    ("velocity cm/s", Role::Velocity(1e-2)),
    ("velocity mm/s", Role::Velocity(1e-3)),
    ("acceleration m/s²", Role::Acceleration(1.0)),
    ("acceleration cm/s²", Role::Acceleration(1e-2)),
    ("acceleration mm/s²", Role::Acceleration(1e-3)),
    ("table angle rad", Role::Angle(1.0)),
    ("table angle °", Role::Angle(DEGREE)),
    ("table angle turns", Role::Angle(TAU)),
    ("table angular velocity rad/s", Role::AngularVelocity(1.0)),
    ("table angular velocity °/s", Role::AngularVelocity(DEGREE)),
    ("table angular velocity rpm", Role::AngularVelocity(PER_MINUTE)),
    ("table angular velocity turns/s", Role::AngularVelocity(TAU)),
    ("run", Role::Run),
    ("table carries", Role::Carries),
    ("hanging mass g", Role::Mass(1e-3)),
    ("hanging mass kg", Role::Mass(1.0)),
    ("motion", Role::Motion),
    ("not read", Role::Ignored),
];

impl Role {
    /// Every role and unit that can be chosen, in the order a menu shows them.
    pub fn all() -> impl Iterator<Item = Self> {
        CHOICES.iter().map(|&(_, role)| role)
    }

    /// The role with its unit in words, such as `velocity cm/s`; also its name in messages and on the
    /// command line.
    pub fn words(self) -> &'static str {
        CHOICES.iter().find(|&&(_, role)| role == self).map_or("not read", |&(words, _)| words)
    }

    /// The role that [`Role::words`] names; `us` and `deg` stand for `µs` and `°`.
    pub fn from_words(words: &str) -> Option<Self> {
        let plain = words.trim().replace("us", "µs").replace("deg", "°").replace("m/s^2", "m/s²");
        CHOICES.iter().find(|&&(key, _)| key == plain).map(|&(_, role)| role)
    }

    /// SI units per unit of the column; 1 where there is none.
    pub fn factor(self) -> f64 {
        match self {
            Self::Time(factor)
            | Self::Interval(factor)
            | Self::Position(factor)
            | Self::Velocity(factor)
            | Self::Acceleration(factor)
            | Self::Angle(factor)
            | Self::AngularVelocity(factor)
            | Self::Mass(factor) => factor,
            Self::State | Self::Run | Self::Carries | Self::Motion | Self::Ignored => 1.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_name_each_role_and_unit_once() {
        for role in Role::all() {
            assert_eq!(Role::from_words(role.words()), Some(role), "{}", role.words());
        }
        assert_eq!(Role::from_words("time us"), Some(Role::Time(1e-6)));
        assert_eq!(Role::from_words("table angle deg"), Some(Role::Angle(DEGREE)));
        assert_eq!(Role::from_words("velocity furlong"), None);
    }
}
