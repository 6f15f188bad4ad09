//! How well a line is known where it is not a result: the band beside it in a chart.

use super::InertiaLine;
use crate::measured::{Measured, MeasuredError};
use crate::quantity::{NewtonMeters, RadiansPerSecond2};

impl InertiaLine {
    /// The torque on the line at an angular acceleration, with what scatters from run to run:
    ///
    /// ```text
    /// u²(τ) = u²(τ_f) + 2 α cov(I, τ_f) + α² u²(I)
    /// ```
    ///
    /// Source: the law of propagation for correlated inputs, JCGM 100:2008, 5.2.2, equation (13). With equal
    /// weights it is the textbook's s² (1/n + (α − ᾱ)²/Σ(α − ᾱ)²), the band about a regression line at one α.
    ///
    /// # Errors
    /// When the numbers are too extreme for a result.
    pub fn torque_at(&self, alpha: RadiansPerSecond2) -> Result<Measured<NewtonMeters>, MeasuredError> {
        let (inertia, friction) = (&self.moment_of_inertia, &self.friction_torque);
        let value = friction.value().0 + inertia.value().0 * alpha.0;
        let variance = friction.standard_uncertainty().0.powi(2)
            + 2.0 * alpha.0 * self.covariance
            + (alpha.0 * inertia.standard_uncertainty().0).powi(2);
        // Rounding may leave the sum a hair below zero where the band is narrowest.
        let u = NewtonMeters(variance.max(0.0).sqrt());
        Measured::with_degrees_of_freedom(NewtonMeters(value), u, inertia.degrees_of_freedom())
    }
}
