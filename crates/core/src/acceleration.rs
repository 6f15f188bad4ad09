//! Run → linear acceleration a of the string, with its standard uncertainty.
//!
//! [`estimate`] is the seam: everything after it sees only an [`AccelerationFit`]. Today
//!
//! ```text
//! velocities            v = v_c + a (t − t_c)                    straight line in t
//! positions, gate times x = x_c + v_c (t − t_c) + ½ a (t − t_c)²  parabola in t, gate k at x = k·s
//! ```
//!
//! both by ordinary least squares with equal weights; t_c is the middle of the stretch and s the
//! string's travel from spoke to spoke. Constant acceleration is assumed (JCGM 100:2008 H.3 for
//! the uncertainties). The uncertainty of s is not in u(a): it is shared by all runs and enters
//! later, once.

use crate::fit::{FitError, LineFit, Points, PolynomialFit, fit_line, fit_polynomial};
use crate::measured::{DegreesOfFreedom, Measured, MeasuredError};
use crate::quantity::{Meters, MetersPerSecond, MetersPerSecond2, Seconds};
use crate::readings::{ReadingKind, Readings};
use crate::runs::Run;

/// The curve that was fitted, for charts and for showing the working.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// Velocity against time.
    VelocityLine(LineFit),
    /// Position against time.
    PositionParabola(PolynomialFit),
}

/// The acceleration of one run.
#[derive(Clone, Debug, PartialEq)]
pub struct AccelerationFit {
    /// The result; its uncertainty comes from the scatter about the curve.
    pub acceleration: Measured<MetersPerSecond2>,
    /// What was fitted.
    pub curve: Curve,
    /// Time and observed − fitted of each reading used, in m/s or m.
    pub residuals: Vec<(Seconds, f64)>,
}

/// Why a run has no acceleration.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AccelerationError {
    /// Gate times without the spoke pitch.
    #[error("gate times need the travel per spoke; enter it at the apparatus")]
    TravelMissing,
    /// The readings do not fix the curve.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}

impl AccelerationFit {
    /// Velocity of the fitted curve at a moment.
    pub fn velocity_at(&self, time: Seconds) -> MetersPerSecond {
        MetersPerSecond(match &self.curve {
            Curve::VelocityLine(line) => line.mean_y + line.slope * (time.0 - line.mean_x),
            Curve::PositionParabola(parabola) => {
                let coefficient = |power: usize| parabola.fit.coefficients.get(power).copied().unwrap_or(0.0);
                coefficient(1) + 2.0 * coefficient(2) * (time.0 - parabola.center)
            }
        })
    }

    /// Standard deviation of the residuals, in m/s or m.
    pub fn residual_standard_deviation(&self) -> f64 {
        match &self.curve {
            Curve::VelocityLine(line) => line.residual_standard_deviation,
            Curve::PositionParabola(parabola) => parabola.fit.residual_standard_deviation,
        }
    }
}

/// Estimates the acceleration of a run; `travel_per_spoke` is needed for gate times only.
///
/// # Errors
/// When the travel per spoke is missing or the readings do not fix the curve.
///
/// ```
/// use whorl_core::acceleration::estimate;
/// use whorl_core::quantity::{MetersPerSecond, Seconds};
/// use whorl_core::readings::{Readings, Series};
/// use whorl_core::runs::Run;
///
/// let rows = [(0.0, 0.10), (0.5, 0.31), (1.0, 0.50), (1.5, 0.69)];
/// let series = Series::new(rows.map(|(t, v)| (Seconds(t), MetersPerSecond(v))).to_vec())?;
/// let readings = Readings::Velocity(series);
/// let fit = estimate(&Run::new(&readings, None)?, None)?;
/// assert!((fit.acceleration.value().0 - 0.392).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn estimate(
    run: &Run<'_>,
    travel_per_spoke: Option<Meters>,
) -> Result<AccelerationFit, AccelerationError> {
    let pairs = run.fitted_pairs();
    let times = pairs.iter().map(|pair| Seconds(pair.0));
    match run.kind() {
        ReadingKind::Velocity => {
            let line = fit_line(&Points::new(pairs.clone())?);
            let acceleration = Measured::with_degrees_of_freedom(
                MetersPerSecond2(line.slope),
                MetersPerSecond2(line.slope_uncertainty),
                DegreesOfFreedom::from_count(line.degrees_of_freedom),
            )?;
            let residuals = times.zip(line.residuals.iter().copied()).collect();
            Ok(AccelerationFit { acceleration, curve: Curve::VelocityLine(line), residuals })
        }
        kind @ (ReadingKind::Position | ReadingKind::GateTimes) => {
            let scale = match kind {
                ReadingKind::GateTimes => travel_per_spoke.ok_or(AccelerationError::TravelMissing)?.0,
                _ => 1.0,
            };
            let points = Points::new(pairs.iter().map(|&(t, x)| (t, x * scale)).collect())?;
            let parabola = fit_polynomial(&points, 2)?;
            let curvature = parabola.fit.coefficients.get(2).copied().unwrap_or(f64::NAN);
            let acceleration = Measured::with_degrees_of_freedom(
                MetersPerSecond2(2.0 * curvature),
                MetersPerSecond2(2.0 * parabola.fit.standard_uncertainty(2).unwrap_or(f64::NAN)),
                DegreesOfFreedom::from_count(parabola.fit.degrees_of_freedom),
            )?;
            let residuals = times.zip(parabola.fit.residuals.iter().copied()).collect();
            Ok(AccelerationFit { acceleration, curve: Curve::PositionParabola(parabola), residuals })
        }
    }
}

/// Velocities to draw: as measured, or from each pair of neighbouring positions, at mid-time.
///
/// Empty for gate times without a travel per spoke.
pub fn velocities(readings: &Readings, travel_per_spoke: Option<Meters>) -> Vec<(Seconds, MetersPerSecond)> {
    let pairs = readings.pairs();
    let scale = match (readings.kind(), travel_per_spoke) {
        (ReadingKind::Velocity, _) => {
            return pairs.into_iter().map(|(t, v)| (Seconds(t), MetersPerSecond(v))).collect();
        }
        (ReadingKind::Position, _) => 1.0,
        (ReadingKind::GateTimes, Some(travel)) => travel.0,
        (ReadingKind::GateTimes, None) => return Vec::new(),
    };
    let between = |pair: &[(f64, f64)]| match *pair {
        [(t0, x0), (t1, x1)] => {
            let velocity = scale * (x1 - x0) / (t1 - t0);
            velocity.is_finite().then_some((Seconds(f64::midpoint(t0, t1)), MetersPerSecond(velocity)))
        }
        _ => None,
    };
    pairs.windows(2).filter_map(between).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::readings::Series;
    use proptest::prelude::*;

    fn gate_run(a: f64, v0: f64, travel: f64, count: u32) -> Readings {
        // Spoke k at x = k·travel: v0 t + ½ a t² = x, in the form that survives a → 0.
        let time = |k: u32| {
            let x = f64::from(k) * travel;
            Seconds(2.0 * x / ((v0 * v0 + 2.0 * a * x).sqrt() + v0))
        };
        Readings::from_gate_times(&(0..count).map(time).collect::<Vec<_>>()).unwrap()
    }

    #[test]
    fn gate_times_without_travel_say_what_is_missing() {
        let readings = gate_run(0.4, 0.1, 0.015, 20);
        let run = Run::new(&readings, None).unwrap();
        assert_eq!(estimate(&run, None), Err(AccelerationError::TravelMissing));
        assert!(velocities(&readings, None).is_empty());
    }

    #[test]
    fn velocities_between_gates_stand_at_mid_time() {
        let readings = Readings::from_gate_times(&[0.0, 0.5, 0.75].map(Seconds)).unwrap();
        let found = velocities(&readings, Some(Meters(0.015)));
        assert_eq!(found, [(Seconds(0.25), MetersPerSecond(0.03)), (Seconds(0.625), MetersPerSecond(0.06))]);
    }

    proptest! {
        #[test]
        fn noise_free_gate_times_give_back_their_acceleration(
            a in 0.01..5.0_f64, v0 in 0.05..1.0_f64, n in 8..80_u32
        ) {
            let readings = gate_run(a, v0, 0.015, n);
            let fit = estimate(&Run::new(&readings, None).unwrap(), Some(Meters(0.015))).unwrap();
            prop_assert!((fit.acceleration.value().0 / a - 1.0).abs() < 1e-7);
        }

        #[test]
        fn the_clock_s_start_changes_no_acceleration(a in -5.0..5.0_f64, start in 0.0..1e6_f64, n in 3..100_u32) {
            let rows = |offset: f64| (0..n).map(|k| f64::from(k) * 0.05)
                .map(|t| (Seconds(offset + t), MetersPerSecond(0.1 + a * t))).collect();
            let fit = |offset| {
                let readings = Readings::Velocity(Series::new(rows(offset)).unwrap());
                estimate(&Run::new(&readings, None).unwrap(), None).unwrap().acceleration.value().0
            };
            // Times near 1e6 s carry 1e-10 s of rounding each.
            prop_assert!((fit(start) - fit(0.0)).abs() < 1e-7);
        }
    }
}
