//! Numbers as text: a true minus sign, no float noise, powers of ten as people write them.

use whorl_words as words;

/// The sign of a negative number, U+2212: as wide as a plus, and read aloud as "minus".
pub const MINUS: char = '\u{2212}';

/// `value` with a fixed count of decimals; never "minus zero".
pub fn fixed(value: f64, decimals: usize) -> String {
    let digits = words::number(value.abs(), decimals);
    let is_zero = digits.bytes().all(|byte| matches!(byte, b'0' | b'.' | b','));
    if value < 0.0 && !is_zero { format!("{MINUS}{digits}") } else { digits }
}

/// `value` to four significant digits, without trailing zeros: for sentences.
pub fn short(value: f64) -> String {
    if !value.is_finite() {
        return words::charts::not_a_number().to_owned();
    }
    if value.abs() < f64::MIN_POSITIVE {
        return "0".to_owned();
    }
    let order = order_of(value);
    if (-4..6).contains(&order) {
        return without_trailing_zeros(fixed(value, decimals_for(3 - order)));
    }
    let digits = format!("{:.3e}", value.abs());
    let Some((mantissa, power)) = digits.split_once('e') else {
        return digits;
    };
    let sign = if value < 0.0 { "\u{2212}" } else { "" };
    let mantissa = without_trailing_zeros(words::with_mark(mantissa));
    let power = superscript(power.parse().unwrap_or(0));
    format!("{sign}{mantissa}×10{power}")
}

/// `exponent` in raised digits, as in 10⁻³.
pub fn superscript(exponent: i32) -> String {
    exponent
        .to_string()
        .chars()
        .map(|digit| match digit {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            '4' => '⁴',
            '5' => '⁵',
            '6' => '⁶',
            '7' => '⁷',
            '8' => '⁸',
            '9' => '⁹',
            _ => '⁰',
        })
        .collect()
}

/// Power of ten of the first digit: 3 for 4567, −2 for 0.0123; 0 for zero and for what is not finite.
#[expect(
    clippy::cast_possible_truncation,
    reason = "the order of magnitude of a double lies between -324 and 308"
)]
pub(crate) fn order_of(value: f64) -> i32 {
    let order = value.abs().log10().floor();
    if order.is_finite() { order as i32 } else { 0 }
}

/// A count of decimals, which is never negative and never more than a double can use here.
pub(crate) fn decimals_for(wanted: i32) -> usize {
    usize::try_from(wanted.clamp(0, 15)).unwrap_or(0)
}

fn without_trailing_zeros(text: String) -> String {
    let mark = ['.', ','];
    if text.contains(mark) { text.trim_end_matches('0').trim_end_matches(mark).to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_negative_number_carries_a_true_minus_and_zero_carries_none() {
        assert_eq!(fixed(-1.25, 1), "\u{2212}1.2");
        assert_eq!(fixed(-0.04, 1), "0.0");
        assert_eq!(fixed(-0.0, 0), "0");
    }

    #[test]
    fn sentences_get_four_significant_digits() {
        for (value, expected) in [
            (0.1 + 0.2, "0.3"),
            (1234.567, "1235"),
            (-0.012_345_6, "\u{2212}0.01235"),
            (99_999.6, "100000"),
            (2.5e-7, "2.5×10⁻⁷"),
            (-1e12, "\u{2212}1×10¹²"),
            (0.0, "0"),
            (f64::NAN, "not a number"),
        ] {
            assert_eq!(short(value), expected);
        }
    }

    #[test]
    fn numbers_follow_the_decimal_mark() {
        words::use_decimal_mark(words::DecimalMark::Comma);
        let told = [fixed(-0.25, 2), fixed(0.0, 1), short(2.50), short(2.51e-7)];
        assert_eq!(told, ["\u{2212}0,25", "0,0", "2,5", "2,51×10⁻⁷"]);
    }
}
