//! What to mind before the first run, in words.

use super::expectation::Plan;
use super::run::{PlannedRun, Table, edges_wanted};
use super::{PlanInput, grams};
use crate::inertia::{BudgetRow, Source};
use crate::quantity::{Kilograms, MetersPerSecond, Seconds};
use core::fmt;
use whorl_words as words;

/// Falls that take less are hard to catch: common practice, no source.
const SHORTEST: Seconds = Seconds(1.0);
/// Falls that take more give friction time to change: common practice, no source.
const LONGEST: Seconds = Seconds(12.0);
/// Edges closer than this are missed by slow loggers: common practice, no source.
const CLOSEST_EDGES: Seconds = Seconds(1e-3);
/// From this mass on a drop is heavy: common practice, no source.
const HEAVY: Kilograms = Kilograms(0.2);
/// From this speed on a drop is fast: common practice, no source.
const FAST: MetersPerSecond = MetersPerSecond(1.5);
/// Different masses on a line, below which a bend cannot show.
pub(super) const DISTINCT: usize = 4;
/// Share of the variance that leads.
const LEADS: f64 = 0.5;

/// What is the matter with a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RunCaution {
    /// Friction holds the table.
    DoesNotTurn,
    /// A fall of more than 12 s.
    Slow,
    /// A fall of less than 1 s.
    Quick,
    /// Too few spokes pass the gate to learn where each of them sits.
    FewEdges,
    /// Spokes less than 1 ms apart.
    CloseEdges,
    /// More than half of free fall.
    NearlyFree,
    /// Friction takes more than half of the pull.
    MostlyFriction,
    /// 1.5 m/s or more at the end.
    Fast,
    /// 200 g or more.
    Heavy,
}

impl RunCaution {
    const ALL: [Self; 9] = [
        Self::DoesNotTurn,
        Self::Slow,
        Self::Quick,
        Self::FewEdges,
        Self::CloseEdges,
        Self::NearlyFree,
        Self::MostlyFriction,
        Self::Fast,
        Self::Heavy,
    ];

    /// Whether it is the matter with a run.
    fn fits(self, run: &PlannedRun, input: &PlanInput) -> bool {
        match self {
            Self::DoesNotTurn => false,
            Self::Slow => run.fall_time > LONGEST,
            Self::Quick => run.fall_time < SHORTEST,
            Self::FewEdges => run.edges < edges_wanted(input),
            Self::CloseEdges => run.last_gap < CLOSEST_EDGES,
            Self::NearlyFree => run.point.acceleration.value() > input.apparatus.gravity().value() * 0.5,
            Self::MostlyFriction => run.point.torque.value() < input.friction(run.table) * 2.0,
            Self::Fast => run.final_velocity >= FAST,
            Self::Heavy => run.mass() >= HEAVY,
        }
    }

    /// The first reason not to choose a run; a heavy one needs care, and is no reason.
    pub(super) fn against(run: &PlannedRun, input: &PlanInput) -> Option<Self> {
        let reasons = [Self::Slow, Self::Quick, Self::Fast, Self::CloseEdges, Self::NearlyFree];
        reasons.into_iter().find(|reason| reason.fits(run, input))
    }

    /// What it means and what to do.
    pub fn words(self) -> String {
        let words = match self {
            Self::DoesNotTurn => words::planning::does_not_turn(),
            Self::Slow => words::planning::slow(),
            Self::Quick => words::planning::quick(),
            Self::FewEdges => words::planning::few_edges(),
            Self::CloseEdges => words::planning::close_edges(),
            Self::NearlyFree => words::planning::nearly_free(),
            Self::MostlyFriction => words::planning::mostly_friction(),
            Self::Fast => return words::planning::fast(&words::number(FAST.0, 1)),
            Self::Heavy => words::planning::heavy(),
        };
        words.to_owned()
    }

    /// What would let more masses do.
    pub(super) fn remedy(self) -> String {
        let words = match self {
            Self::DoesNotTurn => words::planning::most_do_not_turn(),
            Self::Slow => words::planning::most_slow(),
            Self::Quick => words::planning::most_quick(),
            Self::Fast => return words::planning::most_fast(&words::number(FAST.0, 1)),
            Self::CloseEdges => words::planning::most_close_edges(),
            _ => words::planning::most_nearly_free(),
        };
        words.to_owned()
    }
}

/// Something to mind.
#[derive(Clone, Debug, PartialEq)]
pub enum Caution {
    /// At these runs.
    Runs {
        /// What.
        kind: RunCaution,
        /// On which table.
        table: Table,
        /// With which masses.
        masses: Vec<Kilograms>,
    },
    /// Fewer than four different masses.
    FewMasses {
        /// On which table.
        table: Table,
        /// Different masses.
        found: usize,
    },
    /// Nothing between the two ends.
    EmptyMiddle {
        /// On which table.
        table: Table,
    },
    /// What all runs share leads the object's uncertainty.
    SharedLeads {
        /// The largest of it.
        source: Source,
        /// Its part of the variance.
        share: f64,
    },
    /// Friction from run to run leads it.
    FrictionLeads {
        /// Its part of the variance.
        share: f64,
    },
}

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let percent = |share: &f64| words::number((share * 100.0).round(), 0);
        f.write_str(&match self {
            Self::Runs { kind, table, masses } => {
                let masses: Vec<String> = masses.iter().copied().map(grams).collect();
                words::planning::at_runs(table, &masses.join(", "), &kind.words())
            }
            Self::FewMasses { table, found } => {
                words::planning::few_different_masses(table, found, &DISTINCT)
            }
            Self::EmptyMiddle { table } => words::planning::empty_middle(table),
            Self::SharedLeads { source, share } => {
                words::planning::shared_leads(&percent(share), &source.words())
            }
            Self::FrictionLeads { share } => words::planning::friction_leads(&percent(share)),
        })
    }
}

/// All there is to mind about a plan.
pub(super) fn cautions(input: &PlanInput, plan: &Plan) -> Vec<Caution> {
    let mut found = Vec::new();
    for (table, runs) in [(Table::Empty, &plan.empty), (Table::Loaded, &plan.loaded)] {
        for kind in RunCaution::ALL {
            let of_it = runs.iter().filter(|run| kind.fits(run, input));
            let mut masses: Vec<Kilograms> = of_it.map(PlannedRun::mass).collect();
            sort(&mut masses);
            if !masses.is_empty() {
                found.push(Caution::Runs { kind, table, masses });
            }
        }
        let mut different: Vec<Kilograms> = runs.iter().map(PlannedRun::mass).collect();
        sort(&mut different);
        if different.len() < DISTINCT {
            found.push(Caution::FewMasses { table, found: different.len() });
        }
        let along: Vec<f64> = runs.iter().map(|run| run.point.angular_acceleration.value().0).collect();
        if in_the_middle(&along) == 0 {
            found.push(Caution::EmptyMiddle { table });
        }
    }
    found.extend(leader(&plan.object_budget));
    found
}

/// What makes more than half of the variance.
fn leader(budget: &[BudgetRow]) -> Option<Caution> {
    let shared: f64 = budget.iter().filter(|row| !row.source.is_random()).map(|row| row.share).sum();
    let largest = |random: bool| budget.iter().find(|row| row.source.is_random() == random);
    if shared > LEADS {
        return largest(false).map(|row| Caution::SharedLeads { source: row.source, share: row.share });
    }
    let friction = budget.iter().find(|row| row.source == Source::Friction && row.share > LEADS)?;
    Some(Caution::FrictionLeads { share: friction.share })
}

/// In order, each once. By insertion: they are few, and the library's sort would weigh kilobytes on the page.
pub(super) fn sort(masses: &mut Vec<Kilograms>) {
    let mut sorted: Vec<Kilograms> = Vec::with_capacity(masses.len());
    for &mass in masses.iter() {
        let at = sorted.partition_point(|other| other.0 < mass.0);
        if sorted.get(at) != Some(&mass) {
            sorted.insert(at, mass);
        }
    }
    *masses = sorted;
}

/// How many lie in the middle half between the smallest and the largest.
pub(super) fn in_the_middle(along: &[f64]) -> usize {
    let low = along.iter().copied().fold(f64::INFINITY, f64::min);
    let high = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let quarter = 0.25 * (high - low);
    along.iter().filter(|&&x| x >= low + quarter && x <= high - quarter && high > low).count()
}
