//! Lines of runs that obey Newton's second law exactly.

use super::*;
use crate::acceleration::Scale;
use crate::measured::Measured;
use crate::quantity::{Kilograms, Meters, MetersPerSecond2, Ratio};
use crate::torque::Motion;

/// Runs of a table that obeys τ = I α + τ_f exactly: a = (m g R − τ_f) R / (I + m R²).
fn exact_runs(inertia: f64, friction: f64, radius: f64) -> Vec<FittedRun> {
    [0.02, 0.05, 0.08, 0.11, 0.14]
        .map(|m: f64| {
            let a = (m * 9.81 * radius - friction) * radius / (inertia + m * radius * radius);
            FittedRun {
                hanging_mass: Kilograms(m),
                acceleration: Measured::new(MetersPerSecond2(a), MetersPerSecond2(0.0)).unwrap(),
                motion: Motion::Falling,
                scale: Scale::Travel,
                slowing: None,
            }
        })
        .to_vec()
}

fn inertia(runs: &[FittedRun], apparatus: &Apparatus) -> Result<Inertia, InertiaError> {
    joint(&[runs.to_vec()], apparatus).inertias.remove(0)
}

fn apparatus(u_radius: f64, u_travel: f64) -> Apparatus {
    Apparatus::new(
        Measured::new(Meters(0.025), Meters(u_radius)).ok(),
        Measured::new(Meters(0.001), Meters(0.0)).ok(),
        Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.0)).ok(),
        Measured::new(Meters(0.015), Meters(u_travel)).ok(),
        Ratio(0.0),
    )
    .unwrap()
}

#[test]
fn exact_runs_give_back_inertia_and_friction() {
    let found = inertia(&exact_runs(1.5e-3, 1e-3, 0.0255), &apparatus(0.0, 0.0)).unwrap();
    assert!((found.moment_of_inertia.total.value().0 / 1.5e-3 - 1.0).abs() < 1e-10);
    assert!((found.friction_torque.total.value().0 / 1e-3 - 1.0).abs() < 1e-10);
    assert_eq!(found.line.chi_square, None);
}

#[test]
fn the_radius_counts_twice() {
    // I ∝ Rₑ², so u(I)/I = 2 u(R)/Rₑ: 2 · 0.0255 mm / 25.5 mm = 0.2 %. And τ_f ∝ Rₑ: 0.1 %.
    let found = inertia(&exact_runs(1.5e-3, 1e-3, 0.0255), &apparatus(2.55e-5, 0.0)).unwrap();
    assert!((found.moment_of_inertia.shared.0 / (2e-3 * 1.5e-3) - 1.0).abs() < 1e-6);
    assert!((found.friction_torque.shared.0 / 1e-6 - 1.0).abs() < 1e-6);
    assert!(found.moment_of_inertia.total.degrees_of_freedom().get() > 1e6);
}

#[test]
fn the_spoke_pitch_counts_about_once() {
    // I + m R² = (m g R − τ_f) R/a: with a scaled by 1 + ε the slope falls by about I ε, and the
    // difference is the small m R² part.
    let found = inertia(&exact_runs(1.5e-3, 1e-3, 0.0255), &apparatus(0.0, 1.5e-5)).unwrap();
    let relative = found.contributions[2].moment_of_inertia.0 / 1.5e-3;
    assert!(relative < -0.9e-3 && relative > -1.2e-3, "{relative}");
}

#[test]
fn an_absurd_uncertainty_is_named() {
    let found = inertia(&exact_runs(1.5e-3, 1e-3, 0.0255), &apparatus(0.0, 1.0));
    assert_eq!(found, Err(InertiaError::UncertaintyTooLarge(SharedInput::TravelPerSpoke)));
}

#[test]
fn two_runs_are_not_a_line() {
    let runs = exact_runs(1.5e-3, 1e-3, 0.0255);
    let error = inertia(&runs[..2], &apparatus(0.0, 0.0)).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the line needs at least 3 usable runs; there are 2. Add runs with other hanging masses"
    );
}
