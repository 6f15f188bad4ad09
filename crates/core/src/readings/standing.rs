//! The rows of one run as they stand in a block: looked at in place, copied only where something has to be
//! done to them. A long record is copied once, as the means that a lab keeps of it.

use super::lines::Lines;
use std::borrow::Cow;
use std::rc::Rc;

/// One row of a run; NaN where nothing stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Row {
    pub(super) time: f64,
    /// In SI units; 1 or 0 for a gate; the second time where each row has two.
    pub(super) value: f64,
    pub(super) line: usize,
}

/// What is left of a row when all is well with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Moment {
    pub(super) time: f64,
    pub(super) value: f64,
}

/// Some rows of a block, in order.
#[derive(Clone, Debug)]
pub(super) enum Picked {
    /// All of so many.
    All(usize),
    These(Rc<[usize]>),
}

impl Picked {
    fn len(&self) -> usize {
        match self {
            Self::All(count) => *count,
            Self::These(rows) => rows.len(),
        }
    }

    fn get(&self, nth: usize) -> Option<usize> {
        match self {
            Self::All(_) => Some(nth),
            Self::These(rows) => rows.get(nth).copied(),
        }
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = usize> {
        (0..self.len()).filter_map(|nth| self.get(nth))
    }
}

/// What a number is multiplied and divided by to be in SI units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scaling {
    times: f64,
    over: f64,
}

impl Scaling {
    /// Decimal units divide by a whole number, which rounds once and so gives what a reader of the number in
    /// the larger unit would give.
    pub(super) fn of(factor: f64) -> Self {
        let inverse = (1.0 / factor).round();
        if factor < 1.0 && (factor * inverse - 1.0).abs() < 1e-12 {
            Self { times: 1.0, over: inverse }
        } else {
            Self { times: factor, over: 1.0 }
        }
    }

    fn apply(self, number: f64) -> f64 {
        number * self.times / self.over
    }
}

/// Rows of a run where they stand.
#[derive(Clone, Debug)]
pub(super) struct Standing<'b> {
    pub(super) times: &'b [f64],
    pub(super) time_scaling: Scaling,
    /// `None` where times stand alone: then each value is 0.
    pub(super) values: Option<Cow<'b, [f64]>>,
    pub(super) value_scaling: Scaling,
    pub(super) rows: Picked,
    pub(super) lines: &'b Lines,
}

impl Standing<'_> {
    pub(super) fn len(&self) -> usize {
        self.rows.len()
    }

    pub(super) fn moment(&self, nth: usize) -> Moment {
        let row = self.rows.get(nth).unwrap_or(usize::MAX);
        let number = |column: &[f64]| column.get(row).copied().unwrap_or(f64::NAN);
        let value = self.values.as_ref().map_or(0.0, |values| self.value_scaling.apply(number(values)));
        Moment { time: self.time_scaling.apply(number(self.times)), value }
    }

    fn row(&self, nth: usize) -> Row {
        let Moment { time, value } = self.moment(nth);
        Row { time, value, line: self.line(nth) }
    }

    pub(super) fn line(&self, nth: usize) -> usize {
        self.rows.get(nth).map_or(1, |row| self.lines.of(row))
    }
}

/// Rows of a run, in place or by themselves.
#[derive(Clone, Debug)]
pub(super) enum RunRows<'b> {
    Standing(Standing<'b>),
    Own(Vec<Row>),
}

impl RunRows<'_> {
    pub(super) fn len(&self) -> usize {
        match self {
            Self::Standing(standing) => standing.len(),
            Self::Own(rows) => rows.len(),
        }
    }

    pub(super) fn first(&self) -> Option<Row> {
        self.get(0)
    }

    pub(super) fn last(&self) -> Option<Row> {
        self.get(self.len().checked_sub(1)?)
    }

    fn get(&self, nth: usize) -> Option<Row> {
        match self {
            Self::Standing(standing) => (nth < standing.len()).then(|| standing.row(nth)),
            Self::Own(rows) => rows.get(nth).copied(),
        }
    }

    pub(super) fn into_rows(self) -> Vec<Row> {
        match self {
            Self::Standing(standing) => (0..standing.len()).map(|nth| standing.row(nth)).collect(),
            Self::Own(rows) => rows,
        }
    }

    /// Puts the rows of `after` behind these.
    pub(super) fn append(&mut self, after: Self) {
        let mut rows = core::mem::replace(self, Self::Own(Vec::new())).into_rows();
        rows.extend(after.into_rows());
        *self = Self::Own(rows);
    }
}

/// Rows looked at in one call. A browser makes a function quick while it is called again, not while it runs: a
/// loop over a million rows is one over pieces of them.
const PIECE: usize = 1 << 12;

/// All of `0..count`, in pieces.
pub(super) fn pieces(count: usize) -> impl Iterator<Item = core::ops::Range<usize>> {
    (0..count.div_ceil(PIECE)).map(move |piece| piece * PIECE..(piece * PIECE + PIECE).min(count))
}
