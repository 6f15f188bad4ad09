//! What the numbers of a column themselves tell.

use super::standing::pieces;
use super::table::ColumnData;

/// A column's numbers at a glance.
#[derive(Clone, Copy, Debug)]
pub(super) struct Statistics {
    /// How many there are.
    pub(super) count: usize,
    pub(super) least: f64,
    pub(super) greatest: f64,
    /// How often one is smaller than the one before, and how often it is the same.
    pub(super) falls: usize,
    pub(super) stays: usize,
    /// Whether all are whole.
    pub(super) whole: bool,
    /// Whether each is one more than the one before.
    pub(super) counts: bool,
}

impl Statistics {
    pub(super) fn of(column: &ColumnData) -> Self {
        let mut all = Self {
            count: 0,
            least: f64::INFINITY,
            greatest: f64::NEG_INFINITY,
            falls: 0,
            stays: 0,
            whole: true,
            counts: true,
        };
        let mut before = f64::NAN;
        for piece in pieces(column.numbers.len()) {
            all.add(column.numbers.get(piece).unwrap_or_default(), &mut before);
        }
        all.counts &= all.whole && all.count > 1;
        all
    }

    /// Goes on with the numbers of a column; `before` is the last one, NaN before the first.
    #[inline(never)]
    fn add(&mut self, numbers: &[f64], before: &mut f64) {
        let (mut all, mut last) = (*self, *before);
        for value in numbers.iter().copied().filter(|value| !value.is_nan()) {
            // Not `min` and `max`, which cost a browser much to be right about NaN and −0.
            if value < all.least {
                all.least = value;
            }
            if value > all.greatest {
                all.greatest = value;
            }
            // Beyond 2⁵³ every number is whole; such are no counts either.
            all.whole = all.whole && value.fract() == 0.0;
            let step: f64 = value - last;
            all.falls += usize::from(step < 0.0);
            all.stays += usize::from(step == 0.0);
            all.counts = all.counts && (last.is_nan() || step.to_bits() == 1.0_f64.to_bits());
            all.count += 1;
            last = value;
        }
        (*self, *before) = (all, last);
    }

    /// Whether it grows but for a few rows: swapped ones, doubled ones, or a new start.
    pub(super) fn mostly_increases(&self) -> bool {
        self.count > 1 && self.falls * 10 < self.count && (self.stays * 2 < self.count)
    }

    /// Whether it shrinks but for a few rows.
    pub(super) fn mostly_decreases(&self) -> bool {
        let grows = self.count.saturating_sub(1 + self.falls + self.stays);
        self.count > 2 && grows * 10 < self.count && self.stays * 10 < self.count
    }

    pub(super) fn zero_or_one(&self) -> bool {
        self.whole
            && self.count > 0
            && self.least >= 0.0
            && self.greatest <= 1.0
            && self.least < self.greatest
    }

    pub(super) fn constant(&self) -> bool {
        self.count > 0 && self.greatest <= self.least
    }

    pub(super) fn span(&self) -> f64 {
        self.greatest - self.least
    }

    pub(super) fn largest(&self) -> f64 {
        self.greatest.abs().max(self.least.abs())
    }
}

/// Units that fit the numbers of a quantity in this lab, the likeliest first, as SI units per unit.
///
/// A mass falls for 0.2 s to 5 minutes, over 5 cm to 5 m, and reaches 2 cm/s to 8 m/s (common practice, no
/// source).
pub(super) fn plausible(units: &[f64], size: f64, low: f64, high: f64) -> Vec<f64> {
    units.iter().copied().filter(|unit| (low..=high).contains(&(size * unit))).collect()
}
