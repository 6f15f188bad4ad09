//! The uncertainty budget: which input contributes how much (JCGM 100:2008 4.3, 5.1, and its examples).

use super::Inertia;
use crate::apparatus::SharedInput;
use crate::measured::quadrature;
use whorl_words as words;

/// Where a part of an uncertainty comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// Friction that differs from run to run.
    Friction,
    /// The scatter of the readings inside each run.
    Accelerations,
    /// Each hanging mass on its own.
    HangingMasses,
    /// The drag found from the curvature of the runs.
    Drag,
    /// An input that all runs share.
    Shared(SharedInput),
}

impl Source {
    /// Plain words for a budget.
    pub fn words(self) -> &'static str {
        match self {
            Self::Friction => words::chain::friction(),
            Self::Accelerations => words::chain::accelerations(),
            Self::HangingMasses => words::chain::hanging_masses(),
            Self::Drag => words::chain::drag(),
            Self::Shared(input) => input.words(),
        }
    }

    /// Whether more runs make it smaller.
    pub fn is_random(self) -> bool {
        !matches!(self, Self::Shared(_))
    }
}

/// One part of an uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BudgetRow {
    /// Where it comes from.
    pub source: Source,
    /// Standard uncertainty it contributes, in the SI unit of the result; not negative.
    pub contribution: f64,
    /// Its part of the result's variance, from 0 to 1.
    pub share: f64,
}

/// A contribution below this part of the whole is none: what is left when two lines that it moves alike
/// are subtracted, and friction that need not scatter at all.
const NOTHING: f64 = 1e-8;

/// Contributions of one result, by source; those of nothing are left out, the largest come first.
pub(crate) fn rows(parts: &[(Source, f64)]) -> Vec<BudgetRow> {
    let total = quadrature(parts.iter().map(|part| part.1));
    let mut rows: Vec<BudgetRow> = Vec::with_capacity(parts.len());
    for &(source, contribution) in parts {
        if contribution.abs() > NOTHING * total {
            let share = (contribution / total).powi(2);
            rows.push(BudgetRow { source, contribution: contribution.abs(), share });
        }
    }
    rows.sort_unstable_by(|left, right| right.share.total_cmp(&left.share));
    rows
}

impl Inertia {
    /// Signed contributions to I, and to τ_f.
    pub(crate) fn parts(&self) -> Vec<(Source, f64, f64)> {
        let mut parts = self.scatter.to_vec();
        parts.push((Source::Drag, self.drag.0.0, self.drag.1.0));
        for part in &self.contributions {
            parts.push((Source::Shared(part.input), part.moment_of_inertia.0, part.friction_torque.0));
        }
        parts
    }

    /// What makes the uncertainty of I.
    pub fn budget(&self) -> Vec<BudgetRow> {
        rows(&self.parts().iter().map(|part| (part.0, part.1)).collect::<Vec<_>>())
    }

    /// What makes the uncertainty of τ_f.
    pub fn friction_budget(&self) -> Vec<BudgetRow> {
        rows(&self.parts().iter().map(|part| (part.0, part.2)).collect::<Vec<_>>())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_adds_nothing_is_left_out_and_the_largest_comes_first() {
        let parts = [(Source::Friction, 3.0), (Source::Drag, -4.0), (Source::HangingMasses, 4e-8)];
        let found = rows(&parts);
        assert_eq!(found.iter().map(|row| row.source).collect::<Vec<_>>(), [Source::Drag, Source::Friction]);
        assert!((found.iter().map(|row| row.share).sum::<f64>() - 1.0).abs() < 1e-15);
        assert!(rows(&[(Source::Friction, 0.0)]).is_empty());
    }
}
