//! A run: readings with the stretch of them that is fitted.

use crate::quantity::Seconds;
use crate::readings::{ReadingKind, Readings};
use crate::stretch::number_edges;
use whorl_words as words;

/// The stretch of time a student chose as good, ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    from: Seconds,
    to: Seconds,
}

impl Stretch {
    /// Puts the ends in order; `None` when one is not a finite number.
    pub fn new(from: Seconds, to: Seconds) -> Option<Self> {
        if !from.0.is_finite() || !to.0.is_finite() {
            return None;
        }
        Some(if from <= to { Self { from, to } } else { Self { from: to, to: from } })
    }

    /// First moment.
    pub fn from(self) -> Seconds {
        self.from
    }

    /// Last moment.
    pub fn to(self) -> Seconds {
        self.to
    }
}

/// Which way the mass goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Motion {
    /// Down: the string pulls the table along.
    #[default]
    Falling,
    /// Up again: the string winds the other way and holds the table back.
    Rising,
    /// Not at all: it has landed, the string is slack, the table turns on.
    Coasting,
}

impl Motion {
    /// All of them, in the order a menu shows them.
    pub const ALL: [Self; 3] = [Self::Falling, Self::Rising, Self::Coasting];

    /// Name in a lab file and in results.
    pub fn key(self) -> &'static str {
        match self {
            Self::Falling => "falling",
            Self::Rising => "rising",
            Self::Coasting => "coasting",
        }
    }

    /// Plain words for a menu.
    pub fn words(self) -> &'static str {
        match self {
            Self::Falling => words::chain::falling(),
            Self::Rising => words::chain::rising(),
            Self::Coasting => words::chain::coasting(),
        }
    }
}

/// Why a run cannot be fitted.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RunError {
    /// Too little inside the stretch.
    #[error("{}", words::chain::too_few_readings(.found, .needed))]
    TooFewReadings {
        /// Readings inside.
        found: usize,
        /// Readings needed.
        needed: usize,
    },
}

/// The part of the readings that is fitted.
///
/// Gate edges carry the number of the spoke position they stand for: one that was seen twice is left out,
/// one that was missed is counted. Invariant: at least [`Run::min_readings`] readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    kind: ReadingKind,
    pairs: Vec<(f64, f64)>,
}

impl Run {
    /// Takes the readings inside `stretch`, or all of them.
    ///
    /// # Errors
    /// When too few are inside.
    pub fn new(readings: &Readings, stretch: Option<Stretch>) -> Result<Self, RunError> {
        let kind = readings.kind();
        let mut pairs = readings.pairs();
        if kind == ReadingKind::GateTimes {
            let times: Vec<f64> = pairs.iter().map(|pair| pair.0).collect();
            let edges = number_edges(&times);
            pairs.clear();
            pairs.extend(edges.times.into_iter().zip(edges.numbers.into_iter().map(f64::from)));
        }
        if let Some(stretch) = stretch {
            pairs.retain(|pair| stretch.from.0 <= pair.0 && pair.0 <= stretch.to.0);
        }
        let needed = Self::min_readings(kind);
        if pairs.len() < needed {
            return Err(RunError::TooFewReadings { found: pairs.len(), needed });
        }
        Ok(Self { kind, pairs })
    }

    /// One reading more than the fitted curve has parameters, so that something tells how well it
    /// fits: a mean for accelerations, a line for velocities, a parabola for positions; gate times tell a
    /// little of drag as well.
    pub fn min_readings(kind: ReadingKind) -> usize {
        kind.degree() + if kind.is_times_alone() { 3 } else { 2 }
    }

    /// Accelerations counted along the motion: a falling mass gets faster, a rising or coasting one slower.
    /// Which way a logger counts them is its own affair, and all other kinds show the motion themselves.
    #[must_use]
    pub fn along(mut self, motion: Motion) -> Self {
        let sum: f64 = self.pairs.iter().map(|pair| pair.1).sum();
        let slows = motion != Motion::Falling;
        if self.kind == ReadingKind::Acceleration && (sum < 0.0) != slows {
            self.pairs.iter_mut().for_each(|pair| pair.1 = -pair.1);
        }
        self
    }

    /// Which kind of readings these are.
    pub fn kind(&self) -> ReadingKind {
        self.kind
    }

    /// Time and value of the readings inside the stretch; values as in [`Readings::pairs`], edges numbered.
    pub fn fitted_pairs(&self) -> Vec<(f64, f64)> {
        self.pairs.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gate(count: u32) -> Readings {
        Readings::from_gate_times(&(0..count).map(|k| Seconds(f64::from(k))).collect::<Vec<_>>()).unwrap()
    }

    #[test]
    fn the_ends_of_the_stretch_are_inside() {
        let readings = gate(10);
        let run = Run::new(&readings, Stretch::new(Seconds(6.0), Seconds(2.0))).unwrap();
        assert_eq!(run.fitted_pairs(), [(2.0, 2.0), (3.0, 3.0), (4.0, 4.0), (5.0, 5.0), (6.0, 6.0)]);
    }

    #[test]
    fn a_stretch_with_too_little_in_it_is_refused() {
        let readings = gate(10);
        let error = Run::new(&readings, Stretch::new(Seconds(2.5), Seconds(4.5))).unwrap_err();
        assert_eq!(error, RunError::TooFewReadings { found: 2, needed: 5 });
        assert!(Run::new(&readings, Stretch::new(Seconds(50.0), Seconds(60.0))).is_err());
        assert!(Run::new(&gate(3), None).is_err());
        assert_eq!(Stretch::new(Seconds(f64::NAN), Seconds(1.0)), None);
    }
}
