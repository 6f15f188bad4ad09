//! A stopwatch and a drop height: a = 2 h/t̄².
//!
//! ```text
//! t̄ = Σ t/n,   u(t̄) = s/√n          (JCGM 100:2008 4.2.3)
//! a = 2 h/t̄²,  u(a) = 2 a u(t̄)/t̄    (5.1.2), n − 1 degrees of freedom
//! ```
//!
//! The mass starts from rest. The uncertainty of the drop height h is not in u(a): it is shared by all
//! runs and enters later, once. So is not the habit of pressing late at both ends, which no repetition
//! shows.

use crate::quantity::{Meters, Seconds};

/// A mean of times with what came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct ByHandFit {
    /// h.
    pub height: Meters,
    /// The times, each.
    pub times: Vec<Seconds>,
    /// t̄.
    pub mean: Seconds,
    /// Standard deviation of one time.
    pub standard_deviation: Seconds,
    /// u(t̄) = s/√n.
    pub mean_uncertainty: Seconds,
    /// a in m/s².
    pub acceleration: f64,
    /// u(a) in m/s².
    pub acceleration_uncertainty: f64,
}

/// Fewest times that show a scatter.
pub const FEWEST_TIMES: usize = 2;

/// The acceleration of a fall from rest; `None` for fewer than two times or one that is not above zero.
pub(super) fn by_hand(height: Meters, times: &[Seconds]) -> Option<ByHandFit> {
    if times.len() < FEWEST_TIMES || !times.iter().all(|time| time.0.is_finite() && time.0 > 0.0) {
        return None;
    }
    let n = times.len() as f64;
    let mean = times.iter().map(|time| time.0).sum::<f64>() / n;
    let variance = times.iter().map(|time| (time.0 - mean).powi(2)).sum::<f64>() / (n - 1.0);
    let mean_uncertainty = (variance / n).sqrt();
    let acceleration = 2.0 * height.0 / (mean * mean);
    Some(ByHandFit {
        height,
        times: times.to_vec(),
        mean: Seconds(mean),
        standard_deviation: Seconds(variance.sqrt()),
        mean_uncertainty: Seconds(mean_uncertainty),
        acceleration,
        acceleration_uncertainty: 2.0 * acceleration * mean_uncertainty / mean,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_times_worked_by_hand() {
        // t̄ = 2 s, s = 0.1 s, u(t̄) = 0.1/√3 s; a = 2 · 0.8/4 = 0.4 m/s²; u(a) = 2 · 0.4 · u(t̄)/2.
        let fit = by_hand(Meters(0.8), &[1.9, 2.0, 2.1].map(Seconds)).unwrap();
        assert!((fit.acceleration - 0.4).abs() < 1e-15);
        assert!((fit.acceleration_uncertainty - 0.4 * 0.1 / 3.0_f64.sqrt()).abs() < 1e-12);
        assert_eq!(by_hand(Meters(0.8), &[Seconds(1.9)]), None);
        assert_eq!(by_hand(Meters(0.8), &[Seconds(1.9), Seconds(0.0)]), None);
    }
}
