//! Positions, velocities or accelerations taken at any times: a parabola, a line or a level, neighbors
//! correlated.
//!
//! ```text
//! accelerations  a = c₀                      a = c₀
//! velocities     v = c₀ + c₁ w               a = c₁
//! positions      x = c₀ + c₁ w + c₂ w²       a = 2 c₂        w = t − middle of the stretch
//! ```
//!
//! with the correlation of neighbors that the readings themselves show ([`crate::fit::fit_correlated`]).
//! One power more shows drag: c₁ = −κ a for accelerations, c₂ = −κ a/2 for velocities, c₃ = −κ a/6 for
//! positions.
//!
//! Accelerations do not tell how fast the string was. They are taken for a fall from rest that begins with
//! the first reading, or for a rise to rest that ends with the last. A sensor's constant offset is in a.

use super::slowing::Slowing;
use crate::fit::{FitError, fit_correlated};
use crate::readings::ReadingKind;

/// What was sampled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sampled {
    /// Velocity of the string, or of the table.
    Velocity,
    /// Position of the string, or angle of the table.
    Position,
    /// Acceleration of the string.
    Acceleration,
}

impl Sampled {
    /// What a kind of readings samples.
    pub(super) fn of(kind: ReadingKind) -> Self {
        match kind.degree() {
            0 => Self::Acceleration,
            1 => Self::Velocity,
            _ => Self::Position,
        }
    }

    /// The power of time with which it grows at a constant acceleration.
    fn degree(self) -> i32 {
        match self {
            Self::Acceleration => 0,
            Self::Velocity => 1,
            Self::Position => 2,
        }
    }
}

/// A fitted level, line or parabola, in m/s², m/s or m.
#[derive(Clone, Debug, PartialEq)]
pub struct SampledFit {
    /// What was sampled.
    pub quantity: Sampled,
    /// Middle of the stretch in s.
    pub center: f64,
    /// Half the length of the stretch in s.
    pub half_width: f64,
    /// Coefficients of w⁰ (w¹, w²).
    pub coefficients: Vec<f64>,
    /// a in m/s².
    pub acceleration: f64,
    /// u(a) in m/s².
    pub acceleration_uncertainty: f64,
    /// Readings − coefficients.
    pub degrees_of_freedom: usize,
    /// Standard deviation of one reading.
    pub standard_deviation: f64,
    /// Correlation of neighboring readings' errors.
    pub neighbor_correlation: f64,
    /// Observed − fitted.
    pub residuals: Vec<f64>,
    /// What the curvature says of drag.
    pub slowing: Option<Slowing>,
}

impl SampledFit {
    /// Velocity of the fitted curve at a moment; of accelerations the one gained or left since rest.
    pub fn velocity_at(&self, time: f64) -> f64 {
        let coefficient = |power: usize| self.coefficients.get(power).copied().unwrap_or(0.0);
        let w = time - self.center;
        match self.quantity {
            Sampled::Velocity => coefficient(0) + coefficient(1) * w,
            Sampled::Position => coefficient(1) + 2.0 * coefficient(2) * w,
            Sampled::Acceleration => self.acceleration * w + from_rest(self.acceleration, self.half_width),
        }
    }
}

/// Speed at the middle of a fall from rest, or of a rise to rest.
fn from_rest(acceleration: f64, half_width: f64) -> f64 {
    acceleration.abs() * half_width
}

/// Fits (time, value) pairs, values in m, m/s or m/s².
///
/// # Errors
/// When the readings are too few or do not fix the curve.
pub(super) fn fit_sampled(pairs: &[(f64, f64)], quantity: Sampled) -> Result<SampledFit, FitError> {
    let degree = quantity.degree();
    let first = pairs.first().map_or(0.0, |pair| pair.0);
    let last = pairs.last().map_or(0.0, |pair| pair.0);
    let (center, half_width) = (f64::midpoint(first, last), 0.5 * (last - first));
    // Powers of a w from −1 to 1 are far from parallel.
    let power = |power: i32| -> Vec<f64> {
        pairs.iter().map(|pair| ((pair.0 - center) / half_width).powi(power)).collect()
    };
    let columns: Vec<Vec<f64>> = (0..=degree).map(power).collect();
    let values: Vec<f64> = pairs.iter().map(|pair| pair.1).collect();
    let fit = fit_correlated(&columns, &values)?;
    let factorial = f64::from(degree.max(1));
    let scale = factorial / half_width.powi(degree);
    let top = usize::try_from(degree).unwrap_or(0);
    let a = fit.coefficients.get(top).copied().unwrap_or(f64::NAN) * scale;
    let variance = fit.covariance.get(top).and_then(|row| row.get(top)).copied().unwrap_or(f64::NAN);
    // ∂v/∂κ = −(v₀ w + ½ a w²): what the lower powers hold of it moves only their coefficients.
    let per_rate = -a * half_width.powi(degree + 1) / (factorial * f64::from(degree + 1));
    let mut slowed: Vec<f64> = power(degree + 1).iter().map(|value| value * per_rate).collect();
    let v_middle = match quantity {
        Sampled::Velocity => fit.coefficients.first().copied().unwrap_or(0.0),
        Sampled::Position => fit.coefficients.get(1).copied().unwrap_or(0.0) / half_width,
        Sampled::Acceleration => from_rest(a, half_width),
    };
    crate::fit::whiten(&mut slowed, fit.neighbor_correlation);
    let slowing =
        Slowing::from_residuals(&fit.whitened, &slowed, &fit.whitened_residuals, top, scale).map(|slowing| {
            // The velocity at the middle is held back too: a there is a₀ − κ v.
            Slowing { effect: slowing.effect - v_middle, ..slowing }
        });
    let coefficients = fit.coefficients.iter().zip(0..);
    Ok(SampledFit {
        quantity,
        center,
        half_width,
        coefficients: coefficients.map(|(c, power)| c / half_width.powi(power)).collect(),
        acceleration: a,
        acceleration_uncertainty: variance.sqrt() * scale.abs(),
        degrees_of_freedom: fit.degrees_of_freedom,
        standard_deviation: fit.standard_deviation,
        neighbor_correlation: fit.neighbor_correlation,
        residuals: fit.residuals,
        slowing,
    })
}
