//! The object alone: the loaded table less the empty one.
//!
//! Moments of inertia about one axis add (OpenStax *University Physics* vol. 1, 10.5), so
//!
//! ```text
//! I_object = I_loaded − I_empty
//! ```
//!
//! What scatters is independent in the two lines and adds in quadrature; its size s_f is estimated from
//! both together, so the degrees of freedom are the pooled ones. Drag and the shared inputs move both lines
//! together, so their contributions are subtracted *before* they are squared: adding them to each line
//! separately would make the object's uncertainty too large.

use crate::apparatus::SharedInput;
use crate::inertia::{BudgetRow, Inertia, Source, budget_rows};
use crate::measured::{Combined, DegreesOfFreedom, Measured, MeasuredError, quadrature};
use crate::quantity::KilogramMeters2;

/// The object's moment of inertia.
#[derive(Clone, Debug, PartialEq)]
pub struct ObjectInertia {
    /// I_object with both kinds of uncertainty.
    pub moment_of_inertia: Combined<KilogramMeters2>,
    /// What each thing that scatters contributes; not negative.
    pub scatter: Vec<(Source, KilogramMeters2)>,
    /// What each shared input contributes, with its sign.
    pub contributions: Vec<(SharedInput, KilogramMeters2)>,
}

impl ObjectInertia {
    /// What makes the uncertainty of I_object.
    pub fn budget(&self) -> Vec<BudgetRow> {
        let shared = self.contributions.iter().map(|part| (Source::Shared(part.0), part.1.0));
        budget_rows(&self.scatter.iter().map(|part| (part.0, part.1.0)).chain(shared).collect::<Vec<_>>())
    }
}

/// Subtracts the empty table.
///
/// # Errors
/// When the result is not finite.
pub fn subtract(loaded: &Inertia, empty: &Inertia) -> Result<ObjectInertia, MeasuredError> {
    let (with, without) = (&loaded.line.moment_of_inertia, &empty.line.moment_of_inertia);
    let scatter = quadrature([with, without].map(|line| line.standard_uncertainty().0));
    let drag = loaded.drag.0.0 - empty.drag.0.0;
    let pooled = with.degrees_of_freedom();
    let freedom = if drag == 0.0 {
        pooled
    } else {
        DegreesOfFreedom::welch_satterthwaite(&[(scatter, pooled), (drag, DegreesOfFreedom::INFINITE)])
    };
    let random = Measured::with_degrees_of_freedom(
        with.value() - without.value(),
        KilogramMeters2(quadrature([scatter, drag])),
        freedom,
    )?;
    let mut parts: Vec<(Source, KilogramMeters2)> = Vec::with_capacity(4);
    for (with, without) in loaded.scatter.iter().zip(&empty.scatter) {
        parts.push((with.0, KilogramMeters2(quadrature([with.1, without.1]))));
    }
    parts.push((Source::Drag, KilogramMeters2(drag.abs())));
    let contributions: Vec<_> = loaded
        .contributions
        .iter()
        .zip(&empty.contributions)
        .map(|(with, without)| (with.input, with.moment_of_inertia - without.moment_of_inertia))
        .collect();
    let moment_of_inertia = Combined::new(random, contributions.iter().map(|part| part.1.0))?;
    Ok(ObjectInertia { moment_of_inertia, scatter: parts, contributions })
}
