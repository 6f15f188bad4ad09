//! Rows of plain numbers, many at a time: nearly all rows of nearly all long files.
//!
//! ```text
//! row     number (delimiter number)* line end
//! number  sign? digits (decimal mark digits?)?
//! ```
//!
//! Whatever else a row holds — a gap, a word, quotes, spaces, an exponent, too many digits, too many fields —
//! it is left to the reader of any row, which reads plain rows to the same numbers.

use super::dialect::Dialect;
use super::number::exactly;
use super::split::delimiter_byte;
use super::table::ColumnData;
use super::{DecimalMark, Delimiter};

/// Most rows taken in one call.
pub(super) const PIECE: usize = 512;

/// How plain rows of a file are written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plain {
    delimiter: u8,
    point: u8,
}

impl Plain {
    /// `None` where rows hold words or units, or fields are set with spaces.
    pub(super) fn of(dialect: &Dialect) -> Option<Self> {
        let (delimiter, mark) = (dialect.delimiter.value, dialect.decimal.value);
        let point = match mark {
            DecimalMark::Point => b'.',
            DecimalMark::Comma => b',',
        };
        let plain = Self { delimiter: delimiter_byte(delimiter), point };
        let more = dialect.units || dialect.words.contains(&true) || delimiter == Delimiter::Spaces;
        (!more && plain.delimiter != point).then_some(plain)
    }

    /// Takes rows from `at` on as long as they are plain, at most [`PIECE`], and adds their numbers to the
    /// columns; gives how many these were, and where they end. `size` is that of the whole text.
    #[inline(never)]
    pub(super) fn rows(
        self,
        bytes: &[u8],
        at: usize,
        columns: &mut [ColumnData],
        size: usize,
    ) -> (usize, usize) {
        let mut end = at;
        for count in 0..PIECE {
            let Some(next) = self.row(bytes, end, columns) else { return (count, end) };
            end = next;
        }
        make_room(columns, size.saturating_sub(end) / (end - at).div_ceil(PIECE));
        (PIECE, end)
    }

    /// Adds the numbers of the row at `at` to the columns; gives where the next row begins, or takes the
    /// numbers back when it is not plain.
    fn row(self, bytes: &[u8], at: usize, columns: &mut [ColumnData]) -> Option<usize> {
        let (mut at, mut left) = (at, columns.len());
        for column in columns.iter_mut() {
            let Some((number, end)) = self.number(bytes, at) else { break };
            left -= 1;
            at = match (bytes.get(end), left) {
                (Some(b'\n') | None, 0) => end + 1,
                (Some(b'\r'), 0) => end + 1 + usize::from(bytes.get(end + 1) == Some(&b'\n')),
                (Some(&byte), 1..) if byte == self.delimiter => end + 1,
                _ => break,
            };
            column.numbers.push(number);
            if left == 0 {
                return Some(at.min(bytes.len()));
            }
        }
        let kept = columns.last().map_or(0, |column| column.numbers.len());
        columns.iter_mut().for_each(|column| column.numbers.truncate(kept));
        None
    }

    /// The number at `at`, and where it ends.
    fn number(self, bytes: &[u8], at: usize) -> Option<(f64, usize)> {
        let sign = *bytes.get(at)?;
        let start = at + usize::from(sign == b'-' || sign == b'+');
        let (whole, end) = digits(bytes, start, 0);
        let mut count = end - start;
        if count == 0 {
            return None;
        }
        let (mut value, mut end, mut places) = (whole, end, 0);
        if bytes.get(end) == Some(&self.point) {
            let first = end + 1;
            (value, end) = eights(bytes, first, whole);
            (value, end) = digits(bytes, end, value);
            places = end - first;
            count += places;
        }
        // So many digits have not overflowed.
        if count > 18 {
            return None;
        }
        let number = exactly(value, -i64::try_from(places).ok()?)?;
        Some((if sign == b'-' { -number } else { number }, end))
    }
}

/// Goes on with the digits of a number from `at` on.
#[inline]
fn digits(bytes: &[u8], at: usize, so_far: u64) -> (u64, usize) {
    let (mut value, mut end) = (so_far, at);
    while let Some(digit) = bytes.get(end).map(|byte| byte.wrapping_sub(b'0')).filter(|&digit| digit < 10) {
        value = value.wrapping_mul(10).wrapping_add(u64::from(digit));
        end += 1;
    }
    (value, end)
}

/// Goes on with the digits of a number from `at` on, up to eight of them at once, while there are eight bytes.
///
/// The eight bytes are one whole number of 64 bits, each digit eight bits of it. Neighbors are put together to
/// pairs, these to fours, these to the number: ten times the one on the left plus the one on the right.
#[inline]
fn eights(bytes: &[u8], at: usize, so_far: u64) -> (u64, usize) {
    const TENS: [u64; 9] = [1, 10, 100, 1000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000];
    const PAIRS: u64 = 0x00ff_00ff_00ff_00ff;
    const FOURS: u64 = 0x0000_ffff_0000_ffff;
    let (mut value, mut end) = (so_far, at);
    while let Some(eight) = bytes.get(end..).and_then(<[u8]>::first_chunk::<8>) {
        // The first character is in the lowest bits.
        let digits = u64::from_le_bytes(*eight) ^ 0x3030_3030_3030_3030;
        // A byte above 9 has one of its upper four bits set, or gets it by adding six; what that carries into the
        // next byte does not matter any more.
        let others = (digits | digits.wrapping_add(0x0606_0606_0606_0606)) & 0xf0f0_f0f0_f0f0_f0f0;
        let count = others.trailing_zeros() / 8;
        if count == 0 {
            break;
        }
        // Fewer than eight move up, so that zeros stand before them.
        let digits = digits << (64 - 8 * count);
        let pairs = (digits & PAIRS) * 10 + (digits >> 8 & PAIRS);
        let fours = (pairs & FOURS) * 100 + (pairs >> 16 & FOURS);
        let whole = (fours & 0xffff_ffff) * 10_000 + (fours >> 32);
        let ten = TENS.get(count as usize).copied().unwrap_or(1);
        value = value.wrapping_mul(ten).wrapping_add(whole);
        end += count as usize;
        if count < 8 {
            break;
        }
    }
    (value, end)
}

/// Makes room for so many rows at once where it runs out: growing bit by bit would move the columns about.
fn make_room(columns: &mut [ColumnData], rows: usize) {
    for column in columns {
        if column.numbers.capacity() - column.numbers.len() < PIECE {
            column.numbers.reserve(rows + rows / 16 + PIECE);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::number::{Cell, cell};
    use super::*;
    use proptest::prelude::*;

    const COMMAS: Plain = Plain { delimiter: b',', point: b'.' };

    fn columns(count: usize) -> Vec<ColumnData> {
        vec![ColumnData::default(); count]
    }

    #[test]
    fn a_row_that_is_not_plain_ends_it_and_leaves_nothing() {
        let text = b"1,2\n-3.5,+4.25\r\n5,6,7\n8,9\n";
        let mut found = columns(2);
        assert_eq!(COMMAS.rows(text, 0, &mut found, text.len()), (2, 16));
        assert_eq!((&found[0].numbers[..], &found[1].numbers[..]), (&[1.0, -3.5][..], &[2.0, 4.25][..]));
        for row in ["1,", ",1", "1", "1,2,3", "1,2 ", " 1,2", "1,2e3", "1,NaN", "\"1\",2", "1,.5", "1,-", ""]
        {
            let mut found = columns(2);
            assert_eq!(COMMAS.rows(row.as_bytes(), 0, &mut found, row.len()), (0, 0), "{row}");
            assert!(found.iter().all(|column| column.numbers.is_empty()), "{row}");
        }
    }

    proptest! {
        /// The reader of any field is itself checked against the standard library.
        #[test]
        fn numbers_are_those_of_the_reader_of_any_field(
            text in "[-+]?[0-9]{1,12}([.][0-9]{0,14})?", after in "|\n|\r\n|\n1.5\n0.123456789\n"
        ) {
            let (mut found, row) = (columns(1), format!("{text}{after}"));
            let (count, _) = COMMAS.rows(row.as_bytes(), 0, &mut found, row.len());
            match found[0].numbers.first() {
                Some(&number) => prop_assert_eq!(Cell::Number(number), cell(&text, DecimalMark::Point)),
                // Too many digits for one rounding.
                None => prop_assert!(count == 0 && text.len() > 15, "{}", text),
            }
        }
    }
}
