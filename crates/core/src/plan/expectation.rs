//! What all planned runs together will tell.

use super::cautions::cautions;
use super::{Caution, PlanInput, PlanProblem, PlannedRun, Table, predict_run};
use crate::inertia::{BudgetRow, expected};
use crate::measured::Combined;
use crate::object::subtract;
use crate::quantity::{KilogramMeters2, Kilograms};

/// Runs that a line needs.
pub const FEWEST_RUNS: usize = 3;

/// What to expect of the lab.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Runs of the empty table, in the order of the masses given.
    pub empty: Vec<PlannedRun>,
    /// Runs of the loaded table.
    pub loaded: Vec<PlannedRun>,
    /// I of the empty table: the guess, with the uncertainty that the runs will give it.
    pub table: Combined<KilogramMeters2>,
    /// I of the object: as predicted, with the uncertainty that the runs will give it.
    pub object: Combined<KilogramMeters2>,
    /// Where the table's uncertainty will come from.
    pub table_budget: Vec<BudgetRow>,
    /// Where the object's will come from.
    pub object_budget: Vec<BudgetRow>,
    /// What to mind.
    pub cautions: Vec<Caution>,
}

/// What runs with these masses will tell.
///
/// Friction differs from run to run by [`PlanInput::friction_scatter`] of itself, as the analysis takes it. A
/// real lab's scatter is found from as few residuals as there are and lies about that by 1/√(2ν), ν the degrees
/// of freedom.
///
/// # Errors
/// When a run cannot be predicted or the runs give no line.
pub fn plan(
    input: &PlanInput,
    empty_masses: &[Kilograms],
    loaded_masses: &[Kilograms],
) -> Result<Plan, PlanProblem> {
    let empty = predict(input, Table::Empty, empty_masses)?;
    let loaded = predict(input, Table::Loaded, loaded_masses)?;
    joined(input, empty, loaded)
}

fn predict(input: &PlanInput, table: Table, masses: &[Kilograms]) -> Result<Vec<PlannedRun>, PlanProblem> {
    let mut runs = Vec::with_capacity(masses.len());
    for mass in masses {
        runs.push(predict_run(input, table, *mass)?);
    }
    Ok(runs)
}

/// The plan of runs that are predicted already.
pub(super) fn joined(
    input: &PlanInput,
    empty: Vec<PlannedRun>,
    loaded: Vec<PlannedRun>,
) -> Result<Plan, PlanProblem> {
    let groups = [&empty, &loaded].map(|runs| runs.iter().map(|run| run.fitted.clone()).collect());
    let mut inertias = expected(&groups, &input.apparatus, input.friction_scatter).inertias.into_iter();
    let mut next = |table| match inertias.next() {
        Some(Ok(inertia)) => Ok(inertia),
        Some(Err(problem)) => Err(PlanProblem::Line { table, problem }),
        None => Err(PlanProblem::Runs),
    };
    let (table, with) = (next(Table::Empty)?, next(Table::Loaded)?);
    let object = subtract(&with, &table)?;
    let mut plan = Plan {
        empty,
        loaded,
        table_budget: table.budget(),
        object_budget: object.budget(),
        table: table.moment_of_inertia,
        object: object.moment_of_inertia,
        cautions: Vec::new(),
    };
    plan.cautions = cautions(input, &plan);
    Ok(plan)
}
