//! Straight line y = intercept + slope·x through points uncertain in both x and y, whose two errors
//! may be correlated.
//!
//! ```text
//! Sᵢ = u²(yᵢ) + b² u²(xᵢ) − 2 b cov(xᵢ, yᵢ)     variance of a residual,  Wᵢ = 1/Sᵢ
//! U  = x − x̄,  V = y − ȳ                        x̄, ȳ weighted with W
//! βᵢ = Wᵢ [Uᵢ u²(yᵢ) + b Vᵢ u²(xᵢ) − (b Uᵢ + Vᵢ) cov(xᵢ, yᵢ)]
//! b  = Σ W β V / Σ W β U,   a = ȳ − b x̄          solved by repeating
//! u²(b) = 1/Σ W (x_adj − x̄_adj)²,  x_adj = x̄ + β
//! u²(a) = 1/Σ W + x̄_adj² u²(b),    cov = −x̄_adj u²(b)
//! ```
//!
//! Source: D. York, N. M. Evensen, M. López Martínez, J. De Basabe Delgado, “Unified equations for the
//! slope, intercept, and standard errors of the best straight line”, Am. J. Phys. 72 (2004) 367.
//! The uncertainties are those the points claim; they are not scaled by the scatter.

use super::FitError;

/// A point with the uncertainties of its coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UncertainPoint {
    /// x.
    pub x: f64,
    /// y.
    pub y: f64,
    /// u²(x).
    pub variance_x: f64,
    /// u²(y).
    pub variance_y: f64,
    /// Covariance of the two errors.
    pub covariance: f64,
}

impl UncertainPoint {
    /// Variance of y − slope·x.
    pub fn residual_variance(&self, slope: f64) -> f64 {
        self.variance_y + slope * (slope * self.variance_x - 2.0 * self.covariance)
    }
}

/// A line through uncertain points.
#[derive(Clone, Debug, PartialEq)]
pub struct YorkFit {
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
    /// Variance that each residual should have.
    pub residual_variances: Vec<f64>,
    /// How much one unit of y at each point raises the slope, and the intercept.
    pub leverages: Vec<(f64, f64)>,
    /// Σ residual²/variance.
    pub chi_square: f64,
    /// Weighted mean of x.
    pub mean_x: f64,
    /// Weighted mean of y.
    pub mean_y: f64,
    /// Σ W β (x − x̄).
    pub sum_xx: f64,
    /// Σ W β (y − ȳ).
    pub sum_xy: f64,
}

/// Rounds of the iteration. It gains a digit or more a round where the points lie near a line.
const ROUNDS: usize = 60;

/// Fits the line; `slope` is where the iteration starts, for example an ordinary fit's.
///
/// # Errors
/// When there are fewer than two points, a number is not finite, all x are alike, or a point has no
/// uncertainty at all.
pub fn fit_york(points: &[UncertainPoint], slope: f64) -> Result<YorkFit, FitError> {
    if points.len() < 2 {
        return Err(FitError::TooFewPoints { found: points.len(), needed: 2 });
    }
    let mut slope = slope;
    let mut step = one_round(points, slope)?;
    for _ in 0..ROUNDS {
        let next = step.sum_xy / step.sum_xx;
        if !next.is_finite() {
            return Err(FitError::Degenerate);
        }
        let settled = (next - slope).abs() <= 4.0 * f64::EPSILON * next.abs();
        slope = next;
        step = one_round(points, slope)?;
        if settled {
            break;
        }
    }
    Ok(finished(points, slope, step))
}

struct Round {
    weights: Vec<f64>,
    betas: Vec<f64>,
    mean_x: f64,
    mean_y: f64,
    sum_xx: f64,
    sum_xy: f64,
}

fn one_round(points: &[UncertainPoint], slope: f64) -> Result<Round, FitError> {
    let mut weights = Vec::with_capacity(points.len());
    let (mut total, mut mean_x, mut mean_y) = (0.0, 0.0, 0.0);
    for (index, point) in points.iter().enumerate() {
        let weight = 1.0 / point.residual_variance(slope);
        if !(weight.is_finite() && weight > 0.0 && point.x.is_finite() && point.y.is_finite()) {
            return Err(FitError::NotFinite { number: index + 1 });
        }
        total += weight;
        mean_x += weight * point.x;
        mean_y += weight * point.y;
        weights.push(weight);
    }
    mean_x /= total;
    mean_y /= total;
    let (mut sum_xx, mut sum_xy) = (0.0, 0.0);
    let mut betas = Vec::with_capacity(points.len());
    for (point, weight) in points.iter().zip(&weights) {
        let (u, v) = (point.x - mean_x, point.y - mean_y);
        let beta = weight
            * (u * point.variance_y + slope * v * point.variance_x - (slope * u + v) * point.covariance);
        sum_xx += weight * beta * u;
        sum_xy += weight * beta * v;
        betas.push(beta);
    }
    Ok(Round { weights, betas, mean_x, mean_y, sum_xx, sum_xy })
}

fn finished(points: &[UncertainPoint], slope: f64, round: Round) -> YorkFit {
    let Round { weights, betas, mean_x, mean_y, sum_xx, sum_xy } = round;
    let total: f64 = weights.iter().sum();
    let weighted = |values: &[f64]| weights.iter().zip(values).map(|(w, x)| w * x).sum::<f64>() / total;
    let mean_beta = weighted(&betas);
    let spread: f64 = weights.iter().zip(&betas).map(|(w, beta)| w * (beta - mean_beta).powi(2)).sum();
    let adjusted_mean = mean_x + mean_beta;
    let slope_variance = 1.0 / spread;
    let intercept = mean_y - slope * mean_x;
    let mut fit = YorkFit {
        slope,
        intercept,
        slope_uncertainty: slope_variance.sqrt(),
        intercept_uncertainty: (1.0 / total + adjusted_mean * adjusted_mean * slope_variance).sqrt(),
        covariance: -adjusted_mean * slope_variance,
        residuals: Vec::with_capacity(points.len()),
        residual_variances: Vec::with_capacity(points.len()),
        leverages: Vec::with_capacity(points.len()),
        chi_square: 0.0,
        mean_x,
        mean_y,
        sum_xx,
        sum_xy,
    };
    for ((point, weight), beta) in points.iter().zip(&weights).zip(&betas) {
        let residual = (point.y - mean_y) - slope * (point.x - mean_x);
        fit.chi_square += weight * residual * residual;
        fit.residuals.push(residual);
        fit.residual_variances.push(1.0 / weight);
        let on_slope = weight * (beta - mean_beta) * slope_variance;
        fit.leverages.push((on_slope, weight / total - adjusted_mean * on_slope));
    }
    fit
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(x: f64, y: f64, variance_x: f64, variance_y: f64, covariance: f64) -> UncertainPoint {
        UncertainPoint { x, y, variance_x, variance_y, covariance }
    }

    #[test]
    fn equal_errors_in_y_alone_give_the_ordinary_line() {
        // The three points of the ordinary line's test: slope 1.5, intercept 0.5; with u(y) = 1
        // u²(slope) = 1/S_xx = 1/2, u²(intercept) = 1/3 + 1/2.
        let points = [(0.0, 1.0), (1.0, 1.0), (2.0, 4.0)].map(|(x, y)| point(x, y, 0.0, 1.0, 0.0));
        let fit = fit_york(&points, 1.0).unwrap();
        assert!((fit.slope - 1.5).abs() < 1e-14 && (fit.intercept - 0.5).abs() < 1e-14);
        assert!((fit.slope_uncertainty.powi(2) - 0.5).abs() < 1e-14);
        assert!((fit.intercept_uncertainty.powi(2) - 5.0 / 6.0).abs() < 1e-14);
        assert!((fit.chi_square - 1.5).abs() < 1e-14);
    }

    #[test]
    fn exchanging_x_and_y_gives_the_inverse_line() {
        let points: Vec<_> = [(0.0, 0.3), (1.0, 2.2), (2.0, 3.9), (3.0, 6.4)]
            .into_iter()
            .zip([0.1, 0.2, 0.05, 0.1])
            .map(|((x, y), v)| point(x, y, v, 2.0 * v, 0.5 * v))
            .collect();
        let swapped: Vec<_> =
            points.iter().map(|p| point(p.y, p.x, p.variance_y, p.variance_x, p.covariance)).collect();
        let (fit, inverse) = (fit_york(&points, 2.0).unwrap(), fit_york(&swapped, 0.5).unwrap());
        assert!((fit.slope * inverse.slope - 1.0).abs() < 1e-12);
        assert!((fit.chi_square - inverse.chi_square).abs() < 1e-12);
    }

    #[test]
    fn leverages_say_how_a_point_moves_the_line() {
        let points = |lift: f64| {
            [(0.0, 1.0), (1.0, 1.0 + lift), (2.0, 4.0)].map(|(x, y)| point(x, y, 0.0, 1.0 + x, 0.0))
        };
        let (fit, lifted) = (fit_york(&points(0.0), 1.0).unwrap(), fit_york(&points(0.1), 1.0).unwrap());
        let (on_slope, on_intercept) = fit.leverages[1];
        assert!((lifted.slope - fit.slope - 0.1 * on_slope).abs() < 1e-12);
        assert!((lifted.intercept - fit.intercept - 0.1 * on_intercept).abs() < 1e-12);
    }

    #[test]
    fn points_without_any_uncertainty_are_refused() {
        let points = [point(0.0, 0.0, 0.0, 0.0, 0.0), point(1.0, 1.0, 0.0, 0.0, 0.0)];
        assert_eq!(fit_york(&points, 1.0), Err(FitError::NotFinite { number: 1 }));
        assert!(fit_york(&points[..1], 1.0).is_err());
    }
}
