//! Points that can be fitted.

use whorl_words as words;

/// Why points cannot be fitted.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FitError {
    /// Not more points than parameters: nothing is left to tell how well the curve fits.
    #[error("{}", words::chain::too_few_points(.found, .needed))]
    TooFewPoints {
        /// How many there are.
        found: usize,
        /// How many it takes.
        needed: usize,
    },
    /// NaN or an infinity among the numbers.
    #[error("{}", words::chain::point_not_finite(.number))]
    NotFinite {
        /// Which point, from 1.
        number: usize,
    },
    /// The parameters cannot be told apart, for example because all x are alike.
    #[error("{}", words::chain::points_alike())]
    Degenerate,
}

/// Points (x, y).
///
/// Invariant: at least three, all finite, the x not all alike; so a line always goes through.
#[derive(Clone, Debug, PartialEq)]
pub struct Points(Vec<(f64, f64)>);

impl Points {
    /// Two to fix a line, one more to say how well it fits.
    pub const MIN: usize = 3;

    /// Checks the points.
    ///
    /// # Errors
    /// When there are fewer than [`Points::MIN`], one is not finite, or all x are alike.
    pub fn new(points: Vec<(f64, f64)>) -> Result<Self, FitError> {
        if points.len() < Self::MIN {
            return Err(FitError::TooFewPoints { found: points.len(), needed: Self::MIN });
        }
        if let Some(index) = points.iter().position(|(x, y)| !x.is_finite() || !y.is_finite()) {
            return Err(FitError::NotFinite { number: index + 1 });
        }
        let first = points.first().map(|point| point.0);
        if points.iter().all(|point| Some(point.0) == first) {
            return Err(FitError::Degenerate);
        }
        Ok(Self(points))
    }

    /// The points in the order given.
    pub fn as_slice(&self) -> &[(f64, f64)] {
        &self.0
    }
}
