//! One run before it is made.

use super::{PlanInput, PlanProblem};
use crate::acceleration::{EDGES_BEYOND_OFFSETS, PlannedEdges, Scale};
use crate::measured::{DegreesOfFreedom, Measured};
use crate::quantity::{Kilograms, MetersPerSecond, MetersPerSecond2, Seconds};
use crate::torque::{Drag, FittedRun, Motion, TorquePoint, torque_point};
use whorl_words as words;

/// Which of the two tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Table {
    /// Without the object.
    Empty,
    /// With it.
    Loaded,
}

impl core::fmt::Display for Table {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Self::Empty => words::chain::empty_table(),
            Self::Loaded => words::chain::loaded_table(),
        })
    }
}

/// What a run will show.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedRun {
    /// The table it is made with.
    pub table: Table,
    /// The run as the fit will give it: exact, with its expected uncertainty.
    pub fitted: FittedRun,
    /// Its place on the torque graph: m, a, τ, α with what scatters inside the run.
    pub point: TorquePoint,
    /// From rest to the end of the drop.
    pub fall_time: Seconds,
    /// Spokes that pass the gate.
    pub edges: usize,
    /// Speed at the end of the drop.
    pub final_velocity: MetersPerSecond,
    /// Time between the last two edges.
    pub last_gap: Seconds,
}

impl PlannedRun {
    /// m.
    pub fn mass(&self) -> Kilograms {
        self.fitted.hanging_mass
    }
}

/// A fit of more edges than this is no lab's.
const MOST_EDGES: f64 = 2000.0;

/// Fewer edges than this do not fix a motion with something left over.
pub(super) const FEWEST_EDGES: usize = 5;

/// Share of the pull that friction must leave over for the table to turn at all: friction is a guess.
const LEAST_NET: f64 = 0.02;

/// Predicts a run from rest over the drop height.
///
/// The first edge comes half a spoke's travel after the release, as it does on average.
///
/// # Errors
/// When the mass does not set the table going, or the fall has too few edges.
pub fn predict_run(input: &PlanInput, table: Table, mass: Kilograms) -> Result<PlannedRun, PlanProblem> {
    input.check()?;
    if !(mass.0.is_finite() && mass.0 > 0.0) {
        return Err(PlanProblem::Torque(crate::torque::TorqueError::MassNotPositive));
    }
    let rig = input.apparatus.rig();
    let (radius, height) = (rig.effective_radius().0, input.drop_height.0);
    let friction = input.friction(table).0;
    let carried = mass.0 + rig.pulley_inertia.0 / (rig.pulley_radius.0 * rig.pulley_radius.0);
    let pull = mass.0 * rig.gravity.0 * radius;
    let net = pull - friction;
    let a = net / (input.inertia(table).0 / radius + carried * radius);
    if a.is_nan() || net <= LEAST_NET * pull {
        let balancing = Kilograms(friction / (rig.gravity.0 * radius));
        return Err(PlanProblem::HeldByFriction { table, mass, balancing });
    }
    let travel = input.travel()?;
    // Half a travel, a travel and a half … up to the height.
    let exact = (height / travel.0 + 0.5).floor();
    if exact > MOST_EDGES {
        return Err(PlanProblem::TooManyEdges { edges: exact });
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 0 to MOST_EDGES"
    )]
    let edges = exact as usize;
    if edges < FEWEST_EDGES {
        return Err(PlanProblem::TooFewEdges { edges });
    }
    let final_velocity = MetersPerSecond((2.0 * a * height).sqrt());
    let planned = PlannedEdges {
        count: edges,
        pitch: travel,
        period: input.spokes.map_or(0, |spokes| spokes.get() as usize),
        first_velocity: MetersPerSecond((a * travel.0).sqrt()),
        acceleration: MetersPerSecond2(a),
    };
    let fit = planned.expected(&input.noise)?;
    let fitted = FittedRun {
        hanging_mass: mass,
        motion: Motion::Falling,
        acceleration: Measured::with_degrees_of_freedom(
            MetersPerSecond2(a),
            fit.acceleration_uncertainty,
            DegreesOfFreedom::from_count(fit.degrees_of_freedom),
        )?,
        scale: Scale::Travel,
        slowing: fit.slowing,
    };
    let point = torque_point(&fitted, &rig, &Drag::default())?;
    Ok(PlannedRun {
        table,
        fitted,
        point,
        fall_time: Seconds((2.0 * height / a).sqrt()),
        edges,
        final_velocity,
        last_gap: Seconds(travel.0 / final_velocity.0),
    })
}

/// Edges from which on the spokes' own places are learned from the run.
pub(super) fn edges_wanted(input: &PlanInput) -> usize {
    input.spokes.map_or(0, |spokes| spokes.get() as usize + EDGES_BEYOND_OFFSETS).max(20)
}
