//! Numbers as people type them.
//!
//! Understood: decimal point or comma, a true or a keyboard minus, powers like `1.5e-3`, and a unit
//! behind the number (`152 mm`, `15.2 cm`). Without one the field's own unit is meant. The decimal
//! point is moved in the text, not by multiplying, so 25.03 mm is exactly the double nearest to
//! 0.025 03 m.

mod uncertain;
mod usual;

use crate::measured::shown::{DisplayUnit, show_number};
use whorl_words as words;

pub use uncertain::{Entered, parse_uncertain};
pub use usual::{Doubt, Usual};

/// A field's unit, and the other units it accepts: symbol and power of ten of the SI unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EntryUnit {
    /// What stands beside the field.
    pub own: DisplayUnit,
    others: &'static [(&'static str, i32)],
}

impl EntryUnit {
    /// Lengths, in millimeters unless said otherwise.
    pub const MILLIMETERS: Self =
        Self { own: DisplayUnit::MILLIMETERS, others: &[("µm", -6), ("μm", -6), ("cm", -2), ("m", 0)] };
    /// Steps of clocks.
    pub const MICROSECONDS: Self =
        Self { own: DisplayUnit::prefixed("µs", -6), others: &[("μs", -6), ("ms", -3), ("s", 0)] };
    /// Torque per angular velocity.
    pub const MICRONEWTON_METER_SECONDS: Self =
        Self { own: DisplayUnit::prefixed("µN·m·s", -6), others: &[("N·m·s", 0)] };
    /// Torque per angular velocity squared.
    pub const MICRONEWTON_METER_SECONDS2: Self =
        Self { own: DisplayUnit::prefixed("µN·m·s²", -6), others: &[("N·m·s²", 0)] };
    /// Masses, in grams unless said otherwise.
    pub const GRAMS: Self = Self { own: DisplayUnit::GRAMS, others: &[("mg", -6), ("kg", 0)] };
    /// Accelerations.
    pub const METERS_PER_SECOND2: Self =
        Self { own: DisplayUnit::prefixed("m/s²", 0), others: &[("m/s^2", 0), ("cm/s²", -2)] };
    /// Angular accelerations.
    pub const RADIANS_PER_SECOND2: Self =
        Self { own: DisplayUnit::prefixed("rad/s²", 0), others: &[("rad/s^2", 0)] };
    /// Moments of inertia of something small.
    pub const GRAM_CENTIMETERS2: Self =
        Self { own: DisplayUnit::prefixed("g·cm²", -7), others: &[("kg·m²", 0), ("kg m²", 0)] };
    /// Moments of inertia of a table.
    pub const GRAM_METERS2: Self = Self {
        own: DisplayUnit::prefixed("10⁻³ kg·m²", -3),
        others: &[("kg·m²", 0), ("kg m²", 0), ("kg m^2", 0), ("g·cm²", -7)],
    };
    /// Torques of a bearing's friction.
    pub const MILLINEWTON_METERS: Self = Self {
        own: DisplayUnit::MILLINEWTON_METERS,
        others: &[("mN m", -3), ("N·m", 0), ("N m", 0), ("µN·m", -6), ("μN·m", -6)],
    };
    /// Times, in seconds unless said otherwise.
    pub const SECONDS: Self = Self { own: DisplayUnit::prefixed("s", 0), others: &[("ms", -3)] };
    /// Shares of a whole, in percent.
    pub const PERCENT: Self = Self { own: DisplayUnit::prefixed("%", -2), others: &[] };
    /// Degrees, meters above sea level and the like: a number alone.
    pub const fn plain(symbol: &'static str) -> Self {
        Self { own: DisplayUnit::prefixed(symbol, 0), others: &[] }
    }
}

/// Why typed text is not a number.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EntryError {
    /// Not a number at all.
    #[error("{}", words::chain::not_a_number(.0, &words::number(25.3, 1)))]
    NotANumber(String),
    /// A number with a unit that does not belong here.
    #[error("{}", words::chain::unknown_unit(.found, .expected))]
    UnknownUnit {
        /// The unit typed.
        found: String,
        /// Units that are understood.
        expected: String,
    },
    /// An uncertainty without what it belongs to.
    #[error("{}", words::asking::value_missing())]
    ValueMissing,
    /// An uncertainty has no sign.
    #[error("{}", words::asking::u_negative())]
    NegativeUncertainty,
    /// A number no apparatus has.
    #[error("{}", words::chain::out_of_range())]
    OutOfRange,
}

/// Typed text → number in SI units; `None` when nothing is typed.
///
/// # Errors
/// When the text is not a number, or its unit does not belong to the field.
pub fn parse(text: &str, unit: EntryUnit) -> Result<Option<f64>, EntryError> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let not_a_number = || EntryError::NotANumber(text.chars().take(24).collect());
    let is_numeric = |(index, c): (usize, char)| {
        c.is_ascii_digit()
            || matches!(c, '.' | ',' | '-' | '−' | '+')
            || (matches!(c, 'e' | 'E') && exponent_follows(text, index))
    };
    let end = text.char_indices().find(|&at| !is_numeric(at)).map_or(text.len(), |(index, _)| index);
    let (digits, symbol) = text.split_at(end);
    let symbol = symbol.trim();
    let power = if symbol.is_empty() || symbol == unit.own.symbol {
        unit.own.prefix
    } else {
        let known = unit.others.iter().find(|other| other.0 == symbol);
        if digits.is_empty() {
            return Err(not_a_number());
        }
        known.ok_or_else(|| unknown_unit(symbol, unit))?.1
    };
    let plain = digits.replace('−', "-").replace(',', ".");
    let (mantissa, exponent) = plain.split_once(['e', 'E']).unwrap_or((&plain, "0"));
    let exponent: i32 = exponent.parse().map_err(|_| not_a_number())?;
    let shifted = exponent.checked_add(power).ok_or(EntryError::OutOfRange)?;
    let value: f64 = format!("{mantissa}e{shifted}").parse().map_err(|_| not_a_number())?;
    if value.is_finite() && value.abs() < 1e12 { Ok(Some(value)) } else { Err(EntryError::OutOfRange) }
}

/// Several numbers → SI units, in the order typed. Between them stand spaces or semicolons, or commas
/// that a space follows.
///
/// # Errors
/// As [`parse`], for the first that is not a number.
pub fn parse_list(text: &str, unit: EntryUnit) -> Result<Vec<f64>, EntryError> {
    let mut numbers = Vec::new();
    for part in text.split([' ', ';', '\t', '\n', '\u{a0}', '\u{202f}']) {
        let part = part.trim_end_matches(',');
        // A unit that stands apart from its number: 1.92 s.
        if part == unit.own.symbol && !part.is_empty() {
            continue;
        }
        numbers.extend(parse(part, unit)?);
    }
    Ok(numbers)
}

/// Whether the letter e at `index` starts a power of ten rather than a unit.
fn exponent_follows(text: &str, index: usize) -> bool {
    let rest = text.get(index + 1..).unwrap_or_default().trim_start_matches(['-', '+', '−']);
    rest.starts_with(|c: char| c.is_ascii_digit())
}

fn unknown_unit(found: &str, unit: EntryUnit) -> EntryError {
    let mut expected = unit.own.symbol.to_owned();
    for (other, _) in unit.others.iter().filter(|other| !other.0.contains(['^', 'μ'])) {
        expected.push_str(", ");
        expected.push_str(other);
    }
    EntryError::UnknownUnit { found: found.chars().take(12).collect(), expected }
}

/// A number in SI units as a field shows it, in the field's own unit but without its symbol.
pub fn write(si: f64, unit: EntryUnit) -> String {
    show_number(si, DisplayUnit { symbol: "", ..unit.own }, 12)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use whorl_words::DecimalMark;

    #[track_caller]
    fn check(text: &str, unit: EntryUnit, expected: f64) {
        assert_eq!(parse(text, unit), Ok(Some(expected)));
    }

    #[test]
    fn numbers_are_read_as_typed() {
        check("25.03", EntryUnit::MILLIMETERS, 0.025_03);
        check(" 25,03 ", EntryUnit::MILLIMETERS, 0.025_03);
        check("152 mm", EntryUnit::MILLIMETERS, 0.152);
        check("15.2cm", EntryUnit::MILLIMETERS, 0.152);
        check("14.4", EntryUnit::GRAM_METERS2, 0.0144);
        check("0.0144 kg·m²", EntryUnit::GRAM_METERS2, 0.0144);
        check("1.1", EntryUnit::MILLINEWTON_METERS, 0.0011);
        check("0.0011 N m", EntryUnit::MILLINEWTON_METERS, 0.0011);
        check("0.152 m", EntryUnit::MILLIMETERS, 0.152);
        check("2.5e1", EntryUnit::MILLIMETERS, 0.025);
        check("−1.5", EntryUnit::SECONDS, -1.5);
        check("0.15 kg", EntryUnit::GRAMS, 0.15);
        check("0.1", EntryUnit::PERCENT, 0.001);
        check("10", EntryUnit::MICROSECONDS, 1e-5);
        check("0.01 ms", EntryUnit::MICROSECONDS, 1e-5);
        check("5", EntryUnit::MICRONEWTON_METER_SECONDS, 5e-6);
        check("2e-5 N·m·s²", EntryUnit::MICRONEWTON_METER_SECONDS2, 2e-5);
        assert_eq!(parse("  ", EntryUnit::GRAMS), Ok(None));
    }

    #[test]
    fn lists_are_read_with_points_and_with_commas() {
        let list = |text: &str| parse_list(text, EntryUnit::SECONDS);
        for text in ["1.92 1.88 2", "1,92; 1,88; 2", "1.92, 1.88, 2", " 1.92 s;1.88 s; 2 s "] {
            assert_eq!(list(text), Ok(vec![1.92, 1.88, 2.0]), "{text}");
        }
        assert_eq!(list(""), Ok(Vec::new()));
        assert_eq!(list("1.9 x"), Err(EntryError::NotANumber("x".to_owned())));
    }

    #[test]
    fn what_is_not_a_number_says_so() {
        let message = |text: &str| parse(text, EntryUnit::MILLIMETERS).unwrap_err().to_string();
        assert_eq!(message("abc"), "“abc” is not a number; write it like 25.3");
        assert_eq!(message("1.2.3"), "“1.2.3” is not a number; write it like 25.3");
        assert_eq!(message("-"), "“-” is not a number; write it like 25.3");
        assert_eq!(message("5 kg"), "“kg” is not a unit for this; use mm, µm, cm, m");
        assert_eq!(message("1e40"), "this number is out of all proportion; check it");
        assert_eq!(message("1e99999999999"), "“1e99999999999” is not a number; write it like 25.3");
    }

    #[test]
    fn with_a_decimal_comma_a_field_shows_one_and_reads_both() {
        words::use_decimal_mark(DecimalMark::Comma);
        let written = write(0.025_03, EntryUnit::MILLIMETERS);
        let list = [1.92, 2.0].map(|time| write(time, EntryUnit::SECONDS)).join("; ");
        let example = parse("abc", EntryUnit::GRAMS).unwrap_err().to_string();
        check(&written, EntryUnit::MILLIMETERS, 0.025_03);
        check("25.03", EntryUnit::MILLIMETERS, 0.025_03);
        assert_eq!(parse_list(&list, EntryUnit::SECONDS), Ok(vec![1.92, 2.0]));
        words::use_decimal_mark(DecimalMark::Point);
        assert_eq!([written.as_str(), list.as_str()], ["25,03", "1,92; 2"]);
        assert_eq!(example, "“abc” is not a number; write it like 25,3");
    }

    proptest! {
        #[test]
        fn what_a_field_shows_reads_back_as_the_same_number(thousandths in 1..1_000_000_i64) {
            let text = format!("{}.{:03}", thousandths / 1000, thousandths % 1000);
            let value = parse(&text, EntryUnit::MILLIMETERS).unwrap().unwrap();
            prop_assert_eq!(parse(&write(value, EntryUnit::MILLIMETERS), EntryUnit::MILLIMETERS), Ok(Some(value)));
        }

        #[test]
        fn any_text_is_read_or_refused_without_a_panic(text in "\\PC{0,30}") {
            let _ = parse(&text, EntryUnit::GRAMS);
        }
    }
}
