//! What the shared inputs do to a line.
//!
//! The sensitivity to each shared input is evaluated by sending the whole chain through twice,
//! once with the input raised by its standard uncertainty and once with it lowered; half the
//! difference is that input's contribution uᵢ(y) (JCGM 100:2008 5.1.3, note 2). The same shift
//! acts on every configuration at once, which is how the correlation between the empty and the
//! loaded table is kept (5.2.2).

use super::{InertiaLine, LineError, estimate};
use crate::apparatus::{Apparatus, Rig, SharedInput};
use crate::measured::{Combined, MeasuredError};
use crate::quantity::{KilogramMeters2, NewtonMeters};
use crate::torque::{FittedRun, TorqueError, torque_point};

/// What one shared input contributes, with its sign: positive when a larger input raises the result.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contribution {
    /// Which input.
    pub input: SharedInput,
    /// Change of the moment of inertia per standard uncertainty of the input.
    pub moment_of_inertia: KilogramMeters2,
    /// Change of the friction torque per standard uncertainty of the input.
    pub friction_torque: NewtonMeters,
}

/// Everything one configuration's runs tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Inertia {
    /// The line through the best estimates.
    pub line: InertiaLine,
    /// What each shared input contributes, in the order of [`SharedInput::ALL`].
    pub contributions: Vec<Contribution>,
    /// I with both kinds of uncertainty.
    pub moment_of_inertia: Combined<KilogramMeters2>,
    /// τ_f with both kinds of uncertainty.
    pub friction_torque: Combined<NewtonMeters>,
}

/// Why there is no moment of inertia.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum InertiaError {
    /// A run gives no torque point.
    #[error("run {number}: {problem}")]
    Torque {
        /// Which of the runs given, from 1.
        number: usize,
        /// Why.
        problem: TorqueError,
    },
    /// The points give no line.
    #[error(transparent)]
    Line(#[from] LineError),
    /// An uncertainty so large that moving the input by it makes no sense any more.
    #[error("the uncertainty of the {} is too large to work with; check it at the apparatus", .0.words())]
    UncertaintyTooLarge(SharedInput),
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}

/// Moment of inertia and friction torque from the runs of one configuration.
///
/// # Errors
/// When a run gives no torque point, the points give no line, or an uncertainty is absurd.
pub fn inertia(runs: &[FittedRun], apparatus: &Apparatus) -> Result<Inertia, InertiaError> {
    let line = line_on(runs, &apparatus.rig())?;
    let contributions = SharedInput::ALL
        .into_iter()
        .map(|input| {
            let moved = |steps| {
                line_on(runs, &apparatus.rig_shifted(input, steps))
                    .map_err(|_| InertiaError::UncertaintyTooLarge(input))
            };
            let (up, down) = (moved(1.0)?, moved(-1.0)?);
            let inertia = up.moment_of_inertia.value() - down.moment_of_inertia.value();
            let friction = up.friction_torque.value() - down.friction_torque.value();
            Ok(Contribution { input, moment_of_inertia: inertia * 0.5, friction_torque: friction * 0.5 })
        })
        .collect::<Result<Vec<_>, InertiaError>>()?;
    Ok(Inertia {
        moment_of_inertia: Combined::new(
            line.moment_of_inertia,
            contributions.iter().map(|part| part.moment_of_inertia.0),
        )?,
        friction_torque: Combined::new(
            line.friction_torque,
            contributions.iter().map(|part| part.friction_torque.0),
        )?,
        line,
        contributions,
    })
}

fn line_on(runs: &[FittedRun], rig: &Rig) -> Result<InertiaLine, InertiaError> {
    let points = runs
        .iter()
        .enumerate()
        .map(|(index, run)| {
            torque_point(run, rig).map_err(|problem| InertiaError::Torque { number: index + 1, problem })
        })
        .collect::<Result<Vec<_>, _>>()?;
    Ok(estimate(&points)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measured::Measured;
    use crate::quantity::{Kilograms, Meters, MetersPerSecond2, Ratio};
    use crate::readings::ReadingKind;

    /// Runs of a table that obeys τ = I α + τ_f exactly: a = (m g R − τ_f) R / (I + m R²).
    fn exact_runs(inertia: f64, friction: f64, radius: f64) -> Vec<FittedRun> {
        [0.02, 0.05, 0.08, 0.11, 0.14]
            .map(|m: f64| {
                let a = (m * 9.81 * radius - friction) * radius / (inertia + m * radius * radius);
                FittedRun {
                    hanging_mass: Kilograms(m),
                    acceleration: Measured::new(MetersPerSecond2(a), MetersPerSecond2(0.0)).unwrap(),
                    kind: ReadingKind::GateTimes,
                }
            })
            .to_vec()
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
}
