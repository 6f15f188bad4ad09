//! Which column is what, in which unit, told from the heading.

use super::ReadingKind;

/// What a heading says of one column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Heading {
    pub(super) meaning: Option<Meaning>,
    /// SI units per unit of the column.
    pub(super) factor: f64,
}

/// The quantity in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Meaning {
    Time,
    Velocity,
    Position,
    Acceleration,
    Angle,
    AngularVelocity,
}

impl Meaning {
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Time => "times",
            Self::Velocity => "velocities",
            Self::Position => "positions",
            Self::Acceleration => "accelerations",
            Self::Angle => "angles",
            Self::AngularVelocity => "angular velocities",
        }
    }
}

impl From<ReadingKind> for Meaning {
    /// The column a kind of readings needs beside its times.
    fn from(kind: ReadingKind) -> Self {
        match kind {
            ReadingKind::Velocity => Self::Velocity,
            ReadingKind::Position => Self::Position,
            ReadingKind::Acceleration => Self::Acceleration,
            ReadingKind::GateTimes | ReadingKind::BothEdges => Self::Time,
            ReadingKind::Angle => Self::Angle,
            ReadingKind::AngularVelocity => Self::AngularVelocity,
        }
    }
}

/// One degree in radians, and one turn a minute in radians per second.
const DEGREE: f64 = core::f64::consts::PI / 180.0;
const PER_MINUTE: f64 = core::f64::consts::TAU / 60.0;

const UNITS: [(&str, Meaning, f64); 22] = [
    ("s", Meaning::Time, 1.0),
    ("ms", Meaning::Time, 1e-3),
    ("us", Meaning::Time, 1e-6),
    ("µs", Meaning::Time, 1e-6),
    ("μs", Meaning::Time, 1e-6),
    ("m", Meaning::Position, 1.0),
    ("cm", Meaning::Position, 1e-2),
    ("mm", Meaning::Position, 1e-3),
    ("m/s", Meaning::Velocity, 1.0),
    ("cm/s", Meaning::Velocity, 1e-2),
    ("mm/s", Meaning::Velocity, 1e-3),
    ("m·s⁻¹", Meaning::Velocity, 1.0),
    ("m/s²", Meaning::Acceleration, 1.0),
    ("m/s^2", Meaning::Acceleration, 1.0),
    ("cm/s²", Meaning::Acceleration, 1e-2),
    ("rad", Meaning::Angle, 1.0),
    ("°", Meaning::Angle, DEGREE),
    ("deg", Meaning::Angle, DEGREE),
    ("rad/s", Meaning::AngularVelocity, 1.0),
    ("°/s", Meaning::AngularVelocity, DEGREE),
    ("deg/s", Meaning::AngularVelocity, DEGREE),
    ("rpm", Meaning::AngularVelocity, PER_MINUTE),
];

/// Reads one heading: a name with a unit in brackets, after a solidus, or alone.
///
/// `Err` carries a unit in brackets that is not known.
pub(super) fn heading(text: &str) -> Result<Heading, String> {
    let text = text.trim();
    let (name, unit) = split_unit(text);
    if let Some(symbol) = unit {
        return match (self::unit(symbol), named(name)) {
            (Some(known), _) => Ok(known),
            (None, Some(_)) => Err(symbol.to_owned()),
            // A column of something else (a temperature, say) may have any unit.
            (None, None) => Ok(Heading { meaning: None, factor: 1.0 }),
        };
    }
    Ok(Heading { meaning: named(name), factor: 1.0 })
}

/// What a unit alone tells of its column; `None` for a unit that is not known.
pub(super) fn unit(symbol: &str) -> Option<Heading> {
    let symbol = symbol.trim();
    let &(_, meaning, factor) = UNITS.iter().find(|entry| entry.0 == symbol)?;
    Some(Heading { meaning: Some(meaning), factor })
}

/// `t (s)`, `t [s]`, `t / s` → (`t`, `s`).
fn split_unit(text: &str) -> (&str, Option<&str>) {
    for (open, close) in [('(', ')'), ('[', ']')] {
        if let Some((name, rest)) = text.split_once(open)
            && let Some((unit, _)) = rest.split_once(close)
        {
            return (name.trim(), Some(unit.trim()));
        }
    }
    match text.split_once(" / ") {
        Some((name, unit)) => (name.trim(), Some(unit.trim())),
        None => (text, None),
    }
}

fn named(name: &str) -> Option<Meaning> {
    let name = name.to_ascii_lowercase();
    let starts = |words: &[&str]| words.iter().any(|word| name.starts_with(word));
    match name.as_str() {
        "t" => Some(Meaning::Time),
        "v" => Some(Meaning::Velocity),
        "x" | "s" | "y" => Some(Meaning::Position),
        "θ" | "φ" => Some(Meaning::Angle),
        "a" => Some(Meaning::Acceleration),
        "ω" => Some(Meaning::AngularVelocity),
        _ if starts(&["angular vel", "angular speed"]) => Some(Meaning::AngularVelocity),
        _ if starts(&["acc"]) => Some(Meaning::Acceleration),
        _ if starts(&["angle"]) => Some(Meaning::Angle),
        _ if starts(&["vel", "speed"]) => Some(Meaning::Velocity),
        _ if starts(&["pos", "dist", "displ", "height"]) => Some(Meaning::Position),
        _ if starts(&["time", "gate", "edge", "event"]) => Some(Meaning::Time),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_are_understood_by_unit_first_and_name_second() {
        let check = |text: &str, meaning, factor| {
            assert_eq!(heading(text), Ok(Heading { meaning, factor }), "{text}");
        };
        check("t (s)", Some(Meaning::Time), 1.0);
        check("time [ms]", Some(Meaning::Time), 1e-3);
        check("v / m/s", Some(Meaning::Velocity), 1.0);
        check("Position (cm)", Some(Meaning::Position), 1e-2);
        check("velocity", Some(Meaning::Velocity), 1.0);
        check("room temperature (°C)", None, 1.0);
        check("", None, 1.0);
        check("ω (rad/s)", Some(Meaning::AngularVelocity), 1.0);
        check("angle (°)", Some(Meaning::Angle), DEGREE);
        check("a (m/s²)", Some(Meaning::Acceleration), 1.0);
        check("acceleration (cm/s²)", Some(Meaning::Acceleration), 1e-2);
        check("angular velocity", Some(Meaning::AngularVelocity), 1.0);
    }

    #[test]
    fn an_unknown_unit_of_a_known_quantity_is_named() {
        assert_eq!(heading("velocity (furlong/h)"), Err("furlong/h".to_owned()));
    }
}
