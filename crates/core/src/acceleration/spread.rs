//! How far readings of a run lie from its fitted curve by their own noise: what a chart of residuals shows
//! behind them.

use super::{AccelerationFit, Curve};
use crate::quantity::Seconds;

impl AccelerationFit {
    /// Standard deviation of a residual at a moment, in its unit: m, m/s or m/s²; `None` where no curve was
    /// fitted.
    ///
    /// For edges `√((v σ)² + (v_c σ)²)`: the clock's noise σ moves an edge by v σ, the string's by v_c σ at any
    /// velocity (the variance function of [`super::EdgeFit`]). For samples the standard deviation about the curve.
    pub fn residual_standard_deviation(&self, time: Seconds) -> Option<f64> {
        match &self.curve {
            Curve::Edges(fit) => {
                let of_clock = self.velocity_at(time)?.0 * fit.clock_noise.0;
                Some(of_clock.hypot(fit.position_noise.0))
            }
            Curve::Sampled(fit) => Some(fit.standard_deviation),
            Curve::ByHand(_) | Curve::Entered => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Setup, estimate};
    use crate::quantity::{Meters, Seconds};
    use crate::readings::{ReadingKind, Readings};
    use crate::runs::Run;

    /// Noise of a fixed sequence, about uniform in −½ … ½: standard deviation 1/√12.
    fn noise() -> impl FnMut() -> f64 {
        let mut state = 7_u32;
        move || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 8) / f64::from(1 << 24) - 0.5
        }
    }

    /// The mean of (residual/standard deviation)² is near 1.
    #[track_caller]
    fn check(readings: &Readings, setup: &Setup) {
        let fit = estimate(&Run::new(readings, None).unwrap(), setup).unwrap();
        let squares = fit
            .residuals
            .iter()
            .map(|&(time, residual)| (residual / fit.residual_standard_deviation(time).unwrap()).powi(2));
        let mean = squares.sum::<f64>() / fit.residuals.len() as f64;
        assert!((0.6..1.2).contains(&mean), "{mean}");
    }

    #[test]
    fn residuals_scatter_as_much_as_it_says() {
        let mut noise = noise();
        let times: Vec<Seconds> = (0..80).map(|k| Seconds(0.02 * f64::from(k))).collect();
        let positions: Vec<f64> = times.iter().map(|time| 0.2 * time.0 * time.0 + 1e-3 * noise()).collect();
        let sampled = Readings::from_columns(ReadingKind::Position, &times, &positions).unwrap();
        check(&sampled, &Setup::default());

        let pitch = 0.015;
        let edges: Vec<Seconds> =
            (1..70).map(|k| Seconds((2.0 * pitch * f64::from(k) / 0.4).sqrt() + 2e-4 * noise())).collect();
        let gate = Readings::from_gate_times(&edges).unwrap();
        check(&gate, &Setup { travel_per_spoke: Some(Meters(pitch)), ..Setup::default() });
    }
}
