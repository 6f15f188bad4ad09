//! Stretches found in records made by closed forms.

mod accelerations;

use super::*;
use crate::quantity::{Meters, MetersPerSecond, MetersPerSecond2, Seconds};
use crate::readings::{Readings, Series};
use crate::runs::Motion;
use core::num::NonZeroU32;
use proptest::prelude::*;

const TRAVEL: Meters = Meters(0.015);

/// Edges of a fall from rest at `start` with acceleration `a` in spokes/s², 0.4 spokes to the first.
fn fall(start: f64, a: f64, count: u32) -> Vec<f64> {
    (0..count).map(|k| start + (2.0 * (f64::from(k) + 0.4) / a).sqrt()).collect()
}

fn gate(times: &[f64]) -> Readings {
    Readings::from_gate_times(&times.iter().copied().map(Seconds).collect::<Vec<_>>()).unwrap()
}

fn found(times: &[f64]) -> Found {
    find(&gate(times), Some(TRAVEL), NonZeroU32::new(10))
}

/// Positions of a mass at rest for 1 s, falling `count` samples of 10 ms, then at rest.
fn position(index: u32, count: u32, a: f64) -> f64 {
    let t = 0.01 * (f64::from(index.min(count + 100)) - 100.0).max(0.0);
    // An error of up to 50 µm, no two alike.
    0.5 * a * t * t + 1e-4 * ((f64::from(index) * 0.618_034).fract() - 0.5)
}

#[test]
fn a_clean_fall_loses_one_edge_at_each_end() {
    let found = found(&fall(5.0, 30.0, 57));
    let best = found.best.unwrap();
    assert_eq!((best.readings, best.motion, best.from_rest), (55, Motion::Falling, true));
    assert!((best.acceleration_roughly / (30.0 * 0.015) - 1.0).abs() < 1e-6);
    assert!(found.doubts.is_empty() && found.rivals.is_empty() && found.rise.is_none(), "{found:?}");
}

#[test]
fn without_a_travel_the_acceleration_is_in_spokes() {
    let found = find(&gate(&fall(0.0, 30.0, 57)), None, None);
    assert!((found.best.unwrap().acceleration_roughly / 30.0 - 1.0).abs() < 1e-6);
}

#[test]
fn a_clean_sampled_fall_loses_one_sample_at_each_end_whatever_its_direction() {
    for sign in [1.0, -1.0] {
        let rows = (100..260).map(|k| (Seconds(0.01 * f64::from(k)), Meters(sign * position(k, 400, 0.8))));
        let best = find(&Readings::Position(Series::new(rows.collect()).unwrap()), None, None).best.unwrap();
        assert_eq!((best.readings, best.motion, best.from_rest), (158, Motion::Falling, true));
        assert!((best.acceleration_roughly * sign / 0.8 - 1.0).abs() < 0.01, "{best:?}");
    }
}

#[test]
fn rest_before_and_after_is_left_out_of_sampled_records() {
    let (from, to) = (1.0, 2.6);
    let samples: Vec<f64> = (0..400).map(|k| position(k, 160, 0.8)).collect();
    let time = |k: usize| Seconds(0.01 * k as f64);
    let rows = samples.iter().enumerate().map(|(k, x)| (time(k), Meters(*x)));
    let positions = Readings::Position(Series::new(rows.collect()).unwrap());
    let differences = samples.windows(3).enumerate();
    let rows = differences.map(|(k, x)| (time(k + 1), MetersPerSecond((x[2] - x[0]) / 0.02)));
    let velocities = Readings::Velocity(Series::new(rows.collect()).unwrap());
    for readings in [positions, velocities] {
        let best = find(&readings, None, None).best.unwrap();
        assert!(best.stretch.from().0 >= from && best.stretch.to().0 <= to, "{best:?}");
        assert!(best.readings > 140, "{best:?}");
        assert!((best.acceleration_roughly / 0.8 - 1.0).abs() < 0.01, "{best:?}");
    }
}

#[test]
fn a_hand_before_and_a_stop_after_are_left_out() {
    // By hand at an uneven pace, a pause, the fall, and a stop within three edges.
    let mut times: Vec<f64> =
        (0..40).map(|k| 0.05 * f64::from(k) + 0.02 * (0.9 * f64::from(k)).sin()).collect();
    times.extend(fall(3.0, 30.0, 57));
    let last = times[96];
    times.extend([0.03, 0.08, 0.18, 0.5].map(|after| last + after));
    let found = found(&times);
    let best = found.best.unwrap();
    assert!(best.stretch.from().0 > 3.0 && best.stretch.to().0 < last, "{best:?}");
    assert!(best.readings >= 53 && best.from_rest && found.doubts.is_empty(), "{found:?}");
}

#[test]
fn the_climb_after_the_fall_is_found_and_never_taken_for_it() {
    let mut times = fall(0.0, 30.0, 57);
    // Upwards with 34 spokes/s² from the speed reached: the edges of a fall, backwards in time.
    let up = fall(0.0, 34.0, 50);
    let (end, top) = (times[56], up[49]);
    times.extend(up.iter().rev().skip(1).map(|t| end + top - t));
    let found = found(&times);
    let (best, rise) = (found.best.unwrap(), found.rise.unwrap());
    assert!(best.motion == Motion::Falling && best.stretch.to().0 < end);
    assert!(rise.motion == Motion::Rising && rise.to_rest && rise.stretch.from().0 > end, "{rise:?}");
    assert!((rise.acceleration_roughly / (-34.0 * 0.015) - 1.0).abs() < 0.01, "{rise:?}");
}

#[test]
fn two_equal_drops_are_said_and_both_offered() {
    let mut times = fall(0.0, 30.0, 57);
    times.extend(fall(8.0, 30.0, 57));
    let found = found(&times);
    assert_eq!(found.doubts, [Doubt::TwoEqualDrops]);
    assert_eq!(found.rivals.len(), 1);
    assert!(found.best.unwrap().stretch.to().0 < 8.0, "the first of two alike");
}

#[test]
fn a_slip_in_the_middle_is_said() {
    let whole = fall(0.0, 30.0, 60);
    // The string is 0.6 spokes late from edge 30 on: at the same time the pulley stands elsewhere.
    let slipped = (31..60).map(|k| (2.0 * (f64::from(k) + 1.0) / 30.0).sqrt());
    let times: Vec<f64> = whole[..31].iter().copied().chain(slipped).collect();
    let found = found(&times);
    assert!(found.doubts.contains(&Doubt::TouchingPieces), "{found:?}");
    assert!((found.best.unwrap().acceleration_roughly / 0.45 - 1.0).abs() < 0.01);
}

#[test]
fn a_short_fall_and_a_push_are_said() {
    let short = found(&fall(0.0, 30.0, 15));
    assert_eq!(short.doubts, [Doubt::Short { readings: 13 }]);
    let pushed: Vec<f64> = fall(0.0, 30.0, 60).split_off(20);
    assert_eq!(found(&pushed).doubts, [Doubt::NotFromRest]);
}

#[test]
fn nothing_is_found_where_nothing_falls() {
    let even: Vec<f64> = (0..60).map(|k| 0.1 * f64::from(k)).collect();
    for times in [&even[..], &even[..1], &even[..5]] {
        let found = found(times);
        assert!(found.best.is_none(), "{found:?}");
        assert_eq!(found.doubts, [Doubt::NothingFound]);
    }
}

#[test]
fn a_long_record_is_searched_in_one_go() {
    // Quadratic cost would take hours.
    let rows = (0..300_000_u32).map(|k| (Seconds(0.01 * f64::from(k)), Meters(position(k, 160, 0.8))));
    let best = find(&Readings::Position(Series::new(rows.collect()).unwrap()), None, None).best.unwrap();
    assert!((best.acceleration_roughly / 0.8 - 1.0).abs() < 0.01, "{best:?}");
}

proptest! {
    #[test]
    fn whatever_the_record_the_stretch_lies_in_it(
        steps in prop::collection::vec((0.0_f64..4.0, -1e3_f64..1e3), 1..200), kind in 0..4, spokes in 0..4_u32
    ) {
        let mut time = 0.0;
        let mut rows = Vec::new();
        for (step, value) in steps {
            time += 1e-5 + step.powi(8) * 1e-3;
            rows.push((Seconds(time), value));
        }
        let readings = match kind {
            0 => gate(&rows.iter().map(|row| row.0.0).collect::<Vec<_>>()),
            3 => Readings::Acceleration(
                Series::new(rows.iter().map(|row| (row.0, MetersPerSecond2(row.1))).collect()).unwrap()
            ),
            1 => Readings::Position(Series::new(rows.iter().map(|row| (row.0, Meters(row.1))).collect()).unwrap()),
            _ => Readings::Velocity(
                Series::new(rows.iter().map(|row| (row.0, MetersPerSecond(row.1))).collect()).unwrap()
            ),
        };
        let found = find(&readings, Some(TRAVEL), NonZeroU32::new(spokes));
        let (first, last) = readings.time_span();
        for candidate in found.best.iter().chain(&found.rivals).chain(&found.rise) {
            prop_assert!(candidate.stretch.from() >= first && candidate.stretch.to() <= last);
            prop_assert!(candidate.readings >= 4, "{candidate:?}");
        }
    }
}
