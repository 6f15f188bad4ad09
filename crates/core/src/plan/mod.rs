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
pub use choice::{Choice, MOST_RUNS, WHY, best_masses};
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
    #[error("planning needs the drop height; enter it at the apparatus")]
    HeightMissing,
    /// No object of that name.
    #[error("there is no such object; name the objects first")]
    NoObject,
    /// Its shape does not tell its moment of inertia.
    #[error("planning needs the object’s moment of inertia from its shape: {0}")]
    Shape(#[from] PredictionProblem),
    /// No guess of it.
    #[error(
        "guess the empty table’s moment of inertia: for a disc of mass M and radius r, half of M r² is near enough"
    )]
    TableMissing,
    /// No guess of it.
    #[error(
        "guess the friction torque: find the mass that just keeps the table turning once pushed; its weight times the drum’s radius is the torque"
    )]
    FrictionMissing,
    /// A number that must be above zero, or at least zero, is not.
    #[error("{0}")]
    Impossible(&'static str),
    /// The pull does not overcome friction.
    #[error(
        "{table}: {} is too little. About {} just balance friction; hang more", grams(*.mass), grams(*.balancing)
    )]
    HeldByFriction {
        /// Which table.
        table: Table,
        /// The mass.
        mass: Kilograms,
        /// The mass whose pull friction balances.
        balancing: Kilograms,
    },
    /// Nothing a fit could be made of.
    #[error("only {edges} spokes would pass the gate in a fall; at least 5 are needed. Let it fall further")]
    TooFewEdges {
        /// Edges in the fall.
        edges: usize,
    },
    /// Height and travel do not go together.
    #[error("a fall of {edges} spokes is out of all proportion; check drop height and travel per spoke")]
    TooManyEdges {
        /// Edges in the fall.
        edges: f64,
    },
    /// Too few or too many runs.
    #[error("plan from {} to {} runs of each table", FEWEST_RUNS, MOST_RUNS)]
    Runs,
    /// Not enough masses to choose from.
    #[error("{table}: {}", few_words(*.usable, *.unfit))]
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
    #[error("{table}: {problem}")]
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

fn few_words(usable: usize, unfit: Option<RunCaution>) -> String {
    let why = unfit.map_or("add pieces of other masses", RunCaution::remedy);
    format!("only {usable} of the masses you can hang suit it, and a line needs {FEWEST_RUNS}; {why}")
}

#[cfg(test)]
mod tests;
