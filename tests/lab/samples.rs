//! Sampled accelerations: intervals that hold the truth, and drag told from their slope.

use crate::coverage::Noise;
use whorl_core::acceleration::{AccelerationFit, Curve, Setup, estimate};
use whorl_core::measured::coverage::Probability;
use whorl_core::quantity::{MetersPerSecond2, Seconds};
use whorl_core::readings::{Readings, Series};
use whorl_core::runs::{Motion, Run};

fn fit(rows: &[(f64, f64)], motion: Motion) -> AccelerationFit {
    let rows = rows.iter().map(|&(t, a)| (Seconds(t), MetersPerSecond2(a))).collect();
    let readings = Readings::Acceleration(Series::new(rows).unwrap());
    estimate(&Run::new(&readings, None).unwrap().along(motion), &Setup::default()).unwrap()
}

/// Part of 2000 runs in whose 95 % interval the true acceleration lies, errors being
/// e(k) + share · e(k + 1).
fn held(share: f64, last_digit: f64) -> f64 {
    const RUNS: u32 = 2000;
    let mut noise = Noise(20_261_126);
    let mut held = 0;
    for _ in 0..RUNS {
        let truth = 0.1 + noise.even();
        let errors: Vec<f64> = (0..121).map(|_| 0.05 * noise.normal()).collect();
        let rows: Vec<(f64, f64)> = errors
            .windows(2)
            .zip(0..)
            .map(|(pair, k)| {
                let value = truth + pair[0] + share * pair[1];
                (0.01 * f64::from(k), (value / last_digit).round() * last_digit)
            })
            .collect();
        let interval = fit(&rows, Motion::Falling).acceleration.coverage_interval(Probability::P95);
        held += u32::from((interval.low.0..=interval.high.0).contains(&truth));
    }
    f64::from(held) / f64::from(RUNS)
}

#[test]
fn intervals_of_sampled_accelerations_hold_the_truth() {
    // Four standard deviations of a count of 2000 with probability 0.95: 0.0195 of it.
    const FOUR_DEVIATIONS: f64 = 0.0195;
    // Errors of their own, shared by neighbors as smoothing does, a coarse last digit.
    for (share, last_digit) in [(0.0, 1e-6), (1.0, 1e-6), (0.5, 1e-6), (-0.3, 1e-6), (0.0, 0.05)] {
        let found = held(share, last_digit);
        println!("neighbors share {share}, last digit {last_digit}: {found}");
        assert!(
            (found - 0.95).abs() < FOUR_DEVIATIONS,
            "neighbors share {share}, digit {last_digit}: {found}"
        );
    }
}

#[test]
fn whichever_way_they_count_a_fall_is_faster_and_a_rise_slower() {
    for sign in [1.0, -1.0] {
        let rows: Vec<(f64, f64)> =
            (0..50).map(|k| (0.02 * f64::from(k), sign * (0.4 + 1e-3 * f64::from(k % 3)))).collect();
        let falling = fit(&rows, Motion::Falling);
        let rising = fit(&rows, Motion::Rising);
        assert!((falling.acceleration.value().0 - 0.401).abs() < 1e-4);
        assert!((rising.acceleration.value().0 + 0.401).abs() < 1e-4);
        // From rest at the first reading, to rest at the last.
        assert!(falling.velocity_at(Seconds(0.0)).unwrap().0.abs() < 1e-12);
        assert!((falling.velocity_at(Seconds(0.98)).unwrap().0 - 0.393).abs() < 1e-3);
        assert!(rising.velocity_at(Seconds(0.98)).unwrap().0.abs() < 1e-12);
        assert!((rising.velocity_at(Seconds(0.0)).unwrap().0 - 0.393).abs() < 1e-3);
    }
}

#[test]
fn drag_is_told_from_the_slope_and_taken_out() {
    // v' = a₀ − κ v from rest: a = a₀ e^(−κ t).
    let (a, rate) = (0.5, 0.08);
    let rows: Vec<(f64, f64)> = (0..200)
        .map(|k| (0.01 * f64::from(k), a * (-rate * 0.01 * f64::from(k)).exp() + 1e-6 * f64::from(k * k % 7)))
        .collect();
    let found = fit(&rows, Motion::Falling);
    let Curve::Sampled(_) = found.curve else { panic!("{:?}", found.curve) };
    let slowing = found.slowing().unwrap();
    // To first order in κ t, which is 0.16 at the end.
    assert!((slowing.rate / rate - 1.0).abs() < 0.02, "{slowing:?}");
    let at_rest = found.acceleration.value().0 - rate * slowing.effect;
    assert!((at_rest / a - 1.0).abs() < 0.01 && found.acceleration.value().0 < 0.94 * a, "{at_rest}");
}
