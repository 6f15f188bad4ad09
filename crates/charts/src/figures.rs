//! The lab's own figures, built from what core computed.
//!
//! To add one: a function here that turns results into a [`crate::Figure`]; drawing, table and
//! summary then come by themselves.

mod configurations;
mod objects;
mod pair;
mod planned;
mod run;

pub use configurations::{line_residuals, torque_lines};
pub use objects::comparison;
pub use pair::compared;
pub use planned::planned_lines;
pub use run::{run_residuals, velocity};
