//! Torque points → moment of inertia and friction torque of one configuration.

mod combined;
mod line;
mod shared;

pub use combined::Combined;
pub use line::{InertiaLine, LineError, estimate};
pub use shared::{Contribution, Inertia, InertiaError, inertia};
