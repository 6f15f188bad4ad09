//! Torque points → moments of inertia and friction torques of all configurations, together.

mod band;
mod budget;
mod drag;
mod found;
mod joint;
mod line;
mod scatter;

pub(crate) use budget::rows as budget_rows;
pub use budget::{BudgetRow, Source};
pub use drag::DragFound;
pub use found::{Contribution, Inertia, InertiaError, Joint};
pub use joint::{expected, joint};
pub(crate) use line::residual_variance;
pub use line::{InertiaLine, LineError};
