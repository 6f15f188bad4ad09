//! Viscous friction that no torque line would show, from runs that obey it exactly.

use whorl_core::acceleration::{Scale, Slowing};
use whorl_core::apparatus::Apparatus;
use whorl_core::inertia::joint;
use whorl_core::measured::Measured;
use whorl_core::quantity::{KilogramMeters2, Kilograms, Meters, MetersPerSecond2, Ratio};
use whorl_core::torque::{FittedRun, Motion};

const DRAG: f64 = 2e-4;
const FRICTION: f64 = 1e-3;
const RADIUS: f64 = 0.0255;
const PULLEY: (f64, f64) = (4e-6, 0.024);

/// Runs that drag holds back by half their acceleration, as a fit without drag sees them.
fn runs(own: f64, masses: [f64; 4]) -> Vec<FittedRun> {
    let run = |mass: f64| {
        let moved = own + (mass + PULLEY.0 / (PULLEY.1 * PULLEY.1)) * RADIUS * RADIUS;
        let at_rest = (mass * 9.81 * RADIUS - FRICTION) * RADIUS / moved;
        // The faster a run, the more of its fall is spent at speed.
        let slowing = Slowing {
            rate: DRAG / moved,
            rate_uncertainty: 1e-5,
            degrees_of_freedom: 30,
            effect: -0.5 * at_rest.sqrt(),
            sum_of_squares: 0.0,
        };
        let fitted = MetersPerSecond2(at_rest + slowing.rate * slowing.effect);
        FittedRun {
            hanging_mass: Kilograms(mass),
            acceleration: Measured::new(fitted, MetersPerSecond2(1e-6)).unwrap(),
            motion: Motion::Falling,
            scale: Scale::Travel,
            slowing: Some(slowing),
        }
    };
    masses.map(run).to_vec()
}

#[test]
fn strong_drag_is_taken_out_to_the_last_digit() {
    let length = |value| Measured::new(Meters(value), Meters(0.0)).ok();
    let gravity = Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.0)).ok();
    let pulley = Measured::new(KilogramMeters2(PULLEY.0), KilogramMeters2(0.0)).ok();
    let apparatus = Apparatus::new(length(0.025), length(0.001), gravity, length(0.015), Ratio(0.0))
        .unwrap()
        .with_pulley(pulley, Some(Meters(PULLEY.1)))
        .unwrap();
    let tables = [1.5e-3, 8.5e-3];
    let groups = [runs(tables[0], [0.02, 0.03, 0.04, 0.05]), runs(tables[1], [0.05, 0.1, 0.15, 0.2])];
    let found = joint(&groups, &apparatus);
    let drag = found.drag.unwrap();
    assert!(drag.corrected && drag.runs == 8);
    assert!((drag.coefficient.0 / DRAG - 1.0).abs() < 1e-10, "{}", drag.coefficient.0);
    for (inertia, own) in found.inertias.iter().zip(tables) {
        // Both are off by several hundredths in the lines one would draw.
        let line = &inertia.as_ref().unwrap().line;
        assert!((line.drawn.slope / own - 1.0).abs() > 0.02, "{}", line.drawn.slope);
        assert!((line.fit.slope / own - 1.0).abs() < 1e-10, "{}", line.fit.slope);
        assert!((line.fit.intercept / FRICTION - 1.0).abs() < 1e-9, "{}", line.fit.intercept);
    }
}
