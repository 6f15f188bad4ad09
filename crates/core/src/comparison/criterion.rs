//! What counts as agreement, where an instructor has chosen it.
//!
//! ```text
//! interval           zero lies in the 95 % interval of D (JCGM 100:2008, 6.2): what Whorl says by itself
//! normalized error   |Eₙ| = |D|/√(U²(measured) + U²(predicted)) ≤ 1, U: half of each 95 % interval (ISO 13528:2022, 9.7)
//! percent            |D| ≤ p % of the prediction, whatever the uncertainties
//! ```

use super::Comparison;
use crate::measured::coverage::Probability;
use crate::measured::quadrature;

/// What counts as agreement.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Criterion {
    /// The coverage interval of the difference holds zero.
    #[default]
    Interval,
    /// |Eₙ| is at most 1.
    NormalizedError,
    /// The difference is at most so many percent of the prediction.
    Percent(f64),
}

/// What a criterion says of a comparison.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judgement {
    /// What is compared with the limit: |D| over half its interval, |Eₙ|, or |D| in percent.
    pub found: f64,
    /// The most it may be.
    pub limit: f64,
}

impl Judgement {
    /// Whether the two agree.
    pub fn agrees(self) -> bool {
        self.found <= self.limit
    }
}

impl Criterion {
    /// Judges a comparison; `None` where neither side has any uncertainty, or the prediction is zero, and nothing can
    /// be said.
    pub fn judge(self, comparison: &Comparison) -> Option<Judgement> {
        let d = comparison.difference.value().0.abs();
        let over = |whole: f64| (whole > 0.0).then(|| d / whole);
        match self {
            Self::Interval => {
                let found = over(comparison.interval.expanded_uncertainty.0)?;
                Some(Judgement { found, limit: 1.0 })
            }
            Self::NormalizedError => {
                let sides = [&comparison.measured, &comparison.predicted];
                let expanded =
                    sides.map(|side| side.coverage_interval(Probability::P95).expanded_uncertainty.0);
                Some(Judgement { found: over(quadrature(expanded))?, limit: 1.0 })
            }
            Self::Percent(most) => {
                let found = over(comparison.predicted.value().0.abs())? * 100.0;
                Some(Judgement { found, limit: most })
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::comparison::{Verdict, compare};
    use crate::measured::Measured;
    use crate::quantity::KilogramMeters2;

    fn judged(criterion: Criterion, measured: (f64, f64), predicted: (f64, f64)) -> Option<Judgement> {
        let side = |(value, u)| Measured::new(KilogramMeters2(value), KilogramMeters2(u)).unwrap();
        criterion.judge(&compare(&side(measured), &side(predicted)).unwrap())
    }

    #[test]
    fn the_normalized_error_is_that_of_the_formula() {
        // U = 1.959964 u on both sides (infinite degrees of freedom): 0.5/(1.959964 × √(0.3² + 0.4²)) = 0.510.
        let judged = judged(Criterion::NormalizedError, (7.5, 0.3), (7.0, 0.4)).unwrap();
        assert!((judged.found - 0.5 / (1.959_963_984_540_054 * 0.5)).abs() < 1e-12, "{judged:?}");
        assert!(judged.agrees());
    }

    #[test]
    fn percent_asks_for_the_difference_alone() {
        let at = |most| judged(Criterion::Percent(most), (7.35, 0.001), (7.0, 0.001)).unwrap();
        assert!((at(5.1).found - 5.0).abs() < 1e-9);
        assert!(at(5.1).agrees() && !at(4.9).agrees());
    }

    #[test]
    fn the_interval_says_what_the_verdict_says() {
        for measured in [7.1, 7.9, 8.1] {
            let side = |value, u| Measured::new(KilogramMeters2(value), KilogramMeters2(u)).unwrap();
            let comparison = compare(&side(measured, 0.4), &side(7.0, 0.3)).unwrap();
            let agrees = Criterion::Interval.judge(&comparison).unwrap().agrees();
            assert_eq!(agrees, comparison.verdict != Verdict::Differ, "{measured}");
        }
    }

    #[test]
    fn without_uncertainty_or_prediction_nothing_is_said() {
        assert_eq!(judged(Criterion::Interval, (7.1, 0.0), (7.0, 0.0)), None);
        assert_eq!(judged(Criterion::NormalizedError, (7.1, 0.0), (7.0, 0.0)), None);
        assert_eq!(judged(Criterion::Percent(5.0), (7.1, 0.1), (0.0, 0.1)), None);
    }
}
