//! What the trials say, and whether that confirms the first-order result.

use super::propagation::{ROUNDING, tolerance};
use whorl_words as words;

/// A result as first-order propagation gives it: y, u and y ± U.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FirstOrder {
    /// y.
    pub value: f64,
    /// u(y).
    pub standard_uncertainty: f64,
    /// Ends of the 95 % interval.
    pub interval: [f64; 2],
}

/// A result as the trials give it.
#[derive(Clone, Debug, PartialEq)]
pub struct Simulated {
    /// Mean of all values (JCGM 101:2008 7.6).
    pub mean: f64,
    /// Their standard deviation (7.6).
    pub standard_uncertainty: f64,
    /// The 95 % interval that leaves 2.5 % on each side (7.7, 5.3.3).
    pub symmetric: [f64; 2],
    /// The shortest 95 % interval (7.7, 5.3.4). Its ends scatter more than those of the symmetric one, since
    /// its length hardly changes when it is moved.
    pub shortest: [f64; 2],
    /// Standard deviations of mean, standard uncertainty, lower and upper end of the symmetric interval
    /// that come from the finite number of trials (7.9.4 g).
    pub deviations: [f64; 4],
    /// Shares of the values in equal bars about the mean, [`super::BARS_REACH`] standard uncertainties to
    /// each side.
    pub shape: Vec<f64>,
}

/// The outcome of a simulation.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Trials that count.
    pub trials: usize,
    /// Trials drawn again since their inputs were impossible together.
    pub redrawn: usize,
    /// Whether every number is known to the tolerance wanted.
    pub stable: bool,
    /// One per result.
    pub results: Vec<Simulated>,
}

/// Whether the first-order interval holds (JCGM 101:2008 clause 8).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Both ends agree to within the tolerance.
    Confirmed,
    /// One end is further off, but by no more than the finite number of trials may explain.
    Undecided,
    /// One end is further off.
    NotConfirmed,
}

impl Verdict {
    /// Name in results.
    pub fn key(self) -> &'static str {
        match self {
            Self::Confirmed => "confirmed",
            Self::Undecided => "undecided",
            Self::NotConfirmed => "not-confirmed",
        }
    }

    /// Plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Confirmed => words::chain::confirmed(),
            Self::Undecided => words::chain::more_trials_needed(),
            Self::NotConfirmed => words::chain::not_confirmed(),
        }
    }
}

/// First-order result and simulation side by side (JCGM 101:2008 8.1).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Check {
    /// δ, from two digits of the first-order u (7.9.2).
    pub tolerance: f64,
    /// By how much the ends of the first-order interval are too high: lower, upper.
    pub off: [f64; 2],
    /// Width of the first-order interval in widths of the simulated one.
    pub width: f64,
    /// What that means.
    pub verdict: Verdict,
}

impl Check {
    /// Compares the ends of both intervals.
    pub fn new(first: &FirstOrder, simulated: &Simulated) -> Self {
        let tolerance = tolerance(first.standard_uncertainty).max(ROUNDING * first.value.abs());
        let [low, high] = simulated.symmetric;
        let [_, _, s_low, s_high] = simulated.deviations;
        let off = [first.interval[0] - low, first.interval[1] - high];
        let sides = [(off[0].abs(), s_low), (off[1].abs(), s_high)];
        let verdict = if sides.iter().all(|side| side.0 <= tolerance) {
            Verdict::Confirmed
        } else if sides.iter().any(|side| side.0 - 2.0 * side.1 > tolerance) {
            Verdict::NotConfirmed
        } else {
            Verdict::Undecided
        };
        let width = (first.interval[1] - first.interval[0]) / (high - low);
        Self { tolerance, off, width, verdict }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(low: f64, high: f64, deviation: f64) -> Verdict {
        let first = FirstOrder { value: 0.0, standard_uncertainty: 2.0, interval: [-3.92, 3.92] };
        let simulated = Simulated {
            mean: 0.0,
            standard_uncertainty: 2.0,
            symmetric: [low, high],
            shortest: [low, high],
            deviations: [deviation; 4],
            shape: Vec::new(),
        };
        let found = Check::new(&first, &simulated);
        assert!((found.tolerance - 0.05).abs() < 1e-15);
        // The first-order end less the simulated one.
        assert_eq!(found.off.map(f64::to_bits), [-3.92 - low, 3.92 - high].map(f64::to_bits));
        found.verdict
    }

    #[test]
    fn both_ends_must_agree_to_within_the_tolerance() {
        assert_eq!(check(-3.88, 3.88, 0.005), Verdict::Confirmed);
        assert_eq!(check(-3.88, 3.80, 0.005), Verdict::NotConfirmed);
        assert_eq!(check(-4.10, 3.92, 0.005), Verdict::NotConfirmed);
        assert_eq!(check(-3.99, 3.92, 0.02), Verdict::Undecided);
        assert_eq!(check(f64::NAN, f64::NAN, f64::NAN), Verdict::Undecided);
    }
}
