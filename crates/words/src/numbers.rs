//! How numbers are written for reading. Files keep the point.

use core::cell::Cell;

/// What stands between the whole number and its decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecimalMark {
    /// 0.5
    Point,
    /// 0,5
    Comma,
}

thread_local! {
    static MARK: Cell<DecimalMark> = const { Cell::new(DecimalMark::Point) };
}

/// The mark in use.
#[must_use]
pub fn decimal_mark() -> DecimalMark {
    MARK.get()
}

/// Uses this mark from now on, in this thread.
pub fn use_decimal_mark(mark: DecimalMark) {
    MARK.set(mark);
}

/// The digits of a number, written with a point, with the mark in use.
#[must_use]
pub fn with_mark(digits: &str) -> String {
    match MARK.get() {
        DecimalMark::Point => digits.to_owned(),
        DecimalMark::Comma => digits.replace('.', ","),
    }
}

/// A number rounded to so many decimals, with the mark in use.
#[must_use]
pub fn number(value: f64, decimals: usize) -> String {
    with_mark(&format!("{value:.decimals$}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_follow_the_mark() {
        assert_eq!(number(-1234.567, 2), "-1234.57");
        use_decimal_mark(DecimalMark::Comma);
        assert_eq!([number(0.25, 2), with_mark("1.5")], ["0,25", "1,5"]);
    }
}
