//! How far friction differs from run to run, drawn once per trial.
//!
//! s_f = ρ F, with F the friction of the line, is not an indication but an estimate: so large that χ² of all
//! lines equals its degrees of freedom ν ([`crate::inertia`]). What is known of it follows from the same
//! equation. At the true ρ (s_f below, as for one line with F = 1)
//!
//! ```text
//! Q(s_f²) = Σ residual²/(own variance + s_f²)     lines fitted anew at each s_f
//! ```
//!
//! is chi-square with ν degrees of freedom, whatever the true s_f is. So a trial draws q from chi-square and
//! takes the s_f² at which Q is q; where Q is below q even without friction's scatter, s_f = 0. (Solving a
//! pivotal quantity for the parameter: H. K. Iyer, C. M. J. Wang, T. Mathew, J. Am. Stat. Assoc. 99 (2004)
//! 1060, for means of several laboratories.) Where friction is all that scatters that is s_f √(ν/q), and the
//! sum of the friction terms is Student's t with ν degrees of freedom, JCGM 101:2008 6.4.9 for several terms
//! with one unknown standard deviation. Where other things scatter too, plain s_f √(ν/q) would not do: a
//! small s_f beside large variances of other origin is a difference of two large numbers, and far less known
//! than ν degrees of freedom say. Simulated labs of two lines with six runs each, whose own uncertainties
//! differ a hundredfold: with s_f as large as the middle of them, 50 µN·m, 95 % intervals of I and τ_f from
//! either rule hold the truth in 94 to 96 of 100 labs; with 15 µN·m those from Q in 95 to 96, those from s_f
//! √(ν/q) in 91 to 92; with none, 95 to 99 against 65 to 96.

use super::Random;
use super::random::ChiSquare;
use crate::fit::{UncertainPoint, fit_york};

/// A line's points with their own variances, a slope to start from, and F².
pub(super) type ScatteredLine = (Vec<UncertainPoint>, f64, f64);

/// ρ as a random variable.
pub(super) struct Friction {
    kind: Option<ChiSquare>,
    /// Pairs of 1/Q and s_f², both rising. s_f² against 1/Q is a straight line where all runs have the same
    /// own variance, and nearly so where they do not.
    table: Vec<[f64; 2]>,
}

/// s_f² at the table's places, in the variance that the residuals have altogether: a millionth to a million
/// times, five places to the power of ten.
const PLACES: i32 = 60;
const PER_POWER: f64 = 5.0;

impl Friction {
    /// Nothing that differs.
    pub(super) fn none() -> Self {
        Self { kind: None, table: Vec::new() }
    }

    /// From the lines, the estimate of ρ², and ν.
    pub(super) fn new(lines: &[ScatteredLine], estimate: f64, degrees_of_freedom: f64) -> Self {
        let own: f64 = lines
            .iter()
            .flat_map(|(points, slope, square)| {
                points.iter().map(move |point| {
                    let own = point.variance_y + slope * (slope * point.variance_x - 2.0 * point.covariance);
                    own / square
                })
            })
            .sum();
        let count = lines.iter().map(|line| line.0.len()).sum::<usize>();
        let unit = own / count as f64 + estimate;
        let mut table = vec![[0.0; 2]];
        let places =
            (-PLACES / 2..=PLACES / 2).map(|place| unit * 10.0_f64.powf(f64::from(place) / PER_POWER));
        for variance in core::iter::once(0.0).chain(places) {
            let Some(chi_square) = chi_square(lines, variance) else { continue };
            let inverse = 1.0 / chi_square;
            if variance == 0.0 {
                table = vec![[inverse, 0.0]];
            } else if table.last().is_some_and(|last| last[0] < inverse) {
                table.push([inverse, variance]);
            }
        }
        Self { kind: ChiSquare::new(degrees_of_freedom), table }
    }

    /// ρ of one trial.
    pub(super) fn draw(&self, random: &mut Random) -> f64 {
        let Some(kind) = &self.kind else { return 0.0 };
        self.variance(1.0 / random.chi_square(kind)).sqrt()
    }

    /// s_f² at which Q is 1/`inverse`.
    fn variance(&self, inverse: f64) -> f64 {
        let after = self.table.partition_point(|place| place[0] < inverse);
        if after == 0 {
            return 0.0;
        }
        // Beyond the last place along the last piece.
        let after = after.min(self.table.len().saturating_sub(1)).max(1);
        let (Some(left), Some(right)) = (self.table.get(after - 1), self.table.get(after)) else {
            return 0.0;
        };
        let share = (inverse - left[0]) / (right[0] - left[0]);
        left[1] + share * (right[1] - left[1])
    }
}

/// Q at a variance of friction; `None` where a point has no variance at all.
fn chi_square(lines: &[ScatteredLine], friction: f64) -> Option<f64> {
    let mut sum = 0.0;
    for (points, slope, square) in lines {
        let with = |point: &UncertainPoint| UncertainPoint {
            variance_y: point.variance_y + friction * square,
            ..*point
        };
        let points: Vec<UncertainPoint> = points.iter().map(with).collect();
        sum += fit_york(&points, *slope).ok()?.chi_square;
    }
    (sum > 0.0 && sum.is_finite()).then_some(sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Four points about y = 2 x with errors of y of variance `own` and the residuals ∓1, ±1 of an ordinary
    /// line: Σ residual² is 4 and stays so for any weight they share.
    fn lines(own: f64) -> Vec<ScatteredLine> {
        let points = [(0.0, 1.0), (1.0, 1.0), (2.0, 3.0), (3.0, 7.0)].map(|(x, y)| UncertainPoint {
            x,
            y,
            variance_x: 0.0,
            variance_y: own,
            covariance: 0.0,
        });
        vec![(points.to_vec(), 2.0, 1.0)]
    }

    #[test]
    fn where_nothing_else_scatters_the_variance_is_proportional_to_one_over_chi_square() {
        // Q = 4/s_f², ν = 2: s_f² = 4/q, that is s_f² at its estimate 2 times ν/q.
        let friction = Friction::new(&lines(0.0), 2.0, 2.0);
        for q in [1e-4, 0.01, 0.3, 2.0, 7.0, 40.0] {
            let found = friction.variance(1.0 / q);
            assert!((found / (4.0 / q) - 1.0).abs() < 1e-9, "{q}: {found}");
        }
    }

    #[test]
    fn what_else_scatters_is_taken_off_and_never_leaves_less_than_nothing() {
        // Q = 4/(0.5 + s_f²): s_f² = 4/q − 0.5 down to q = 8.
        let friction = Friction::new(&lines(0.5), 1.5, 2.0);
        for (q, expected) in [(0.1, 39.5), (2.0, 1.5), (7.9, 4.0 / 7.9 - 0.5), (8.1, 0.0), (30.0, 0.0)] {
            let found = friction.variance(1.0 / q);
            assert!((found - expected).abs() < 1e-9 * expected.max(1.0), "{q}: {found}");
        }
    }
}
