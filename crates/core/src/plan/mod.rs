//! Before the first run: what chosen hanging masses will show, and which of those at hand show most.
//!
//! From the apparatus, the object's shape and guesses of the table's moment of inertia and friction follow
//! the motion of every run, its point on the torque graph and the uncertainties to be expected. Nothing is
//! estimated here a second time: the expected u(a) is the edge-time fit's own
//! ([`crate::acceleration::PlannedEdges`]), the expected u(I) comes out of the same chain that will analyze
//! the runs ([`crate::inertia::expected`]).
//!
//! ```text
//! a = (m g Rₑ − τ_f) / (I/Rₑ + (m + I_p/r_p²) Rₑ)        from rest over the drop height h
//! t = √(2h/a),   v = √(2ah)
//! ```
//!
//! Choosing masses is optimal design (V. V. Fedorov, *Theory of Optimal Experiments*, Academic Press
//! 1972; A. C. Atkinson and A. N. Donev, *Optimum Experimental Designs*, Oxford 1992): see [`best_masses`].

mod cautions;
mod choice;
mod expectation;
mod input;
mod pieces;
mod run;

pub use cautions::{Caution, RunCaution};
pub use choice::{Choice, MOST_RUNS, best_masses, why_these_masses};
pub use expectation::{FEWEST_RUNS, Plan, plan};
pub use input::{FRICTION_SCATTER, NOISE, PlanInput, USUAL_RUNS};
pub use pieces::{Hung, MOST_PIECES, MOST_REACHABLE, PiecesError, parse_pieces, reachable, write_pieces};
pub use run::{PlannedRun, Table, predict_run};

use crate::acceleration::AccelerationError;
use crate::analysis::PredictionProblem;
use crate::apparatus::ApparatusError;
use crate::fit::FitError;
use crate::inertia::InertiaError;
use crate::measured::MeasuredError;
use crate::measured::shown::{DisplayUnit, show_number};
use crate::quantity::Kilograms;
use crate::torque::TorqueError;
use run::FEWEST_EDGES;
use whorl_words as words;

/// Why nothing can be planned.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PlanProblem {
    /// Something is missing or impossible there.
    #[error(transparent)]
    Apparatus(#[from] ApparatusError),
    /// No travel per spoke.
    #[error(transparent)]
    Travel(AccelerationError),
    /// No drop height.
    #[error("{}", words::planning::height_missing())]
    HeightMissing,
    /// No object of that name.
    #[error("{}", words::planning::no_object())]
    NoObject,
    /// Its shape does not tell its moment of inertia.
    #[error("{}", words::planning::shape_missing(.0))]
    Shape(#[from] PredictionProblem),
    /// No guess of it.
    #[error("{}", words::planning::table_missing())]
    TableMissing,
    /// No guess of it.
    #[error("{}", words::planning::friction_missing())]
    FrictionMissing,
    /// A number that must be above zero, or at least zero, is not.
    #[error("{0}")]
    Impossible(&'static str),
    /// The pull does not overcome friction.
    #[error("{}", words::planning::held_by_friction(.table, &grams(*.mass), &grams(*.balancing)))]
    HeldByFriction {
        /// Which table.
        table: Table,
        /// The mass.
        mass: Kilograms,
        /// The mass whose pull friction balances.
        balancing: Kilograms,
    },
    /// Nothing a fit could be made of.
    #[error("{}", words::planning::too_few_edges(.edges, &FEWEST_EDGES))]
    TooFewEdges {
        /// Edges in the fall.
        edges: usize,
    },
    /// Height and travel do not go together.
    #[error("{}", words::planning::too_many_edges(.edges))]
    TooManyEdges {
        /// Edges in the fall.
        edges: f64,
    },
    /// Too few or too many runs.
    #[error("{}", words::planning::number_of_runs(&FEWEST_RUNS, &MOST_RUNS))]
    Runs,
    /// Not enough masses to choose from.
    #[error("{}", words::planning::few_masses_suit(.table, .usable, &FEWEST_RUNS, &remedy(*.unfit)))]
    FewMasses {
        /// Which table.
        table: Table,
        /// Masses that would do.
        usable: usize,
        /// Why the others would not, the reason that most of them have.
        unfit: Option<RunCaution>,
    },
    /// The fit does not work.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// A run gives no torque point.
    #[error(transparent)]
    Torque(#[from] TorqueError),
    /// No line comes of them.
    #[error("{}", words::planning::no_line(.table, .problem))]
    Line {
        /// Which table.
        table: Table,
        /// Why.
        problem: InertiaError,
    },
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}

/// A mass in grams.
fn grams(mass: Kilograms) -> String {
    show_number(mass.0, DisplayUnit::GRAMS, 3)
}

/// What would let more masses do.
fn remedy(unfit: Option<RunCaution>) -> String {
    unfit.map_or_else(|| words::planning::add_other_pieces().to_owned(), RunCaution::remedy)
}

#[cfg(test)]
mod tests;
