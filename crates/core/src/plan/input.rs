//! What a plan starts from.

use super::PlanProblem;
use super::run::Table;
use crate::acceleration::{AccelerationError, EdgeNoise};
use crate::analysis::prediction;
use crate::apparatus::Apparatus;
use crate::lab::{Configuration, Lab, ObjectId};
use crate::measured::Measured;
use crate::quantity::{KilogramMeters2, Meters, NewtonMeters, Ratio, Seconds};
use core::num::NonZeroU32;
use whorl_words as words;

/// By how much a bearing's friction differs from run to run, as a share of it: common practice, no source.
pub const FRICTION_SCATTER: Ratio = Ratio(0.03);

/// Noise of a gate and a string, as good ones have: common practice, no source.
pub const NOISE: EdgeNoise = EdgeNoise { clock: Seconds(1e-5), position: Meters(3e-5) };

/// Runs of each configuration, where nothing else is said.
pub const USUAL_RUNS: usize = 6;

/// The apparatus with guesses of what the runs will find.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanInput {
    /// Drum, string, gravity, pulley.
    pub apparatus: Apparatus,
    /// N; `None` when unknown.
    pub spokes: Option<NonZeroU32>,
    /// h, of a fall from rest.
    pub drop_height: Meters,
    /// The empty table's moment of inertia.
    pub table_inertia: KilogramMeters2,
    /// The object's.
    pub object_inertia: KilogramMeters2,
    /// The empty table's friction torque.
    pub friction_empty: NewtonMeters,
    /// The loaded table's.
    pub friction_loaded: NewtonMeters,
    /// Standard deviation of friction from run to run, as a share of it.
    pub friction_scatter: Ratio,
    /// Of each edge's time.
    pub noise: EdgeNoise,
}

impl PlanInput {
    /// From what a lab holds: its apparatus, its plan's guesses, an object's shape. Where a balancing mass
    /// was found, it tells the friction that was not guessed: τ_f = m g Rₑ.
    ///
    /// # Errors
    /// Names the first thing that is missing.
    pub fn from_lab(lab: &Lab, object: ObjectId) -> Result<Self, PlanProblem> {
        let apparatus = lab.apparatus.check()?;
        let rig = apparatus.rig();
        let balanced = |configuration| {
            let mass = lab.balancing_mass(configuration)?.value();
            Some(mass * rig.gravity * rig.effective_radius())
        };
        let guesses = &lab.plan;
        let empty = guesses.friction_empty.or_else(|| balanced(Configuration::EmptyTable));
        let loaded = guesses.friction_loaded.or_else(|| balanced(Configuration::Loaded(object))).or(empty);
        let entry = lab.object(object).ok_or(PlanProblem::NoObject)?;
        let input = Self {
            spokes: lab.apparatus.spokes,
            drop_height: apparatus.drop_height().ok_or(PlanProblem::HeightMissing)?.value(),
            table_inertia: guesses.table_inertia.ok_or(PlanProblem::TableMissing)?,
            object_inertia: prediction(entry)?.moment_of_inertia.value(),
            friction_empty: empty.ok_or(PlanProblem::FrictionMissing)?,
            friction_loaded: loaded.ok_or(PlanProblem::FrictionMissing)?,
            friction_scatter: FRICTION_SCATTER,
            noise: NOISE,
            apparatus,
        };
        input.check()?;
        Ok(input)
    }

    /// Whether every number can be one.
    ///
    /// # Errors
    /// Names the first that cannot.
    pub fn check(&self) -> Result<(), PlanProblem> {
        let positive = |value: f64| value.is_finite() && value > 0.0;
        let checks = [
            (positive(self.drop_height.0), words::planning::height_above_zero()),
            (positive(self.table_inertia.0), words::planning::table_above_zero()),
            (positive(self.object_inertia.0), words::planning::object_above_zero()),
            (self.friction_empty.0 >= 0.0, words::planning::friction_empty_not_negative()),
            (self.friction_loaded.0 >= 0.0, words::planning::friction_loaded_not_negative()),
            (self.friction_scatter.0 >= 0.0, words::planning::friction_scatter_not_negative()),
            (positive(self.noise.position.0), words::planning::string_noise_above_zero()),
            (self.noise.clock.0 >= 0.0, words::planning::clock_noise_not_negative()),
        ];
        for (fine, words) in checks {
            if !fine {
                return Err(PlanProblem::Impossible(words));
            }
        }
        self.travel().map(|_| ())
    }

    /// s.
    pub(super) fn travel(&self) -> Result<Meters, PlanProblem> {
        let travel = self.apparatus.travel_per_spoke();
        travel.map(Measured::value).ok_or(PlanProblem::Travel(AccelerationError::TravelMissing))
    }

    /// Moment of inertia of all that turns.
    pub fn inertia(&self, table: Table) -> KilogramMeters2 {
        match table {
            Table::Empty => self.table_inertia,
            Table::Loaded => self.table_inertia + self.object_inertia,
        }
    }

    /// Friction torque.
    pub fn friction(&self, table: Table) -> NewtonMeters {
        match table {
            Table::Empty => self.friction_empty,
            Table::Loaded => self.friction_loaded,
        }
    }

    /// s_f: by how much friction differs from run to run on a table.
    pub(super) fn scatter(&self, table: Table) -> NewtonMeters {
        self.friction(table) * self.friction_scatter.0
    }
}
