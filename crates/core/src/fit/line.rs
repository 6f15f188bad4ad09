//! Straight line y = intercept + slope·x by ordinary least squares.
//!
//! ```text
//! slope     = S_xy / S_xx          S_xx = Σ (x − x̄)²,  S_xy = Σ (x − x̄)(y − ȳ)
//! intercept = ȳ − slope·x̄
//! s²        = Σ residual² / (n − 2)
//! u²(slope) = s²/S_xx,  u²(intercept) = s² (1/n + x̄²/S_xx),  cov = −s² x̄/S_xx
//! ```
//!
//! Source: JCGM 100:2008 H.3.2, formulas (H.13a) to (H.13f), written in centered sums. Holds when
//! the y scatter alike and independently and the x are known much better. Errors in x are left out.

use super::Points;

/// A fitted line with the sums it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct LineFit {
    /// y per x.
    pub slope: f64,
    /// y at x = 0.
    pub intercept: f64,
    /// Standard uncertainty of the slope.
    pub slope_uncertainty: f64,
    /// Standard uncertainty of the intercept.
    pub intercept_uncertainty: f64,
    /// Covariance of slope and intercept.
    pub covariance: f64,
    /// Observed − fitted, in the order of the points.
    pub residuals: Vec<f64>,
    /// Standard deviation of the residuals, s.
    pub residual_standard_deviation: f64,
    /// n − 2.
    pub degrees_of_freedom: usize,
    /// Mean of x.
    pub mean_x: f64,
    /// Mean of y.
    pub mean_y: f64,
    /// Σ (x − x̄)².
    pub sum_xx: f64,
    /// Σ (x − x̄)(y − ȳ).
    pub sum_xy: f64,
}

/// Fits the line. Cannot fail: [`Points`] are never too few nor all at one x.
pub fn fit_line(points: &Points) -> LineFit {
    let points = points.as_slice();
    let n = points.len() as f64;
    // Centered sums: with clock times near 1e9 s the textbook sums lose every digit of the slope.
    let mean_x = mean(points.iter().map(|point| point.0), n);
    let mean_y = mean(points.iter().map(|point| point.1), n);
    let sum_xx: f64 = points.iter().map(|(x, _)| (x - mean_x).powi(2)).sum();
    let sum_xy: f64 = points.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    let slope = sum_xy / sum_xx;
    let intercept = mean_y - slope * mean_x;
    let residuals: Vec<f64> = points.iter().map(|(x, y)| (y - mean_y) - slope * (x - mean_x)).collect();
    let degrees_of_freedom = points.len().saturating_sub(2);
    let sum_of_squares: f64 = residuals.iter().map(|residual| residual * residual).sum();
    let variance = sum_of_squares / degrees_of_freedom as f64;
    LineFit {
        slope,
        intercept,
        slope_uncertainty: (variance / sum_xx).sqrt(),
        intercept_uncertainty: (variance * (1.0 / n + mean_x * mean_x / sum_xx)).sqrt(),
        covariance: -variance * mean_x / sum_xx,
        residuals,
        residual_standard_deviation: variance.sqrt(),
        degrees_of_freedom,
        mean_x,
        mean_y,
        sum_xx,
        sum_xy,
    }
}

/// Two-pass mean: the second pass mends what rounding of the large sum lost.
fn mean(values: impl Iterator<Item = f64> + Clone, n: f64) -> f64 {
    let rough = values.clone().sum::<f64>() / n;
    rough + values.map(|value| value - rough).sum::<f64>() / n
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_through_three_points_worked_by_hand() {
        // x̄ = 1, ȳ = 2; S_xx = 2, S_xy = 3; residuals 0.5, −1, 0.5 → s² = 1.5.
        let fit = fit_line(&Points::new(vec![(0.0, 1.0), (1.0, 1.0), (2.0, 4.0)]).unwrap());
        assert!((fit.slope - 1.5).abs() < 1e-15);
        assert!((fit.intercept - 0.5).abs() < 1e-15);
        assert!((fit.residual_standard_deviation.powi(2) - 1.5).abs() < 1e-14);
        assert!((fit.slope_uncertainty.powi(2) - 0.75).abs() < 1e-14);
        assert!((fit.intercept_uncertainty.powi(2) - 1.5 * (1.0 / 3.0 + 0.5)).abs() < 1e-14);
        assert!((fit.covariance + 0.75).abs() < 1e-14);
    }

    #[test]
    fn a_clock_that_started_long_ago_changes_no_slope() {
        let points = |offset: f64| {
            Points::new((0..20).map(|k| f64::from(k) / 8.0).map(|t| (offset + t, 0.3 + 0.5 * t)).collect())
        };
        let far = fit_line(&points(1_048_576.0 * 1024.0).unwrap());
        assert!((far.slope - 0.5).abs() < 1e-12, "{}", far.slope);
    }
}
