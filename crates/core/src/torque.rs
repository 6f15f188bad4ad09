//! Torque of the string on the drum.
//!
//! A hanging mass m falls with acceleration a on a string wound round a drum; the string's middle
//! runs at the effective radius Rₑ = R + d/2. Newton's second law for the mass gives the tension,
//! which acts at Rₑ; the string does not slip:
//!
//! ```text
//! T = m (g − a)        N
//! τ = T Rₑ             N·m
//! α = a / Rₑ           rad/s²
//! ```
//!
//! Holds while the string stays taut, is far lighter than m, and the pulley's own inertia is
//! neglected. Friction is *not* subtracted: it is the intercept of the inertia line.
//! Source: Newton's second law, as in OpenStax *University Physics* vol. 1, 10.7 (a mass on a string
//! round a pulley). Check by hand: m = 50 g, a = 0.2 m/s², Rₑ = 20 mm, g = 9.81 m/s² give
//! τ = 9.61 mN·m and α = 10 rad/s² (first test below).

use crate::apparatus::{Apparatus, Rig, SharedInput};
use crate::measured::{Combined, Measured, MeasuredError};
use crate::quantity::{Kilograms, Meters, MetersPerSecond2, NewtonMeters, Newtons, RadiansPerSecond2};
use crate::readings::ReadingKind;

/// A run reduced to what the torque needs.
#[derive(Clone, Debug, PartialEq)]
pub struct FittedRun {
    /// Mass on the string.
    pub hanging_mass: Kilograms,
    /// Its acceleration.
    pub acceleration: Measured<MetersPerSecond2>,
    /// What the acceleration was fitted from: only gate times scale with the travel per spoke.
    pub kind: ReadingKind,
}

/// One point of the torque graph. Uncertainties hold what differs from run to run, that of a;
/// what all runs share (R, d, g …) is kept apart and added at the end.
#[derive(Clone, Debug, PartialEq)]
pub struct TorquePoint {
    /// m.
    pub hanging_mass: Kilograms,
    /// a.
    pub acceleration: Measured<MetersPerSecond2>,
    /// T.
    pub tension: Newtons,
    /// τ, with u(τ) = m Rₑ u(a).
    pub torque: Measured<NewtonMeters>,
    /// α, with u(α) = u(a)/Rₑ.
    pub angular_acceleration: Measured<RadiansPerSecond2>,
    /// Rₑ.
    pub effective_radius: Meters,
}

/// A torque point with the uncertainty of what all runs share beside its own.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedPoint {
    /// The point, with what differs from run to run.
    pub point: TorquePoint,
    /// a with both parts: the travel per spoke is shared by all gate times.
    pub acceleration: Combined<MetersPerSecond2>,
    /// τ with both parts.
    pub torque: Combined<NewtonMeters>,
    /// α with both parts.
    pub angular_acceleration: Combined<RadiansPerSecond2>,
}

/// Why a run gives no torque point.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TorqueError {
    /// The mass is zero or negative.
    #[error("the hanging mass must be above zero")]
    MassNotPositive,
    /// A string cannot push.
    #[error(
        "the fitted acceleration, {acceleration:.3} m/s², is not below g = {gravity:.3} m/s², so the string would be slack; check the stretch and the units"
    )]
    StringSlack {
        /// a in m/s².
        acceleration: f64,
        /// g in m/s².
        gravity: f64,
    },
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}

/// Turns a run's acceleration into its torque point on this rig.
///
/// # Errors
/// When the mass is not positive, the acceleration is g or more, or a result is not finite.
pub fn torque_point(run: &FittedRun, rig: &Rig) -> Result<TorquePoint, TorqueError> {
    if run.hanging_mass.0.is_nan() || run.hanging_mass.0 <= 0.0 {
        return Err(TorqueError::MassNotPositive);
    }
    let mass = rig.mass(run.hanging_mass);
    let radius = rig.effective_radius();
    let travel = if run.kind == ReadingKind::GateTimes { rig.travel_ratio.0 } else { 1.0 };
    let acceleration = run.acceleration.value() * travel;
    let u = run.acceleration.standard_uncertainty() * travel;
    let degrees_of_freedom = run.acceleration.degrees_of_freedom();
    if acceleration >= rig.gravity {
        return Err(TorqueError::StringSlack { acceleration: acceleration.0, gravity: rig.gravity.0 });
    }
    let tension = mass * (rig.gravity - acceleration);
    Ok(TorquePoint {
        hanging_mass: mass,
        acceleration: Measured::with_degrees_of_freedom(acceleration, u, degrees_of_freedom)?,
        tension,
        torque: Measured::with_degrees_of_freedom(tension * radius, mass * u * radius, degrees_of_freedom)?,
        angular_acceleration: Measured::with_degrees_of_freedom(
            acceleration / radius,
            u / radius,
            degrees_of_freedom,
        )?,
        effective_radius: radius,
    })
}

/// The torque point of a run, with the shared inputs' part of its uncertainty.
///
/// Each input is moved up and down by its standard uncertainty, as for the line
/// (JCGM 100:2008 5.1.3, note 2).
///
/// # Errors
/// As [`torque_point`], also for the moved inputs.
pub fn place(run: &FittedRun, apparatus: &Apparatus) -> Result<PlacedPoint, TorqueError> {
    let point = torque_point(run, &apparatus.rig())?;
    let (mut of_acceleration, mut of_torque, mut of_alpha) = (Vec::new(), Vec::new(), Vec::new());
    for input in SharedInput::ALL {
        let up = torque_point(run, &apparatus.rig_shifted(input, 1.0))?;
        let down = torque_point(run, &apparatus.rig_shifted(input, -1.0))?;
        of_acceleration.push(0.5 * (up.acceleration.value() - down.acceleration.value()).0);
        of_torque.push(0.5 * (up.torque.value() - down.torque.value()).0);
        of_alpha.push(0.5 * (up.angular_acceleration.value() - down.angular_acceleration.value()).0);
    }
    Ok(PlacedPoint {
        acceleration: Combined::new(point.acceleration, of_acceleration)?,
        torque: Combined::new(point.torque, of_torque)?,
        angular_acceleration: Combined::new(point.angular_acceleration, of_alpha)?,
        point,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Ratio;

    fn rig() -> Rig {
        Rig {
            drum_radius: Meters(0.0195),
            string_diameter: Meters(0.001),
            gravity: MetersPerSecond2(9.81),
            travel_ratio: Ratio(1.0),
            mass_ratio: Ratio(1.0),
        }
    }

    fn run(grams: f64, a: f64, u: f64) -> FittedRun {
        FittedRun {
            hanging_mass: Kilograms(grams / 1e3),
            acceleration: Measured::new(MetersPerSecond2(a), MetersPerSecond2(u)).unwrap(),
            kind: ReadingKind::GateTimes,
        }
    }

    #[test]
    fn torque_and_angular_acceleration_worked_by_hand() {
        let point = torque_point(&run(50.0, 0.2, 0.001), &rig()).unwrap();
        assert!((point.torque.value().0 - 9.61e-3).abs() < 1e-15);
        assert!((point.angular_acceleration.value().0 - 10.0).abs() < 1e-12);
        assert!((point.torque.standard_uncertainty().0 - 1e-6).abs() < 1e-18);
        assert!((point.angular_acceleration.standard_uncertainty().0 - 0.05).abs() < 1e-15);
    }

    #[test]
    fn a_longer_travel_per_spoke_scales_accelerations_from_gate_times_only() {
        let longer = Rig { travel_ratio: Ratio(1.01), ..rig() };
        let gate = torque_point(&run(50.0, 0.2, 0.0), &longer).unwrap();
        assert!((gate.acceleration.value().0 - 0.202).abs() < 1e-15);
        let velocity = FittedRun { kind: ReadingKind::Velocity, ..run(50.0, 0.2, 0.0) };
        let unchanged = torque_point(&velocity, &longer).unwrap();
        assert!((unchanged.acceleration.value().0 - 0.2).abs() < 1e-15);
    }

    #[test]
    fn what_all_runs_share_is_kept_beside_the_scatter() {
        let measured = |value, u| Measured::new(Meters(value), Meters(u)).ok();
        let gravity = Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.0)).ok();
        let drum = measured(0.0195, 2e-5);
        let apparatus =
            Apparatus::new(drum, measured(0.001, 0.0), gravity, measured(0.015, 1.5e-5), Ratio(0.0)).unwrap();
        let placed = place(&run(50.0, 0.2, 0.001), &apparatus).unwrap();
        // u(s)/s = 0.1 % of a; R: 0.1 % of τ; on α both, √2 · 0.1 %. The tension's own 0.1 % of m a
        // adds 50 g · 0.2 mm/s² · 20 mm = 0.2 µN·m to τ.
        assert!((placed.acceleration.shared.0 - 2e-4).abs() < 1e-12);
        assert!((placed.torque.shared.0 - 9.61e-6_f64.hypot(2e-7)).abs() < 1e-10);
        assert!((placed.angular_acceleration.shared.0 - 1e-2 * 2.0_f64.sqrt()).abs() < 1e-7);
        assert_eq!(placed.torque.random, placed.point.torque);
    }

    #[test]
    fn a_slack_string_and_an_impossible_mass_are_refused() {
        assert!(matches!(torque_point(&run(50.0, 9.81, 0.0), &rig()), Err(TorqueError::StringSlack { .. })));
        assert_eq!(torque_point(&run(0.0, 0.2, 0.0), &rig()), Err(TorqueError::MassNotPositive));
        assert_eq!(torque_point(&run(f64::NAN, 0.2, 0.0), &rig()), Err(TorqueError::MassNotPositive));
    }
}
