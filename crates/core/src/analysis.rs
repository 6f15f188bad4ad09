//! The whole chain over a lab, stage by stage.
//!
//! Each stage is one pure function of the lab and the stage before, so the page can remember
//! each on its own; [`analyze`] runs them all. What cannot be computed carries the reason.

use crate::acceleration::{self, AccelerationError, AccelerationFit, Setup};
use crate::apparatus::{Apparatus, ApparatusError};
use crate::bodies::{BodyError, Prediction, predict};
use crate::comparison::{Comparison, compare};
use crate::inertia::{DragFound, Inertia, InertiaError, Joint, LineError, joint};
use crate::lab::{Configuration, Lab, ObjectEntry, ObjectId, Record, RunEntry, RunId};
use crate::measured::MeasuredError;
use crate::object::{ObjectInertia, subtract};
use crate::quantity::{Kilograms, Ratio};
use crate::runs::{Run, RunError, Stretch};
use crate::stretch::{Found, find};
use crate::torque::{Drag, FittedRun, Motion, PlacedPoint, TorqueError, place};
use whorl_words as words;

/// Everything that follows from a lab.
#[derive(Clone, Debug, PartialEq)]
pub struct Analysis {
    /// One per run, in the lab's order.
    pub runs: Vec<RunOutcome>,
    /// The lines of all configurations.
    pub lines: LineOutcomes,
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
    /// The stretch that was fitted; `None` for all readings, or where there are none.
    pub stretch: Option<Stretch>,
    /// What was found in the record; `None` where the stretch was chosen, or there are no readings.
    pub found: Option<Found>,
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
    #[error("{}", words::chain::mass_missing())]
    MassMissing,
    /// No apparatus.
    #[error(transparent)]
    Apparatus(#[from] ApparatusError),
    /// Impossible numbers.
    #[error(transparent)]
    Torque(#[from] TorqueError),
}

/// What all configurations give together.
#[derive(Clone, Debug, PartialEq)]
pub struct LineOutcomes {
    /// One per configuration: the empty table, then each object.
    pub configurations: Vec<LineOutcome>,
    /// What the lines share; `None` without an apparatus.
    pub together: Option<Together>,
}

impl LineOutcomes {
    /// The line of one configuration.
    pub fn inertia(&self, configuration: Configuration) -> Option<&Inertia> {
        self.configurations.iter().find(|line| line.configuration == configuration)?.inertia.as_ref().ok()
    }
}

/// What is estimated from the runs of all configurations together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Together {
    /// By how much friction differs from run to run, as a part of it.
    pub friction_scatter: Ratio,
    /// Runs − 2 of every line.
    pub degrees_of_freedom: usize,
    /// χ² with friction the same in all runs of a line.
    pub chi_square: Option<f64>,
    /// Viscous friction, where the curvature of runs tells of it.
    pub drag: Option<DragFound>,
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
    #[error("{}", words::chain::empty_line_missing(.0))]
    Empty(LineProblem),
    /// No line of the loaded table.
    #[error("{}", words::chain::loaded_line_missing(.0))]
    Loaded(LineProblem),
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}

/// Why an object has no predicted moment of inertia.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PredictionProblem {
    /// No parts.
    #[error("{}", words::bodies::no_parts())]
    NoParts,
    /// A part is incomplete.
    #[error("{}", words::bodies::part(.number, .problem))]
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
    let setup = lab.apparatus.setup();
    let runs: Vec<_> =
        lab.runs().iter().map(|run| run_outcome(run, fit_run(run, &setup), &apparatus)).collect();
    let lines = line_outcomes(lab, &apparatus, &runs);
    let objects = object_outcomes(lab, &lines.configurations);
    Analysis { runs, lines, objects }
}

/// A run's fit, and of which stretch.
#[derive(Clone, Debug, PartialEq)]
pub struct FittedStretch {
    /// The acceleration.
    pub fit: Result<AccelerationFit, FitProblem>,
    /// The stretch that was fitted; `None` for all readings, or where there are none.
    pub stretch: Option<Stretch>,
    /// What was found in the record; `None` where the stretch was chosen, or there are no readings.
    pub found: Option<Found>,
}

/// Stage 1: fits one run. Follows from the run alone and [what it needs](Record::needed_of) of the setup.
///
/// Where no stretch was chosen, the fall is looked for, or the rise after it; where none is found, all
/// readings are fitted, and [`FittedStretch::found`] says so.
pub fn fit_run(run: &RunEntry, setup: &Setup) -> FittedStretch {
    let setup = &run.record.needed_of(*setup);
    let mut found = None;
    let mut stretch = run.stretch;
    let fit = match &run.record {
        Record::Readings(readings) => {
            if stretch.is_none() {
                let seen = find(readings, setup.travel_per_spoke, setup.spokes);
                let wanted = match run.motion {
                    Motion::Falling => seen.best,
                    Motion::Rising => seen.rise,
                    // Slowing down by itself looks like nothing in particular.
                    Motion::Coasting => None,
                };
                stretch = wanted.map(|candidate| candidate.stretch);
                found = Some(seen);
            }
            Run::new(readings, stretch)
                .map_err(FitProblem::from)
                .and_then(|fitted| Ok(acceleration::estimate(&fitted.along(run.motion), setup)?))
        }
        Record::Stopwatch(times) => acceleration::estimate_by_hand(times, setup).map_err(FitProblem::from),
        Record::Acceleration(value) => match value {
            Some(value) => Ok(acceleration::entered(*value)),
            None => Err(AccelerationError::ValueMissing.into()),
        },
        Record::AngularAcceleration(value) => match value {
            Some(value) => acceleration::entered_angular(*value, setup).map_err(FitProblem::from),
            None => Err(AccelerationError::ValueMissing.into()),
        },
    };
    FittedStretch { fit, stretch, found }
}

/// Stage 2: places a fitted run on the torque graph.
pub fn run_outcome(
    run: &RunEntry,
    fitted: FittedStretch,
    apparatus: &Result<Apparatus, ApparatusError>,
) -> RunOutcome {
    let FittedStretch { fit, stretch, found } = fitted;
    let mass = match run.motion {
        Motion::Coasting => Some(Kilograms(0.0)),
        Motion::Falling | Motion::Rising => run.hanging_mass,
    };
    let point = match (&fit, mass, apparatus) {
        (Err(problem), _, _) => Err(PointProblem::Fit(problem.clone())),
        (_, None, _) => Err(PointProblem::MassMissing),
        (_, _, Err(problem)) => Err(PointProblem::Apparatus(*problem)),
        (Ok(fit), Some(mass), Ok(apparatus)) => {
            place(&FittedRun::new(mass, run.motion, fit), apparatus, &Drag::default())
                .map_err(PointProblem::from)
        }
    };
    RunOutcome { id: run.id, fit, stretch, found, point }
}

/// Stage 3: one fit over all configurations.
pub fn line_outcomes(
    lab: &Lab,
    apparatus: &Result<Apparatus, ApparatusError>,
    outcomes: &[RunOutcome],
) -> LineOutcomes {
    let mut configurations: Vec<LineOutcome> = Vec::new();
    let mut groups: Vec<Vec<FittedRun>> = Vec::new();
    for configuration in lab.configurations() {
        let (mut used, mut fitted, mut left_out) = (Vec::new(), Vec::new(), 0);
        for (run, outcome) in lab.runs().iter().zip(outcomes) {
            // A coasting table tells of friction, not of the line.
            if run.configuration != configuration || run.motion == Motion::Coasting {
                continue;
            }
            match (&outcome.fit, &outcome.point, run.hanging_mass) {
                (Ok(fit), Ok(_), Some(mass)) => {
                    used.push(run.id);
                    fitted.push(FittedRun::new(mass, run.motion, fit));
                }
                _ => left_out += 1,
            }
        }
        let found = configurations.len();
        let none = InertiaError::Line(LineError::TooFewRuns { found });
        configurations.push(LineOutcome { configuration, used, left_out, inertia: Err(none.into()) });
        groups.push(fitted);
    }
    let apparatus = match apparatus {
        Ok(apparatus) => apparatus,
        Err(problem) => {
            for line in &mut configurations {
                line.inertia = Err((*problem).into());
            }
            return LineOutcomes { configurations, together: None };
        }
    };
    let Joint { inertias, friction_scatter, degrees_of_freedom, chi_square, drag } =
        joint(&groups, apparatus);
    for (line, inertia) in configurations.iter_mut().zip(inertias) {
        line.inertia = inertia.map_err(LineProblem::from);
    }
    let together = Some(Together { friction_scatter, degrees_of_freedom, chi_square, drag });
    LineOutcomes { configurations, together }
}

/// Stage 4: subtracts the empty table, predicts, compares.
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
