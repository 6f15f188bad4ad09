//! Numbers in a lab file, written by the standard library.
//!
//! Its shortest digits read back to the same bits, and it is in the page anyway; serde_json's own
//! writer would do the same, but brings 10 kB of digits that do not compress.

use serde_json::ser::Formatter;
use std::io::{self, Write};

/// JSON on one line.
pub(super) struct OneLine;

impl Formatter for OneLine {
    fn write_f64<W: ?Sized + Write>(&mut self, writer: &mut W, value: f64) -> io::Result<()> {
        // Like 1.5e-5, never 0.000015: as short as the file can be.
        if (1e-4..1e6).contains(&value.abs()) || value == 0.0 {
            write!(writer, "{value}")
        } else {
            write!(writer, "{value:e}")
        }
    }
}
