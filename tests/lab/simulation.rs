//! The simulator against motions integrated elsewhere, and its closed forms against its own integration.

use serde_json::Value;
use whorl_core::simulation::course::{Course, Fall, Release};
use whorl_core::simulation::gate::Gate;
use whorl_core::simulation::path::Path;
use whorl_core::simulation::random::Random;
use whorl_core::simulation::rig::{Friction, Pulley, Rig};

use crate::digits::{assert_digits, numbers, reference, text};

/// One motion of `reference/falling-mass.json`.
struct Motion {
    rig: Rig,
    start_speed: f64,
    times: Vec<f64>,
    expected: Value,
}

fn motion(name: &str, expected: &Value) -> Motion {
    let parameters = &expected["parameters"];
    let parameter = |key: &str| parameters.get(key).map_or(0.0, |_| numbers(text(parameters, key))[0]);
    let spacing = numbers(text(expected, "spacing_m"))[0];
    let times = numbers(text(expected, "time_s"));
    assert!(times.len() >= 30, "{name}");
    // Only I_p/r_p² and τ_p/r_p matter; our r_p follows from spokes and travel.
    let mut pulley =
        Pulley { spokes: 10, travel_per_spoke_m: spacing, inertia_kg_m2: 0.0, friction_n_m: 0.0 };
    if parameter("rp") > 0.0 {
        let ratio = pulley.radius_m() / parameter("rp");
        pulley.inertia_kg_m2 = parameter("Ip") * ratio * ratio;
        pulley.friction_n_m = parameter("tau_p") * ratio;
    }
    let rig = Rig {
        drum_radius_m: parameter("R"),
        string_diameter_m: 0.0,
        growth_per_turn_m: 0.0,
        wound_m: spacing * (times.len() + 1) as f64,
        gravity_m_per_s2: parameter("g"),
        inertia_kg_m2: parameter("I"),
        friction: Friction {
            constant_n_m: parameter("tau0"),
            viscous_n_m_s: parameter("c"),
            quadratic_n_m_s2: parameter("k"),
            bearing_arm_m: parameter("mu") * parameter("r_b"),
            bearing_weight_n: parameter("M") * parameter("g"),
            ..Friction::default()
        },
        pulley,
        mass_kg: parameter("m"),
    };
    Motion { rig, start_speed: parameter("v0"), times, expected: expected.clone() }
}

fn motions() -> Vec<(String, Motion)> {
    let all = reference(include_str!("../reference/falling-mass.json"));
    all.as_object().unwrap().iter().map(|(name, expected)| (name.clone(), motion(name, expected))).collect()
}

fn falling(rig: &Rig, start_speed: f64, until_m: f64) -> (Path, Fall) {
    let mut course = Course::new(rig, 0.0);
    let fall = course.fall(Release::Moving(start_speed), until_m);
    (course.finish(), fall)
}

/// The times at which an ideal gate sees the string at one spacing, two, three …
fn edge_times(path: &Path, pulley: &Pulley) -> Vec<f64> {
    let gate = Gate { first_edge_m: pulley.travel_per_spoke_m, ..Gate::default() };
    gate.record(path, pulley, &mut Random::new(0)).iter().map(|edge| edge.time_s).collect()
}

fn worst_difference(found: &[f64], expected: &[f64]) -> f64 {
    found.iter().zip(expected).map(|(one, other)| (one - other).abs()).fold(0.0, f64::max)
}

#[test]
fn every_motion_passes_each_spoke_when_it_should() {
    let motions = motions();
    assert_eq!(motions.len(), 15);
    for (name, motion) in motions {
        let (path, _) = falling(&motion.rig, motion.start_speed, motion.rig.wound_m);
        let found = edge_times(&path, &motion.rig.pulley);
        assert!(found.len() >= motion.times.len(), "{name}: {} edges", found.len());
        let worst = worst_difference(&found, &motion.times);
        println!("{name}: {worst:e} s");
        assert!(worst < 1e-11, "{name}: {worst:e} s");
    }
}

#[test]
fn speeds_at_the_end_and_accelerations_at_both_ends_agree() {
    for (name, motion) in motions() {
        let Some(speed) = motion.expected.get("speed_end_m_per_s") else { continue };
        let speed = numbers(speed.as_str().unwrap())[0];
        let expected = |key: &str| numbers(text(&motion.expected, key))[0];
        let (path, _) = falling(&motion.rig, motion.start_speed, motion.rig.wound_m);
        let end = *motion.times.last().unwrap();
        assert_digits(&name, path.moment(end).unwrap().string_m_per_s, speed, 10.0);
        // The change of speed in a millisecond about the end; at the start, after the first millisecond.
        let change = |from: f64, to: f64| {
            let [from_speed, to_speed] = [from, to].map(|time| path.moment(time).unwrap().string_m_per_s);
            (to_speed - from_speed) / (to - from)
        };
        assert_digits(&name, change(end - 5e-4, end + 5e-4), expected("acceleration_end_m_per_s2"), 6.0);
        let start = 1.5 * change(0.0, 1e-3) - 0.5 * change(1e-3, 2e-3);
        assert_digits(&name, start, expected("acceleration_start_m_per_s2"), 6.0);
    }
}

#[test]
fn constant_friction_is_the_closed_form_to_twelve_digits() {
    // a = (m g − τ₀/ρ − τ_p/r_p)/(m + I_p/r_p² + I/ρ²) and t = (√(v₀² + 2 a s) − v₀)/a, written out here: Newton's
    // second law, as in OpenStax University Physics vol. 1, 10.7, with the pulley's friction added.
    let pulley = Pulley { inertia_kg_m2: 2e-6, friction_n_m: 2e-5, ..Rig::default().pulley };
    for (inertia, mass) in [(1.2e-3, 0.02), (1.5e-3, 0.05), (8.5e-3, 0.3)] {
        for start_speed in [0.0, 0.05, 0.3] {
            let rig = Rig { inertia_kg_m2: inertia, mass_kg: mass, pulley: pulley.clone(), ..Rig::default() };
            let (path, _) = falling(&rig, start_speed, 0.85);
            let (rho, r_p) = (0.025_5, 10.0 * 0.015 / core::f64::consts::TAU);
            let pull = mass * 9.81 - 1e-3 / rho - 2e-5 / r_p;
            let a = pull / (mass + 2e-6 / (r_p * r_p) + inertia / (rho * rho));
            let times = edge_times(&path, &rig.pulley);
            assert_eq!(times.len(), 56);
            for (k, found) in (1_u32..).zip(times) {
                let way = f64::from(k) * 0.015;
                let expected = 2.0 * way / ((start_speed * start_speed + 2.0 * a * way).sqrt() + start_speed);
                let relative = (found / expected - 1.0).abs();
                assert!(relative < 1e-12, "edge {k}: {relative:e}");
            }
        }
    }
}

#[test]
fn the_closed_form_is_the_integrated_motion() {
    // A drag so small that it moves no edge by 1e-13 s makes the simulator integrate.
    for mass_kg in [0.02, 0.05, 0.3] {
        for speed in [0.0, 0.2] {
            let pulley = Pulley { inertia_kg_m2: 2e-6, friction_n_m: 2e-5, ..Rig::default().pulley };
            let closed = Rig { mass_kg, pulley, ..Rig::default() };
            assert!(closed.is_uniform());
            let mut integrated = closed.clone();
            integrated.friction.viscous_n_m_s = 1e-18;
            assert!(!integrated.is_uniform());
            let [closed, integrated] = [closed, integrated].map(|rig| {
                let (path, fall) = falling(&rig, speed, 0.85);
                (edge_times(&path, &rig.pulley), fall)
            });
            assert_eq!((closed.0.len(), integrated.0.len()), (56, 56));
            let worst = worst_difference(&integrated.0, &closed.0);
            assert!(worst < 1e-12, "{worst:e} s");
            let (one, other) = (closed.1.acceleration_m_per_s2, integrated.1.acceleration_m_per_s2);
            assert_digits("a", other, one, 11.0);
        }
    }
}

/// Kinetic energy of all that moves, less what the weight has done, J.
fn energy(rig: &Rig, path: &Path, time: f64) -> f64 {
    let moment = path.moment(time).unwrap();
    let moving = rig.mass_kg + rig.pulley.effective_mass_kg();
    0.5 * rig.inertia_kg_m2 * moment.table_rad_per_s.powi(2) + 0.5 * moving * moment.string_m_per_s.powi(2)
        - rig.mass_kg * rig.gravity_m_per_s2 * moment.string_m
}

#[test]
fn what_the_weight_does_is_in_the_motion_or_lost_to_friction() {
    // Layers, a tilted table and the string winding up again, none of which has a closed form.
    let rig = Rig {
        growth_per_turn_m: 0.000_8,
        friction: Friction { constant_n_m: 1e-3, tilt_n_m: 8e-4, tilt_phase_rad: 0.7, ..Friction::default() },
        pulley: Pulley { inertia_kg_m2: 5e-6, friction_n_m: 2e-4, ..Rig::default().pulley },
        ..Rig::default()
    };
    let mut course = Course::new(&rig, 0.0);
    course.swing(12.0);
    let path = course.finish();
    let tilt = |angle: f64| rig.friction.tilt_n_m * -(angle + rig.friction.tilt_phase_rad).cos();
    let (mut turned, mut last): (f64, f64) = (0.0, 0.0);
    let (mut run, mut last_string): (f64, f64) = (0.0, 0.0);
    let (mut highest, mut turns_back) = (0.0_f64, false);
    let start = energy(&rig, &path, 0.0);
    for k in 1..=12_000 {
        let time = f64::from(k) * 1e-3;
        let angle = path.moment(time).unwrap().table_rad;
        turned += (angle - last).abs();
        turns_back |= angle < last;
        last = angle;
        let string = path.moment(time).unwrap().string_m;
        run += (string - last_string).abs();
        last_string = string;
        highest = highest.max(string);
        let lost = rig.friction.constant_n_m * turned
            + rig.pulley.friction_n_m / rig.pulley.radius_m() * run
            + tilt(angle)
            - tilt(0.0);
        let miss = energy(&rig, &path, time) - start + lost;
        // Of 0.4 J. Where string or table turn back between two samples, the way is summed a little short.
        let allowed = if highest > rig.wound_m { 1e-7 } else { 1e-10 };
        assert!(miss.abs() < allowed, "{time} s: {miss:e} J");
    }
    // It went through the swing of the knot, past the string's length by the drum's radius, and back.
    assert!((highest - rig.wound_m - rig.effective_radius_m()).abs() < 1e-5, "{highest}");
    assert!(turns_back, "the table must have turned back within 12 s");
}
