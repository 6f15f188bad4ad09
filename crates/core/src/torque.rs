//! Torque of the string on the drum.
//!
//! A hanging mass m moves with acceleration a on a string wound round a drum; the string's middle
//! runs at the effective radius Rₑ = R + d/2. Newton's second law for the mass gives the tension at its
//! end of the string; the pulley (moment of inertia I_p, radius r_p) takes I_p a/r_p² of it; what is
//! left acts on the drum at Rₑ; the string does not slip:
//!
//! ```text
//! T = m (g − a) − I_p a/r_p²      N
//! τ = T Rₑ                        N·m
//! α = a / Rₑ                      rad/s²
//! ```
//!
//! All counted in the direction of the motion. While the mass falls that is as it stands. While it
//! *rises*, the string holds the table back and a is negative: T = m (g + a) + I_p a/r_p², τ = −T Rₑ. Coasting
//! on a slack string, τ = 0. So the points of all three lie on one line τ = I α + τ_f, since friction
//! is against the motion each time.
//!
//! Drag. Where the curvature of the runs shows viscous friction b ω, the acceleration fitted over a run
//! is a₀ + κ B with κ = b/(I + (m + I_p/r_p²) Rₑ²) ([`crate::acceleration::Slowing`]); τ and α are made
//! from a₀, the acceleration at rest, so that b ω does not bend the line.
//!
//! Holds while the string stays taut and is far lighter than m. Friction is *not* subtracted: it is the
//! intercept of the inertia line. Source: Newton's second law, as in OpenStax *University Physics*
//! vol. 1, 10.7 (a mass on a string round a pulley). Check by hand: m = 50 g, a = 0.2 m/s², Rₑ = 20 mm,
//! g = 9.81 m/s² give τ = 9.61 mN·m and α = 10 rad/s² (first test below).

use crate::acceleration::{AccelerationFit, Scale, Slowing};
use crate::apparatus::{Apparatus, Rig, SharedInput};
use crate::measured::{Combined, Measured, MeasuredError};
use crate::quantity::{
    KilogramMeters2, Kilograms, Meters, MetersPerSecond2, NewtonMeterSeconds, NewtonMeters, Newtons,
    RadiansPerSecond2,
};
pub use crate::runs::Motion;
use whorl_words as words;

/// A run reduced to what the torque needs.
#[derive(Clone, Debug, PartialEq)]
pub struct FittedRun {
    /// Mass on the string; none while the table coasts.
    pub hanging_mass: Kilograms,
    /// Which way it goes.
    pub motion: Motion,
    /// Acceleration along the motion.
    pub acceleration: Measured<MetersPerSecond2>,
    /// What the acceleration is proportional to.
    pub scale: Scale,
    /// What the run's curvature says of drag.
    pub slowing: Option<Slowing>,
}

impl FittedRun {
    /// A fitted run.
    pub fn new(hanging_mass: Kilograms, motion: Motion, fit: &AccelerationFit) -> Self {
        let slowing = fit.slowing().copied();
        Self { hanging_mass, motion, acceleration: fit.acceleration, scale: fit.scale, slowing }
    }
}

/// Viscous friction of the bearing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Drag {
    /// b.
    pub coefficient: NewtonMeterSeconds,
    /// Moment of inertia of what turns, to tell how fast b slows it.
    pub moment_of_inertia: KilogramMeters2,
}

/// One point of the torque graph. Uncertainties hold what differs from run to run, that of a;
/// what all runs share (R, d, g …) is kept apart and added at the end.
#[derive(Clone, Debug, PartialEq)]
pub struct TorquePoint {
    /// m.
    pub hanging_mass: Kilograms,
    /// Which way it goes.
    pub motion: Motion,
    /// a, with drag taken out.
    pub acceleration: Measured<MetersPerSecond2>,
    /// T on the drum's side of the pulley.
    pub tension: Newtons,
    /// τ, with u(τ) = |dτ/da| u(a).
    pub torque: Measured<NewtonMeters>,
    /// α, with u(α) = u(a)/Rₑ.
    pub angular_acceleration: Measured<RadiansPerSecond2>,
    /// Rₑ.
    pub effective_radius: Meters,
    /// −dτ/da in kg·m: how much of an error of a the torque takes up.
    pub torque_per_acceleration: f64,
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
    #[error("{}", words::chain::mass_not_positive())]
    MassNotPositive,
    /// A string cannot push.
    #[error("{}", words::chain::string_slack(&words::number(*.acceleration, 3), &words::number(*.gravity, 3)))]
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

/// Moment of inertia at the drum of all that a run moves, the table's own I given: I + (m + I_p/r_p²) Rₑ².
pub(crate) fn moved_inertia(own: f64, run: &FittedRun, rig: &Rig) -> f64 {
    if run.motion == Motion::Coasting {
        return own;
    }
    let radius = rig.effective_radius().0;
    own + (rig.mass(run.hanging_mass).0 + rig.pulley_mass()) * radius * radius
}

/// Turns a run's acceleration into its torque point on this rig, with drag taken out.
///
/// # Errors
/// When the mass is not positive, the acceleration is g or more, or a result is not finite.
pub fn torque_point(run: &FittedRun, rig: &Rig, drag: &Drag) -> Result<TorquePoint, TorqueError> {
    let coasting = run.motion == Motion::Coasting;
    if !coasting && (run.hanging_mass.0.is_nan() || run.hanging_mass.0 <= 0.0) {
        return Err(TorqueError::MassNotPositive);
    }
    let mass = if coasting { Kilograms(0.0) } else { rig.mass(run.hanging_mass) };
    let radius = rig.effective_radius();
    let ratio = rig.ratio(run.scale);
    let inertia = moved_inertia(drag.moment_of_inertia.0, run, rig);
    // κ is a rate, the same whatever the scale; B is a velocity.
    let lost = match &run.slowing {
        Some(slowing) if drag.coefficient.0 != 0.0 && inertia > 0.0 => {
            drag.coefficient.0 / inertia * slowing.effect
        }
        _ => 0.0,
    };
    let acceleration = (run.acceleration.value() - MetersPerSecond2(lost)) * ratio;
    let u = run.acceleration.standard_uncertainty() * ratio;
    let degrees_of_freedom = run.acceleration.degrees_of_freedom();
    // Down, the acceleration takes from the weight; up, where it is negative, as well.
    let downwards = if run.motion == Motion::Rising { acceleration * -1.0 } else { acceleration };
    if downwards >= rig.gravity {
        return Err(TorqueError::StringSlack { acceleration: downwards.0, gravity: rig.gravity.0 });
    }
    let pulley = rig.pulley_mass();
    let (tension, sign, carried) = match run.motion {
        Motion::Coasting => (Newtons(0.0), 0.0, 0.0),
        motion => {
            let tension = mass * (rig.gravity - downwards) - Newtons(pulley * downwards.0);
            (tension, if motion == Motion::Rising { -1.0 } else { 1.0 }, mass.0 + pulley)
        }
    };
    let torque_per_acceleration = carried * radius.0;
    Ok(TorquePoint {
        hanging_mass: mass,
        motion: run.motion,
        acceleration: Measured::with_degrees_of_freedom(acceleration, u, degrees_of_freedom)?,
        tension,
        torque: Measured::with_degrees_of_freedom(
            tension * radius * sign,
            NewtonMeters(torque_per_acceleration * u.0),
            degrees_of_freedom,
        )?,
        angular_acceleration: Measured::with_degrees_of_freedom(
            acceleration / radius,
            u / radius,
            degrees_of_freedom,
        )?,
        effective_radius: radius,
        torque_per_acceleration,
    })
}

/// The torque point of a run, with the shared inputs' part of its uncertainty.
///
/// Each input is moved up and down by its standard uncertainty, as for the line
/// (JCGM 100:2008 5.1.3, note 2).
///
/// # Errors
/// As [`torque_point`], also for the moved inputs.
pub fn place(run: &FittedRun, apparatus: &Apparatus, drag: &Drag) -> Result<PlacedPoint, TorqueError> {
    let point = torque_point(run, &apparatus.rig(), drag)?;
    let (mut of_acceleration, mut of_torque, mut of_alpha) = (Vec::new(), Vec::new(), Vec::new());
    for input in SharedInput::ALL {
        let up = torque_point(run, &apparatus.rig_shifted(input, 1.0), drag)?;
        let down = torque_point(run, &apparatus.rig_shifted(input, -1.0), drag)?;
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
            height_ratio: Ratio(1.0),
            radius_written: Meters(0.02),
            pulley_inertia: KilogramMeters2(0.0),
            pulley_radius: Meters(0.024),
        }
    }

    fn run(grams: f64, a: f64, u: f64) -> FittedRun {
        FittedRun {
            hanging_mass: Kilograms(grams / 1e3),
            acceleration: Measured::new(MetersPerSecond2(a), MetersPerSecond2(u)).unwrap(),
            motion: Motion::Falling,
            scale: Scale::Travel,
            slowing: None,
        }
    }

    #[test]
    fn torque_and_angular_acceleration_worked_by_hand() {
        let point = torque_point(&run(50.0, 0.2, 0.001), &rig(), &Drag::default()).unwrap();
        assert!((point.torque.value().0 - 9.61e-3).abs() < 1e-15);
        assert!((point.angular_acceleration.value().0 - 10.0).abs() < 1e-12);
        assert!((point.torque.standard_uncertainty().0 - 1e-6).abs() < 1e-18);
        assert!((point.angular_acceleration.standard_uncertainty().0 - 0.05).abs() < 1e-15);
    }

    #[test]
    fn a_longer_travel_per_spoke_scales_accelerations_from_gate_times_only() {
        let longer = Rig { travel_ratio: Ratio(1.01), ..rig() };
        let gate = torque_point(&run(50.0, 0.2, 0.0), &longer, &Drag::default()).unwrap();
        assert!((gate.acceleration.value().0 - 0.202).abs() < 1e-15);
        let velocity = FittedRun { scale: Scale::Itself, ..run(50.0, 0.2, 0.0) };
        let unchanged = torque_point(&velocity, &longer, &Drag::default()).unwrap();
        assert!((unchanged.acceleration.value().0 - 0.2).abs() < 1e-15);
    }

    #[test]
    fn what_all_runs_share_is_kept_beside_the_scatter() {
        let measured = |value, u| Measured::new(Meters(value), Meters(u)).ok();
        let gravity = Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.0)).ok();
        let drum = measured(0.0195, 2e-5);
        let apparatus =
            Apparatus::new(drum, measured(0.001, 0.0), gravity, measured(0.015, 1.5e-5), Ratio(0.0)).unwrap();
        let placed = place(&run(50.0, 0.2, 0.001), &apparatus, &Drag::default()).unwrap();
        // u(s)/s = 0.1 % of a; R: 0.1 % of τ; on α both, √2 · 0.1 %. The tension's own 0.1 % of m a
        // adds 50 g · 0.2 mm/s² · 20 mm = 0.2 µN·m to τ.
        assert!((placed.acceleration.shared.0 - 2e-4).abs() < 1e-12);
        assert!((placed.torque.shared.0 - 9.61e-6_f64.hypot(2e-7)).abs() < 1e-10);
        assert!((placed.angular_acceleration.shared.0 - 1e-2 * 2.0_f64.sqrt()).abs() < 1e-7);
        assert_eq!(placed.torque.random, placed.point.torque);
    }

    #[test]
    fn a_slack_string_and_an_impossible_mass_are_refused() {
        assert!(matches!(
            torque_point(&run(50.0, 9.81, 0.0), &rig(), &Drag::default()),
            Err(TorqueError::StringSlack { .. })
        ));
        assert_eq!(
            torque_point(&run(0.0, 0.2, 0.0), &rig(), &Drag::default()),
            Err(TorqueError::MassNotPositive)
        );
        assert_eq!(
            torque_point(&run(f64::NAN, 0.2, 0.0), &rig(), &Drag::default()),
            Err(TorqueError::MassNotPositive)
        );
    }

    #[test]
    fn falling_rising_and_coasting_points_lie_on_one_line() {
        // I = 1.5e-3, τ_f = 1 mN·m, m = 50 g at 20 mm: down (m g R − τ_f) R/(I + m R²), up
        // −(m g R + τ_f) R/(I + m R²), coasting −τ_f R/I.
        let (inertia, friction, mass, radius) = (1.5e-3, 1e-3, 0.05, 0.02);
        let total = inertia + mass * radius * radius;
        for (motion, a) in [
            (Motion::Falling, (mass * 9.81 * radius - friction) * radius / total),
            (Motion::Rising, -(mass * 9.81 * radius + friction) * radius / total),
            (Motion::Coasting, -friction * radius / inertia),
        ] {
            let run = FittedRun { motion, ..run(50.0, a, 0.0) };
            let point = torque_point(&run, &rig(), &Drag::default()).unwrap();
            let (tau, alpha) = (point.torque.value().0, point.angular_acceleration.value().0);
            assert!((tau - inertia * alpha - friction).abs() < 1e-15, "{motion:?}: {tau} {alpha}");
        }
    }

    #[test]
    fn the_pulley_takes_its_share_of_the_tension() {
        // I_p/r_p² = 5 g: at a = 0.2 m/s² it takes 1 mN of the string, 0.02 mN·m of the torque.
        let heavy = Rig { pulley_inertia: KilogramMeters2(0.005 * 0.024 * 0.024), ..rig() };
        let point = torque_point(&run(50.0, 0.2, 0.0), &heavy, &Drag::default()).unwrap();
        assert!((point.torque.value().0 - 9.59e-3).abs() < 1e-15);
    }

    #[test]
    fn the_pulley_is_moved_as_a_mass_on_the_string_would_be() {
        // I_p/r_p² = 5 g beside 50 g at 20 mm: 0.055 · 4e-4 = 2.2e-5 kg·m²; a slack string moves neither.
        let heavy = Rig { pulley_inertia: KilogramMeters2(0.005 * 0.024 * 0.024), ..rig() };
        assert!((moved_inertia(1e-3, &run(50.0, 0.2, 0.0), &heavy) - 1.022e-3).abs() < 1e-15);
        let coasting = FittedRun { motion: Motion::Coasting, ..run(50.0, -0.2, 0.0) };
        assert!((moved_inertia(1e-3, &coasting, &heavy) - 1e-3).abs() < 1e-18);
    }

    #[test]
    fn drag_is_taken_out_of_the_acceleration() {
        // κ = b/(I + m R²) = 1e-5/2e-3 = 0.005 per second, B = −0.4 m/s: a₀ = a + 0.002 m/s².
        let drag =
            Drag { coefficient: NewtonMeterSeconds(1e-5), moment_of_inertia: KilogramMeters2(1.98e-3) };
        let slowing = Slowing {
            rate: 0.005,
            rate_uncertainty: 0.001,
            degrees_of_freedom: 40,
            effect: -0.4,
            sum_of_squares: 0.0,
        };
        let run = FittedRun { slowing: Some(slowing), ..run(50.0, 0.2, 0.0) };
        let point = torque_point(&run, &rig(), &drag).unwrap();
        assert!((point.acceleration.value().0 - 0.202).abs() < 1e-12);
    }
}
