//! Numbers in a lab file, written and read by the standard library.
//!
//! Its shortest digits read back to the same bits, and its parser rounds correctly; both are in the
//! page anyway. serde_json's own would do the same (with `float_roundtrip`), but its tables are
//! random digits that do not compress: 15 kB of a page that may weigh 200.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};
use serde_json::ser::Formatter;
use serde_json::value::RawValue;
use std::io::{self, Write};

/// A finite number as it stands in the file.
#[derive(Clone, Copy, Default)]
pub(super) struct Number(pub(super) f64);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.0)
    }
}

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <&RawValue>::deserialize(deserializer)?.get();
        let numeric = text.starts_with(|c: char| c == '-' || c.is_ascii_digit());
        let number = if numeric { text.parse::<f64>().ok() } else { None };
        match number {
            Some(number) if number.is_finite() => Ok(Self(number)),
            Some(_) => Err(D::Error::custom("this number is too large")),
            None => Err(D::Error::custom("expected a number here")),
        }
    }
}

/// JSON on one line, numbers by the standard library.
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
