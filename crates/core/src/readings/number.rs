//! A field → a number, a moment, or nothing.

use super::DecimalMark;
use super::headings::is_unit_cell;

/// What stands in a field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Cell<'t> {
    /// A number.
    Number(f64),
    /// A time of day, with a date or without, in seconds.
    Clock(f64),
    /// A number with a unit behind it.
    WithUnit(f64, &'t str),
    /// Empty, or a word that says there is no number.
    Missing,
    /// Something else.
    Word,
}

impl Cell<'_> {
    /// Its number, NaN when there is none.
    pub(super) fn value(self) -> f64 {
        match self {
            Self::Number(value) | Self::Clock(value) | Self::WithUnit(value, _) => value,
            Self::Missing | Self::Word => f64::NAN,
        }
    }

    pub(super) fn is_number(self) -> bool {
        !matches!(self, Self::Missing | Self::Word)
    }
}

/// Words that stand where a number is missing; common practice, no source.
const MISSING: [&str; 23] = [
    "nan", "n/a", "na", "#n/a", "#na", "null", "none", "nil", "-", "--", "---", "–", "—", "?", "inf", "+inf",
    "-inf", "∞", "#num!", "#div/0!", "#value!", "k.a.", "n.d.",
];

/// Longer fields, in bytes, are no numbers.
const LONGEST: usize = 400;

/// Reads a field.
pub(super) fn cell(field: &str, mark: DecimalMark) -> Cell<'_> {
    let field = field.trim();
    if field.is_empty() {
        return Cell::Missing;
    }
    if field.len() > LONGEST {
        return Cell::Word;
    }
    if let Some((value, rest)) = number(field, mark) {
        if rest.is_empty() {
            return if value.is_finite() { Cell::Number(value) } else { Cell::Word };
        }
        if let Some(seconds) = clock(field, mark) {
            return Cell::Clock(seconds);
        }
        let unit = rest.trim_start();
        let begins = unit.starts_with(|c: char| c.is_alphabetic() || matches!(c, '°' | '%' | '['));
        if begins && value.is_finite() && unit.len() <= 24 && is_unit_cell(unit) {
            return Cell::WithUnit(value, unit);
        }
        return Cell::Word;
    }
    if field.len() <= 9 && MISSING.iter().any(|word| word.eq_ignore_ascii_case(field)) {
        return Cell::Missing;
    }
    Cell::Word
}

/// The number a field begins with, and what follows it.
///
/// ```text
/// sign? digits (thousands mark, three digits)* (decimal mark digits)? (e sign? digits)?
/// ```
///
/// The thousands mark is a space of any width, an apostrophe, or whichever of point and comma is not the
/// decimal mark; it counts only where the grouping is right throughout.
pub(super) fn number(field: &str, mark: DecimalMark) -> Option<(f64, &str)> {
    let (negative, body) = signed(field);
    let bytes = body.as_bytes();
    let (point, other) = match mark {
        DecimalMark::Point => (b'.', b','),
        DecimalMark::Comma => (b',', b'.'),
    };
    let mut digits = Digits::default();
    let mut at = digits.take(bytes, 0);
    let whole = at;
    if (1..=3).contains(&whole) && bytes.first() != Some(&b'0') {
        at = groups(body, at, other, &mut digits);
    }
    let mut places = 0;
    if bytes.get(at) == Some(&point) {
        let end = digits.take(bytes, at + 1);
        places = end - at - 1;
        if whole == 0 && places == 0 {
            return None;
        }
        at = end;
    } else if whole == 0 {
        return None;
    }
    let (power, at) = exponent(body, at);
    let value = digits.value(body.get(..at)?, point, i64::try_from(places).ok()?, power);
    Some((if negative { -value } else { value }, body.get(at..)?))
}

/// Takes a sign off; minus may be the hyphen or the mathematical sign.
fn signed(field: &str) -> (bool, &str) {
    if let Some(rest) = field.strip_prefix('+') {
        return (false, rest);
    }
    match field.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest),
        None => (false, field),
    }
}

/// Groups of three digits after the first one to three; gives where they end, which is where they began when
/// the grouping is not right.
fn groups(body: &str, start: usize, other: u8, digits: &mut Digits) -> usize {
    let bytes = body.as_bytes();
    let mark_at = |at: usize| -> Option<(usize, char)> {
        let c = body.get(at..)?.chars().next()?;
        let is_mark = matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '\'' | '’')
            || (c.is_ascii() && c as u8 == other);
        is_mark.then(|| (c.len_utf8(), c))
    };
    let three = |at: usize| {
        let digit = |offset: usize| bytes.get(at + offset).is_some_and(u8::is_ascii_digit);
        digit(0) && digit(1) && digit(2) && !digit(3)
    };
    let Some((_, mark)) = mark_at(start) else { return start };
    let mut at = start;
    let mut grouped = *digits;
    while let Some((length, found)) = mark_at(at) {
        if found != mark || !three(at + length) {
            break;
        }
        at = grouped.take(bytes, at + length);
    }
    *digits = grouped;
    at
}

/// The power of ten written behind a number, and where that ends.
fn exponent(body: &str, at: usize) -> (i64, usize) {
    let bytes = body.as_bytes();
    if !matches!(bytes.get(at), Some(b'e' | b'E')) {
        return (0, at);
    }
    let rest = body.get(at + 1..).unwrap_or_default();
    let (negative, digits) = signed(rest);
    let count = digits.bytes().take_while(u8::is_ascii_digit).count();
    if count == 0 {
        return (0, at);
    }
    // More than four digits are beyond any number.
    let power = digits
        .get(..count)
        .unwrap_or_default()
        .bytes()
        .fold(0_i64, |power, digit| (power * 10 + i64::from(digit - b'0')).min(100_000));
    (if negative { -power } else { power }, body.len() - digits.len() + count)
}

/// Decimal digits taken up one by one.
#[derive(Clone, Copy, Debug, Default)]
struct Digits {
    value: u64,
    /// Whether they did not fit.
    full: bool,
}

impl Digits {
    /// Takes the digits from `at` on and gives where they end.
    fn take(&mut self, bytes: &[u8], at: usize) -> usize {
        let mut end = at;
        while let Some(digit) = bytes.get(end).map(|byte| byte.wrapping_sub(b'0')).filter(|&digit| digit < 10)
        {
            if self.value > (u64::MAX - 9) / 10 {
                self.full = true;
            } else {
                self.value = self.value * 10 + u64::from(digit);
            }
            end += 1;
        }
        end
    }

    /// The number, correctly rounded.
    fn value(self, text: &str, point: u8, places: i64, power: i64) -> f64 {
        if let Some(value) = exactly(self.value, power - places).filter(|_| !self.full) {
            return value;
        }
        let mut plain = String::with_capacity(text.len());
        let mut exponent = false;
        for c in text.chars() {
            match c {
                '0'..='9' => plain.push(c),
                'e' | 'E' => {
                    exponent = true;
                    plain.push('e');
                }
                '-' | '−' if exponent => plain.push('-'),
                _ if c.is_ascii() && c as u8 == point => plain.push('.'),
                _ => {}
            }
        }
        plain.parse().unwrap_or(f64::NAN)
    }
}

/// `whole` times a power of ten, correctly rounded. A whole number below 2⁵³ and a power of ten up to 10²² are
/// exact, and one division or multiplication rounds once (Clinger 1990, “How to read floating point numbers
/// accurately”); of all others, `None`.
#[inline]
pub(super) fn exactly(whole: u64, power: i64) -> Option<f64> {
    const EXACT: [f64; 23] = [
        1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17,
        1e18, 1e19, 1e20, 1e21, 1e22,
    ];
    let factor = EXACT.get(usize::try_from(power.unsigned_abs()).ok()?)?;
    let exact = whole < 1 << 53;
    exact.then(|| if power < 0 { whole as f64 / factor } else { whole as f64 * factor })
}

/// Seconds of a day, with a date or without: `1:02.5`, `10:15:00,250`, `2026-11-26T10:15:00.250Z`.
fn clock(field: &str, mark: DecimalMark) -> Option<f64> {
    let (day, time) = match field.split_once(['T', ' ']) {
        Some((date, time)) if date.contains(['-', '.', '/']) => (day(date)?, time.trim()),
        _ => (0.0, field),
    };
    let time = time.trim_end_matches(|c: char| c.is_ascii_alphabetic()).trim_end();
    let time = time.split_once(['+', 'Z']).map_or(time, |(time, _)| time);
    let mut parts = time.split(':');
    let (first, second, third) = (parts.next()?, parts.next()?, parts.next());
    if parts.next().is_some() {
        return None;
    }
    let whole = |text: &str| text.parse::<u32>().ok().filter(|_| text.len() <= 3).map(f64::from);
    let seconds = |text: &str| {
        let marks = if text.contains('.') { DecimalMark::Point } else { mark };
        number(text, marks)
            .filter(|(value, rest)| rest.is_empty() && (0.0..60.0).contains(value))
            .map(|found| found.0)
    };
    let of_day = match third {
        Some(third) => {
            whole(first)? * 3600.0 + whole(second).filter(|&value| value < 60.0)? * 60.0 + seconds(third)?
        }
        None => whole(first)? * 60.0 + seconds(second)?,
    };
    Some(day * 86_400.0 + of_day)
}

/// A number that grows by one each day, for dates of one month; enough to pass midnight.
fn day(date: &str) -> Option<f64> {
    let parts: Vec<u32> = date.split(['-', '.', '/']).map(|part| part.parse().ok()).collect::<Option<_>>()?;
    match parts.as_slice() {
        [year, _, day] if *year > 31 => Some(f64::from(*day)),
        [day, _, _] => Some(f64::from(*day)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const POINT: DecimalMark = DecimalMark::Point;
    const COMMA: DecimalMark = DecimalMark::Comma;

    #[test]
    fn numbers_of_all_spellings() {
        for (text, mark, value) in [
            ("0.125", POINT, 0.125),
            (" −1.5e-3 ", POINT, -0.0015),
            ("1,2E−3", COMMA, 0.0012),
            ("+.5", POINT, 0.5),
            ("5.", POINT, 5.0),
            ("1 234,5", COMMA, 1234.5),
            ("1\u{202f}234\u{202f}567", COMMA, 1_234_567.0),
            ("1'234.5", POINT, 1234.5),
            ("1,234", POINT, 1234.0),
            ("1,234", COMMA, 1.234),
            ("1.234,5", COMMA, 1234.5),
            ("12345678901234567890.5", POINT, 1.234_567_890_123_456_8e19),
            ("1e300", POINT, 1e300),
        ] {
            assert_eq!(cell(text, mark), Cell::Number(value), "{text}");
        }
    }

    #[test]
    fn words_gaps_and_bad_groups_are_no_numbers() {
        for text in [
            "abc", "1e999", "0x10", "1,5", "0,125", "12,34", "1,23,456", "1.2.3", "e5", ".", "-x", "1-2",
            "1 2",
        ] {
            assert_eq!(cell(text, POINT), Cell::Word, "{text}");
        }
        for text in ["", "  ", "NaN", "n/a", "--", "#DIV/0!", "inf"] {
            assert_eq!(cell(text, POINT), Cell::Missing, "{text}");
        }
    }

    #[test]
    fn units_and_clocks_behind_a_number() {
        assert_eq!(cell("12.5 ms", POINT), Cell::WithUnit(12.5, "ms"));
        assert_eq!(cell("3,5°", COMMA), Cell::WithUnit(3.5, "°"));
        assert_eq!(cell("1:02.5", POINT), Cell::Clock(62.5));
        assert_eq!(cell("00:00:01,250", COMMA), Cell::Clock(1.25));
        assert_eq!(cell("2026-11-26T00:00:01.5Z", POINT), Cell::Clock(26.0 * 86_400.0 + 1.5));
        assert_eq!(cell("26.11.2026 10:00:00", POINT), Cell::Clock(26.0 * 86_400.0 + 36_000.0));
        assert_eq!(cell("2026-11-26", POINT), Cell::Word);
        assert_eq!(cell("1:75", POINT), Cell::Word);
    }

    proptest! {
        #[test]
        fn numbers_are_read_as_the_standard_library_does(value: f64, plain in 0..3_u8) {
            prop_assume!(value.is_finite());
            let text = match plain { 0 => format!("{value}"), 1 => format!("{value:e}"), _ => format!("{value:.7}") };
            let expected: f64 = text.parse().unwrap();
            prop_assert_eq!(cell(&text, POINT), Cell::Number(expected));
            let comma = text.replace('.', ",");
            prop_assert_eq!(cell(&comma, COMMA), Cell::Number(expected));
        }

        #[test]
        fn any_text_is_some_cell(text in "\\PC{0,30}", tail in "[0-9.,:eE+\\- TZ'°]{0,24}") {
            for text in [&text, &tail] {
                let _ = (cell(text, POINT), cell(text, COMMA));
            }
        }
    }
}
