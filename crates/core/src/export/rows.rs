//! Rows of cells → CSV text.

use crate::csv_text::push_cell;
use crate::lab::{Lab, Provenance};
use crate::measured::Measured;
use crate::quantity::Quantity;
use core::fmt::Write as _;

/// One cell.
#[derive(Clone, Copy)]
pub(super) enum Cell<'a> {
    /// Empty.
    Nothing,
    /// Guarded and quoted as needed.
    Text(&'a str),
    /// In full; empty when it is not finite.
    Number(f64),
}

impl Cell<'_> {
    /// A number, if there is one.
    pub(super) fn maybe(number: Option<f64>) -> Self {
        number.map_or(Self::Nothing, Self::Number)
    }

    /// Whether the readings were measured or simulated.
    pub(super) fn provenance(lab: &Lab) -> Self {
        Self::Text(match lab.provenance {
            Provenance::Measured => "measured",
            Provenance::Simulated => "simulated",
        })
    }
}

/// Value, standard uncertainty, degrees of freedom; the last is empty where they are infinite.
pub(super) fn measured<Q: Quantity>(measured: &Measured<Q>) -> [f64; 3] {
    [measured.value().si(), measured.standard_uncertainty().si(), measured.degrees_of_freedom().get()]
}

/// A table as it grows.
pub(super) struct Rows(String);

impl Rows {
    /// A table with its heading row.
    pub(super) fn new(headings: &[&str]) -> Self {
        let mut rows = Self(String::new());
        let mut cells = Vec::with_capacity(headings.len());
        cells.extend(headings.iter().map(|heading| Cell::Text(heading)));
        rows.push(&cells);
        rows
    }

    /// Appends a row; it has as many cells as there are headings.
    #[inline(never)]
    pub(super) fn push(&mut self, cells: &[Cell<'_>]) {
        let text = &mut self.0;
        for (place, cell) in cells.iter().enumerate() {
            if place > 0 {
                text.push(',');
            }
            match *cell {
                Cell::Text(words) => push_cell(text, words),
                Cell::Number(number) if number.is_finite() => push_number(text, number),
                Cell::Number(_) | Cell::Nothing => {}
            }
        }
        text.push_str("\r\n");
    }

    /// The table's text.
    pub(super) fn text(self) -> String {
        self.0
    }
}

/// Shortest digits that read back to the same bits: like 1.5e-5 where 0.000015 is longer.
fn push_number(text: &mut String, number: f64) {
    // Writing to memory cannot fail.
    let _ = if (1e-4..1e15).contains(&number.abs()) || number == 0.0 {
        write!(text, "{number}")
    } else {
        write!(text, "{number:e}")
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_has_its_cells_and_ends_with_both_line_ends() {
        let mut rows = Rows::new(&["a (m)", "b"]);
        rows.push(&[Cell::Number(-0.125), Cell::Text("-0.125")]);
        rows.push(&[Cell::Nothing, Cell::Number(f64::INFINITY)]);
        assert_eq!(rows.text(), "a (m),b\r\n-0.125,\"'-0.125\"\r\n,\r\n");
    }

    #[test]
    fn numbers_are_short_and_read_back_to_the_same_bits() {
        for (number, written) in [
            (0.0, "0"),
            (-0.0, "-0"),
            (0.1, "0.1"),
            (1e-5, "1e-5"),
            (-1.5e300, "-1.5e300"),
            (f64::MIN_POSITIVE, "2.2250738585072014e-308"),
            (123_456_789.125, "123456789.125"),
        ] {
            let mut text = String::new();
            push_number(&mut text, number);
            assert_eq!(text, written);
            assert_eq!(text.parse::<f64>().unwrap().to_bits(), number.to_bits());
        }
    }
}
