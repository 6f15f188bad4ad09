//! A measured quantity: value, standard uncertainty, degrees of freedom (GUM = JCGM 100:2008).

mod combined;
pub mod coverage;
pub mod decimal;
mod distributions;
pub mod shown;

pub use combined::Combined;

use crate::quantity::Quantity;
use coverage::CoverageInterval;
use whorl_words as words;

/// Degrees of freedom of a standard uncertainty. Infinite for one that is simply known (Type B).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct DegreesOfFreedom(f64);

impl DegreesOfFreedom {
    /// For a Type B evaluation taken as exactly known (GUM G.4.3).
    pub const INFINITE: Self = Self(f64::INFINITY);

    /// `count` observations beyond the parameters fitted; 0 is read as "none", which gives no
    /// interval at all.
    pub fn from_count(count: usize) -> Self {
        Self(count as f64)
    }

    /// The number; infinite for a Type B evaluation.
    pub fn get(self) -> f64 {
        self.0
    }

    /// Effective degrees of freedom of a sum of independent parts: Welch–Satterthwaite,
    /// ν = u⁴ / Σ (uᵢ⁴/νᵢ), GUM G.4.1 formula (G.2b). Not yet truncated.
    pub fn welch_satterthwaite(parts: &[(f64, Self)]) -> Self {
        let variance: f64 = parts.iter().map(|(u, _)| u * u).sum();
        // Shares of the variance rather than u⁴ itself: u⁴ underflows for u below 1e-77.
        let inverse: f64 = parts.iter().map(|(u, dof)| (u * u / variance).powi(2) / dof.0).sum();
        if inverse > 0.0 { Self(1.0 / inverse) } else { Self::INFINITE }
    }
}

/// A value with its standard uncertainty.
///
/// Invariant: value and uncertainty are finite, the uncertainty is not negative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured<Q> {
    value: Q,
    standard_uncertainty: Q,
    degrees_of_freedom: DegreesOfFreedom,
}

/// A value or an uncertainty that cannot be one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MeasuredError {
    /// NaN or infinite.
    #[error("{}", words::chain::not_finite())]
    NotFinite,
    /// Below zero.
    #[error("{}", words::chain::negative_uncertainty())]
    NegativeUncertainty,
}

impl<Q: Quantity> Measured<Q> {
    /// A value with a standard uncertainty that is taken as exactly known (Type B).
    ///
    /// # Errors
    /// When either is not finite or the uncertainty is negative.
    pub fn new(value: Q, standard_uncertainty: Q) -> Result<Self, MeasuredError> {
        Self::with_degrees_of_freedom(value, standard_uncertainty, DegreesOfFreedom::INFINITE)
    }

    /// A value whose standard uncertainty was itself estimated from data (Type A).
    ///
    /// # Errors
    /// When either is not finite or the uncertainty is negative.
    pub fn with_degrees_of_freedom(
        value: Q,
        standard_uncertainty: Q,
        degrees_of_freedom: DegreesOfFreedom,
    ) -> Result<Self, MeasuredError> {
        let u = standard_uncertainty.si();
        if !value.si().is_finite() || !u.is_finite() {
            return Err(MeasuredError::NotFinite);
        }
        if u < 0.0 {
            return Err(MeasuredError::NegativeUncertainty);
        }
        Ok(Self { value, standard_uncertainty, degrees_of_freedom })
    }

    /// The best estimate.
    pub fn value(&self) -> Q {
        self.value
    }

    /// The standard uncertainty u, in the unit of the value.
    pub fn standard_uncertainty(&self) -> Q {
        self.standard_uncertainty
    }

    /// Degrees of freedom of the standard uncertainty.
    pub fn degrees_of_freedom(&self) -> DegreesOfFreedom {
        self.degrees_of_freedom
    }

    /// u/|value|; `None` where the value is zero.
    pub fn relative_uncertainty(&self) -> Option<f64> {
        let value = self.value.si().abs();
        (value > 0.0).then(|| self.standard_uncertainty.si() / value)
    }

    /// The interval that holds the quantity with probability `probability` (GUM 6.2, G.6.4).
    pub fn coverage_interval(&self, probability: coverage::Probability) -> CoverageInterval<Q> {
        CoverageInterval::around(self, probability)
    }
}

/// Root of the sum of squares: how independent standard uncertainties add (GUM 5.1.2).
pub fn quadrature(parts: impl IntoIterator<Item = f64>) -> f64 {
    // Scaled by the largest part, so that neither 1e-200 nor 1e200 is lost when squared.
    let parts: Vec<f64> = parts.into_iter().collect();
    let largest = parts.iter().fold(0.0_f64, |largest, part| largest.max(part.abs()));
    if largest == 0.0 || !largest.is_finite() {
        return largest;
    }
    largest * parts.iter().map(|part| (part / largest).powi(2)).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Meters;

    #[test]
    fn a_measured_value_is_finite_and_its_uncertainty_not_negative() {
        assert_eq!(Measured::new(Meters(f64::NAN), Meters(0.1)), Err(MeasuredError::NotFinite));
        assert_eq!(Measured::new(Meters(1.0), Meters(f64::INFINITY)), Err(MeasuredError::NotFinite));
        assert_eq!(Measured::new(Meters(1.0), Meters(-0.1)), Err(MeasuredError::NegativeUncertainty));
        assert!(Measured::new(Meters(-1.0), Meters(0.0)).is_ok());
    }

    #[test]
    fn welch_satterthwaite_reproduces_the_gum_end_gauge() {
        // JCGM 100:2008 H.1.6: u(l_s) 25 nm (18), u(d̄) 5.8 nm (24), u(d1) 3.9 nm (5),
        // u(d2) 6.7 nm (8), u(θ̄ δα) 2.9 nm (50), u(δθ) 16.6 nm (2) give 16.7, truncated to 16.
        let parts = [(25.0, 18), (5.8, 24), (3.9, 5), (6.7, 8), (2.9, 50), (16.6, 2)]
            .map(|(u, dof)| (u, DegreesOfFreedom::from_count(dof)));
        let effective = DegreesOfFreedom::welch_satterthwaite(&parts).get();
        assert!((effective - 16.7).abs() < 0.1, "{effective}");
    }

    #[test]
    fn exactly_known_parts_leave_the_degrees_of_freedom_infinite() {
        let parts = [(1.0, DegreesOfFreedom::INFINITE), (0.0, DegreesOfFreedom::from_count(3))];
        assert_eq!(DegreesOfFreedom::welch_satterthwaite(&parts), DegreesOfFreedom::INFINITE);
    }

    #[test]
    fn quadrature_survives_extremes() {
        assert!((quadrature([3.0, 4.0]) - 5.0).abs() < 1e-15);
        assert!((quadrature([3e-200, 4e-200]) / 5e-200 - 1.0).abs() < 1e-15);
        assert!(quadrature([]).abs() < f64::MIN_POSITIVE);
    }
}
