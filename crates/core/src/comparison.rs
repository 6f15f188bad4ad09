//! Measured against predicted.
//!
//! ```text
//! D  = I_measured − I_predicted
//! u_c(D) = √(u²(measured) + u²(predicted))
//! D/u_c                the difference in standard uncertainties
//! 100 D/I_predicted    percent difference
//! ```
//!
//! The two agree when zero lies inside the coverage interval of D (JCGM 100:2008 6.2, with the
//! effective degrees of freedom of G.4). That never proves them equal: it says that no difference
//! larger than the interval has been shown.

mod criterion;

pub use criterion::{Criterion, Judgement};

use crate::measured::coverage::{CoverageInterval, Probability};
use crate::measured::{DegreesOfFreedom, Measured, MeasuredError, quadrature};
use crate::quantity::{KilogramMeters2, Quantity, Ratio};
use whorl_words as words;

/// What the numbers allow one to say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Zero difference lies inside the 95 % interval, and the interval is narrow enough to mean it.
    Agree,
    /// Zero lies inside, but the uncertainty exceeds a tenth of the prediction.
    AgreeWeakly,
    /// Zero lies outside the 95 % interval.
    Differ,
    /// Neither side has any uncertainty, so nothing can be said.
    Undecided,
}

impl Verdict {
    /// What may be claimed, in one or two sentences.
    pub fn words(self) -> &'static str {
        match self {
            Self::Agree => words::chain::agree(),
            Self::AgreeWeakly => words::chain::agree_weakly(),
            Self::Differ => words::chain::differ(),
            Self::Undecided => words::chain::undecided(),
        }
    }
}

/// The outcome of a comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// What was measured.
    pub measured: Measured<KilogramMeters2>,
    /// What the object's shape predicts.
    pub predicted: Measured<KilogramMeters2>,
    /// D with its combined standard uncertainty.
    pub difference: Measured<KilogramMeters2>,
    /// 95 % coverage interval of D.
    pub interval: CoverageInterval<KilogramMeters2>,
    /// D in percent of the prediction; `None` when that is zero.
    pub percent_difference: Option<Measured<Ratio>>,
    /// D/u_c; `None` when u_c is zero.
    pub in_standard_uncertainties: Option<f64>,
    /// The verdict.
    pub verdict: Verdict,
}

/// Above this share of the prediction, an uncertainty makes agreement cheap: common practice, no
/// source.
const WEAK: f64 = 0.1;

/// Compares a measured with a predicted moment of inertia.
///
/// # Errors
/// When a result is not finite.
pub fn compare(
    measured: &Measured<KilogramMeters2>,
    predicted: &Measured<KilogramMeters2>,
) -> Result<Comparison, MeasuredError> {
    let parts =
        [measured, predicted].map(|side| (side.standard_uncertainty().si(), side.degrees_of_freedom()));
    let u = quadrature(parts.map(|part| part.0));
    let difference = Measured::with_degrees_of_freedom(
        measured.value() - predicted.value(),
        KilogramMeters2(u),
        DegreesOfFreedom::welch_satterthwaite(&parts),
    )?;
    let d = difference.value().0;
    let interval = difference.coverage_interval(Probability::P95);
    let expected = predicted.value().0;
    let percent_difference = (expected != 0.0)
        .then(|| {
            // 100 (m/p − 1): u = 100/|p| √(u²(m) + (m/p)² u²(p)).
            let relative = measured.value().0 / expected;
            let [(u_measured, _), (u_predicted, _)] = parts;
            let u_percent = 100.0 / expected.abs() * quadrature([u_measured, relative * u_predicted]);
            Measured::with_degrees_of_freedom(
                Ratio(100.0 * d / expected),
                Ratio(u_percent),
                difference.degrees_of_freedom(),
            )
        })
        .transpose()?;
    let expanded = interval.expanded_uncertainty.0;
    let verdict = if u == 0.0 {
        Verdict::Undecided
    } else if d.abs() > expanded {
        Verdict::Differ
    } else if u > WEAK * expected.abs() {
        Verdict::AgreeWeakly
    } else {
        Verdict::Agree
    };
    Ok(Comparison {
        measured: *measured,
        predicted: *predicted,
        difference,
        interval,
        percent_difference,
        in_standard_uncertainties: (u > 0.0).then(|| d / u),
        verdict,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn moment(value: f64, u: f64) -> Measured<KilogramMeters2> {
        Measured::new(KilogramMeters2(value), KilogramMeters2(u)).unwrap()
    }

    #[track_caller]
    fn check(measured: (f64, f64), predicted: (f64, f64), verdict: Verdict) -> Comparison {
        let found = compare(&moment(measured.0, measured.1), &moment(predicted.0, predicted.1)).unwrap();
        assert_eq!(found.verdict, verdict);
        found
    }

    #[test]
    fn a_difference_is_judged_by_its_combined_uncertainty() {
        // u_c = √(3² + 4²) = 5; D = 9 is 1.8 u_c, inside 1.96 u_c; D = 10 is not.
        let near = check((109.0, 3.0), (100.0, 4.0), Verdict::Agree);
        assert!((near.in_standard_uncertainties.unwrap() - 1.8).abs() < 1e-12);
        let percent = near.percent_difference.unwrap();
        assert!((percent.value().0 - 9.0).abs() < 1e-12);
        // 1 · √(3² + (1.09 · 4)²).
        assert!((percent.standard_uncertainty().0 - 5.292_4).abs() < 1e-4);
        check((110.0, 3.0), (100.0, 4.0), Verdict::Differ);
        check((90.0, 3.0), (100.0, 4.0), Verdict::Differ);
    }

    #[test]
    fn a_wide_interval_agrees_with_anything_and_says_so() {
        check((130.0, 20.0), (100.0, 0.0), Verdict::AgreeWeakly);
    }

    #[test]
    fn without_any_uncertainty_nothing_is_decided() {
        let found = check((1.0, 0.0), (1.0, 0.0), Verdict::Undecided);
        assert_eq!(found.in_standard_uncertainties, None);
        assert_eq!(check((1.0, 0.5), (0.0, 0.0), Verdict::Differ).percent_difference, None);
    }
}
