//! Rounding on decimal digits, half to even, never on binary doubles.
//!
//! 0.125 rounded to hundredths is 0.12, and 0.135 (which binary cannot hold) is 0.14: what a reader
//! with pencil and paper gets from the digits printed.

/// A decimal number: ± digits × 10^exponent, where `exponent` is the place of the last digit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Decimal {
    negative: bool,
    digits: Vec<u8>,
    exponent: i32,
}

impl Decimal {
    /// The shortest digits that read back as `value`; `None` for NaN and infinities.
    pub(super) fn new(value: f64) -> Option<Self> {
        if !value.is_finite() {
            return None;
        }
        let text = format!("{:e}", value.abs());
        let (mantissa, exponent) = text.split_once('e')?;
        let exponent: i32 = exponent.parse().ok()?;
        let digits: Vec<u8> = mantissa.bytes().filter(u8::is_ascii_digit).map(|digit| digit - b'0').collect();
        let last_place = exponent + 1 - i32::try_from(digits.len()).ok()?;
        Some(Self { negative: value < 0.0, digits, exponent: last_place })
    }

    pub(super) fn is_zero(&self) -> bool {
        self.digits.iter().all(|&digit| digit == 0)
    }

    /// Place of the first digit: 0 for 7.04, −2 for 0.0704.
    pub(super) fn leading_place(&self) -> i32 {
        self.exponent + i32::try_from(self.digits.len()).unwrap_or(i32::MAX / 2) - 1
    }

    /// Moves the decimal point: multiplies by 10^`places`, exactly.
    pub(super) fn shifted(mut self, places: i32) -> Self {
        self.exponent += places;
        self
    }

    /// Rounds half-even to the given place (−2: hundredths).
    pub(super) fn rounded_to(mut self, place: i32) -> Self {
        // Pad with zeros where fewer digits are there than asked for.
        while self.exponent > place && self.digits.len() < 400 {
            self.digits.push(0);
            self.exponent -= 1;
        }
        let Ok(dropped) = usize::try_from(place - self.exponent) else { return self };
        if dropped == 0 {
            return self;
        }
        if dropped > self.digits.len() {
            return Self { negative: self.negative, digits: vec![0], exponent: place };
        }
        let tail = self.digits.split_off(self.digits.len() - dropped);
        self.exponent = place;
        let odd = self.digits.last().is_some_and(|digit| digit % 2 == 1);
        let up = match tail.split_first() {
            Some((&5, rest)) => odd || rest.iter().any(|&digit| digit > 0),
            Some((&first, _)) => first > 5,
            None => false,
        };
        if up {
            let mut carry = true;
            for digit in self.digits.iter_mut().rev() {
                *digit = if *digit == 9 { 0 } else { *digit + 1 };
                carry = *digit == 0;
                if !carry {
                    break;
                }
            }
            if carry {
                self.digits.insert(0, 1);
            }
        }
        if self.digits.is_empty() {
            self.digits.push(0);
        }
        self
    }

    /// Rounds half-even to `count` significant digits.
    pub(super) fn rounded_to_significant(self, count: i32) -> Self {
        let place = self.leading_place() - count + 1;
        let before = self.leading_place();
        let rounded = self.rounded_to(place);
        // 0.0996 to two digits is 0.10, not 0.100: the carry made one digit more.
        if rounded.leading_place() > before { rounded.rounded_to(place + 1) } else { rounded }
    }

    /// Place of the last digit kept.
    pub(super) fn last_place(&self) -> i32 {
        self.exponent
    }

    /// Plain notation with a true minus sign, for example `−0.0704` or `1200`.
    pub(super) fn to_plain(&self) -> String {
        let mut text = String::new();
        if self.negative && !self.is_zero() {
            text.push('−');
        }
        let leading = self.leading_place().max(0);
        for place in (self.exponent.min(0)..=leading).rev() {
            let from_end = place - self.exponent;
            let digit = usize::try_from(from_end)
                .ok()
                .and_then(|from_end| self.digits.iter().rev().nth(from_end))
                .copied()
                .unwrap_or(0);
            text.push(char::from(b'0' + digit));
            if place == 0 && self.exponent < 0 {
                text.push('.');
            }
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::Decimal;

    #[track_caller]
    fn check(value: f64, place: i32, expected: &str) {
        assert_eq!(Decimal::new(value).unwrap().rounded_to(place).to_plain(), expected);
    }

    #[test]
    fn ties_go_to_the_even_digit_as_written() {
        check(0.125, -2, "0.12");
        check(0.135, -2, "0.14");
        check(2.5, 0, "2");
        check(3.5, 0, "4");
        check(-0.25, -1, "−0.2");
        check(0.251, -1, "0.3");
    }

    #[test]
    fn carries_run_through() {
        check(9.996, -2, "10.00");
        check(99.5, 0, "100");
        check(0.99, 0, "1");
        check(0.5, 0, "0");
        check(0.51, 0, "1");
        check(0.04, 0, "0");
    }

    #[test]
    fn missing_digits_are_filled_with_zeros() {
        check(1.5, -4, "1.5000");
        check(1200.0, 0, "1200");
        check(1250.0, 2, "1200");
        check(0.0, -3, "0.000");
    }

    #[test]
    fn a_rounded_zero_has_no_sign() {
        check(-0.001, -1, "0.0");
    }

    #[test]
    fn significant_digits_count_from_the_first_that_is_not_zero() {
        let two = |value: f64| Decimal::new(value).unwrap().rounded_to_significant(2).to_plain();
        assert_eq!(two(0.0996), "0.10");
        assert_eq!(two(0.020_51), "0.021");
        assert_eq!(two(123.0), "120");
        assert_eq!(two(0.95), "0.95");
    }
}
