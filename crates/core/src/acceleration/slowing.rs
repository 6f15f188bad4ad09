//! What the curvature of a run says of drag.
//!
//! Viscous friction b ω slows the fall as it gets faster: v̇ = a₀ − κ v with κ = b/(I + m Rₑ²), where
//! a pulley adds to m. To first order in κ a gate's edge comes later by
//!
//! ```text
//! ∂t/∂κ = τ² (v₀/v + ½)/3,   τ time since the first edge
//! ```
//!
//! and a velocity is lower by x. The fit without κ averages over the run: it finds a = a₀ + κ B, where
//! B (in m/s, negative) is the same estimator applied to the column ∂/∂κ. Own derivation: v²(x) =
//! v₀² + 2 a x − 2 κ ∫v dx, and t = ∫dx/v. κ is uncorrelated with that a, since it comes from what
//! the other columns leave over.

use crate::fit::{Columns, dot};

/// Rate at which a run's velocity is held back, with what it does to the acceleration.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slowing {
    /// κ in 1/s.
    pub rate: f64,
    /// u(κ).
    pub rate_uncertainty: f64,
    /// Degrees of freedom of u(κ).
    pub degrees_of_freedom: usize,
    /// B in m/s: how much the fitted acceleration is off per κ.
    pub effect: f64,
    /// Weighted sum of squares with κ fitted.
    pub sum_of_squares: f64,
}

impl Slowing {
    /// Adds one more `column` to a fit whose `residuals` are given (both weighted as its columns are).
    ///
    /// Coefficient `index` of the fit times `scale` is the acceleration. `None` where nothing is left to
    /// tell κ from the rest.
    pub(super) fn from_residuals(
        columns: &Columns,
        column: &[f64],
        residuals: &[f64],
        index: usize,
        scale: f64,
    ) -> Option<Self> {
        let (expected, left) = Self::expected(columns, column, index, scale)?;
        let size = dot(&left, &left);
        let rate = dot(&left, residuals) / size;
        let sum_of_squares = (dot(residuals, residuals) - rate * rate * size).max(0.0);
        let rate_uncertainty = (sum_of_squares / expected.degrees_of_freedom as f64 / size).sqrt();
        (rate.is_finite() && rate_uncertainty.is_finite()).then_some(Self {
            rate,
            rate_uncertainty,
            sum_of_squares,
            ..expected
        })
    }

    /// What a run without drag would show on average where each weighted residual has variance 1; and what
    /// the fit leaves over of `column`.
    pub(super) fn expected(
        columns: &Columns,
        column: &[f64],
        index: usize,
        scale: f64,
    ) -> Option<(Self, Vec<f64>)> {
        let degrees_of_freedom =
            columns.degrees_of_freedom().checked_sub(1).filter(|&freedom| freedom > 0)?;
        let mut left = column.to_vec();
        let effect = columns.solve(&mut left).get(index).copied()? * scale;
        let size = dot(&left, &left);
        // Rounding noise of the column itself says nothing.
        if size <= 1e-20 * dot(column, column) {
            return None;
        }
        let rate_uncertainty = size.sqrt().recip();
        let sum_of_squares = degrees_of_freedom as f64;
        let slowing = Self { rate: 0.0, rate_uncertainty, degrees_of_freedom, effect, sum_of_squares };
        (effect.is_finite() && rate_uncertainty.is_finite()).then_some((slowing, left))
    }

    /// κ in standard uncertainties: Student's t with the degrees of freedom given.
    pub fn t(&self) -> f64 {
        self.rate / self.rate_uncertainty
    }
}
