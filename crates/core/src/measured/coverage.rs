//! Coverage factors and intervals: Student's t (GUM G.3, G.6.4), and the tails of t, χ² and F.

use super::Measured;
pub use super::distributions::{
    chi_square_quantile, chi_square_tail, f_tail, student_t_quantile, student_t_tail,
};
use crate::quantity::Quantity;

/// A coverage probability, strictly between 0 and 1.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Probability(f64);

impl Probability {
    /// The 95 % that the page states everywhere.
    pub const P95: Self = Self(0.95);

    /// `None` unless 0 < `value` < 1.
    pub fn new(value: f64) -> Option<Self> {
        (value > 0.0 && value < 1.0).then_some(Self(value))
    }

    /// The probability as a number.
    pub fn get(self) -> f64 {
        self.0
    }
}

/// value ± U with U = k·u.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoverageInterval<Q> {
    /// Lower end.
    pub low: Q,
    /// Upper end.
    pub high: Q,
    /// Expanded uncertainty U = k·u.
    pub expanded_uncertainty: Q,
    /// Coverage factor k.
    pub coverage_factor: f64,
    /// Coverage probability.
    pub probability: Probability,
}

impl<Q: Quantity> CoverageInterval<Q> {
    pub(super) fn around(measured: &Measured<Q>, probability: Probability) -> Self {
        let k = coverage_factor(probability, measured.degrees_of_freedom().get());
        let value = measured.value().si();
        let expanded = k * measured.standard_uncertainty().si();
        Self {
            low: Q::from_si(value - expanded),
            high: Q::from_si(value + expanded),
            expanded_uncertainty: Q::from_si(expanded),
            coverage_factor: k,
            probability,
        }
    }
}

/// Coverage factor k for a two-sided interval: the Student-t quantile at (1 + p)/2.
///
/// Degrees of freedom that are not whole are truncated downwards, as GUM G.4.1 (note 1) says,
/// but never below 1; infinite ones give the normal quantile.
pub fn coverage_factor(probability: Probability, degrees_of_freedom: f64) -> f64 {
    student_t_quantile(f64::midpoint(1.0, probability.0), degrees_of_freedom.floor().max(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractional_degrees_of_freedom_are_truncated_downwards() {
        let whole = coverage_factor(Probability::P95, 6.0);
        assert!((coverage_factor(Probability::P95, 6.9) - whole).abs() < 1e-12);
        assert!(coverage_factor(Probability::P95, 0.4).is_finite());
    }

    #[test]
    fn infinite_degrees_of_freedom_give_the_normal_factor() {
        // 1.959963984540054: NIST/SEMATECH e-Handbook 1.3.6.7.1 prints 1.960.
        let k = coverage_factor(Probability::P95, f64::INFINITY);
        assert!((k - 1.959_963_984_540_054).abs() < 1e-12, "{k}");
    }
}
