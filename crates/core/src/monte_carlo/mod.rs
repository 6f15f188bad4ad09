//! Propagation of distributions by a Monte Carlo method, to check the first-order intervals: JCGM 101:2008.
//!
//! First-order propagation ([`crate::inertia`], [`crate::object`]) linearizes the chain and takes every
//! result for Student's t with effective degrees of freedom. Both are approximations, and JCGM 101:2008
//! clause 8 says how to check them: draw every *input* from its distribution, send each draw through the
//! whole chain, and compare the ends of the intervals. That is a check of the propagation alone; both sides
//! share the model and what is known of the inputs, so neither can tell whether those are right.
//!
//! # What is drawn, and why
//!
//! The measurement function takes what was measured to the results, with the fit as a part of it. Its inputs:
//!
//! | input | distribution | from |
//! | --- | --- | --- |
//! | R, d, g, I_p, and as factors s, h, balance | normal with their u | 6.4.7: best estimate and standard uncertainty are all that is known |
//! | a of each run | scaled and shifted t with its ν; normal for infinite ν | 6.4.9 |
//! | mass of each run | normal with u_m, beside the shared balance | 6.4.7 |
//! | friction of each run | normal about that of its configuration, with one s_f for all runs | common model of all lines |
//! | s_f | from its estimate with the pooled ν, once per trial (`friction.rs`) | 6.4.9.2: t is a normal whose standard deviation is estimated |
//! | b, where drag is corrected | the b of this trial's radii and slopes, plus a normal with u(b) | 6.4.7 |
//! | predicted I | normal with its u, or t | 6.4.7 |
//!
//! - *About the measured values*, not about the fitted line: an input's distribution is centered on its best
//!   estimate (6.4.7, 6.4.9), and that of a run's acceleration is the measured one. So a trial without
//!   errors gives exactly the first-order estimates, and what the mean of all trials is off by is the
//!   curvature of the chain.
//! - *a once, τ and α from it*, so that their full correlation need not be put in: it comes out.
//! - *Shared inputs once per trial* for all configurations; so the subtraction loaded − empty keeps their
//!   correlation without a formula.
//! - *Friction's departure enters τ.* Its best estimate is zero for every run: the residuals hold it, but
//!   mixed with the errors of a and m.
//! - *Weights stay* at those of the best fit; York's equation is solved to the end in each trial. The weights
//!   are a part of the measurement function, which first-order propagation holds fixed as well; were
//!   they estimated anew in each trial, s_f would be drawn twice.
//! - The *s_f of all runs together*: the friction of all runs is one multivariate t. That is what gives
//!   the result the tails of t with the pooled ν, without that being put in anywhere.
//!
//! Where the two can differ: curvature of the chain; Welch–Satterthwaite in place of the true sum of t and
//! normal parts, with its effective ν cut down to a whole number (JCGM 100:2008 G.4.1); and that first-order
//! propagation gives *all* that scatters the pooled ν, also what comes from each run's own readings and is
//! known better. The last makes its intervals wide where friction scatters little. The *standard*
//! uncertainties differ always: that of a t with ν degrees of freedom is √(ν/(ν − 2)) times its scale, and
//! for ν = 1 or 2 there is none (6.4.9.4). So clause 8 compares the intervals.
//!
//! # Precision
//!
//! Blocks of 10⁴ trials; it stops when twice the standard deviation of mean, u and both ends, as averages
//! over the blocks, is below δ/5 for every result (7.9.4, with the fifth that 8.2 advises where δ is the bar
//! for the comparison: at δ itself one of twenty ends would miss the bar by chance), or at the number of
//! trials allowed. What it reached is told with the outcome, and a difference that the number of trials does
//! not resolve is called undecided. Clauses 6 to 8 are quoted from memory of the document.

mod chain;
mod distribution;
mod friction;
mod model;
mod outcome;
mod propagation;
mod random;
mod text;

pub use distribution::{BARS, BARS_REACH};
pub use model::{Model, ModelError, Target};
pub use outcome::{Check, FirstOrder, Outcome, Simulated, Verdict};
pub use propagation::{BLOCK, Limits, Progress, Propagation, Trial, tolerance};
pub use random::{ChiSquare, Error, Random};

/// The seed for people who want the same digits every time and have no wish of their own.
pub const SEED: u64 = 20_081_101;

/// A number's whole part; 0 for what is negative or not a number.
#[inline]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "numbers out of reach become the nearest"
)]
fn whole(number: f64) -> usize {
    number as usize
}

/// A simulation of a lab, block by block.
pub struct Simulation {
    propagation: Propagation,
}

impl Simulation {
    /// At its start, with as many trials as usual.
    pub fn new(model: &Model, seed: u64) -> Self {
        Self::with_limits(model, seed, Limits::default())
    }

    /// At its start.
    pub fn with_limits(model: &Model, seed: u64, limits: Limits) -> Self {
        Self { propagation: Propagation::new(Box::new(chain::Chain::new(model)), seed, limits) }
    }

    /// Draws one more block of trials, unless it is done.
    pub fn block(&mut self) -> Progress {
        self.propagation.block()
    }

    /// What the trials so far say; one result per [`Model::targets`].
    pub fn outcome(&self) -> Outcome {
        self.propagation.outcome()
    }

    /// All blocks at once.
    pub fn run(mut self) -> Outcome {
        while !self.block().done {}
        self.outcome()
    }
}

#[cfg(test)]
mod tests;
