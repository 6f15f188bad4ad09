//! Edge times with free spoke offsets and a variance function: the fit of a gate's times.
//!
//! Edge k stands at string position s_k = k·s + p(k mod N), where s is the travel per spoke and the
//! N offsets p, which sum to zero, are where the spokes really sit. At constant acceleration
//!
//! ```text
//! t_k = t₀ + 2 s_k / (√(v₀² + 2 a s_k) + v₀)         keeps its digits as a → 0
//! var(t_k) = σ² (1 + (v_c/v_k)²)                     clock, and the string's own position noise v_c σ
//! ```
//!
//! t₀, v₀, a and the offsets by Gauss–Newton steps on weighted least squares, to the end; offsets count to
//! first order, as p/v_k. v_c from a grid where the restricted likelihood is largest at equal weights
//! (Patterson and Thompson, Biometrika 58 (1971) 545). Without the
//! variance function the stated interval is too narrow; without offsets a pulley whose spokes are half
//! a percent off spoils the result ten times over. K − 3 − (N − 1) degrees of freedom.
//!
//! A file with both edges of every spoke is the same with 2N offsets and half the travel.
//!
//! Too few edges to learn the offsets from (fewer than N + 10): no offsets; the uncertainty is at
//! least what spokes off by [`SPOKE_TOLERANCE`] would cause.

mod expected;
mod left_over;

pub use expected::{EdgeNoise, ExpectedFit, PlannedEdges};
pub use left_over::{ExtraTest, LeftOver};

use super::slowing::Slowing;
use crate::fit::{Columns, FitError, Points, dot, fit_polynomial};
use crate::quantity::{Meters, MetersPerSecond, Seconds};

/// How far a spoke sits from its place, as a part of the travel per spoke, where the readings are too
/// few to tell: common practice, no source.
pub const SPOKE_TOLERANCE: f64 = 0.003;

/// Edges beyond one per offset, from which on offsets are fitted.
pub const EDGES_BEYOND_OFFSETS: usize = 10;

/// v_c that are tried, in m/s; the largest are position noise alone.
const CROSSOVERS: [f64; 12] = [0.0, 0.03, 0.06, 0.12, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 30.0];

/// Steps of the iteration at most; it gains two digits or more a step.
const STEPS: usize = 40;

/// A step that is none, in parts of the result.
const SETTLED: f64 = 1e-13;

/// Edges of a gate: when, and which.
#[derive(Clone, Copy, Debug)]
pub struct Edges<'a> {
    /// Times in s, increasing.
    pub times: &'a [f64],
    /// Numbers of the spoke positions, increasing, whole.
    pub numbers: &'a [f64],
    /// String travel from number to number, in m.
    pub pitch: f64,
    /// After how many edges the same spoke comes round; 0 when unknown.
    pub period: usize,
    /// Standard uncertainty of an edge's place in m where no offsets are fitted; 0 where places are exact.
    pub tolerance: f64,
}

/// F test of the spoke offsets, with the curvature of drag taken out first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OffsetTest {
    /// Ratio of mean squares.
    pub f: f64,
    /// N − 1.
    pub numerator: usize,
    /// Degrees of freedom left.
    pub denominator: usize,
}

/// The fit of edge times.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeFit {
    /// t₀: when the first edge's nominal position was reached.
    pub first_time: Seconds,
    /// v₀: velocity then.
    pub first_velocity: MetersPerSecond,
    /// a in m/s².
    pub acceleration: f64,
    /// u(a) in m/s².
    pub acceleration_uncertainty: f64,
    /// Degrees of freedom of the scatter.
    pub degrees_of_freedom: usize,
    /// Travel from edge to edge.
    pub pitch: Meters,
    /// Number of the last edge, counted from the first.
    pub last_number: f64,
    /// Number of each edge, counted from the first.
    pub numbers: Vec<f64>,
    /// Where each spoke sits beside its place; empty when the readings are too few.
    pub offsets: Vec<Meters>,
    /// Whether `u` rests on [`SPOKE_TOLERANCE`] because the offsets could not be fitted.
    pub tolerance_counts: bool,
    /// σ: the clock's part of the scatter.
    pub clock_noise: Seconds,
    /// v_c σ: the string's part.
    pub position_noise: Meters,
    /// v_c, from the grid: below this velocity the string's part is the larger.
    pub crossover: MetersPerSecond,
    /// Observed − fitted of each edge, in s.
    pub residuals: Vec<f64>,
    /// Fitted velocity at each edge, in m/s.
    pub velocities: Vec<f64>,
    /// Whether the spokes are unequal; `None` without offsets.
    pub offset_test: Option<OffsetTest>,
    /// What the curvature says of drag.
    pub slowing: Option<Slowing>,
}

impl EdgeFit {
    /// The model's time of a string position, in s and m.
    pub fn time_at(&self, position: f64) -> f64 {
        let (v0, a) = (self.first_velocity.0, self.acceleration);
        self.first_time.0 + 2.0 * position / ((v0 * v0 + 2.0 * a * position).sqrt() + v0)
    }
}

/// t₀, v₀, a on their way to the best values.
#[derive(Clone, Copy)]
struct Motion {
    t0: f64,
    v0: f64,
    a: f64,
}

impl Motion {
    fn velocity(&self, position: f64) -> f64 {
        (self.v0 * self.v0 + 2.0 * self.a * position).sqrt()
    }
}

/// A problem in the making: the edges with positions from the first edge on.
struct Problem<'a> {
    edges: &'a Edges<'a>,
    positions: Vec<f64>,
    first: f64,
}

/// Fits the edges.
///
/// # Errors
/// When there are fewer than five edges or they do not fix the motion.
pub fn fit_edges(edges: &Edges<'_>) -> Result<EdgeFit, FitError> {
    let count = edges.times.len();
    if count < 5 || edges.numbers.len() != count {
        return Err(FitError::TooFewPoints { found: count, needed: 5 });
    }
    let first = edges.numbers.first().copied().unwrap_or(0.0);
    let positions: Vec<f64> = edges.numbers.iter().map(|number| (number - first) * edges.pitch).collect();
    let with_offsets = edges.period > 1 && count >= edges.period + EDGES_BEYOND_OFFSETS;
    let period = if with_offsets { edges.period } else { 0 };
    let problem = Problem { edges, positions, first };
    let mut motion = problem.start()?;

    // Offsets first with equal weights, then the variance function at that motion, then both.
    problem.settle(&mut motion, period, 0.0)?;
    let crossover = problem.crossover(&motion, period)?;
    problem.settle(&mut motion, period, crossover)?;
    problem.finish(motion, period, crossover, with_offsets)
}

impl Problem<'_> {
    /// A parabola through position against time.
    fn start(&self) -> Result<Motion, FitError> {
        let pairs = self.edges.times.iter().copied().zip(self.positions.iter().copied());
        let parabola = fit_polynomial(&Points::new(pairs.collect())?, 2)?;
        let coefficient = |power: usize| parabola.fit.coefficients.get(power).copied().unwrap_or(0.0);
        let t0 = self.edges.times.first().copied().unwrap_or(0.0);
        let a = 2.0 * coefficient(2);
        let last = self.positions.last().copied().unwrap_or(0.0);
        let v0 = coefficient(1) + a * (t0 - parabola.center);
        // Neither end may stand still: the time of a position would not be defined.
        let least = (2.0 * a.abs() * last).sqrt() * 1e-3;
        let needed = (least * least - 2.0 * a * last).max(least * least).sqrt();
        Ok(Motion { t0, v0: v0.max(needed), a })
    }

    fn weights(&self, motion: &Motion, crossover: f64) -> Vec<f64> {
        let variance = |position: &f64| 1.0 + (crossover / motion.velocity(*position)).powi(2);
        self.positions.iter().map(|position| 1.0 / variance(position).sqrt()).collect()
    }

    /// ∂t/∂t₀, ∂t/∂v₀, ∂t/∂a, then one column per offset but the last, each times the weights.
    fn columns(&self, motion: &Motion, period: usize, weights: &[f64]) -> Vec<Vec<f64>> {
        let count = self.positions.len();
        let mut columns = vec![vec![0.0; count]; 3 + period.saturating_sub(1)];
        for (row, ((position, number), weight)) in
            self.positions.iter().zip(self.edges.numbers).zip(weights).enumerate()
        {
            let w = motion.velocity(*position);
            let sum = w + motion.v0;
            let per_v0 = if *position == 0.0 { 0.0 } else { -2.0 * position / (w * sum) };
            let per_a = if *position == 0.0 { 0.0 } else { -2.0 * position * position / (w * sum * sum) };
            let spoke = (number - self.first).rem_euclid((period as f64).max(1.0));
            let is = |index: usize| (spoke - index as f64).abs() < 0.5;
            for (index, column) in columns.iter_mut().enumerate() {
                let entry = match index {
                    0 => 1.0,
                    1 => per_v0,
                    2 => per_a,
                    // An offset further along is reached later; the last is minus the sum of the others.
                    _ if is(index - 3) => 1.0 / w,
                    _ if is(period - 1) => -1.0 / w,
                    _ => 0.0,
                };
                if let Some(cell) = column.get_mut(row) {
                    *cell = entry * weight;
                }
            }
        }
        columns
    }

    /// Observed − model without offsets, times the weights.
    fn misfit(&self, motion: &Motion, weights: &[f64]) -> Vec<f64> {
        let model = |position: f64| motion.t0 + 2.0 * position / (motion.velocity(position) + motion.v0);
        let rows = self.edges.times.iter().zip(&self.positions).zip(weights);
        rows.map(|((time, position), weight)| (time - model(*position)) * weight).collect()
    }

    /// Gauss–Newton to the end, each step with the weights of the motion so far.
    fn settle(&self, motion: &mut Motion, period: usize, crossover: f64) -> Result<(), FitError> {
        let last = self.positions.last().copied().unwrap_or(0.0);
        for _ in 0..STEPS {
            let weights = self.weights(motion, crossover);
            let columns = Columns::new(self.columns(motion, period, &weights))?;
            let mut misfit = self.misfit(motion, &weights);
            let step = columns.solve(&mut misfit);
            let [dt, dv, da] = [0, 1, 2].map(|index| step.get(index).copied().unwrap_or(f64::NAN));
            // Half the way, or a quarter …, where a whole step would let an end stand still.
            let mut part = 1.0;
            let next = loop {
                let next =
                    Motion { t0: motion.t0 + part * dt, v0: motion.v0 + part * dv, a: motion.a + part * da };
                let slowest = next.v0 * next.v0 + (2.0 * next.a * last).min(0.0);
                if next.v0 > 0.0 && slowest > 1e-6 * motion.v0 * motion.v0 {
                    break next;
                }
                part *= 0.5;
                if part.is_nan() || part < 1e-6 {
                    return Err(FitError::Degenerate);
                }
            };
            let scale = next.a.abs() + next.v0 * next.v0 / last;
            let moved = (next.a - motion.a).abs();
            *motion = next;
            if moved <= SETTLED * scale {
                break;
            }
        }
        Ok(())
    }

    /// The v_c of the largest restricted likelihood at this motion.
    fn crossover(&self, motion: &Motion, period: usize) -> Result<f64, FitError> {
        if period == 0 && self.edges.tolerance > 0.0 {
            // Spokes off their places are position noise, and too few edges to learn anything better.
            return Ok(CROSSOVERS.last().copied().unwrap_or(0.0));
        }
        let mut best = (f64::INFINITY, 0.0);
        for crossover in CROSSOVERS {
            let weights = self.weights(motion, crossover);
            let columns = Columns::new(self.columns(motion, period, &weights))?;
            let mut misfit = self.misfit(motion, &weights);
            columns.solve(&mut misfit);
            let freedom = columns.degrees_of_freedom() as f64;
            let variance = dot(&misfit, &misfit) / freedom;
            let log_variances: f64 = weights.iter().map(|weight| -2.0 * weight.ln()).sum();
            let deviance = log_variances + columns.log_determinant() + freedom * variance.ln();
            if deviance < best.0 {
                best = (deviance, crossover);
            }
        }
        Ok(best.1)
    }

    fn finish(
        &self,
        motion: Motion,
        period: usize,
        crossover: f64,
        with_offsets: bool,
    ) -> Result<EdgeFit, FitError> {
        let weights = self.weights(&motion, crossover);
        let columns = Columns::new(self.columns(&motion, period, &weights))?;
        let mut misfit = self.misfit(&motion, &weights);
        let solved = columns.solve(&mut misfit);
        let degrees_of_freedom = columns.degrees_of_freedom();
        let sum_of_squares = dot(&misfit, &misfit);
        let sigma = (sum_of_squares / degrees_of_freedom as f64).sqrt();
        let per_sigma =
            columns.inverse().get(2).and_then(|row| row.get(2)).map_or(f64::NAN, |variance| variance.sqrt());
        // With the largest crossover alone, σ = tolerance/v_c makes every edge uncertain by the tolerance.
        let tolerance = self.edges.tolerance / CROSSOVERS.last().copied().unwrap_or(1.0);
        let tolerance_counts = !with_offsets && tolerance > sigma;
        let scatter = if tolerance_counts { tolerance } else { sigma };
        let velocities: Vec<f64> = self.positions.iter().map(|&at| motion.velocity(at)).collect();
        let mut offsets: Vec<Meters> = solved.get(3..).unwrap_or(&[]).iter().map(|&p| Meters(p)).collect();
        if with_offsets {
            let sum: f64 = offsets.iter().map(|offset| offset.0).sum();
            offsets.push(Meters(-sum));
        }

        let slowed = self.slowed(&motion, &weights);
        let slowing = Slowing::from_residuals(&columns, &slowed, &misfit, 2, 1.0);
        let offset_test = match (&slowing, with_offsets) {
            (Some(slowing), true) => self.offset_test(&motion, &weights, period, &slowed, slowing),
            _ => None,
        };
        let unweighted: Vec<f64> =
            misfit.iter().zip(&weights).map(|(misfit, weight)| misfit / weight).collect();
        Ok(EdgeFit {
            first_time: Seconds(motion.t0),
            first_velocity: MetersPerSecond(motion.v0),
            acceleration: motion.a,
            acceleration_uncertainty: per_sigma * scatter,
            degrees_of_freedom,
            pitch: Meters(self.edges.pitch),
            last_number: self.edges.numbers.last().copied().unwrap_or(0.0) - self.first,
            numbers: self.edges.numbers.iter().map(|number| number - self.first).collect(),
            offsets,
            tolerance_counts,
            clock_noise: Seconds(sigma),
            position_noise: Meters(sigma * crossover),
            crossover: MetersPerSecond(crossover),
            residuals: unweighted,
            velocities,
            offset_test,
            slowing,
        })
    }

    /// ∂t/∂κ of every edge, times the weights.
    fn slowed(&self, motion: &Motion, weights: &[f64]) -> Vec<f64> {
        let delay = |position: f64| {
            let w = motion.velocity(position);
            let elapsed = 2.0 * position / (w + motion.v0);
            elapsed * elapsed * (motion.v0 / w + 0.5) / 3.0
        };
        self.positions.iter().zip(weights).map(|(position, weight)| delay(*position) * weight).collect()
    }

    fn offset_test(
        &self,
        motion: &Motion,
        weights: &[f64],
        period: usize,
        slowed: &[f64],
        slowing: &Slowing,
    ) -> Option<OffsetTest> {
        let mut columns = self.columns(motion, 0, weights);
        columns.push(slowed.to_vec());
        let without = Columns::new(columns).ok()?;
        let mut misfit = self.misfit(motion, weights);
        without.solve(&mut misfit);
        let denominator = slowing.degrees_of_freedom;
        let (numerator, left) = (period.saturating_sub(1), slowing.sum_of_squares);
        let f = ((dot(&misfit, &misfit) - left) / numerator as f64) / (left / denominator as f64);
        f.is_finite().then_some(OffsetTest { f, numerator, denominator })
    }
}
