//! Torque points → moment of inertia and friction torque of one configuration.

mod line;
mod shared;

pub use line::{InertiaLine, LineError, estimate};
pub use shared::{Contribution, Inertia, InertiaError, inertia};
