//! What the targets share: a limit on memory, the choices that stand before a file, its folder.

mod memory;
mod spoken;

pub use memory::within;
pub use spoken::{N_SPOKEN, choices_and_file};

/// A readings file for a lab that names one.
pub const BESIDE: &[u8] = b"t (s); v (m/s)\n0,1; 0,02\n0,2; 0,05\n0,3; 0,07\n0,4; 0,11\n0,5; 0,13\n";
