//! Accelerations of runs made by closed forms.

use super::*;
use crate::readings::Series;
use proptest::prelude::*;

fn gate(travel: f64) -> Setup {
    Setup { travel_per_spoke: Some(Meters(travel)), ..Setup::default() }
}

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
    assert_eq!(estimate(&run, &Setup::default()), Err(AccelerationError::TravelMissing));
    assert!(velocities(&readings, &Setup::default()).is_empty());
}

#[test]
fn velocities_between_gates_stand_at_mid_time() {
    let readings = Readings::from_gate_times(&[0.0, 0.5, 0.75].map(Seconds)).unwrap();
    let found = velocities(&readings, &gate(0.015));
    assert_eq!(found, [(Seconds(0.25), MetersPerSecond(0.03)), (Seconds(0.625), MetersPerSecond(0.06))]);
}

proptest! {
    #[test]
    fn noise_free_gate_times_give_back_their_acceleration(
        a in 0.01..5.0_f64, v0 in 0.05..1.0_f64, n in 8..80_u32
    ) {
        let readings = gate_run(a, v0, 0.015, n);
        let fit = estimate(&Run::new(&readings, None).unwrap(), &gate(0.015)).unwrap();
        prop_assert!((fit.acceleration.value().0 / a - 1.0).abs() < 1e-7);
    }

    #[test]
    fn the_clock_s_start_changes_no_acceleration(a in -5.0..5.0_f64, start in 0.0..1e6_f64, n in 3..100_u32) {
        let rows = |offset: f64| (0..n).map(|k| f64::from(k) * 0.05)
            .map(|t| (Seconds(offset + t), MetersPerSecond(0.1 + a * t))).collect();
        let fit = |offset| {
            let readings = Readings::Velocity(Series::new(rows(offset)).unwrap());
            estimate(&Run::new(&readings, None).unwrap(), &Setup::default()).unwrap().acceleration.value().0
        };
        // Times near 1e6 s carry 1e-10 s of rounding each.
        prop_assert!((fit(start) - fit(0.0)).abs() < 1e-7);
    }
}
