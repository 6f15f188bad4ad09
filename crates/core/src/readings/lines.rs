//! Which line of the file each row of a block stands on.

/// The line of each row, kept as stretches of rows on consecutive lines: mostly there is one.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Lines {
    rows: usize,
    /// First row and its line, for each stretch.
    stretches: Vec<(usize, usize)>,
}

impl Lines {
    /// How many rows there are.
    pub(super) fn len(&self) -> usize {
        self.rows
    }

    /// Adds rows of which the first stands on `line` and each other on the next.
    pub(super) fn add(&mut self, line: usize, rows: usize) {
        let goes_on = self.stretches.last().is_some_and(|&(row, first)| first + (self.rows - row) == line);
        if !goes_on {
            self.stretches.push((self.rows, line));
        }
        self.rows += rows;
    }

    /// The line of a row, from 1.
    pub(super) fn of(&self, row: usize) -> usize {
        let after = self.stretches.partition_point(|&(first, _)| first <= row);
        let stretch = after.checked_sub(1).and_then(|last| self.stretches.get(last));
        stretch.map_or(1, |&(first, line)| line + (row - first))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_row_has_the_line_it_was_added_with() {
        let mut lines = Lines::default();
        for (line, rows) in [(3, 1), (4, 100), (105, 1), (104, 2), (7, 1)] {
            lines.add(line, rows);
        }
        assert_eq!((lines.len(), lines.stretches.len()), (105, 4));
        for (row, line) in [(0, 3), (1, 4), (100, 103), (101, 105), (102, 104), (103, 105), (104, 7)] {
            assert_eq!(lines.of(row), line, "row {row}");
        }
        assert_eq!(Lines::default().of(0), 1);
    }
}
