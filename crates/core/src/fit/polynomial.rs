//! Polynomial y = Σ cⱼ xʲ by least squares, in powers of a centered and scaled x.
//!
//! Powers of raw times (t⁰, t¹, t² at t ≈ 1000 s) are nearly parallel columns; powers of
//! w = (x − center)/half-width, which runs from −1 to 1, are not. Coefficients and covariance
//! are expanded back to powers of (x − center), so nothing is lost to a clock that started long ago.

use super::{FitError, LinearFit, Points, least_squares};

/// A fitted polynomial in powers of (x − [`center`](Self::center)).
#[derive(Clone, Debug, PartialEq)]
pub struct PolynomialFit {
    /// Where the powers are taken about: the middle of the x range.
    pub center: f64,
    /// Coefficients of (x − center)⁰, (x − center)¹, … with their covariance.
    pub fit: LinearFit,
}

impl PolynomialFit {
    /// The polynomial at `x`.
    pub fn value_at(&self, x: f64) -> f64 {
        let distance = x - self.center;
        self.fit.coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * distance + coefficient)
    }

    /// Coefficients in powers of x itself.
    pub fn coefficients_about_zero(&self) -> Vec<f64> {
        // Taylor shift by repeated synthetic division (Horner).
        let mut shifted = self.fit.coefficients.clone();
        for start in 0..shifted.len() {
            let mut above = 0.0;
            for coefficient in shifted.iter_mut().skip(start).rev() {
                *coefficient -= self.center * above;
                above = *coefficient;
            }
        }
        shifted
    }
}

/// Fits a polynomial of the given degree.
///
/// # Errors
/// When there are not at least degree + 2 points, or fewer than degree + 1 different x.
pub fn fit_polynomial(points: &Points, degree: usize) -> Result<PolynomialFit, FitError> {
    let points = points.as_slice();
    let (low, high) = points
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), point| (low.min(point.0), high.max(point.0)));
    let center = f64::midpoint(low, high);
    let half_width = 0.5 * (high - low);
    let scaled: Vec<f64> = points.iter().map(|point| (point.0 - center) / half_width).collect();
    let y: Vec<f64> = points.iter().map(|point| point.1).collect();
    let mut columns = vec![vec![1.0; points.len()]];
    for _ in 0..degree {
        let next = columns
            .last()
            .map(|last| last.iter().zip(&scaled).map(|(power, w)| power * w).collect())
            .unwrap_or_default();
        columns.push(next);
    }
    let mut fit = least_squares(&columns, &y)?;
    // wʲ = (x − center)ʲ / half-widthʲ.
    let scales: Vec<f64> =
        (0..=degree).scan(1.0, |scale, _| Some(std::mem::replace(scale, *scale / half_width))).collect();
    for (coefficient, scale) in fit.coefficients.iter_mut().zip(&scales) {
        *coefficient *= scale;
    }
    for (row, row_scale) in fit.covariance.iter_mut().zip(&scales) {
        for (entry, scale) in row.iter_mut().zip(&scales) {
            *entry *= row_scale * scale;
        }
    }
    Ok(PolynomialFit { center, fit })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_exact_parabola_is_given_back() {
        let y = |x: f64| 2.0 - 3.0 * x + 0.25 * x * x;
        let points = Points::new((0..9).map(f64::from).map(|x| (x, y(x))).collect()).unwrap();
        let fit = fit_polynomial(&points, 2).unwrap();
        for (found, expected) in fit.coefficients_about_zero().iter().zip([2.0, -3.0, 0.25]) {
            assert!((found - expected).abs() < 1e-12, "{found} {expected}");
        }
        assert!((fit.value_at(20.0) - y(20.0)).abs() < 1e-10);
    }

    #[test]
    fn two_different_times_do_not_fix_a_parabola() {
        let points = Points::new(vec![(0.0, 1.0), (0.0, 1.1), (1.0, 2.0), (1.0, 2.1)]).unwrap();
        assert_eq!(fit_polynomial(&points, 2), Err(FitError::Degenerate));
    }
}
