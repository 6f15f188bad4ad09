//! The inertia line: string torque against angular acceleration.
//!
//! Newton's second law for the table, with the bearing's friction torque τ_f against the motion:
//!
//! ```text
//! τ − τ_f = I α     so     τ = I α + τ_f
//! ```
//!
//! Slope: the moment of inertia I. Intercept: the friction torque. [`estimate`] is the seam: the
//! page and the report see only an [`InertiaLine`]. Today it is ordinary least squares of τ on α
//! (JCGM 100:2008 H.3), with n − 2 degrees of freedom for Student's t. It assumes that what
//! scatters is the torque side, as run-to-run friction does; the scatter itself sets the
//! uncertainties.

use crate::fit::{FitError, LineFit, Points, fit_line};
use crate::measured::{DegreesOfFreedom, Measured, MeasuredError};
use crate::quantity::{KilogramMeters2, NewtonMeters};
use crate::torque::TorquePoint;

/// The fitted line of one configuration.
#[derive(Clone, Debug, PartialEq)]
pub struct InertiaLine {
    /// The points, in the order of the runs.
    pub points: Vec<TorquePoint>,
    /// I: the slope.
    pub moment_of_inertia: Measured<KilogramMeters2>,
    /// τ_f: the intercept.
    pub friction_torque: Measured<NewtonMeters>,
    /// Covariance of slope and intercept, in kg·m²·N·m.
    pub covariance: f64,
    /// Σ (residual/u)², where u = (m Rₑ + I/Rₑ) u(a) is what the scatter inside each run predicts
    /// (τ and α share their a, so both errors act along the residual with one sign); `None` when
    /// a run has no scatter at all.
    pub chi_square: Option<f64>,
    /// The fit itself, for charts and for showing the working.
    pub fit: LineFit,
}

/// Why points give no line.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LineError {
    /// Fewer than three.
    #[error("the line needs at least {needed} usable runs; there {verb} {found}. Add runs with other hanging masses", needed = Points::MIN, verb = if *.found == 1 { "is" } else { "are" })]
    TooFewRuns {
        /// Usable runs.
        found: usize,
    },
    /// All the same angular acceleration.
    #[error("all runs have the same angular acceleration, so no line is fixed; use different hanging masses")]
    OneAcceleration,
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}

impl From<FitError> for LineError {
    fn from(error: FitError) -> Self {
        match error {
            FitError::TooFewPoints { found, .. } => Self::TooFewRuns { found },
            FitError::Degenerate => Self::OneAcceleration,
            FitError::NotFinite { .. } => Self::Measured(MeasuredError::NotFinite),
        }
    }
}

/// Fits the inertia line.
///
/// # Errors
/// When there are fewer than three points, all at one angular acceleration, or a result is not
/// finite.
pub fn estimate(points: &[TorquePoint]) -> Result<InertiaLine, LineError> {
    let pair = |point: &TorquePoint| (point.angular_acceleration.value().0, point.torque.value().0);
    let fit = fit_line(&Points::new(points.iter().map(pair).collect())?);
    let degrees_of_freedom = DegreesOfFreedom::from_count(fit.degrees_of_freedom);
    let moment_of_inertia = Measured::with_degrees_of_freedom(
        KilogramMeters2(fit.slope),
        KilogramMeters2(fit.slope_uncertainty),
        degrees_of_freedom,
    )?;
    let friction_torque = Measured::with_degrees_of_freedom(
        NewtonMeters(fit.intercept),
        NewtonMeters(fit.intercept_uncertainty),
        degrees_of_freedom,
    )?;
    let chi_square = points
        .iter()
        .zip(&fit.residuals)
        .map(|(point, residual)| {
            let radius = point.effective_radius.0;
            let per_acceleration = point.hanging_mass.0 * radius + fit.slope / radius;
            let u = per_acceleration.abs() * point.acceleration.standard_uncertainty().0;
            (u > 0.0).then(|| (residual / u).powi(2))
        })
        .sum::<Option<f64>>()
        .filter(|sum| sum.is_finite());
    Ok(InertiaLine {
        points: points.to_vec(),
        moment_of_inertia,
        friction_torque,
        covariance: fit.covariance,
        chi_square,
        fit,
    })
}
