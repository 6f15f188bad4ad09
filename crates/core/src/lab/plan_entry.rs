//! What a group entered to plan its runs.

use crate::quantity::{KilogramMeters2, Kilograms, NewtonMeters};
use core::num::NonZeroU32;

/// The plan as entered; what it leads to is told by [`crate::plan`].
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlanEntry {
    /// The pieces that can be hung, each as often as there is one.
    pub pieces: Vec<Kilograms>,
    /// The holder that hangs in every run; `None` without one.
    pub holder: Option<Kilograms>,
    /// Runs of each configuration; `None` for the usual number.
    pub runs: Option<NonZeroU32>,
    /// A guess of the empty table's moment of inertia.
    pub table_inertia: Option<KilogramMeters2>,
    /// A guess of the empty table's friction torque.
    pub friction_empty: Option<NewtonMeters>,
    /// A guess of the loaded table's; `None`: as the empty one's.
    pub friction_loaded: Option<NewtonMeters>,
}
