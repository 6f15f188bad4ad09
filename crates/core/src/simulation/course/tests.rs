//! Tests of what happens in a record.

use super::*;
use crate::simulation::rig::Friction;

/// (m g ρ − τ₀) ρ/(I + m ρ²), worked out apart from the simulator's own form.
fn acceleration(rig: &Rig) -> f64 {
    let radius = rig.effective_radius_m();
    (rig.mass_kg * rig.gravity_m_per_s2 * radius - rig.friction.constant_n_m) * radius
        / (rig.inertia_kg_m2 + rig.mass_kg * radius * radius)
}

#[test]
fn a_hand_that_lets_go_evenly_gives_a_cubic() {
    // a t/T for T: speed a T/2 and way a T²/6 when it has let go; a from there on.
    let rig = Rig::default();
    let a = acceleration(&rig);
    let mut course = Course::new(&rig, 0.0);
    let fall = course.fall(Release::Softly(0.6), 0.5);
    let path = course.finish();
    assert!((fall.from_s - 0.6).abs() < 1e-14);
    assert!((fall.acceleration_m_per_s2 / a - 1.0).abs() < 1e-10);
    let half = path.moment(0.3).unwrap();
    assert!((half.string_m - a * 0.3_f64.powi(3) / 3.6).abs() < 1e-13, "{half:?}");
    let moment = path.moment(0.6).unwrap();
    assert!((moment.string_m - a * 0.06).abs() < 1e-13, "{moment:?}");
    assert!((moment.string_m_per_s - a * 0.3).abs() < 1e-12, "{moment:?}");
    assert!((path.moment(fall.to_s).unwrap().string_m - 0.5).abs() < 1e-14);
}

#[test]
fn a_slip_takes_what_the_laws_of_motion_take() {
    let rig = Rig::default();
    let radius = rig.effective_radius_m();
    let mut course = Course::new(&rig, 0.0);
    course.fall(Release::FromRest, 0.4);
    let before = course.now;
    course.slip(0.03, 0.25);
    let after = course.now;
    // The mass gains 3/4 g, the table what a quarter of the weight gives it, until they are 30 mm apart.
    let weight = rig.mass_kg * rig.gravity_m_per_s2;
    let alpha = (0.25 * weight * radius - rig.friction.constant_n_m) / rig.inertia_kg_m2;
    let duration = (0.06 / (0.75 * rig.gravity_m_per_s2 - radius * alpha)).sqrt();
    assert!((after.time_s - before.time_s - duration).abs() < 1e-14);
    let apart = after.string_m - before.string_m - radius * (after.table_rad - before.table_rad);
    assert!((apart - 0.03).abs() < 1e-14, "{apart}");
    // Angular momentum about the drum's axis is the same before and after the grip.
    let speed = before.string_m_per_s + 0.75 * rig.gravity_m_per_s2 * duration;
    let rate = before.table_rad_per_s + alpha * duration;
    let momentum = rig.inertia_kg_m2 * rate + rig.mass_kg * radius * speed;
    let gripped = (rig.inertia_kg_m2 + rig.mass_kg * radius * radius) * after.table_rad_per_s;
    assert!((gripped / momentum - 1.0).abs() < 1e-13, "{gripped} {momentum}");
    assert!((after.string_m_per_s - radius * after.table_rad_per_s).abs() < 1e-15);
    // It falls on as before, to the same height of the mass.
    let fall = course.fall(Release::GoOn, 0.85);
    assert!((fall.acceleration_m_per_s2 / acceleration(&rig) - 1.0).abs() < 1e-13);
    assert!((course.string_m() - 0.85).abs() < 1e-14);
    // And a string that pulls with nearly all of the weight does not slip faster than the drum turns.
    let now = course.now.time_s;
    course.slip(0.03, 0.999);
    assert_eq!(course.now.time_s.to_bits(), now.to_bits());
}

#[test]
fn a_rewound_mass_loses_height_to_friction_and_stops() {
    let rig = Rig {
        wound_m: 0.5,
        friction: Friction { constant_n_m: 2e-3, ..Friction::default() },
        ..Rig::default()
    };
    let mut course = Course::new(&rig, 0.0);
    course.swing(300.0);
    let path = course.finish();
    assert!((path.end_s() - 300.0).abs() < 1e-9);
    // All height is lost in the end: the string hangs straight down from the knot's side of the drum, give
    // or take what friction can hold, m g · lever < τ₀.
    let end = path.moment(300.0).unwrap();
    assert!(end.table_rad_per_s.abs() < 1e-300 && end.string_m_per_s.abs() < 1e-300, "{end:?}");
    assert!(end.string_m > 0.5 && end.string_m <= 0.5 + rig.effective_radius_m() + 1e-12, "{end:?}");
    // The first time up: m g (L + sags) of fall is lost at τ₀ for each radian, so with n radians down and u up
    // m g (h₀ − h₁) = τ₀ (n + u).
    let highest_again = (0..30_000)
        .map(|k| path.moment(f64::from(k) * 1e-3).unwrap())
        .skip_while(|moment| moment.string_m < 0.5)
        .find(|moment| moment.table_rad_per_s <= 0.0)
        .unwrap();
    let lost = rig.mass_kg * rig.gravity_m_per_s2 * highest_again.string_m;
    assert!((lost - 2e-3 * highest_again.table_rad).abs() < 1e-5 * lost, "{highest_again:?}");
}

#[test]
fn a_mass_too_light_for_the_friction_stays() {
    let rig = Rig { mass_kg: 0.003, ..Rig::default() };
    let mut course = Course::new(&rig, 0.0);
    let fall = course.fall(Release::FromRest, 0.5);
    assert!((fall.to_s - fall.from_s).abs() < 1e-300 && fall.acceleration_m_per_s2.abs() < 1e-300);
    course.swing(2.0);
    assert!(course.string_m().abs() < 1e-300 && (course.time_s() - 2.0).abs() < 1e-15);
    // Pushed, it comes to rest after v²/2d.
    let pushed = course.fall(Release::Moving(0.05), 0.5);
    let way = 0.0025 / (2.0 * -acceleration(&rig));
    assert!((course.string_m() - way).abs() < 1e-10, "{} {way}", course.string_m());
    assert!((pushed.acceleration_m_per_s2 / acceleration(&rig) - 1.0).abs() < 1e-9);
}

#[test]
fn a_hand_brings_string_and_table_to_one_speed() {
    let rig = Rig::default();
    let mut course = Course::new(&rig, 0.0);
    course.bring_to(0.2, 0.1);
    assert!((course.string_m() - 0.01).abs() < 1e-16);
    let fall = course.fall(Release::GoOn, 0.5);
    assert!((fall.from_s - 0.1).abs() < 1e-16);
    let speed = (0.04 + 2.0 * acceleration(&rig) * 0.49_f64).sqrt();
    assert!((fall.to_s - 0.1 - (speed - 0.2) / acceleration(&rig)).abs() < 1e-13);
    course.bring_to(0.0, 0.2);
    assert!((course.string_m() - 0.5 - 0.1 * speed).abs() < 1e-14);
    let path = course.finish();
    let end = path.moment(path.end_s()).unwrap();
    assert!((end.table_rad - end.string_m / rig.effective_radius_m()).abs() < 1e-13);
}
