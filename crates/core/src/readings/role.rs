//! What a column holds, and in which unit.

use core::f64::consts::{PI, TAU};
use whorl_words::columns;

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

/// A message without values.
type Words = fn() -> &'static str;

/// Every role and unit that can be chosen: key, words.
const CHOICES: [(&str, Words, Role); 30] = [
    ("time s", columns::time_s, Role::Time(1.0)),
    ("time ms", columns::time_ms, Role::Time(1e-3)),
    ("time µs", columns::time_us, Role::Time(1e-6)),
    ("time min", columns::time_min, Role::Time(60.0)),
    ("interval s", columns::interval_s, Role::Interval(1.0)),
    ("interval ms", columns::interval_ms, Role::Interval(1e-3)),
    ("interval µs", columns::interval_us, Role::Interval(1e-6)),
    ("gate blocked or open", columns::gate_state, Role::State),
    ("position m", columns::position_m, Role::Position(1.0)),
    ("position cm", columns::position_cm, Role::Position(1e-2)),
    ("position mm", columns::position_mm, Role::Position(1e-3)),
    ("velocity m/s", columns::velocity_m_per_s, Role::Velocity(1.0)),
    ("velocity cm/s", columns::velocity_cm_per_s, Role::Velocity(1e-2)),
    ("velocity mm/s", columns::velocity_mm_per_s, Role::Velocity(1e-3)),
    ("acceleration m/s²", columns::acceleration_m_per_s2, Role::Acceleration(1.0)),
    ("acceleration cm/s²", columns::acceleration_cm_per_s2, Role::Acceleration(1e-2)),
    ("acceleration mm/s²", columns::acceleration_mm_per_s2, Role::Acceleration(1e-3)),
    ("table angle rad", columns::table_angle_rad, Role::Angle(1.0)),
    ("table angle °", columns::table_angle_degrees, Role::Angle(DEGREE)),
    ("table angle turns", columns::table_angle_turns, Role::Angle(TAU)),
    ("table angular velocity rad/s", columns::table_angular_velocity_rad_per_s, Role::AngularVelocity(1.0)),
    (
        "table angular velocity °/s",
        columns::table_angular_velocity_degrees_per_s,
        Role::AngularVelocity(DEGREE),
    ),
    ("table angular velocity rpm", columns::table_angular_velocity_rpm, Role::AngularVelocity(PER_MINUTE)),
    (
        "table angular velocity turns/s",
        columns::table_angular_velocity_turns_per_s,
        Role::AngularVelocity(TAU),
    ),
    ("run", columns::run, Role::Run),
    ("table carries", columns::table_carries, Role::Carries),
    ("hanging mass g", columns::hanging_mass_g, Role::Mass(1e-3)),
    ("hanging mass kg", columns::hanging_mass_kg, Role::Mass(1.0)),
    ("motion", columns::motion, Role::Motion),
    ("not read", columns::not_read, Role::Ignored),
];

impl Role {
    /// Every role and unit that can be chosen, in the order a menu shows them.
    pub fn all() -> impl Iterator<Item = Self> {
        CHOICES.iter().map(|&(.., role)| role)
    }

    /// Its name in messages between programs and on the command line, such as `velocity cm/s`.
    pub fn key(self) -> &'static str {
        CHOICES.iter().find(|&&(.., role)| role == self).map_or("not read", |&(key, ..)| key)
    }

    /// The role that [`Role::key`] names; `us` and `deg` stand for `µs` and `°`.
    pub fn from_key(key: &str) -> Option<Self> {
        let plain = key.trim().replace("us", "µs").replace("deg", "°").replace("m/s^2", "m/s²");
        CHOICES.iter().find(|&&(key, ..)| key == plain).map(|&(.., role)| role)
    }

    /// The role with its unit in words.
    pub fn words(self) -> &'static str {
        CHOICES
            .iter()
            .find(|&&(.., role)| role == self)
            .map_or_else(columns::not_read, |&(_, words, _)| words())
    }

    /// The role that [`Role::words`] names.
    pub fn from_words(text: &str) -> Option<Self> {
        CHOICES.iter().find(|&&(_, words, _)| words() == text).map(|&(.., role)| role)
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
    fn keys_and_words_name_each_role_and_unit_once() {
        for role in Role::all() {
            assert_eq!(Role::from_key(role.key()), Some(role), "{}", role.key());
            assert_eq!(Role::from_words(role.words()), Some(role), "{}", role.words());
        }
        assert_eq!(Role::from_key("time us"), Some(Role::Time(1e-6)));
        assert_eq!(Role::from_key("table angle deg"), Some(Role::Angle(DEGREE)));
        assert_eq!(Role::from_key("velocity furlong"), None);
    }
}
