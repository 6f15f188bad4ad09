//! The inertia line: string torque against angular acceleration.
//!
//! Newton's second law for the table, with the bearing's friction torque τ_f against the motion:
//!
//! ```text
//! τ − τ_f = I α     so     τ = I α + τ_f
//! ```
//!
//! Slope: the moment of inertia I. Intercept: the friction torque.
//!
//! A point's τ and α come from one acceleration, so their errors are fully correlated: an error e of a
//! moves τ by −(m + I_p/r_p²) Rₑ e and α by e/Rₑ. Beside that each run has its own friction and its own
//! hanging mass, which move τ. The line is the one for errors in both variables with correlation
//! ([`crate::fit::fit_york`]); a residual has the variance
//!
//! ```text
//! ((m + I_p/r_p²) Rₑ + I/Rₑ)² u²(a) + ((g − a) Rₑ u_m)² + s_f²
//! ```

use crate::apparatus::{Apparatus, Rig};
use crate::fit::{FitError, LineFit, Points, UncertainPoint, YorkFit, fit_line};
use crate::measured::{Measured, MeasuredError};
use crate::quantity::{KilogramMeters2, NewtonMeters};
use crate::torque::{Motion, TorquePoint};
use whorl_words as words;

/// The fitted line of one configuration.
#[derive(Clone, Debug, PartialEq)]
pub struct InertiaLine {
    /// The points, in the order of the runs, with drag taken out.
    pub points: Vec<TorquePoint>,
    /// I: the slope, with what scatters from run to run.
    pub moment_of_inertia: Measured<KilogramMeters2>,
    /// τ_f: the intercept, with what scatters from run to run.
    pub friction_torque: Measured<NewtonMeters>,
    /// Covariance of slope and intercept, in kg·m²·N·m.
    pub covariance: f64,
    /// Σ (residual/u)² with what the scatter inside each run and the uncertainty of each mass predict,
    /// friction taken as the same in all runs; `None` when a run has no scatter at all.
    pub chi_square: Option<f64>,
    /// The fit itself, for charts and for showing the working.
    pub fit: YorkFit,
    /// The line you would draw: ordinary least squares through the points without any weights.
    pub drawn: LineFit,
}

/// Why points give no line.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LineError {
    /// Fewer than three.
    #[error("{}", words::chain::too_few_runs(&Points::MIN, .found))]
    TooFewRuns {
        /// Usable runs.
        found: usize,
    },
    /// All the same angular acceleration.
    #[error("{}", words::chain::one_acceleration())]
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

/// The line you would draw through points of the torque graph.
///
/// # Errors
/// When there are fewer than three points, all at one angular acceleration, or one is not finite.
pub(super) fn draw(points: &[TorquePoint]) -> Result<LineFit, LineError> {
    let pair = |point: &TorquePoint| (point.angular_acceleration.value().0, point.torque.value().0);
    Ok(fit_line(&Points::new(points.iter().map(pair).collect())?))
}

/// Variance of a point's torque from its hanging mass.
pub(super) fn mass_variance(point: &TorquePoint, apparatus: &Apparatus, rig: &Rig) -> f64 {
    let a = point.acceleration.value().0;
    let net = match point.motion {
        Motion::Falling => rig.gravity.0 - a,
        Motion::Rising => rig.gravity.0 + a,
        Motion::Coasting => 0.0,
    };
    (net * point.effective_radius.0 * apparatus.hanging_mass_uncertainty().0).powi(2)
}

/// Variance of a point's residual from the readings inside its run; `slope` is the line's.
pub(super) fn own_variance(point: &TorquePoint, slope: f64) -> f64 {
    let per_acceleration = point.torque_per_acceleration + slope / point.effective_radius.0;
    (per_acceleration * point.acceleration.standard_uncertainty().0).powi(2)
}

/// Variance of a point about a line of slope I; `friction` is the variance of friction from run to run.
pub(crate) fn residual_variance(
    point: &TorquePoint,
    inertia: KilogramMeters2,
    apparatus: &Apparatus,
    friction: f64,
) -> f64 {
    let mass = mass_variance(point, apparatus, &apparatus.rig());
    uncertain(point, mass, friction).residual_variance(inertia.0)
}

/// A point with its uncertainties; `friction` is the variance of friction from run to run.
pub(super) fn uncertain(point: &TorquePoint, mass: f64, friction: f64) -> UncertainPoint {
    let u_alpha = point.angular_acceleration.standard_uncertainty().0;
    let u_tau = point.torque.standard_uncertainty().0;
    UncertainPoint {
        x: point.angular_acceleration.value().0,
        y: point.torque.value().0,
        variance_x: u_alpha * u_alpha,
        variance_y: u_tau * u_tau + mass + friction,
        covariance: -u_alpha * u_tau,
    }
}
