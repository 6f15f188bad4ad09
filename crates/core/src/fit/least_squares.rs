//! General linear least squares y = Σ cⱼ xⱼ by orthogonalization of the columns.
//!
//! Modified Gram–Schmidt with y carried along as one more column: backward stable for least
//! squares, unlike the normal equations, which lose half the digits (Björck, *Numerical Methods
//! for Least Squares Problems*, SIAM 1996, 2.4.4). Checked against the NIST reference sets.

use super::FitError;

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
    for index in 0..n {
        let finite = y.get(index).is_some_and(|value| value.is_finite())
            && columns.iter().all(|column| column.get(index).is_some_and(|value| value.is_finite()));
        if !finite {
            return Err(FitError::NotFinite { number: index + 1 });
        }
    }

    let mut work: Vec<Vec<f64>> = columns.to_vec();
    let mut residuals = y.to_vec();
    // Row j of the triangular factor from its diagonal on, and the part of y along direction j.
    let mut triangle: Vec<Vec<f64>> = Vec::with_capacity(p);
    let mut along: Vec<f64> = Vec::with_capacity(p);
    for (index, original) in columns.iter().enumerate() {
        let Some((direction, later)) = work.get_mut(index..).and_then(<[_]>::split_first_mut) else {
            return Err(FitError::Degenerate);
        };
        let norm = dot(direction, direction).sqrt();
        // What is left of the column is rounding noise of the column itself.
        if norm <= dot(original, original).sqrt() * f64::EPSILON * n as f64 || norm == 0.0 {
            return Err(FitError::Degenerate);
        }
        direction.iter_mut().for_each(|value| *value /= norm);
        let mut row = vec![norm];
        for column in later {
            row.push(take_out(direction, column));
        }
        along.push(take_out(direction, &mut residuals));
        triangle.push(row);
    }

    let coefficients = back_substitute(&triangle, &along);
    let degrees_of_freedom = n - p;
    let variance = dot(&residuals, &residuals) / degrees_of_freedom as f64;
    // Column j of the inverse triangle; (RᵀR)⁻¹ is the sum of their outer products.
    let inverse: Vec<Vec<f64>> = (0..p)
        .map(|index| {
            let unit: Vec<f64> = (0..p).map(|row| f64::from(u8::from(row == index))).collect();
            back_substitute(&triangle, &unit)
        })
        .collect();
    let covariance = (0..p)
        .map(|i| {
            let entry = |j: usize| {
                let sum: f64 = inverse
                    .iter()
                    .map(|column| {
                        column.get(i).copied().unwrap_or(0.0) * column.get(j).copied().unwrap_or(0.0)
                    })
                    .sum();
                variance * sum
            };
            (0..p).map(entry).collect()
        })
        .collect();
    Ok(LinearFit {
        coefficients,
        covariance,
        residuals,
        residual_standard_deviation: variance.sqrt(),
        degrees_of_freedom,
    })
}

fn dot(left: &[f64], right: &[f64]) -> f64 {
    left.iter().zip(right).map(|(a, b)| a * b).sum()
}

/// Takes the part along `direction` (of length 1) out of `column` and returns its size.
fn take_out(direction: &[f64], column: &mut [f64]) -> f64 {
    let size = dot(direction, column);
    column.iter_mut().zip(direction).for_each(|(value, d)| *value -= size * d);
    size
}

/// Solves R c = b for an upper triangle whose row j starts at its diagonal.
fn back_substitute(triangle: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    // Solved from the last unknown up; `solved` holds them last first.
    let mut solved: Vec<f64> = Vec::with_capacity(right.len());
    for (row, b) in triangle.iter().zip(right).rev() {
        let Some((diagonal, beyond)) = row.split_first() else { continue };
        let known: f64 = beyond.iter().zip(solved.iter().rev()).map(|(r, c)| r * c).sum();
        solved.push((b - known) / diagonal);
    }
    solved.reverse();
    solved
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
