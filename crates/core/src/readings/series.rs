//! Readings in order of time.

use crate::quantity::{
    Meters, MetersPerSecond, MetersPerSecond2, Quantity, Radians, RadiansPerSecond, Ratio, Seconds,
};
use std::sync::Arc;
use whorl_words as words;

/// What one row of a file tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingKind {
    /// Time and velocity of the string.
    Velocity,
    /// Time and position of the string.
    Position,
    /// Time and acceleration of the string: of an accelerometer on the falling mass with gravity taken off,
    /// or of a column that was calculated. Which way it counts does not matter.
    Acceleration,
    /// Times at which the pulley's spokes, one after another, reached the gate.
    GateTimes,
    /// Times at which the gate was blocked and opened in turn by the pulley's spokes.
    BothEdges,
    /// Time and angle of the table.
    Angle,
    /// Time and angular velocity of the table.
    AngularVelocity,
}

impl ReadingKind {
    /// All kinds, in the order a menu shows them.
    pub const ALL: [Self; 7] = [
        Self::GateTimes,
        Self::BothEdges,
        Self::Velocity,
        Self::Position,
        Self::Acceleration,
        Self::Angle,
        Self::AngularVelocity,
    ];

    /// Name in a lab file and in results.
    pub fn key(self) -> &'static str {
        match self {
            Self::Velocity => "velocity",
            Self::Position => "position",
            // “acceleration” is one that was typed.
            Self::Acceleration => "sampled-acceleration",
            Self::GateTimes => "gate-times",
            Self::BothEdges => "both-edges",
            Self::Angle => "angle",
            Self::AngularVelocity => "angular-velocity",
        }
    }

    /// What the readings are, in the plural.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Velocity => words::readings::velocities(),
            Self::Position => words::readings::positions(),
            Self::Acceleration => words::readings::accelerations(),
            Self::GateTimes | Self::BothEdges => words::readings::gate_times(),
            Self::Angle => words::readings::angles(),
            Self::AngularVelocity => words::readings::angular_velocities(),
        }
    }

    /// Plain words for a menu.
    pub fn words(self) -> &'static str {
        match self {
            Self::Velocity => words::readings::time_and_velocity(),
            Self::Position => words::readings::time_and_position(),
            Self::Acceleration => words::readings::time_and_acceleration(),
            Self::GateTimes => words::readings::gate_times_one_per_spoke(),
            Self::BothEdges => words::readings::gate_times_both_edges(),
            Self::Angle => words::readings::time_and_angle(),
            Self::AngularVelocity => words::readings::time_and_angular_velocity(),
        }
    }

    /// Whether the file holds times alone.
    pub fn is_times_alone(self) -> bool {
        matches!(self, Self::GateTimes | Self::BothEdges)
    }

    /// Whether the table's own rotation was measured.
    pub fn is_angular(self) -> bool {
        matches!(self, Self::Angle | Self::AngularVelocity)
    }

    /// The power of time with which the value grows at a constant acceleration: 0 for accelerations, 1 for
    /// velocities, 2 for places along the way.
    pub fn degree(self) -> usize {
        match self {
            Self::Acceleration => 0,
            Self::Velocity | Self::AngularVelocity => 1,
            Self::Position | Self::Angle | Self::GateTimes | Self::BothEdges => 2,
        }
    }
}

/// Why numbers are not a series of readings.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SeriesError {
    /// Nothing there.
    #[error("{}", words::readings::none())]
    Empty,
    /// NaN or an infinity; `index` counts from 0.
    #[error("{}", words::readings::not_finite(&(index + 1)))]
    NotFinite {
        /// Which reading, from 0.
        index: usize,
    },
    /// A time that does not come after the one before; `index` counts from 0.
    #[error("{}", words::readings::time_not_increasing(&(index + 1)))]
    TimeNotIncreasing {
        /// Which reading, from 0.
        index: usize,
    },
}

/// Readings of one quantity against time.
///
/// Invariant: not empty, all finite, times strictly increasing. A copy shares the readings, which never change: a lab
/// is copied for each step that can be undone.
#[derive(Clone, Debug)]
pub struct Series<Q>(Arc<[(Seconds, Q)]>);

impl<Q: PartialEq> PartialEq for Series<Q> {
    fn eq(&self, other: &Self) -> bool {
        // No reading is NaN, so a series is equal to itself.
        self.is_same(other) || self.0 == other.0
    }
}

impl<Q> Series<Q> {
    fn is_same(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<Q: Quantity> Series<Q> {
    /// Checks the readings.
    ///
    /// # Errors
    /// When there are none, one is not finite, or a time does not come after the one before.
    pub fn new(readings: Vec<(Seconds, Q)>) -> Result<Self, SeriesError> {
        let finite = |reading: &(Seconds, Q)| reading.0.0.is_finite() && reading.1.si().is_finite();
        if readings.is_empty() {
            return Err(SeriesError::Empty);
        }
        if let Some(index) = readings.iter().position(|reading| !finite(reading)) {
            return Err(SeriesError::NotFinite { index });
        }
        let backwards = readings.windows(2).position(|pair| matches!(pair, [a, b] if b.0 <= a.0));
        if let Some(index) = backwards {
            return Err(SeriesError::TimeNotIncreasing { index: index + 1 });
        }
        Ok(Self(readings.into()))
    }

    /// The readings, in order of time.
    pub fn as_slice(&self) -> &[(Seconds, Q)] {
        &self.0
    }
}

/// What a file held.
#[derive(Clone, Debug, PartialEq)]
pub enum Readings {
    /// Velocity of the string against time.
    Velocity(Series<MetersPerSecond>),
    /// Position of the string against time.
    Position(Series<Meters>),
    /// Acceleration of the string against time.
    Acceleration(Series<MetersPerSecond2>),
    /// The k-th spoke reached the gate at this time; the value is k, from 0.
    GateTimes(Series<Ratio>),
    /// The gate was blocked (even) and opened (odd) in turn; the value counts both, from 0.
    BothEdges(Series<Ratio>),
    /// Angle of the table against time.
    Angle(Series<Radians>),
    /// Angular velocity of the table against time.
    AngularVelocity(Series<RadiansPerSecond>),
}

impl Readings {
    /// Gate times, numbered from 0.
    ///
    /// # Errors
    /// When there are none, one is not finite, or they do not increase.
    pub fn from_gate_times(times: &[Seconds]) -> Result<Self, SeriesError> {
        numbered(times).map(Self::GateTimes)
    }

    /// Readings of a kind from their columns, in SI units; `values` are not looked at where the kind has
    /// times alone.
    ///
    /// # Errors
    /// When there are none, one is not finite, or the times do not increase.
    pub fn from_columns(kind: ReadingKind, times: &[Seconds], values: &[f64]) -> Result<Self, SeriesError> {
        fn series<Q: Quantity>(times: &[Seconds], values: &[f64]) -> Result<Series<Q>, SeriesError> {
            Series::new(times.iter().copied().zip(values.iter().map(|&value| Q::from_si(value))).collect())
        }
        match kind {
            ReadingKind::GateTimes => numbered(times).map(Self::GateTimes),
            ReadingKind::BothEdges => numbered(times).map(Self::BothEdges),
            ReadingKind::Velocity => series(times, values).map(Self::Velocity),
            ReadingKind::Position => series(times, values).map(Self::Position),
            ReadingKind::Acceleration => series(times, values).map(Self::Acceleration),
            ReadingKind::Angle => series(times, values).map(Self::Angle),
            ReadingKind::AngularVelocity => series(times, values).map(Self::AngularVelocity),
        }
    }

    /// Whether these are the very same readings, as those of a copied lab are; found without looking at them.
    pub fn is_same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Velocity(a), Self::Velocity(b)) => a.is_same(b),
            (Self::Position(a), Self::Position(b)) => a.is_same(b),
            (Self::Acceleration(a), Self::Acceleration(b)) => a.is_same(b),
            (Self::GateTimes(a), Self::GateTimes(b)) | (Self::BothEdges(a), Self::BothEdges(b)) => {
                a.is_same(b)
            }
            (Self::Angle(a), Self::Angle(b)) => a.is_same(b),
            (Self::AngularVelocity(a), Self::AngularVelocity(b)) => a.is_same(b),
            _ => false,
        }
    }

    /// Which kind of readings these are.
    pub fn kind(&self) -> ReadingKind {
        match self {
            Self::Velocity(_) => ReadingKind::Velocity,
            Self::Position(_) => ReadingKind::Position,
            Self::Acceleration(_) => ReadingKind::Acceleration,
            Self::GateTimes(_) => ReadingKind::GateTimes,
            Self::BothEdges(_) => ReadingKind::BothEdges,
            Self::Angle(_) => ReadingKind::Angle,
            Self::AngularVelocity(_) => ReadingKind::AngularVelocity,
        }
    }

    /// Times and values, the latter in the SI unit, or as the edge's number.
    pub fn pairs(&self) -> Vec<(f64, f64)> {
        fn plain<Q: Quantity>(series: &Series<Q>) -> Vec<(f64, f64)> {
            series.as_slice().iter().map(|(time, value)| (time.0, value.si())).collect()
        }
        match self {
            Self::Velocity(series) => plain(series),
            Self::Position(series) => plain(series),
            Self::Acceleration(series) => plain(series),
            Self::GateTimes(series) | Self::BothEdges(series) => plain(series),
            Self::Angle(series) => plain(series),
            Self::AngularVelocity(series) => plain(series),
        }
    }

    /// How many readings there are; at least one.
    pub fn count(&self) -> usize {
        match self {
            Self::Velocity(series) => series.as_slice().len(),
            Self::Position(series) => series.as_slice().len(),
            Self::Acceleration(series) => series.as_slice().len(),
            Self::GateTimes(series) | Self::BothEdges(series) => series.as_slice().len(),
            Self::Angle(series) => series.as_slice().len(),
            Self::AngularVelocity(series) => series.as_slice().len(),
        }
    }

    /// First and last time.
    pub fn time_span(&self) -> (Seconds, Seconds) {
        let pairs = self.pairs();
        let first = pairs.first().map_or(0.0, |pair| pair.0);
        (Seconds(first), Seconds(pairs.last().map_or(first, |pair| pair.0)))
    }
}

fn numbered(times: &[Seconds]) -> Result<Series<Ratio>, SeriesError> {
    Series::new(times.iter().enumerate().map(|(k, &time)| (time, Ratio(k as f64))).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_must_go_forward() {
        let times = |times: &[f64]| {
            Readings::from_gate_times(&times.iter().copied().map(Seconds).collect::<Vec<_>>())
        };
        assert!(times(&[0.0, 0.1, 0.3]).is_ok());
        assert_eq!(times(&[0.0, 0.2, 0.2]), Err(SeriesError::TimeNotIncreasing { index: 2 }));
        assert_eq!(times(&[0.0, f64::NAN]), Err(SeriesError::NotFinite { index: 1 }));
        assert_eq!(times(&[]), Err(SeriesError::Empty));
    }

    #[test]
    fn a_copy_is_the_same_readings_and_equal_numbers_need_not_be() {
        for kind in ReadingKind::ALL {
            let made = || Readings::from_columns(kind, &[Seconds(0.0), Seconds(1.0)], &[0.0, 1.0]).unwrap();
            let readings = made();
            assert!(readings.is_same(&readings.clone()) && readings == readings.clone());
            assert!(!readings.is_same(&made()) && readings == made());
            let others = ReadingKind::ALL.into_iter().filter(|&other| other != kind);
            for other in others {
                let other =
                    Readings::from_columns(other, &[Seconds(0.0), Seconds(1.0)], &[0.0, 1.0]).unwrap();
                assert!(!readings.is_same(&other) && readings != other);
            }
        }
    }
}
