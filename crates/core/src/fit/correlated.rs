//! Linear least squares when neighboring readings err together.
//!
//! Velocities that a logger forms as differences of positions share a position with their neighbor:
//! their errors have lag-1 correlation −½, those of smoothed readings a positive one. The model is
//!
//! ```text
//! y = X c + e,   var(e) = s² T(ρ),   T tridiagonal: 1 on the diagonal, ρ beside it, −½ ≤ ρ ≤ ½
//! ```
//!
//! ρ is taken from a grid where the restricted likelihood is largest (H. D. Patterson and R. Thompson,
//! Biometrika 58 (1971) 545): −2 ln L = ln det T + ln det XᵀT⁻¹X + (n − p) ln s². With T = L Lᵀ,
//! rows are combined by L⁻¹, after which ordinary least squares holds (JCGM 100:2008 5.2 for why
//! correlations must not be left out).

use super::{Columns, FitError, dot};

/// A fit with its correlation of neighbors.
#[derive(Clone, Debug, PartialEq)]
pub struct Correlated {
    /// One coefficient per column.
    pub coefficients: Vec<f64>,
    /// Covariance of the coefficients.
    pub covariance: Vec<Vec<f64>>,
    /// Observed − fitted, row by row as given.
    pub residuals: Vec<f64>,
    /// s.
    pub standard_deviation: f64,
    /// ρ.
    pub neighbor_correlation: f64,
    /// n − p.
    pub degrees_of_freedom: usize,
    /// The combined columns, for further right sides.
    pub whitened: Columns,
    /// The combined residuals: independent, alike, of standard deviation s.
    pub whitened_residuals: Vec<f64>,
}

/// ρ that are tried.
const CORRELATIONS: [f64; 13] = [0.0, -0.5, -0.475, -0.45, -0.4, -0.3, -0.2, -0.1, 0.1, 0.2, 0.3, 0.4, 0.5];

/// Fits `y` as a linear combination of `columns`, neighbors correlated as the readings themselves say.
///
/// # Errors
/// As [`super::least_squares`].
pub fn fit_correlated(columns: &[Vec<f64>], y: &[f64]) -> Result<Correlated, FitError> {
    let mut best: Option<(f64, f64)> = None;
    for correlation in CORRELATIONS {
        let tried = whiten_all(columns, y, correlation)?;
        let (x, mut residuals, log_determinant) = tried;
        x.solve(&mut residuals);
        let freedom = x.degrees_of_freedom() as f64;
        let variance = dot(&residuals, &residuals) / freedom;
        let deviance = log_determinant + x.log_determinant() + freedom * variance.ln();
        // Exact readings have no scatter whose correlation could be told.
        if deviance.is_finite() && best.is_none_or(|(least, _)| deviance < least) {
            best = Some((deviance, correlation));
        }
    }
    let correlation = best.map_or(0.0, |(_, correlation)| correlation);
    let (whitened, mut whitened_residuals, _) = whiten_all(columns, y, correlation)?;
    let coefficients = whitened.solve(&mut whitened_residuals);
    let degrees_of_freedom = whitened.degrees_of_freedom();
    let variance = dot(&whitened_residuals, &whitened_residuals) / degrees_of_freedom as f64;
    let mut covariance = whitened.inverse();
    covariance.iter_mut().flatten().for_each(|entry| *entry *= variance);
    let mut residuals = y.to_vec();
    for (column, coefficient) in columns.iter().zip(&coefficients) {
        residuals.iter_mut().zip(column).for_each(|(left, x)| *left -= coefficient * x);
    }
    Ok(Correlated {
        coefficients,
        covariance,
        residuals,
        standard_deviation: variance.sqrt(),
        neighbor_correlation: correlation,
        degrees_of_freedom,
        whitened,
        whitened_residuals,
    })
}

type Whitened = (Columns, Vec<f64>, f64);

fn whiten_all(columns: &[Vec<f64>], y: &[f64], correlation: f64) -> Result<Whitened, FitError> {
    if let Some(index) = y.iter().position(|value| !value.is_finite()) {
        return Err(FitError::NotFinite { number: index + 1 });
    }
    let factor = Factor::new(y.len(), correlation);
    let mut right = y.to_vec();
    factor.take_off(&mut right);
    let mut x = columns.to_vec();
    x.iter_mut().for_each(|column| factor.take_off(column));
    Ok((Columns::new(x)?, right, factor.log_determinant))
}

/// L⁻¹ y in place, where L Lᵀ is the tridiagonal correlation matrix; returns ln det T.
pub(crate) fn whiten(values: &mut [f64], correlation: f64) -> f64 {
    let factor = Factor::new(values.len(), correlation);
    factor.take_off(values);
    factor.log_determinant
}

/// L, where L Lᵀ is the tridiagonal correlation matrix T.
struct Factor {
    /// Of each row what stands below the diagonal, and the diagonal.
    rows: Vec<(f64, f64)>,
    /// ln det T.
    log_determinant: f64,
}

impl Factor {
    /// Row i: below the diagonal ρ/l(i−1), on it l(i) = √(1 − (ρ/l(i−1))²).
    fn new(count: usize, correlation: f64) -> Self {
        // l² is ½ or more: this many of them multiply to no less than 2⁻⁵⁰⁰.
        const TOGETHER: usize = 500;
        let mut rows = Vec::with_capacity(count);
        let (mut diagonal, mut product, mut log_determinant) = (1.0_f64, 1.0_f64, 0.0);
        for index in 0..count {
            let beside = if index == 0 { 0.0 } else { correlation / diagonal };
            let square = 1.0 - beside * beside;
            diagonal = square.sqrt();
            product *= square;
            // One logarithm takes longer than all else in a row.
            if index % TOGETHER == TOGETHER - 1 {
                log_determinant += product.ln();
                product = 1.0;
            }
            rows.push((beside, diagonal));
        }
        Self { rows, log_determinant: log_determinant + product.ln() }
    }

    /// L⁻¹ y in place.
    fn take_off(&self, values: &mut [f64]) {
        let mut before = 0.0;
        for (value, (beside, diagonal)) in values.iter_mut().zip(&self.rows) {
            before = (*value - beside * before) / diagonal;
            *value = before;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whitening_inverts_the_correlation() {
        // T for ρ = −½ and n = 3: L⁻¹ T L⁻ᵀ = 1, so (L⁻¹ x)·(L⁻¹ y) = xᵀ T⁻¹ y. By hand
        // T⁻¹ = [[1.5, 1, 0.5], [1, 2, 1], [0.5, 1, 1.5]], det T = ½.
        let mut unit = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        for row in &mut unit {
            assert!((whiten(row, -0.5) - 0.5_f64.ln()).abs() < 1e-14);
        }
        let expected = [[1.5, 1.0, 0.5], [1.0, 2.0, 1.0], [0.5, 1.0, 1.5]];
        for (i, row) in expected.iter().enumerate() {
            for (j, entry) in row.iter().enumerate() {
                assert!((dot(&unit[i], &unit[j]) - entry).abs() < 1e-14);
            }
        }
    }

    #[test]
    fn differences_of_positions_are_recognized() {
        // Errors e(k+1) − e(k) of a fixed pattern without trend.
        let e = |k: u32| f64::from((k * 37 + 11) % 23) - 11.0;
        let y: Vec<f64> = (0..60).map(|k| 0.5 * f64::from(k) + e(k + 1) - e(k)).collect();
        let columns = [vec![1.0; 60], (0..60).map(f64::from).collect()];
        let fit = fit_correlated(&columns, &y).unwrap();
        assert!(fit.neighbor_correlation < -0.35, "{}", fit.neighbor_correlation);
        let residual_sum: f64 = fit.residuals.iter().map(|r| r * r).sum();
        assert!(residual_sum > 0.0 && (fit.coefficients[1] - 0.5).abs() < 0.05);
    }
}
