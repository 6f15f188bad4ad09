//! The object alone: the loaded table less the empty one.
//!
//! Moments of inertia about one axis add (OpenStax *University Physics* vol. 1, 10.5), so
//!
//! ```text
//! I_object = I_loaded − I_empty
//! ```
//!
//! The random parts of the two lines are independent and add in quadrature. The shared inputs move
//! both lines together, so their contributions are subtracted *before* they are squared: adding
//! them to each line separately would make the object's uncertainty too large.

use crate::apparatus::SharedInput;
use crate::inertia::Inertia;
use crate::measured::{Combined, DegreesOfFreedom, Measured, MeasuredError, quadrature};
use crate::quantity::KilogramMeters2;

/// The object's moment of inertia.
#[derive(Clone, Debug, PartialEq)]
pub struct ObjectInertia {
    /// I_object with both kinds of uncertainty.
    pub moment_of_inertia: Combined<KilogramMeters2>,
    /// What each shared input contributes, with its sign.
    pub contributions: Vec<(SharedInput, KilogramMeters2)>,
}

/// Subtracts the empty table.
///
/// # Errors
/// When the result is not finite.
pub fn subtract(loaded: &Inertia, empty: &Inertia) -> Result<ObjectInertia, MeasuredError> {
    let (with, without) = (&loaded.moment_of_inertia.random, &empty.moment_of_inertia.random);
    let parts = [with, without].map(|part| (part.standard_uncertainty().0, part.degrees_of_freedom()));
    let random = Measured::with_degrees_of_freedom(
        with.value() - without.value(),
        KilogramMeters2(quadrature(parts.map(|part| part.0))),
        DegreesOfFreedom::welch_satterthwaite(&parts),
    )?;
    let contributions: Vec<_> = loaded
        .contributions
        .iter()
        .zip(&empty.contributions)
        .map(|(with, without)| (with.input, with.moment_of_inertia - without.moment_of_inertia))
        .collect();
    let moment_of_inertia = Combined::new(random, contributions.iter().map(|part| part.1.0))?;
    Ok(ObjectInertia { moment_of_inertia, contributions })
}
