//! Curves through points by ordinary least squares, in plain `f64`.
//!
//! Units come off at the top of a caller and go back on at its end: inside a fit they only hide
//! the algebra.

mod columns;
mod correlated;
mod least_squares;
mod line;
mod points;
mod polynomial;
mod york;

pub use columns::{Columns, dot};
pub(crate) use correlated::whiten;
pub use correlated::{Correlated, fit_correlated};
pub use least_squares::{LinearFit, least_squares};
pub use line::{LineFit, fit_line};
pub use points::{FitError, Points};
pub use polynomial::{PolynomialFit, fit_polynomial};
pub use york::{UncertainPoint, YorkFit, fit_york};
