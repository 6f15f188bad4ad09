//! Which masses to hang.
//!
//! What the masses decide is the random part of u(I): with W = 1/(variance of a run's residual) and α the
//! runs' angular accelerations,
//!
//! ```text
//! 1/u²(I) = Σ W (α − ᾱ)²,   ᾱ = Σ W α / Σ W
//! ```
//!
//! for each table by itself, since u²(I_object) is the sum of both. The sum is made as large as it goes by
//! exchange: from several starts, the one run is replaced by the one mass that gains most, until none gains
//! (Fedorov 1972, ch. 3; Atkinson and Donev 1992, ch. 15). The parts that all runs share hardly depend on the
//! masses and are left out of the search, not of the plan that comes with the choice.
//!
//! Left to itself the search puts all runs at the two ends. Then a bend of the line could not show, and a
//! design should serve to check its model as well (Atkinson and Donev 1992, ch. 20); so two runs stay in the
//! middle half of the line, and no mass is hung twice while there are others: a mass that is off would be
//! off twice.

use super::cautions::{in_the_middle, sort};
use super::expectation::{FEWEST_RUNS, joined};
use super::{Plan, PlanInput, PlanProblem, PlannedRun, RunCaution, Table, predict_run};
use crate::inertia::residual_variance;
use crate::quantity::Kilograms;
use whorl_words as words;

/// Runs of a configuration, at most.
pub const MOST_RUNS: usize = 12;

/// Runs that stay in the middle half of the line, where masses allow.
const IN_THE_MIDDLE: usize = 2;

/// Why the masses chosen are those, for students.
pub fn why_these_masses() -> &'static str {
    words::planning::why_these_masses()
}

/// The masses to hang and what they gain.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// The plan with the masses chosen, lightest first.
    pub plan: Plan,
    /// The plan with as many masses evenly spaced over the same range.
    pub even: Plan,
    /// Masses that will not do, and why, for each table.
    pub unfit: Vec<(Table, Kilograms, RunCaution)>,
}

impl Choice {
    /// How many times larger u(I_object) is with evenly spaced masses, its random part alone.
    pub fn gain(&self) -> f64 {
        let u = |plan: &Plan| plan.object.random.standard_uncertainty().0;
        u(&self.even) / u(&self.plan)
    }
}

/// A run that can be chosen.
struct Candidate {
    run: PlannedRun,
    /// α.
    along: f64,
    /// W.
    weight: f64,
}

/// Chooses, for each table, `runs` of the masses that can be hung so that u(I_object) is smallest.
///
/// # Errors
/// When too few masses suit a table, or the numbers make no plan.
pub fn best_masses(input: &PlanInput, masses: &[Kilograms], runs: usize) -> Result<Choice, PlanProblem> {
    if !(FEWEST_RUNS..=MOST_RUNS).contains(&runs) {
        return Err(PlanProblem::Runs);
    }
    let mut unfit = Vec::new();
    // α grows with the mass, so in the order of one they are in that of the other.
    let mut ordered = masses.to_vec();
    sort(&mut ordered);
    let mut chosen = Vec::with_capacity(2);
    let mut even = Vec::with_capacity(2);
    for table in [Table::Empty, Table::Loaded] {
        let candidates = candidates(input, table, &ordered, &mut unfit)?;
        let search = Search { most: runs.div_ceil(candidates.len()), runs, candidates };
        chosen.push(search.runs_of(&search.best()));
        even.push(search.runs_of(&search.even()));
    }
    let both = |mut tables: Vec<Vec<PlannedRun>>| {
        let loaded = tables.pop().unwrap_or_default();
        joined(input, tables.pop().unwrap_or_default(), loaded)
    };
    Ok(Choice { plan: both(chosen)?, even: both(even)?, unfit })
}

fn candidates(
    input: &PlanInput,
    table: Table,
    masses: &[Kilograms],
    unfit: &mut Vec<(Table, Kilograms, RunCaution)>,
) -> Result<Vec<Candidate>, PlanProblem> {
    let scatter = input.scatter(table).0;
    let inertia = input.inertia(table);
    let before = unfit.len();
    let mut found: Vec<Candidate> = Vec::with_capacity(masses.len());
    for &mass in masses {
        let run = match predict_run(input, table, mass) {
            Ok(run) => run,
            Err(PlanProblem::HeldByFriction { .. }) => {
                unfit.push((table, mass, RunCaution::DoesNotTurn));
                continue;
            }
            Err(problem) => return Err(problem),
        };
        if let Some(against) = RunCaution::against(&run, input) {
            unfit.push((table, mass, against));
            continue;
        }
        let weight = 1.0 / residual_variance(&run.point, inertia, &input.apparatus, scatter * scatter);
        let along = run.point.angular_acceleration.value().0;
        found.push(Candidate { run, along, weight });
    }
    if found.len() < FEWEST_RUNS {
        let why = unfit.get(before..).unwrap_or_default();
        let times = |kind: RunCaution| why.iter().filter(|entry| entry.2 == kind).count();
        let most = why.iter().map(|entry| entry.2).max_by_key(|kind| times(*kind));
        return Err(PlanProblem::FewMasses { table, usable: found.len(), unfit: most });
    }
    Ok(found)
}

/// The search for one table. A design is a list of candidates' places.
struct Search {
    candidates: Vec<Candidate>,
    runs: usize,
    /// How often one mass may be hung.
    most: usize,
}

impl Search {
    /// Σ W (α − ᾱ)²; nothing where too few lie in the middle.
    fn worth(&self, design: &[usize], middle: usize) -> f64 {
        let (mut total, mut first, mut second) = (0.0, 0.0, 0.0);
        let mut along = [0.0; MOST_RUNS];
        for (slot, &at) in along.iter_mut().zip(design) {
            let Some(candidate) = self.candidates.get(at) else { return 0.0 };
            *slot = candidate.along;
            total += candidate.weight;
            first += candidate.weight * candidate.along;
            second += candidate.weight * candidate.along * candidate.along;
        }
        if in_the_middle(along.get(..design.len()).unwrap_or_default()) < middle {
            return 0.0;
        }
        second - first * first / total
    }

    /// The best design found.
    fn best(&self) -> Vec<usize> {
        // As many in the middle as the masses allow.
        for middle in (0..=IN_THE_MIDDLE.min(self.runs - 2)).rev() {
            let mut best = (0.0, Vec::new());
            for low in 0..self.runs {
                let start = if low == 0 { self.even() } else { self.ends(low, middle) };
                let improved = self.exchange(start, middle);
                if improved.0 > best.0 {
                    best = improved;
                }
            }
            if best.0 > 0.0 {
                return best.1;
            }
        }
        self.even()
    }

    /// Whether this mass may be hung once more.
    fn is_free(&self, design: &[usize], at: usize) -> bool {
        design.iter().filter(|&&other| other == at).count() < self.most
    }

    /// Exchanges runs until no single exchange gains.
    fn exchange(&self, mut design: Vec<usize>, middle: usize) -> (f64, Vec<usize>) {
        let mut worth = self.worth(&design, middle);
        loop {
            let mut best = (worth, 0, 0);
            for place in 0..design.len() {
                let Some(&old) = design.get(place) else { continue };
                for new in 0..self.candidates.len() {
                    if !self.is_free(&design, new) {
                        continue;
                    }
                    set(&mut design, place, new);
                    let found = self.worth(&design, middle);
                    // More than rounding, or the exchange could go on for ever.
                    if found > best.0 * (1.0 + 1e-12) {
                        best = (found, place, new);
                    }
                }
                set(&mut design, place, old);
            }
            if best.0 <= worth {
                return (worth, design);
            }
            worth = best.0;
            set(&mut design, best.1, best.2);
        }
    }

    /// `low` runs from the light end, `middle` nearest to the middle, the others from the heavy end.
    fn ends(&self, low: usize, middle: usize) -> Vec<usize> {
        let count = self.candidates.len();
        let high = self.runs.saturating_sub(low + middle);
        let mut design: Vec<usize> = (0..low).map(|k| k / self.most).collect();
        design.extend((0..high).map(|k| count.saturating_sub(1 + k / self.most)));
        let end = |at: usize| self.candidates.get(at).map_or(0.0, |candidate| candidate.along);
        let center = f64::midpoint(end(0), end(count - 1));
        while design.len() < self.runs {
            design.push(self.nearest(center, &design));
        }
        design.truncate(self.runs);
        design
    }

    /// Evenly spaced in α, each the nearest that is left.
    fn even(&self) -> Vec<usize> {
        let end = |at: usize| self.candidates.get(at).map_or(0.0, |candidate| candidate.along);
        let (low, high) = (end(0), end(self.candidates.len() - 1));
        let mut design = Vec::with_capacity(self.runs);
        for k in 0..self.runs {
            let wanted = low + (high - low) * k as f64 / (self.runs - 1) as f64;
            design.push(self.nearest(wanted, &design));
        }
        design
    }

    /// The candidate nearest to `wanted` that may still be hung.
    fn nearest(&self, wanted: f64, design: &[usize]) -> usize {
        let mut best = (f64::INFINITY, 0);
        for (at, candidate) in self.candidates.iter().enumerate() {
            let distance = (candidate.along - wanted).abs();
            if distance < best.0 && self.is_free(design, at) {
                best = (distance, at);
            }
        }
        best.1
    }

    fn runs_of(&self, design: &[usize]) -> Vec<PlannedRun> {
        let mut runs = Vec::with_capacity(design.len());
        for (at, candidate) in self.candidates.iter().enumerate() {
            let times = design.iter().filter(|&&place| place == at);
            runs.extend(times.map(|_| candidate.run.clone()));
        }
        runs
    }
}

fn set(design: &mut [usize], place: usize, with: usize) {
    if let Some(slot) = design.get_mut(place) {
        *slot = with;
    }
}
