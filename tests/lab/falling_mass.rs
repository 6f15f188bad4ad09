//! The falling mass: gate times of a motion integrated elsewhere, back to its acceleration, tension
//! and torque; and three such motions back to the table's moment of inertia.

use serde_json::Value;
use whorl_core::acceleration::{Scale, Setup, estimate};
use whorl_core::apparatus::{Apparatus, Rig};
use whorl_core::inertia::joint;
use whorl_core::measured::Measured;
use whorl_core::quantity::{KilogramMeters2, Kilograms, Meters, MetersPerSecond2, Ratio, Seconds};
use whorl_core::readings::Readings;
use whorl_core::runs::Run;
use whorl_core::torque::{Drag, FittedRun, Motion as Way, torque_point};

use crate::digits::{assert_digits, numbers, reference, text};

/// A table with constant friction, and the times at which the string had run k times the spacing:
/// `reference/falling-mass.json`.
struct Motion {
    mass: f64,
    radius: f64,
    inertia: f64,
    friction: f64,
    gravity: f64,
    spacing: f64,
    times: Vec<f64>,
    expected: Value,
}

fn motion(name: &str) -> Motion {
    let motion = reference(include_str!("../reference/falling-mass.json"))[name].clone();
    let parameter = |key: &str| numbers(text(&motion["parameters"], key))[0];
    Motion {
        mass: parameter("m"),
        radius: parameter("R"),
        inertia: parameter("I"),
        friction: parameter("tau0"),
        gravity: parameter("g"),
        spacing: numbers(text(&motion, "spacing_m"))[0],
        times: numbers(text(&motion, "time_s")),
        expected: motion,
    }
}

impl Motion {
    fn expected(&self, key: &str) -> f64 {
        numbers(text(&self.expected, key))[0]
    }

    fn fitted(&self, times: &[f64]) -> FittedRun {
        let times: Vec<Seconds> = times.iter().copied().map(Seconds).collect();
        let readings = Readings::from_gate_times(&times).unwrap();
        let spokes = core::num::NonZeroU32::new(10);
        let setup = Setup { travel_per_spoke: Some(Meters(self.spacing)), spokes, ..Setup::default() };
        let fit = estimate(&Run::new(&readings, None).unwrap(), &setup).unwrap();
        FittedRun::new(Kilograms(self.mass), Way::Falling, &fit)
    }

    /// The string is taken as thin: its middle runs at the drum's radius.
    fn rig(&self) -> Rig {
        Rig {
            drum_radius: Meters(self.radius),
            string_diameter: Meters(0.0),
            gravity: MetersPerSecond2(self.gravity),
            travel_ratio: Ratio(1.0),
            mass_ratio: Ratio(1.0),
            height_ratio: Ratio(1.0),
            radius_written: Meters(self.radius),
            pulley_inertia: KilogramMeters2(0.0),
            pulley_radius: Meters(1.0),
        }
    }
}

/// Times are given to 1e-16 of their size and the parabola is exact, so what is left is rounding:
/// about 40 readings whose second power loses two or three of sixteen digits.
const EXACT_TIMES: f64 = 11.0;

#[test]
fn exact_gate_times_give_back_acceleration_tension_and_torque() {
    for name in ["a1", "a2", "a3"] {
        let motion = motion(name);
        let run = motion.fitted(&motion.times);
        let point = torque_point(&run, &motion.rig(), &Drag::default()).unwrap();
        for (what, found) in [
            ("acceleration_m_per_s2", point.acceleration.value().0),
            ("angular_acceleration_rad_per_s2", point.angular_acceleration.value().0),
            ("tension_N", point.tension.0),
            ("torque_N_m", point.torque.value().0),
        ] {
            assert_digits(&format!("{name}: {what}"), found, motion.expected(what), EXACT_TIMES);
        }
        // τ − τ_f = I α.
        let net = motion.inertia * point.angular_acceleration.value().0;
        assert_digits(name, point.torque.value().0 - motion.friction, net, EXACT_TIMES - 1.0);
        assert!(point.acceleration.standard_uncertainty().0 < 1e-11);
    }
}

#[test]
fn a_logger_s_tenth_of_a_millisecond_moves_the_acceleration_by_no_more_than_its_uncertainty_says() {
    for name in ["a1", "a2", "a3"] {
        let motion = motion(name);
        // Rounding to 0.1 ms errs by up to 50 µs, evenly and differently at every reading, so it scatters
        // the string's position like any noise; three standard uncertainties hold 99.7 % of such errors.
        let rounded: Vec<f64> = motion.times.iter().map(|time| (time * 1e4).round() / 1e4).collect();
        let run = motion.fitted(&rounded);
        let error = (run.acceleration.value().0 - motion.expected("acceleration_m_per_s2")).abs();
        let u = run.acceleration.standard_uncertainty().0;
        assert!(u > 0.0 && error < 3.0 * u, "{name}: {error:e}, u = {u:e}");
        assert!(error / motion.expected("acceleration_m_per_s2") < 1e-4, "{name}: {error:e}");
    }
}

#[test]
fn three_masses_on_one_table_give_its_moment_of_inertia() {
    // The closed form of the constant-friction model, a = (m g − τ_f/R)/(m + I/R²), solved for I and
    // τ_f by the line: the table of motion a1 with three masses.
    let motion = motion("a1");
    let runs: Vec<FittedRun> = [0.030, 0.050, 0.100]
        .map(|mass| {
            let a = (mass * motion.gravity - motion.friction / motion.radius)
                / (mass + motion.inertia / motion.radius.powi(2));
            FittedRun {
                hanging_mass: Kilograms(mass),
                acceleration: Measured::new(MetersPerSecond2(a), MetersPerSecond2(0.0)).unwrap(),
                motion: Way::Falling,
                scale: Scale::Itself,
                slowing: None,
            }
        })
        .to_vec();
    assert_digits("a", runs[1].acceleration.value().0, motion.expected("acceleration_m_per_s2"), 14.0);
    let apparatus = Apparatus::new(
        Measured::new(Meters(motion.radius), Meters(0.0)).ok(),
        Measured::new(Meters(0.0), Meters(0.0)).ok(),
        Measured::new(MetersPerSecond2(motion.gravity), MetersPerSecond2(0.0)).ok(),
        None,
        Ratio(0.0),
    )
    .unwrap();
    let found = joint(&[runs], &apparatus).inertias.remove(0).unwrap();
    assert_digits("I", found.line.fit.slope, motion.inertia, 12.0);
    // The friction is the small difference of two torques: two digits less.
    assert_digits("friction torque", found.line.fit.intercept, motion.friction, 10.0);
}
