//! A lab's model as plain numbers: best estimates, what is known of their errors, and the results as
//! first-order propagation gives them.

use super::FirstOrder;
use crate::acceleration::Scale;
use crate::analysis::{Analysis, LineOutcome, ObjectOutcome};
use crate::apparatus::ApparatusError;
use crate::lab::{Configuration, Lab, ObjectId};
use crate::measured::Measured;
use crate::measured::coverage::Probability;
use crate::quantity::Quantity;
use crate::torque::{FittedRun, Motion};
use whorl_words as words;

/// A value with its standard uncertainty, in SI units.
pub(super) type Known = [f64; 2];

/// Everything a simulation needs, in SI units.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    pub(super) shared: Shared,
    /// By which part of itself friction differs from run to run, and the degrees of freedom of that.
    pub(super) friction: [f64; 2],
    /// u(b) of the drag that was taken out; `None` without correction.
    pub(super) drag: Option<f64>,
    pub(super) lines: Vec<Line>,
    pub(super) objects: Vec<Object>,
}

/// What all runs share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shared {
    pub(super) drum_radius: Known,
    pub(super) string_diameter: Known,
    pub(super) gravity: Known,
    /// Relative standard uncertainties of travel per spoke, drop height and balance.
    pub(super) travel: f64,
    pub(super) height: f64,
    pub(super) balance: f64,
    pub(super) pulley_inertia: Known,
    pub(super) pulley_radius: f64,
    /// u_m of each hanging mass on its own.
    pub(super) hanging_mass: f64,
}

/// One configuration.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    pub(super) configuration: Configuration,
    /// Friction torque by which its scatter is scaled, N·m.
    pub(super) friction: f64,
    pub(super) runs: Vec<Run>,
    pub(super) moment_of_inertia: FirstOrder,
    pub(super) friction_torque: FirstOrder,
}

/// One run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Run {
    pub(super) motion: Motion,
    pub(super) scale: Scale,
    pub(super) mass: f64,
    pub(super) acceleration: Known,
    pub(super) degrees_of_freedom: f64,
    /// κ with u(κ), and B ([`crate::acceleration::Slowing`]); zeros where the run does not tell.
    pub(super) rate: Known,
    pub(super) effect: f64,
}

/// One object.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Object {
    pub(super) id: ObjectId,
    pub(super) moment_of_inertia: FirstOrder,
    pub(super) predicted: Option<Predicted>,
}

/// What its shape predicts, and the difference from that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Predicted {
    pub(super) value: Known,
    pub(super) degrees_of_freedom: f64,
    pub(super) difference: FirstOrder,
}

/// One result of the model.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    /// I of a configuration, in kg·m².
    MomentOfInertia(Configuration),
    /// τ_f of a configuration, in N·m.
    FrictionTorque(Configuration),
    /// I of an object alone, in kg·m².
    Object(ObjectId),
    /// Measured less predicted, in kg·m².
    Difference(ObjectId),
}

/// Why there is nothing to simulate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ModelError {
    /// No apparatus.
    #[error(transparent)]
    Apparatus(#[from] ApparatusError),
    /// No line.
    #[error("{}", words::chain::nothing_to_simulate())]
    NoLine,
}

impl FirstOrder {
    fn of<Q: Quantity>(result: &Measured<Q>) -> Self {
        let interval = result.coverage_interval(Probability::P95);
        Self {
            value: result.value().si(),
            standard_uncertainty: result.standard_uncertainty().si(),
            interval: [interval.low.si(), interval.high.si()],
        }
    }
}

fn known<Q: Quantity>(measured: &Measured<Q>) -> Known {
    [measured.value().si(), measured.standard_uncertainty().si()]
}

impl Model {
    /// The model behind an analysis.
    ///
    /// # Errors
    /// When no configuration has a line.
    pub fn of(lab: &Lab, analysis: &Analysis) -> Result<Self, ModelError> {
        let apparatus = lab.apparatus.check()?;
        let together = analysis.lines.together.ok_or(ModelError::NoLine)?;
        let rig = apparatus.rig();
        let relative = |u: Option<f64>| u.unwrap_or(0.0);
        let shared = Shared {
            drum_radius: known(apparatus.drum_radius()),
            string_diameter: known(apparatus.string_diameter()),
            gravity: known(apparatus.gravity()),
            travel: relative(apparatus.travel_per_spoke().and_then(Measured::relative_uncertainty)),
            height: relative(apparatus.drop_height().and_then(Measured::relative_uncertainty)),
            balance: apparatus.mass_scale_uncertainty().0,
            pulley_inertia: apparatus.pulley().map_or([0.0; 2], |pulley| known(&pulley.0)),
            pulley_radius: rig.pulley_radius.0,
            hanging_mass: apparatus.hanging_mass_uncertainty().0,
        };
        let scatter = together.friction_scatter.0;
        let lines: Vec<Line> = analysis
            .lines
            .configurations
            .iter()
            .filter_map(|outcome| line(lab, analysis, outcome, scatter))
            .collect();
        if lines.is_empty() {
            return Err(ModelError::NoLine);
        }
        Ok(Self {
            shared,
            friction: [scatter, together.degrees_of_freedom as f64],
            drag: together.drag.filter(|drag| drag.corrected).map(|drag| drag.uncertainty.0),
            lines,
            objects: analysis.objects.iter().filter_map(object).collect(),
        })
    }

    /// The results, in the order in which an outcome has them.
    pub fn targets(&self) -> Vec<(Target, FirstOrder)> {
        let mut targets = Vec::new();
        for line in &self.lines {
            targets.push((Target::MomentOfInertia(line.configuration), line.moment_of_inertia));
            targets.push((Target::FrictionTorque(line.configuration), line.friction_torque));
        }
        for object in &self.objects {
            targets.push((Target::Object(object.id), object.moment_of_inertia));
            if let Some(predicted) = &object.predicted {
                targets.push((Target::Difference(object.id), predicted.difference));
            }
        }
        targets
    }
}

fn line(lab: &Lab, analysis: &Analysis, outcome: &LineOutcome, scatter: f64) -> Option<Line> {
    let inertia = outcome.inertia.as_ref().ok()?;
    let mut runs = Vec::with_capacity(outcome.used.len());
    for (entry, found) in lab.runs().iter().zip(&analysis.runs) {
        if !outcome.used.contains(&entry.id) {
            continue;
        }
        let fitted = FittedRun::new(entry.hanging_mass?, entry.motion, found.fit.as_ref().ok()?);
        let slowing = fitted.slowing.as_ref();
        runs.push(Run {
            motion: fitted.motion,
            scale: fitted.scale,
            mass: fitted.hanging_mass.0,
            acceleration: known(&fitted.acceleration),
            degrees_of_freedom: fitted.acceleration.degrees_of_freedom().get(),
            rate: slowing.map_or([0.0; 2], |slowing| [slowing.rate, slowing.rate_uncertainty]),
            effect: slowing.map_or(0.0, |slowing| slowing.effect),
        });
    }
    Some(Line {
        configuration: outcome.configuration,
        friction: inertia.friction_scatter.0 / scatter,
        runs,
        moment_of_inertia: FirstOrder::of(&inertia.moment_of_inertia.total),
        friction_torque: FirstOrder::of(&inertia.friction_torque.total),
    })
}

fn object(outcome: &ObjectOutcome) -> Option<Object> {
    let measured = outcome.measured.as_ref().ok()?;
    let predicted = match (&outcome.predicted, &outcome.comparison) {
        (Ok(prediction), Some(Ok(comparison))) => Some(Predicted {
            value: known(&prediction.moment_of_inertia),
            degrees_of_freedom: prediction.moment_of_inertia.degrees_of_freedom().get(),
            difference: FirstOrder::of(&comparison.difference),
        }),
        _ => None,
    };
    let moment_of_inertia = FirstOrder::of(&measured.moment_of_inertia.total);
    Some(Object { id: outcome.id, moment_of_inertia, predicted })
}
