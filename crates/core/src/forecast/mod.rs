//! Predict, observe, explain (common teaching practice, no source): before a run a student says what its v(t) will do
//! against that of another run, and why. Afterwards both stand side by side, and the difference is explained.
//!
//! ```text
//! Forecast   what was said, of a run that is there or of the next one
//! Observed   what the two fits say: a₂/a₁
//! Outcome    how the one goes with the other
//! ```

mod file;

use crate::acceleration::AccelerationFit;
use crate::lab::{RunEntry, RunId};
use crate::measured::Measured;
use crate::quantity::Ratio;
pub use file::{Damaged, open, save};
use whorl_words as words;

/// What v(t) will do against that of another run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slope {
    /// Rise faster: more acceleration.
    Steeper,
    /// Rise as fast.
    Same,
    /// Rise more slowly.
    Shallower,
}

impl Slope {
    /// All, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Steeper, Self::Same, Self::Shallower];

    /// How a file and a control know it.
    pub fn key(self) -> &'static str {
        match self {
            Self::Steeper => "steeper",
            Self::Same => "same",
            Self::Shallower => "shallower",
        }
    }

    /// The other way round.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|slope| slope.key() == key)
    }

    /// In the student's language.
    pub fn words(self) -> &'static str {
        match self {
            Self::Steeper => words::forecast::steeper(),
            Self::Same => words::forecast::same(),
            Self::Shallower => words::forecast::shallower(),
        }
    }

    /// Whether a slope may be so many times another one and still be told so.
    fn allows(self, factor: f64) -> bool {
        match self {
            Self::Steeper => factor > 1.0,
            Self::Same => false,
            Self::Shallower => factor < 1.0,
        }
    }
}

/// The run that is spoken of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// The first one after this one, which was the lab's last.
    NextAfter(RunId),
    /// This one.
    Run(RunId),
}

impl About {
    /// The run among those of the lab; `None` before it comes, or once it is gone.
    pub fn among(self, runs: &[RunEntry]) -> Option<&RunEntry> {
        match self {
            Self::NextAfter(last) => runs.iter().filter(|run| run.id.0 > last.0).min_by_key(|run| run.id.0),
            Self::Run(id) => runs.iter().find(|run| run.id == id),
        }
    }
}

/// What a student says before a run, and how it is explained afterwards. Its words cannot be changed once the run is
/// there: they would say nothing then.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    against: RunId,
    about: About,
    slope: Slope,
    factor: Option<f64>,
    reason: String,
    /// What the student makes of the difference, or of the agreement; empty until then.
    pub explanation: String,
}

/// Why a forecast is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ForecastProblem {
    /// It compares a run with itself.
    #[error("{}", words::forecast::against_itself())]
    AgainstItself,
    /// The factor is not above zero.
    #[error("{}", words::forecast::factor_not_positive())]
    FactorNotPositive,
    /// Steeper, but by a factor of one or less; shallower, but by one or more; the same, but by a factor.
    #[error("{}", match .0 {
        Slope::Steeper => words::forecast::factor_not_steeper(),
        Slope::Same => words::forecast::factor_of_same(),
        Slope::Shallower => words::forecast::factor_not_shallower(),
    })]
    FactorUnlike(Slope),
    /// No word on why.
    #[error("{}", words::forecast::no_reason())]
    NoReason,
}

impl Forecast {
    /// That v(t) of one run will be steeper, the same or shallower than that of another, `factor` times as steep where
    /// that is said, and why.
    ///
    /// # Errors
    /// When its parts contradict each other, or there is no reason.
    pub fn new(
        against: RunId,
        about: About,
        slope: Slope,
        factor: Option<f64>,
        reason: &str,
    ) -> Result<Self, ForecastProblem> {
        if about == About::Run(against) {
            return Err(ForecastProblem::AgainstItself);
        }
        if factor.is_some_and(|factor| !(factor.is_finite() && factor > 0.0)) {
            return Err(ForecastProblem::FactorNotPositive);
        }
        if factor.is_some_and(|factor| !slope.allows(factor)) {
            return Err(ForecastProblem::FactorUnlike(slope));
        }
        let reason = reason.trim();
        if reason.is_empty() {
            return Err(ForecastProblem::NoReason);
        }
        let (reason, explanation) = (reason.to_owned(), String::new());
        Ok(Self { against, about, slope, factor, reason, explanation })
    }

    /// The run that it is compared with.
    pub fn against(&self) -> RunId {
        self.against
    }

    /// The run that it speaks of.
    pub fn about(&self) -> About {
        self.about
    }

    /// What v(t) will do.
    pub fn slope(&self) -> Slope {
        self.slope
    }

    /// How many times as steep it will be, where that was said.
    pub fn factor(&self) -> Option<f64> {
        self.factor
    }

    /// Why.
    pub fn reason(&self) -> &str {
        &self.reason
    }

    /// How it goes with what was observed.
    pub fn outcome(&self, observed: &Observed) -> Outcome {
        if self.slope != observed.slope() {
            return Outcome::OtherSlope;
        }
        let (ratio, u) = (observed.ratio.value().0, observed.ratio.standard_uncertainty().0);
        match self.factor {
            Some(factor) if (factor - ratio).abs() > (CLOSE * ratio).max(2.0 * u) => Outcome::OtherFactor,
            _ => Outcome::AsSaid,
        }
    }
}

/// Two slopes that differ by no more than this are seen as the same: a choice of this page, about what an eye tells
/// apart in a graph.
const ALIKE: f64 = 0.05;

/// A factor said this near to the observed one is right: a choice of this page, for an estimate made in the head.
const CLOSE: f64 = 0.1;

/// What two runs show: a₂/a₁.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observed {
    /// The slope of v(t) of the run spoken of, divided by that of the one it is compared with.
    pub ratio: Measured<Ratio>,
}

impl Observed {
    /// Of the run that is compared with, and of the one spoken of. The uncertainty is of the scatter of both (relative
    /// variances add, JCGM 100:2008, 5.1.6); what they share, such as the travel per spoke, cancels. `None` where the
    /// first has no acceleration.
    pub fn of(against: &AccelerationFit, about: &AccelerationFit) -> Option<Self> {
        let (first, second) = (&against.acceleration, &about.acceleration);
        let ratio = second.value().0 / first.value().0;
        let relative = |u: f64, value: f64| u / value;
        let u = ratio.abs()
            * relative(first.standard_uncertainty().0, first.value().0)
                .hypot(relative(second.standard_uncertainty().0, second.value().0));
        Some(Self { ratio: Measured::new(Ratio(ratio), Ratio(u)).ok()? })
    }

    /// What v(t) did. Slopes are the same where their ratio is one within 5 %, or within twice its uncertainty.
    pub fn slope(&self) -> Slope {
        let (ratio, u) = (self.ratio.value().0, self.ratio.standard_uncertainty().0);
        if (ratio - 1.0).abs() <= ALIKE.max(2.0 * u) {
            Slope::Same
        } else if ratio > 1.0 {
            Slope::Steeper
        } else {
            Slope::Shallower
        }
    }
}

/// How a forecast goes with what was observed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// As it was said, the factor too if there was one.
    AsSaid,
    /// Steeper or shallower as it was said, but not by that factor.
    OtherFactor,
    /// Another slope.
    OtherSlope,
}

impl Outcome {
    /// In the student's language, and what to ask oneself.
    pub fn words(self) -> &'static str {
        match self {
            Self::AsSaid => words::forecast::as_said(),
            Self::OtherFactor => words::forecast::other_factor(),
            Self::OtherSlope => words::forecast::other_slope(),
        }
    }
}

#[cfg(test)]
mod tests;
