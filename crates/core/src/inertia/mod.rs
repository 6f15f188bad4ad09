//! Torque points → moments of inertia and friction torques of all configurations, together.

mod budget;
mod drag;
mod joint;
mod line;

pub(crate) use budget::rows as budget_rows;
pub use budget::{BudgetRow, Source};
pub use drag::DragFound;
pub use joint::{Contribution, Inertia, InertiaError, Joint, expected, joint};
pub(crate) use line::residual_variance;
pub use line::{InertiaLine, LineError};
