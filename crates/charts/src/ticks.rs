//! Where an axis is marked, and what is written there.
//!
//! Marks stand at whole multiples of 1, 2 or 5 times a power of ten. The power is kept apart, so that
//! each position is one correctly rounded product or quotient of whole numbers: 0.3, never
//! 0.30000000000000004. Axes with very large or very small numbers are counted in a power of ten,
//! which goes into the caption.

use crate::number;
use crate::ranges::Range;

/// No axis needs more marks; it also bounds every loop here.
const MOST_TICKS: usize = 24;

/// The marks of one axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Ticks {
    /// The marks, lowest first.
    pub marks: Vec<Tick>,
    /// Labels count in 10^`power` units; 0 for everyday numbers, else a multiple of 3.
    pub power: i32,
}

/// One mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// Position on the axis, in display units.
    pub at: f64,
    /// The number written beside it, divided by the common power of ten.
    pub label: String,
}

/// A step of `digit` · 10^`exponent`, where `digit` is 1, 2 or 5.
#[derive(Clone, Copy)]
struct Step {
    digit: f64,
    exponent: i32,
}

impl Step {
    /// The `multiple`-th mark. Powers of ten up to 10^22 are exact, so this rounds once.
    fn times(self, multiple: f64) -> f64 {
        let scale = 10.0_f64.powi(self.exponent.abs());
        if self.exponent >= 0 { multiple * self.digit * scale } else { multiple * self.digit / scale }
    }

    /// First and last multiple inside `range`; a mark that rounding puts a hair outside still counts.
    fn multiples(self, range: Range) -> (f64, f64) {
        let step = self.times(1.0);
        let hair = 1e-9;
        ((range.low() / step - hair).ceil(), (range.high() / step + hair).floor())
    }

    fn count(self, range: Range) -> f64 {
        let (first, last) = self.multiples(range);
        (last - first + 1.0).max(0.0)
    }
}

/// At most `most` marks for `range`, and at least two.
///
/// Two may need one step finer than `most` allows; an axis with a single number cannot be read.
pub fn ticks(range: Range, most: usize) -> Ticks {
    let step = step_for(range, most.clamp(2, MOST_TICKS) as f64);
    let (first, last) = step.multiples(range);
    let power = common_power(range);
    let decimals = number::decimals_for(power - step.exponent);
    let scale = 10.0_f64.powi(power.abs());
    let marks = (0..2 * MOST_TICKS)
        .map(|index| first + index as f64)
        .take_while(|multiple| *multiple <= last)
        .map(|multiple| {
            let at = step.times(multiple);
            let shown = if power >= 0 { at / scale } else { at * scale };
            Tick { at, label: number::fixed(shown, decimals) }
        })
        .collect();
    Ticks { marks, power }
}

/// The finest step with at most `most` marks, or the one before if that leaves fewer than two.
fn step_for(range: Range, most: f64) -> Step {
    let start = number::order_of(range.span() / most) - 1;
    let mut finer = Step { digit: 5.0, exponent: start - 1 };
    // Four powers of ten are more than enough: the first step is already near span / most.
    for exponent in start..start + 4 {
        for digit in [1.0, 2.0, 5.0] {
            let step = Step { digit, exponent };
            let count = step.count(range);
            if count <= most {
                return if count < 2.0 { finer } else { step };
            }
            finer = step;
        }
    }
    finer
}

/// The power of ten an axis counts in: none between a thousandth and a hundred thousand.
///
/// It depends on the range alone, so that a caption can be set before the count of marks is known.
pub(crate) fn common_power(range: Range) -> i32 {
    let order = number::order_of(range.low().abs().max(range.high().abs()));
    if (-3..5).contains(&order) { 0 } else { order.div_euclid(3) * 3 }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[track_caller]
    fn check(low: f64, high: f64, most: usize, labels: &[&str], power: i32) {
        let found = ticks(Range::guard(low, high), most);
        let texts: Vec<&str> = found.marks.iter().map(|mark| mark.label.as_str()).collect();
        assert_eq!(texts, labels, "{low}..{high}");
        assert_eq!(found.power, power, "{low}..{high}");
    }

    // Chosen by hand, as one would mark squared paper.
    #[test]
    fn marks_are_the_ones_a_person_would_choose() {
        check(0.0, 10.0, 6, &["0", "2", "4", "6", "8", "10"], 0);
        check(0.0, 1.0, 6, &["0.0", "0.2", "0.4", "0.6", "0.8", "1.0"], 0);
        check(-0.07, 0.32, 5, &["0.0", "0.1", "0.2", "0.3"], 0);
        check(-1.2, 1.2, 5, &["−1.0", "−0.5", "0.0", "0.5", "1.0"], 0);
        check(12.3, 13.1, 4, &["12.4", "12.6", "12.8", "13.0"], 0);
        check(0.0, 7.0, 3, &["0", "5"], 0);
        check(97.0, 153.0, 6, &["100", "110", "120", "130", "140", "150"], 0);
    }

    #[test]
    fn very_large_and_very_small_numbers_count_in_a_power_of_ten() {
        check(0.0, 4e6, 5, &["0", "1", "2", "3", "4"], 6);
        check(0.0, 2.5e5, 3, &["0", "100", "200"], 3);
        check(-2e-5, 4e-5, 4, &["−20", "0", "20", "40"], -6);
    }

    #[test]
    fn no_position_carries_float_noise() {
        let found = ticks(Range::guard(0.0, 0.9), 10);
        let positions: Vec<f64> = found.marks.iter().map(|mark| mark.at).collect();
        assert_eq!(positions, [0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]);
    }

    proptest! {
        #[test]
        fn any_range_gets_a_few_rising_marks_inside_it(low in prop::num::f64::ANY, high in prop::num::f64::ANY, most in 0..40_usize) {
            let range = Range::guard(low, high);
            let found = ticks(range, most).marks;
            prop_assert!((2..=MOST_TICKS).contains(&found.len()), "{} marks for {range:?}", found.len());
            let slack = range.span() * 1e-6;
            prop_assert!(found.iter().all(|mark| mark.at >= range.low() - slack && mark.at <= range.high() + slack));
            prop_assert!(found.windows(2).all(|pair| pair[0].at < pair[1].at && pair[0].label != pair[1].label));
        }
    }
}
