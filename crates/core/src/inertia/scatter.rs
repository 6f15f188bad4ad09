//! By how much friction differs from run to run: ρ, a part of each line's own friction torque.

use crate::fit::{LineFit, YorkFit};
use crate::torque::TorquePoint;

/// How far apart friction torques may be for their scatter: a line whose intercept is hardly known must not
/// claim to have none, or all of it.
const FRICTION_RANGE: f64 = 4.0;

/// Friction torques to scale the scatter by, from the lines one would draw.
pub(super) fn frictions(lines: &[&LineFit]) -> Vec<f64> {
    let size = |line: &&LineFit| line.intercept.abs().max(line.intercept_uncertainty);
    let largest = lines.iter().map(size).fold(0.0, f64::max);
    // Runs without any friction have no scatter of it either; any scale will do.
    let largest = if largest > 0.0 { largest } else { 1.0 };
    lines.iter().map(|line| size(line).max(largest / FRICTION_RANGE)).collect()
}

/// ρ²: where χ² equals its degrees of freedom; as good as zero where χ² is smaller anyway.
pub(super) fn friction_variance(
    points: &[Vec<TorquePoint>],
    at: &dyn Fn(f64) -> Option<Vec<YorkFit>>,
) -> f64 {
    let freedom: usize = points.iter().map(|points| points.len().saturating_sub(2)).sum();
    // Falls as ρ² grows.
    // Where no line can be fitted at all, friction scatters more.
    let excess = |logarithm: f64| match at(logarithm.exp()) {
        Some(lines) => lines.iter().map(|line| line.chi_square).sum::<f64>() - freedom as f64,
        None => f64::INFINITY,
    };
    let least = LEAST_SCATTER.ln();
    let step = 4.0_f64.ln();
    let mut high = USUAL_SCATTER.ln();
    let mut above = excess(high);
    while above > 0.0 && high < -least {
        high += step;
        above = excess(high);
    }
    let mut low = high - step;
    let mut below = excess(low);
    while below <= 0.0 && low > least {
        (high, above) = (low, below);
        low -= step;
        below = excess(low);
    }
    if below.is_nan() || !above.is_finite() || below <= 0.0 {
        return LEAST_SCATTER;
    }
    // Regula falsi with the Illinois step (M. Dowell and P. Jarratt, BIT 11 (1971) 168).
    let mut last_side = 0;
    for _ in 0..100 {
        let crossing = (low * above - high * below) / (above - below);
        let middle = if crossing.is_finite() { crossing } else { f64::midpoint(low, high) };
        let found = excess(middle);
        if found == 0.0 || found.is_nan() || (high - low).abs() < 1e-14 {
            return middle.exp();
        }
        let side = if found > 0.0 { 1 } else { -1 };
        let settled = if side > 0 { (middle - low).abs() } else { (high - middle).abs() } < 1e-14;
        if side > 0 {
            (low, below) = (middle, found);
            above *= if last_side == side { 0.5 } else { 1.0 };
        } else {
            (high, above) = (middle, found);
            below *= if last_side == side { 0.5 } else { 1.0 };
        }
        if settled {
            return middle.exp();
        }
        last_side = side;
    }
    f64::midpoint(low, high).exp()
}

/// ρ² of runs that do not scatter: even they need a weight, a part in 10¹² of the friction.
const LEAST_SCATTER: f64 = 1e-24;
/// ρ² where the search begins: 3 %.
const USUAL_SCATTER: f64 = 1e-3;
