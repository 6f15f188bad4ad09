//! Text → rows of fields (RFC 4180, with other delimiters as well), without copying.

use super::Delimiter;

/// Rows of a text, one after another.
#[derive(Clone, Debug)]
pub(super) struct Rows<'t> {
    text: &'t str,
    delimiter: Delimiter,
    /// Where the next row begins, and which line that is, from 1.
    at: usize,
    line: usize,
}

/// Where a row stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Place {
    /// Its first line, from 1.
    pub(super) line: usize,
    /// Its first byte and the byte after its last, the line's end not counted.
    pub(super) start: usize,
    pub(super) end: usize,
}

impl<'t> Rows<'t> {
    pub(super) fn new(text: &'t str, delimiter: Delimiter) -> Self {
        Self { text, delimiter, at: 0, line: 1 }
    }

    /// Rows from a place on, which is a row's beginning on that line.
    pub(super) fn on(text: &'t str, delimiter: Delimiter, at: usize, line: usize) -> Self {
        Self { text, delimiter, at, line }
    }

    /// How many bytes have been read.
    pub(super) fn at(&self) -> usize {
        self.at
    }

    /// The line on which the next row begins.
    pub(super) fn line(&self) -> usize {
        self.line
    }

    /// Goes on behind rows of one line each that end at `end`.
    pub(super) fn skip(&mut self, rows: usize, end: usize) {
        self.line += rows;
        self.at = end;
    }

    /// Puts the next row's fields into `fields`, at most `most` of them; `None` after the last row.
    ///
    /// The fields are as they stand there, without the quotes around them but with doubled quotes inside.
    pub(super) fn next(&mut self, fields: &mut Vec<&'t str>, most: usize) -> Option<Place> {
        fields.clear();
        let bytes = self.text.as_bytes();
        let start = self.at;
        if start >= bytes.len() {
            return None;
        }
        let line = self.line;
        let mut from = start;
        loop {
            let (field, end) = self.field(from);
            if fields.len() < most {
                fields.push(field);
            }
            match bytes.get(end) {
                Some(b'\n') => self.at = end + 1,
                Some(b'\r') => self.at = end + 1 + usize::from(bytes.get(end + 1) == Some(&b'\n')),
                None => self.at = end,
                Some(_) => {
                    from = self.after_delimiter(end);
                    continue;
                }
            }
            self.line += 1;
            let place = Place { line, start, end };
            if self.delimiter == Delimiter::Spaces {
                // Spaces before the first field and after the last separate nothing.
                fields.retain(|field| !field.is_empty());
            }
            return Some(place);
        }
    }

    /// The field that begins at `from`, and where it ends: at a delimiter, a line's end or the text's end.
    fn field(&mut self, from: usize) -> (&'t str, usize) {
        let bytes = self.text.as_bytes();
        if bytes.get(from) == Some(&b'"')
            && let Some((text, end, lines)) = self.quoted(from)
        {
            self.line += lines;
            return (text, end);
        }
        let delimiter = delimiter_byte(self.delimiter);
        let ends = |byte: &u8| *byte == delimiter || *byte == b'\n' || *byte == b'\r';
        let rest = bytes.get(from..).unwrap_or_default();
        let end = from + rest.iter().position(ends).unwrap_or(rest.len());
        (self.text.get(from..end).unwrap_or_default(), end)
    }

    /// A field in quotes, where it ends, and how many line ends are in it; `None` when the next quote does
    /// not close it, so that the quote is one of the field's characters.
    fn quoted(&self, from: usize) -> Option<(&'t str, usize, usize)> {
        let bytes = self.text.as_bytes();
        let mut at = from + 1;
        let mut lines = 0;
        loop {
            match bytes.get(at)? {
                b'"' if bytes.get(at + 1) == Some(&b'"') => at += 2,
                b'"' => break,
                b'\n' => {
                    lines += 1;
                    at += 1;
                }
                _ => at += 1,
            }
        }
        let after = bytes.get(at + 1).copied().unwrap_or(b'\n');
        let closes = after == b'\n' || after == b'\r' || after == delimiter_byte(self.delimiter);
        closes.then(|| (self.text.get(from + 1..at).unwrap_or_default(), at + 1, lines))
    }

    fn after_delimiter(&self, end: usize) -> usize {
        if self.delimiter != Delimiter::Spaces {
            return end + 1;
        }
        let rest = self.text.as_bytes().get(end..).unwrap_or_default();
        end + rest.iter().take_while(|&&byte| byte == b' ').count()
    }
}

pub(super) fn delimiter_byte(delimiter: Delimiter) -> u8 {
    match delimiter {
        Delimiter::Comma => b',',
        Delimiter::Semicolon => b';',
        Delimiter::Tab => b'\t',
        Delimiter::Spaces => b' ',
        Delimiter::Bar => b'|',
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn split(text: &str, delimiter: Delimiter) -> Vec<(usize, Vec<String>)> {
        let mut rows = Rows::new(text, delimiter);
        let (mut fields, mut all) = (Vec::new(), Vec::new());
        while let Some(place) = rows.next(&mut fields, 100) {
            all.push((place.line, fields.iter().map(|&field| field.to_owned()).collect()));
        }
        all
    }

    fn row(line: usize, fields: &[&str]) -> (usize, Vec<String>) {
        (line, fields.iter().map(|&field| field.to_owned()).collect())
    }

    #[test]
    fn lines_end_in_three_ways() {
        let expected = [row(1, &["a", "b"]), row(2, &[""]), row(3, &["c", ""])];
        for text in ["a,b\n\nc,", "a,b\r\n\r\nc,\r\n", "a,b\r\rc,\r"] {
            assert_eq!(split(text, Delimiter::Comma), expected, "{text:?}");
        }
    }

    #[test]
    fn quotes_may_hold_delimiters_quotes_and_lines() {
        let expected = [row(1, &["a,\nb", "c\"\"d"]), row(3, &["e"])];
        assert_eq!(split("\"a,\nb\",\"c\"\"d\"\ne", Delimiter::Comma), expected);
    }

    #[test]
    fn a_quote_that_nothing_closes_is_a_character() {
        assert_eq!(split("\"a,b\nc,d", Delimiter::Comma), [row(1, &["\"a", "b"]), row(2, &["c", "d"])]);
        assert_eq!(split("5\",\"6\"x,7", Delimiter::Comma), [row(1, &["5\"", "\"6\"x", "7"])]);
    }

    #[test]
    fn any_number_of_spaces_separates_once() {
        let expected = [row(1, &["0.1", "2"]), row(2, &["3", "4"])];
        assert_eq!(split("  0.1   2 \n3 4", Delimiter::Spaces), expected);
    }
}
