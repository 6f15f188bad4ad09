//! The line you would draw: velocity against time, and a straight line through it by eye or by
//! ordinary least squares.
//!
//! Its slope is a fair estimate of the acceleration. Its textbook error bar is not: neighboring
//! velocities that share a time stamp err in opposite directions (correlation −½), which an ordinary
//! fit takes for independent, so that it claims an uncertainty several times too large.

use crate::fit::{LineFit, Points, fit_line};
use crate::quantity::{MetersPerSecond, Seconds};

/// Velocities from neighboring positions (time in s, position in m), each at mid-time.
pub(super) fn differences(pairs: &[(f64, f64)]) -> Vec<(Seconds, MetersPerSecond)> {
    let between = |pair: &[(f64, f64)]| match *pair {
        [(t0, x0), (t1, x1)] => {
            let velocity = (x1 - x0) / (t1 - t0);
            velocity.is_finite().then_some((Seconds(f64::midpoint(t0, t1)), MetersPerSecond(velocity)))
        }
        _ => None,
    };
    pairs.windows(2).filter_map(between).collect()
}

/// The line through velocities; `None` when there are too few.
pub(super) fn drawn_line(velocities: &[(Seconds, MetersPerSecond)]) -> Option<LineFit> {
    let points = velocities.iter().map(|(time, velocity)| (time.0, velocity.0)).collect();
    Points::new(points).ok().map(|points| fit_line(&points))
}
