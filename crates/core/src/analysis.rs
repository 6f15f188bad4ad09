//! The whole chain over a lab, stage by stage.
//!
//! Each stage is one pure function of the lab and the stage before, so the page can remember
//! each on its own; [`analyze`] runs them all. What cannot be computed carries the reason.

use crate::acceleration::{self, AccelerationError, AccelerationFit};
use crate::apparatus::{Apparatus, ApparatusError};
use crate::bodies::{BodyError, Prediction, predict};
use crate::comparison::{Comparison, compare};
use crate::inertia::{Inertia, InertiaError, inertia};
use crate::lab::{Configuration, Lab, ObjectEntry, ObjectId, RunEntry, RunId};
use crate::measured::MeasuredError;
use crate::object::{ObjectInertia, subtract};
use crate::quantity::Kilograms;
use crate::runs::{Run, RunError};
use crate::torque::{FittedRun, PlacedPoint, TorqueError, place};

/// Everything that follows from a lab.
#[derive(Clone, Debug, PartialEq)]
pub struct Analysis {
    /// One per run, in the lab's order.
    pub runs: Vec<RunOutcome>,
    /// One per configuration: the empty table, then each object.
    pub lines: Vec<LineOutcome>,
    /// One per object.
    pub objects: Vec<ObjectOutcome>,
}

/// What a run gives.
#[derive(Clone, Debug, PartialEq)]
pub struct RunOutcome {
    /// Which run.
    pub id: RunId,
    /// Its acceleration.
    pub fit: Result<AccelerationFit, FitProblem>,
    /// Its place on the torque graph.
    pub point: Result<PlacedPoint, PointProblem>,
}

/// Why a run has no acceleration.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FitProblem {
    /// Too little in the stretch.
    #[error(transparent)]
    Run(#[from] RunError),
    /// The readings do not fix it.
    #[error(transparent)]
    Acceleration(#[from] AccelerationError),
}

/// Why a run has no torque point.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PointProblem {
    /// No acceleration.
    #[error("{0}")]
    Fit(FitProblem),
    /// No hanging mass.
    #[error("enter the hanging mass of this run")]
    MassMissing,
    /// No apparatus.
    #[error(transparent)]
    Apparatus(#[from] ApparatusError),
    /// Impossible numbers.
    #[error(transparent)]
    Torque(#[from] TorqueError),
}

/// What a configuration's runs give.
#[derive(Clone, Debug, PartialEq)]
pub struct LineOutcome {
    /// Which configuration.
    pub configuration: Configuration,
    /// The runs on the line, in the lab's order.
    pub used: Vec<RunId>,
    /// How many of its runs are not on the line because they have no torque point.
    pub left_out: usize,
    /// The line.
    pub inertia: Result<Inertia, LineProblem>,
}

/// Why a configuration has no line.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LineProblem {
    /// No apparatus.
    #[error(transparent)]
    Apparatus(#[from] ApparatusError),
    /// The runs do not fix it.
    #[error(transparent)]
    Inertia(#[from] InertiaError),
}

/// What an object gives.
#[derive(Clone, Debug, PartialEq)]
pub struct ObjectOutcome {
    /// Which object.
    pub id: ObjectId,
    /// Loaded less empty.
    pub measured: Result<ObjectInertia, ObjectProblem>,
    /// From its shape.
    pub predicted: Result<Prediction, PredictionProblem>,
    /// Both side by side; `None` while one of them is missing.
    pub comparison: Option<Result<Comparison, MeasuredError>>,
}

/// Why an object has no measured moment of inertia.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ObjectProblem {
    /// No line of the empty table.
    #[error("the empty table's line is missing: {0}")]
    Empty(LineProblem),
    /// No line of the loaded table.
    #[error("the loaded table's line is missing: {0}")]
    Loaded(LineProblem),
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}

/// Why an object has no predicted moment of inertia.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PredictionProblem {
    /// No parts.
    #[error("describe the object's shape to compare with a predicted value")]
    NoParts,
    /// A part is incomplete.
    #[error("part {number}: {problem}")]
    Body {
        /// Which part, from 1.
        number: usize,
        /// Why.
        problem: BodyError,
    },
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}

/// Runs every stage.
pub fn analyze(lab: &Lab) -> Analysis {
    let apparatus = lab.apparatus.check();
    let runs: Vec<_> = lab.runs().iter().map(|run| run_outcome(lab, run, &apparatus)).collect();
    let lines = line_outcomes(lab, &apparatus, &runs);
    let objects = object_outcomes(lab, &lines);
    Analysis { runs, lines, objects }
}

/// Stage 1: fits one run and places it on the torque graph.
pub fn run_outcome(lab: &Lab, run: &RunEntry, apparatus: &Result<Apparatus, ApparatusError>) -> RunOutcome {
    let travel = lab.apparatus.travel_per_spoke.map(|travel| travel.value()).filter(|travel| travel.0 > 0.0);
    let fit = Run::new(&run.readings, run.stretch)
        .map_err(FitProblem::from)
        .and_then(|run| Ok(acceleration::estimate(&run, travel)?));
    let point = match (&fit, run.hanging_mass, apparatus) {
        (Err(problem), _, _) => Err(PointProblem::Fit(problem.clone())),
        (_, None, _) => Err(PointProblem::MassMissing),
        (_, _, Err(problem)) => Err(PointProblem::Apparatus(*problem)),
        (Ok(fit), Some(mass), Ok(apparatus)) => {
            place(&fitted(run, fit, mass), apparatus).map_err(PointProblem::from)
        }
    };
    RunOutcome { id: run.id, fit, point }
}

fn fitted(run: &RunEntry, fit: &AccelerationFit, hanging_mass: Kilograms) -> FittedRun {
    FittedRun { hanging_mass, acceleration: fit.acceleration, kind: run.readings.kind() }
}

/// Stage 2: one line per configuration.
pub fn line_outcomes(
    lab: &Lab,
    apparatus: &Result<Apparatus, ApparatusError>,
    outcomes: &[RunOutcome],
) -> Vec<LineOutcome> {
    lab.configurations()
        .into_iter()
        .map(|configuration| {
            let of_it = lab.runs().iter().zip(outcomes).filter(|(run, _)| run.configuration == configuration);
            let usable: Vec<(RunId, FittedRun)> = of_it
                .clone()
                .filter_map(|(run, outcome)| match (&outcome.fit, &outcome.point, run.hanging_mass) {
                    (Ok(fit), Ok(_), Some(mass)) => Some((run.id, fitted(run, fit, mass))),
                    _ => None,
                })
                .collect();
            let left_out = of_it.count() - usable.len();
            let (used, fitted): (Vec<_>, Vec<_>) = usable.into_iter().unzip();
            let inertia = match apparatus {
                Ok(apparatus) => inertia(&fitted, apparatus).map_err(LineProblem::from),
                Err(problem) => Err(LineProblem::from(*problem)),
            };
            LineOutcome { configuration, used, left_out, inertia }
        })
        .collect()
}

/// Stage 3: subtracts the empty table, predicts, compares.
pub fn object_outcomes(lab: &Lab, lines: &[LineOutcome]) -> Vec<ObjectOutcome> {
    let line = |configuration| lines.iter().find(|line| line.configuration == configuration);
    let outcome = |object: &ObjectEntry| {
        let loaded = line(Configuration::Loaded(object.id))?;
        let empty = line(Configuration::EmptyTable)?;
        let measured = match (&loaded.inertia, &empty.inertia) {
            (_, Err(problem)) => Err(ObjectProblem::Empty(problem.clone())),
            (Err(problem), _) => Err(ObjectProblem::Loaded(problem.clone())),
            (Ok(loaded), Ok(empty)) => subtract(loaded, empty).map_err(ObjectProblem::from),
        };
        let predicted = prediction(object);
        let comparison = match (&measured, &predicted) {
            (Ok(measured), Ok(predicted)) => {
                Some(compare(&measured.moment_of_inertia.total, &predicted.moment_of_inertia))
            }
            _ => None,
        };
        Some(ObjectOutcome { id: object.id, measured, predicted, comparison })
    };
    lab.objects().iter().filter_map(outcome).collect()
}

/// What an object's shape predicts.
///
/// # Errors
/// When there are no parts, one is incomplete, or a result is not finite.
pub fn prediction(object: &ObjectEntry) -> Result<Prediction, PredictionProblem> {
    if object.parts.is_empty() {
        return Err(PredictionProblem::NoParts);
    }
    let bodies = object
        .parts
        .iter()
        .enumerate()
        .map(|(index, part)| {
            part.check().map_err(|problem| PredictionProblem::Body { number: index + 1, problem })
        })
        .collect::<Result<Vec<_>, _>>()?;
    Ok(predict(&bodies)?)
}
