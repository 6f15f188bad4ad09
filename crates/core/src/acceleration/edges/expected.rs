//! What the fit of edges would tell of a run that is only planned.

use super::{CROSSOVERS, EDGES_BEYOND_OFFSETS, Edges, Motion, Problem, SPOKE_TOLERANCE};
use crate::acceleration::Slowing;
use crate::fit::{Columns, FitError};
use crate::quantity::{Meters, MetersPerSecond, MetersPerSecond2, Seconds};

/// Standard deviations that make an edge's time uncertain: var(t) = σ_t² + (σ_x/v)².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeNoise {
    /// σ_t, of the clock.
    pub clock: Seconds,
    /// σ_x, of the string's place.
    pub position: Meters,
}

/// Edges of a fall that has not happened yet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlannedEdges {
    /// How many.
    pub count: usize,
    /// String travel from edge to edge.
    pub pitch: Meters,
    /// After how many edges the same spoke comes round; 0 when unknown.
    pub period: usize,
    /// Velocity at the first.
    pub first_velocity: MetersPerSecond,
    /// a.
    pub acceleration: MetersPerSecond2,
}

/// What a fit would report on average.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExpectedFit {
    /// u(a).
    pub acceleration_uncertainty: MetersPerSecond2,
    /// Degrees of freedom of the scatter.
    pub degrees_of_freedom: usize,
    /// What the curvature would say of drag: none, with this uncertainty.
    pub slowing: Option<Slowing>,
}

impl PlannedEdges {
    /// What [`super::fit_edges`] would report on average with this noise.
    ///
    /// u²(a) is the entry of (XᵀWX)⁻¹, with the same columns X as the fit has and the true weights in the
    /// place of the estimated ones.
    ///
    /// # Errors
    /// When the edges are too few to fix the motion, or there is no noise at all.
    pub fn expected(&self, noise: &EdgeNoise) -> Result<ExpectedFit, FitError> {
        let with_offsets = self.period > 1 && self.count >= self.period + EDGES_BEYOND_OFFSETS;
        let period = if with_offsets { self.period } else { 0 };
        let pitch = self.pitch.0;
        let numbers: Vec<f64> = (0..self.count).map(|number| number as f64).collect();
        let positions: Vec<f64> = numbers.iter().map(|number| number * pitch).collect();
        let edges = Edges { times: &[], numbers: &numbers, pitch, period, tolerance: 0.0 };
        let problem = Problem { edges: &edges, positions, first: 0.0 };
        let motion = Motion { t0: 0.0, v0: self.first_velocity.0, a: self.acceleration.0 };
        let weights = if with_offsets {
            let sd = |position: &f64| noise.clock.0.hypot(noise.position.0 / motion.velocity(*position));
            problem.positions.iter().map(|position| sd(position).recip()).collect()
        } else {
            // The fit takes all of it for position noise then.
            let last = CROSSOVERS.last().copied().unwrap_or(1.0);
            let mut weights = problem.weights(&motion, last);
            weights.iter_mut().for_each(|weight| *weight *= last / noise.position.0);
            weights
        };
        let columns = Columns::new(problem.columns(&motion, period, &weights))?;
        let variance = columns.inverse().get(2).and_then(|row| row.get(2)).copied().unwrap_or(f64::NAN);
        let too_small = SPOKE_TOLERANCE * pitch / noise.position.0;
        let scatter = if with_offsets { 1.0 } else { too_small.max(1.0) };
        let slowed = problem.slowed(&motion, &weights);
        Ok(ExpectedFit {
            acceleration_uncertainty: MetersPerSecond2(variance.sqrt() * scatter),
            degrees_of_freedom: columns.degrees_of_freedom(),
            slowing: Slowing::expected(&columns, &slowed, 2, 1.0).map(|(slowing, _)| slowing),
        })
    }
}
