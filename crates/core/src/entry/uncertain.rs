//! A number typed together with its uncertainty: `0.152 m ± 0.5 mm`, `152 ± 0.5 mm`, `(152 ± 0.5) mm`,
//! `152.0(5) mm`.

use super::{EntryError, EntryUnit, parse};

/// Value and, where it was typed too, standard uncertainty, both in SI units.
pub type Entered = (f64, Option<f64>);

/// How people type ±.
const PLUS_MINUS: [&str; 4] = ["±", "+/-", "+-", "+/−"];

/// Typed text → value and standard uncertainty; `None` when nothing is typed.
///
/// What stands behind ± is taken as the standard uncertainty; digits in parentheses are those of the standard
/// uncertainty in the value's last places (both notations: JCGM 100:2008, 7.2.2). A unit behind both belongs to
/// both.
///
/// # Errors
/// As [`parse`], for the part that is not a number.
pub fn parse_uncertain(text: &str, unit: EntryUnit) -> Result<Option<Entered>, EntryError> {
    let text = text.trim();
    let halves = PLUS_MINUS.iter().find_map(|sign| text.split_once(sign));
    let Some((left, right)) = halves else {
        return match in_last_places(text) {
            Some((value, u)) => both(&value, &u, unit),
            None => Ok(parse(text, unit)?.map(|value| (value, None))),
        };
    };
    let (left, right) = match (left.trim().strip_prefix('('), right.split_once(')')) {
        (Some(value), Some((u, symbol))) => (format!("{value} {symbol}"), format!("{u} {symbol}")),
        _ => (left.to_owned(), right.to_owned()),
    };
    // 152 ± 0.5 mm: the unit behind both belongs to both.
    let is_number = right.contains(|c: char| c.is_ascii_digit());
    let symbol = if is_number { unit_of(&right) } else { "" };
    let left = if unit_of(&left).is_empty() { format!("{left} {symbol}") } else { left };
    both(&left, &right, unit)
}

fn both(value: &str, u: &str, unit: EntryUnit) -> Result<Option<Entered>, EntryError> {
    match (parse(value, unit)?, parse(u, unit)?) {
        (Some(_), Some(u)) if u < 0.0 => Err(EntryError::NegativeUncertainty),
        (Some(value), u) => Ok(Some((value, u))),
        (None, Some(_)) => Err(EntryError::ValueMissing),
        (None, None) => Ok(None),
    }
}

/// What stands behind a number.
pub(super) fn unit_of(text: &str) -> &str {
    text.trim()
        .trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '−' | '+' | ' '))
}

/// `152.0(5) mm` as `152.0 mm` and `0.5 mm`.
fn in_last_places(text: &str) -> Option<(String, String)> {
    let (digits, rest) = text.split_once('(')?;
    let (last, symbol) = rest.split_once(')')?;
    let is_number = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    if !is_number(last) {
        return None;
    }
    let decimals = digits.split_once(['.', ',']).map_or(0, |(_, decimals)| decimals.trim().len());
    Some((format!("{digits} {symbol}"), format!("{last}e-{decimals} {symbol}")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn check(text: &str, expected: Entered) {
        let found = parse_uncertain(text, EntryUnit::MILLIMETERS).unwrap().unwrap();
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-15;
        let same_u = match (found.1, expected.1) {
            (Some(a), Some(b)) => near(a, b),
            (a, b) => a == b,
        };
        assert!(near(found.0, expected.0) && same_u, "{text}: {found:?}");
    }

    #[test]
    fn a_value_and_its_uncertainty_may_be_typed_together() {
        check("0.152 m ± 0.5 mm", (0.152, Some(0.0005)));
        check("152 ± 0.5", (0.152, Some(0.0005)));
        check("15,2 ± 0,05 cm", (0.152, Some(0.0005)));
        check("(152 ± 0.5) mm", (0.152, Some(0.0005)));
        check("152 mm +/- 0.5 mm", (0.152, Some(0.0005)));
        check("152+-0.5", (0.152, Some(0.0005)));
        check("152.0(5) mm", (0.152, Some(0.0005)));
        check("0.1520(12) m", (0.152, Some(0.0012)));
        check("152(2)", (0.152, Some(0.002)));
        check("15.2 cm", (0.152, None));
        assert_eq!(parse_uncertain(" ", EntryUnit::GRAMS), Ok(None));
        assert_eq!(parse_uncertain("±", EntryUnit::GRAMS), Ok(None));
    }

    #[test]
    fn the_standard_s_own_examples_are_read() {
        // JCGM 100:2008, 7.2.2: m_s = 100.021 47(35) g, and (100.021 47 ± 0.000 35) g.
        for text in ["100.02147(35) g", "(100.02147 ± 0.00035) g"] {
            let (value, u) = parse_uncertain(text, EntryUnit::GRAMS).unwrap().unwrap();
            assert!((value - 0.100_021_47).abs() < 1e-15 && (u.unwrap() - 3.5e-7).abs() < 1e-18, "{text}");
        }
    }

    #[test]
    fn a_part_that_is_none_says_so() {
        let refused = |text: &str| parse_uncertain(text, EntryUnit::MILLIMETERS).unwrap_err();
        assert_eq!(refused("± 0.5"), EntryError::ValueMissing);
        assert_eq!(refused("152 ± -1"), EntryError::NegativeUncertainty);
        assert_eq!(refused("152 ± half"), EntryError::NotANumber("half".to_owned()));
        assert!(matches!(refused("152 kg ± 1"), EntryError::UnknownUnit { .. }));
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused_without_a_panic(text in "[0-9.,±() mcgk+/e−-]{0,24}|\\PC{0,30}") {
            let _ = parse_uncertain(&text, EntryUnit::MILLIMETERS);
        }
    }
}
