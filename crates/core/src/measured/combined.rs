//! Random and shared uncertainty, apart and together.

use super::{DegreesOfFreedom, Measured, MeasuredError, quadrature};
use crate::quantity::Quantity;

/// A result whose uncertainty has two parts: what scatters from run to run, which more runs make
/// smaller, and what all runs share (R, d, s, g, the balance), which they do not.
#[derive(Clone, Debug, PartialEq)]
pub struct Combined<Q> {
    /// With the random part alone.
    pub random: Measured<Q>,
    /// Standard uncertainty from the shared inputs alone.
    pub shared: Q,
    /// With both: u_c = √(random² + shared²), effective degrees of freedom by Welch–Satterthwaite.
    pub total: Measured<Q>,
}

impl<Q: Quantity> Combined<Q> {
    /// Adds independent shared contributions to a random uncertainty.
    ///
    /// # Errors
    /// When the sum is not finite.
    pub fn new(
        random: Measured<Q>,
        contributions: impl IntoIterator<Item = f64>,
    ) -> Result<Self, MeasuredError> {
        let shared = quadrature(contributions);
        let u = random.standard_uncertainty().si();
        let degrees_of_freedom = DegreesOfFreedom::welch_satterthwaite(&[
            (u, random.degrees_of_freedom()),
            (shared, DegreesOfFreedom::INFINITE),
        ]);
        let total = Measured::with_degrees_of_freedom(
            random.value(),
            Q::from_si(quadrature([u, shared])),
            degrees_of_freedom,
        )?;
        Ok(Self { random, shared: Q::from_si(shared), total })
    }
}
