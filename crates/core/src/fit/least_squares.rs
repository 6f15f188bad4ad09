//! General linear least squares y = Σ cⱼ xⱼ, through [`Columns`].

use super::{Columns, FitError, dot};

/// Coefficients of a linear model with their covariance.
#[derive(Clone, Debug, PartialEq)]
pub struct LinearFit {
    /// One coefficient per column.
    pub coefficients: Vec<f64>,
    /// Covariance of the coefficients: rows in the order of the columns.
    pub covariance: Vec<Vec<f64>>,
    /// Observed − fitted.
    pub residuals: Vec<f64>,
    /// Standard deviation of the residuals, s.
    pub residual_standard_deviation: f64,
    /// Rows − columns.
    pub degrees_of_freedom: usize,
}

impl LinearFit {
    /// Standard uncertainty of coefficient `index`; `None` beyond the last.
    pub fn standard_uncertainty(&self, index: usize) -> Option<f64> {
        self.covariance.get(index)?.get(index).map(|variance| variance.sqrt())
    }
}

/// Fits `y` as a linear combination of `columns` (each as long as `y`).
///
/// # Errors
/// When rows do not outnumber columns, a number is not finite, or the columns do not differ
/// enough for double precision.
pub fn least_squares(columns: &[Vec<f64>], y: &[f64]) -> Result<LinearFit, FitError> {
    let (n, p) = (y.len(), columns.len());
    if n <= p || p == 0 || columns.iter().any(|column| column.len() != n) {
        return Err(FitError::TooFewPoints { found: n, needed: p + 1 });
    }
    if let Some(index) = y.iter().position(|value| !value.is_finite()) {
        return Err(FitError::NotFinite { number: index + 1 });
    }
    let columns = Columns::new(columns.to_vec())?;
    let mut residuals = y.to_vec();
    let coefficients = columns.solve(&mut residuals);
    let degrees_of_freedom = columns.degrees_of_freedom();
    let variance = dot(&residuals, &residuals) / degrees_of_freedom as f64;
    let mut covariance = columns.inverse();
    covariance.iter_mut().flatten().for_each(|entry| *entry *= variance);
    Ok(LinearFit {
        coefficients,
        covariance,
        residuals,
        residual_standard_deviation: variance.sqrt(),
        degrees_of_freedom,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_columns_worked_by_hand() {
        // The same three points as in the line's test: 0.5 + 1.5 x.
        let fit = least_squares(&[vec![1.0; 3], vec![0.0, 1.0, 2.0]], &[1.0, 1.0, 4.0]).unwrap();
        assert!((fit.coefficients[0] - 0.5).abs() < 1e-14);
        assert!((fit.coefficients[1] - 1.5).abs() < 1e-14);
        assert!((fit.covariance[0][1] + 0.75).abs() < 1e-14);
        assert!((fit.standard_uncertainty(1).unwrap().powi(2) - 0.75).abs() < 1e-14);
    }

    #[test]
    fn columns_that_say_the_same_are_refused() {
        let twice = [vec![1.0, 2.0, 3.0, 4.0], vec![2.0, 4.0, 6.0, 8.0]];
        assert_eq!(least_squares(&twice, &[1.0, 2.0, 3.0, 5.0]), Err(FitError::Degenerate));
    }

    #[test]
    fn shapes_that_do_not_match_are_refused() {
        assert!(least_squares(&[vec![1.0, 2.0]], &[1.0, 2.0, 3.0]).is_err());
        assert!(least_squares(&[], &[1.0]).is_err());
        assert_eq!(
            least_squares(&[vec![1.0, f64::NAN, 1.0]], &[1.0, 2.0, 3.0]),
            Err(FitError::NotFinite { number: 2 })
        );
    }
}
