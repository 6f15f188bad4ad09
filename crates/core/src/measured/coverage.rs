//! Coverage factors and intervals: Student's t (GUM G.3, G.6.4) and the chi-square tail.

use super::Measured;
use crate::quantity::Quantity;
use statrs::distribution::{ChiSquared, ContinuousCDF, Normal, StudentsT};

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

/// Quantile of Student's t distribution: the t with P(T ≤ t) = `p`.
///
/// `p` in 0.01 … 0.999 999 5, degrees of freedom from 1 (not truncated) to infinity.
/// Checked against NIST/SEMATECH e-Handbook 1.3.6.7.2 in the outside checks.
pub fn student_t_quantile(p: f64, degrees_of_freedom: f64) -> f64 {
    // From some 1e4 degrees of freedom on, the library's inverse of t loses digits; from 1e7 on it is
    // wrong in the second one or does not come back.
    if degrees_of_freedom >= 1000.0 {
        let normal = Normal::new(0.0, 1.0).map_or(f64::NAN, |normal| normal.inverse_cdf(p));
        return normal + beyond_normal(normal, degrees_of_freedom);
    }
    StudentsT::new(0.0, 1.0, degrees_of_freedom).map_or(f64::NAN, |t| t.inverse_cdf(p))
}

/// What a t quantile has beyond the normal one: expansion in 1/ν, Abramowitz & Stegun, *Handbook of
/// Mathematical Functions* (1964), 26.7.5. From 1000 degrees of freedom on good to 1e-12.
fn beyond_normal(normal: f64, degrees_of_freedom: f64) -> f64 {
    let square = normal * normal;
    // Coefficients of x, x³, x⁵ …, each row with its divisor.
    let in_powers = |coefficients: &[f64], divisor: f64| {
        normal * coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * square + coefficient) / divisor
    };
    let terms = [
        in_powers(&[1.0, 1.0], 4.0),
        in_powers(&[3.0, 16.0, 5.0], 96.0),
        in_powers(&[-15.0, 17.0, 19.0, 3.0], 384.0),
        in_powers(&[-945.0, -1920.0, 1482.0, 776.0, 79.0], 92_160.0),
    ];
    terms.iter().rev().fold(0.0, |sum, term| (sum + term) / degrees_of_freedom)
}

/// Probability that chi-square with these degrees of freedom is at least `chi_square`.
pub fn chi_square_tail(chi_square: f64, degrees_of_freedom: f64) -> Option<f64> {
    ChiSquared::new(degrees_of_freedom).ok().map(|distribution| distribution.sf(chi_square))
}

/// Quantile of the chi-square distribution; `None` for degrees of freedom that are not positive.
///
/// `p` in 0.01 … 0.999 999 5: further down the library's absolute tolerance is too coarse.
pub fn chi_square_quantile(p: f64, degrees_of_freedom: f64) -> Option<f64> {
    ChiSquared::new(degrees_of_freedom).ok().map(|distribution| distribution.inverse_cdf(p))
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
