//! Viscous friction, from the curvature of the runs.
//!
//! Each run shows the rate κ = b/(I + (m + I_p/r_p²) Rₑ²) at which it is held back
//! ([`crate::acceleration::Slowing`]), which gives b. The mean over all runs, weighted with 1/u², is far
//! better than what the bend of the torque line would tell: drag so weak that it hides there still moves the slope by several
//! uncertainties. Where the runs disagree more than their uncertainties say, u(b) is made larger by the
//! Birge ratio √(χ²/ν) (R. T. Birge, Phys. Rev. 40 (1932) 207).

use crate::apparatus::Rig;
use crate::quantity::NewtonMeterSeconds;
use crate::torque::{FittedRun, moved_inertia};

/// The viscous friction found, and what was done about it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DragFound {
    /// b.
    pub coefficient: NewtonMeterSeconds,
    /// u(b).
    pub uncertainty: NewtonMeterSeconds,
    /// Degrees of freedom of u(b).
    pub degrees_of_freedom: f64,
    /// Runs that tell of it.
    pub runs: usize,
    /// Σ (b − mean)²/u² over those runs.
    pub chi_square: f64,
    /// Whether the points were corrected for it.
    pub corrected: bool,
}

impl DragFound {
    /// b in standard uncertainties.
    pub fn t(&self) -> f64 {
        self.coefficient.0 / self.uncertainty.0
    }

    /// Degrees of freedom that [`Self::t`] is to be judged with: those of the disagreement between runs
    /// where that made u(b) larger.
    pub fn degrees_of_freedom_of_t(&self) -> f64 {
        let between = self.runs.saturating_sub(1) as f64;
        if self.runs > 1 && self.chi_square > between { between } else { self.degrees_of_freedom }
    }
}

/// Weighted mean of b over runs, each with the moment of inertia I of what turns.
pub(super) fn mean_drag<'a>(
    runs: impl Iterator<Item = (&'a FittedRun, f64)>,
    rig: &Rig,
) -> Option<DragFound> {
    let (mut weights, mut sum, mut squares, mut count, mut freedom) = (0.0, 0.0, 0.0, 0_usize, 0_usize);
    for (run, inertia) in runs {
        let Some(slowing) = &run.slowing else { continue };
        let total = moved_inertia(inertia, run, rig);
        let (b, u) = (slowing.rate * total, slowing.rate_uncertainty * total);
        let weight = 1.0 / (u * u);
        if !(weight.is_finite() && weight > 0.0 && b.is_finite()) {
            continue;
        }
        weights += weight;
        sum += weight * b;
        squares += weight * b * b;
        count += 1;
        freedom += slowing.degrees_of_freedom;
    }
    if count == 0 {
        return None;
    }
    let mean = sum / weights;
    let chi_square = (squares - mean * sum).max(0.0);
    let birge = if count > 1 { (chi_square / (count - 1) as f64).max(1.0) } else { 1.0 };
    Some(DragFound {
        coefficient: NewtonMeterSeconds(mean),
        uncertainty: NewtonMeterSeconds((birge / weights).sqrt()),
        degrees_of_freedom: freedom as f64,
        runs: count,
        chi_square,
        corrected: false,
    })
}
