//! The columns of a linear model, made orthogonal once and used for any number of right sides.
//!
//! Modified Gram–Schmidt X = Q R; a right side is carried through the same steps, which makes the
//! solution backward stable, unlike the normal equations, which lose half the digits (Björck,
//! *Numerical Methods for Least Squares Problems*, SIAM 1996, 2.4.4). Checked against the NIST
//! reference sets.

use super::FitError;

/// X = Q R: orthonormal directions and the upper triangle.
#[derive(Clone, Debug, PartialEq)]
pub struct Columns {
    directions: Vec<Vec<f64>>,
    /// Row j from its diagonal on.
    triangle: Vec<Vec<f64>>,
    rows: usize,
}

impl Columns {
    /// Takes the columns, each as long as the first, and makes them orthogonal.
    ///
    /// # Errors
    /// When rows do not outnumber columns, a number is not finite, or the columns do not differ
    /// enough for double precision.
    pub fn new(mut columns: Vec<Vec<f64>>) -> Result<Self, FitError> {
        let p = columns.len();
        let rows = columns.first().map_or(0, Vec::len);
        if rows <= p || columns.iter().any(|column| column.len() != rows) {
            return Err(FitError::TooFewPoints { found: rows, needed: p + 1 });
        }
        let mut lengths = Vec::with_capacity(p);
        for column in &columns {
            if let Some(index) = column.iter().position(|value| !value.is_finite()) {
                return Err(FitError::NotFinite { number: index + 1 });
            }
            lengths.push(dot(column, column).sqrt());
        }
        let mut triangle: Vec<Vec<f64>> = Vec::with_capacity(p);
        for (index, length) in lengths.into_iter().enumerate() {
            let Some((direction, later)) = columns.get_mut(index..).and_then(<[_]>::split_first_mut) else {
                return Err(FitError::Degenerate);
            };
            let norm = dot(direction, direction).sqrt();
            // What is left of the column is rounding noise of the column itself.
            if norm <= length * f64::EPSILON * rows as f64 || norm == 0.0 {
                return Err(FitError::Degenerate);
            }
            direction.iter_mut().for_each(|value| *value /= norm);
            let mut row = vec![norm];
            for column in later {
                row.push(take_out(direction, column));
            }
            triangle.push(row);
        }
        Ok(Self { directions: columns, triangle, rows })
    }

    /// How many columns there are.
    pub fn count(&self) -> usize {
        self.triangle.len()
    }

    /// The columns made orthogonal and of length 1, in their order.
    pub fn directions(&self) -> &[Vec<f64>] {
        &self.directions
    }

    /// Rows − columns.
    pub fn degrees_of_freedom(&self) -> usize {
        self.rows - self.count()
    }

    /// Coefficients of the least-squares fit; `y` is left as the residuals.
    pub fn solve(&self, y: &mut [f64]) -> Vec<f64> {
        let mut along = Vec::with_capacity(self.count());
        for direction in &self.directions {
            along.push(take_out(direction, y));
        }
        back_substitute(&self.triangle, &along)
    }

    /// ln det(XᵀX).
    pub fn log_determinant(&self) -> f64 {
        let diagonal = self.triangle.iter().filter_map(|row| row.first());
        2.0 * diagonal.map(|value| value.abs().ln()).sum::<f64>()
    }

    /// (XᵀX)⁻¹, row by row.
    pub fn inverse(&self) -> Vec<Vec<f64>> {
        let p = self.count();
        // Column j of the inverse triangle; (RᵀR)⁻¹ is the sum of their outer products.
        let mut columns: Vec<Vec<f64>> = Vec::with_capacity(p);
        for index in 0..p {
            let mut unit = vec![0.0; p];
            if let Some(one) = unit.get_mut(index) {
                *one = 1.0;
            }
            columns.push(back_substitute(&self.triangle, &unit));
        }
        let at = |column: &Vec<f64>, row: usize| column.get(row).copied().unwrap_or(0.0);
        let entry = |i: usize, j: usize| columns.iter().map(|column| at(column, i) * at(column, j)).sum();
        (0..p).map(|i| (0..p).map(|j| entry(i, j)).collect()).collect()
    }
}

/// Σ left·right.
pub fn dot(left: &[f64], right: &[f64]) -> f64 {
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
