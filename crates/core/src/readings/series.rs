//! Readings in order of time.

use crate::quantity::{Meters, MetersPerSecond, Quantity, Seconds};

/// What one row of a file tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingKind {
    /// Time and velocity of the string.
    Velocity,
    /// Time and position of the string.
    Position,
    /// Times at which the pulley's spokes, one after another, reached the gate.
    GateTimes,
}

impl ReadingKind {
    /// All kinds, in the order a menu shows them.
    pub const ALL: [Self; 3] = [Self::GateTimes, Self::Velocity, Self::Position];

    /// Name in a lab file and in results.
    pub fn key(self) -> &'static str {
        match self {
            Self::Velocity => "velocity",
            Self::Position => "position",
            Self::GateTimes => "gate-times",
        }
    }

    /// What the readings are, in the plural.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Velocity => "velocities",
            Self::Position => "positions",
            Self::GateTimes => "gate times",
        }
    }

    /// Plain words for a menu.
    pub fn words(self) -> &'static str {
        match self {
            Self::Velocity => "time and velocity",
            Self::Position => "time and position",
            Self::GateTimes => "gate times, one per spoke",
        }
    }
}

/// Why numbers are not a series of readings.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SeriesError {
    /// Nothing there.
    #[error("there are no readings")]
    Empty,
    /// NaN or an infinity; `index` counts from 0.
    #[error("reading {} is not a finite number", index + 1)]
    NotFinite {
        /// Which reading, from 0.
        index: usize,
    },
    /// A time that does not come after the one before; `index` counts from 0.
    #[error("the time of reading {} does not come after the one before it", index + 1)]
    TimeNotIncreasing {
        /// Which reading, from 0.
        index: usize,
    },
}

/// Readings of one quantity against time.
///
/// Invariant: not empty, all finite, times strictly increasing.
#[derive(Clone, Debug, PartialEq)]
pub struct Series<Q>(Vec<(Seconds, Q)>);

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
        Ok(Self(readings))
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
    /// The k-th spoke reached the gate at this time; the value is k, from 0.
    GateTimes(Series<crate::quantity::Ratio>),
}

impl Readings {
    /// Gate times, numbered from 0.
    ///
    /// # Errors
    /// When there are none, one is not finite, or they do not increase.
    pub fn from_gate_times(times: &[Seconds]) -> Result<Self, SeriesError> {
        let numbered = times.iter().enumerate();
        let counted = numbered.map(|(k, &time)| (time, crate::quantity::Ratio(k as f64))).collect();
        Series::new(counted).map(Self::GateTimes)
    }

    /// Which kind of readings these are.
    pub fn kind(&self) -> ReadingKind {
        match self {
            Self::Velocity(_) => ReadingKind::Velocity,
            Self::Position(_) => ReadingKind::Position,
            Self::GateTimes(_) => ReadingKind::GateTimes,
        }
    }

    /// Times and values, the latter in m/s, in m, or as the spoke's number.
    pub fn pairs(&self) -> Vec<(f64, f64)> {
        fn plain<Q: Quantity>(series: &Series<Q>) -> Vec<(f64, f64)> {
            series.as_slice().iter().map(|(time, value)| (time.0, value.si())).collect()
        }
        match self {
            Self::Velocity(series) => plain(series),
            Self::Position(series) => plain(series),
            Self::GateTimes(series) => plain(series),
        }
    }

    /// How many readings there are; at least one.
    pub fn count(&self) -> usize {
        match self {
            Self::Velocity(series) => series.as_slice().len(),
            Self::Position(series) => series.as_slice().len(),
            Self::GateTimes(series) => series.as_slice().len(),
        }
    }

    /// First and last time.
    pub fn time_span(&self) -> (Seconds, Seconds) {
        let pairs = self.pairs();
        let first = pairs.first().map_or(0.0, |pair| pair.0);
        (Seconds(first), Seconds(pairs.last().map_or(first, |pair| pair.0)))
    }
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
}
