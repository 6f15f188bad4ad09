//! Where in a text a place of its document stands.

/// Line and column, from 1, of a place such as `runs[3].readings.time_s` in the text of a document; of the innermost
/// place around it that is there where it is missing.
pub fn line_and_column(text: &str, place: &str) -> (usize, usize) {
    position(text, offset_of(text, place))
}

/// The same as the number of bytes before it.
pub fn offset_of(text: &str, place: &str) -> usize {
    let mut scanner = Scanner { text, at: 0 };
    scanner.pass_blank();
    for step in steps(place) {
        let mut inside = Scanner { ..scanner };
        let found = match step {
            Step::Field(name) => inside.field(name),
            Step::Item(index) => inside.item(index),
        };
        match found {
            Some(at) => scanner.at = at,
            None => break,
        }
    }
    scanner.at
}

/// Line and column, from 1, of what stands behind so many bytes of a text.
pub fn position(text: &str, offset: usize) -> (usize, usize) {
    let before = text.get(..offset).unwrap_or(text);
    let line = before.rsplit('\n').next().unwrap_or_default();
    (before.matches('\n').count() + 1, line.trim_start_matches(MARK).chars().count() + 1)
}

/// The byte-order mark, which is no column of the first line.
const MARK: char = '\u{feff}';

enum Step<'a> {
    Field(&'a str),
    Item(usize),
}

fn steps(place: &str) -> Vec<Step<'_>> {
    let mut steps = Vec::new();
    for part in place.split('.') {
        let mut pieces = part.split('[');
        steps.extend(pieces.next().filter(|name| !name.is_empty()).map(Step::Field));
        steps.extend(pieces.filter_map(|piece| piece.trim_end_matches(']').parse().ok()).map(Step::Item));
    }
    steps
}

/// Goes through text that is known to be JSON; what is none makes it stop, never fail.
struct Scanner<'a> {
    text: &'a str,
    at: usize,
}

impl Scanner<'_> {
    fn byte(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn pass_blank(&mut self) {
        let rest = self.text.get(self.at..).unwrap_or_default();
        self.at += rest.len() - rest.trim_start_matches([' ', '\t', '\r', '\n', MARK]).len();
    }

    /// Passes over one byte and what is blank around it, if it is this one.
    fn pass(&mut self, byte: u8) -> bool {
        self.pass_blank();
        let is_it = self.byte() == Some(byte);
        if is_it {
            self.at += 1;
            self.pass_blank();
        }
        is_it
    }

    /// Passes over a text in quotes.
    fn pass_text(&mut self) {
        self.at += 1;
        while let Some(byte) = self.byte() {
            self.at += if byte == b'\\' { 2 } else { 1 };
            if byte == b'"' {
                break;
            }
        }
    }

    /// Passes over a value, however deep.
    fn pass_value(&mut self) {
        let mut depth = 0_usize;
        while let Some(byte) = self.byte() {
            match byte {
                b'"' => self.pass_text(),
                b'{' | b'[' => {
                    depth += 1;
                    self.at += 1;
                }
                b'}' | b']' | b',' if depth == 0 => return,
                b'}' | b']' => {
                    depth -= 1;
                    self.at += 1;
                }
                _ => self.at += 1,
            }
            if depth == 0 && matches!(byte, b'"' | b'}' | b']') {
                return;
            }
        }
    }

    /// Where the value of a field begins; of several of one name the last, which is the one that is read.
    fn field(&mut self, name: &str) -> Option<usize> {
        let mut found = None;
        if !self.pass(b'{') {
            return None;
        }
        while self.byte() == Some(b'"') {
            let from = self.at;
            self.pass_text();
            let key = self.text.get(from..self.at).and_then(|key| serde_json::from_str::<String>(key).ok());
            if !self.pass(b':') {
                break;
            }
            if key.as_deref() == Some(name) {
                found = Some(self.at);
            }
            self.pass_value();
            if !self.pass(b',') {
                break;
            }
        }
        found
    }

    /// Where an item of a list begins.
    fn item(&mut self, index: usize) -> Option<usize> {
        if !self.pass(b'[') {
            return None;
        }
        for _ in 0..index {
            self.pass_value();
            if !self.pass(b',') {
                return None;
            }
        }
        Some(self.at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_found_whatever_stands_before_it() {
        let text = "{\n  \"a\": [1, {\"b\": \"]},\\\"\", \"c\" : 5}, [[2]]],\n  \"d\\u0065\": {\"é\": true},\n  \"a.b\": 0\n}";
        for (place, at) in [
            ("", (1, 1)),
            ("a", (2, 8)),
            ("a[0]", (2, 9)),
            ("a[1].b", (2, 18)),
            ("a[1].c", (2, 33)),
            ("a[2][0][0]", (2, 39)),
            ("de.é", (3, 20)),
        ] {
            assert_eq!(line_and_column(text, place), at, "{place}");
        }
    }

    #[test]
    fn what_is_missing_is_looked_for_where_it_should_be() {
        let text = "\u{feff}{\"a\": [1, 2],\n \"b\": {}}";
        assert_eq!(line_and_column(text, ""), (1, 1));
        assert_eq!(line_and_column(text, "a[7]"), (1, 7));
        assert_eq!(line_and_column(text, "b.c.d[2]"), (2, 7));
        assert_eq!(line_and_column(text, "nothing"), (1, 1));
        assert_eq!(line_and_column("{\"a\": 1, \"a\": 2}", "a"), (1, 15));
    }

    #[test]
    fn text_that_is_no_document_ends_the_search() {
        for text in ["", "{", "{\"a", "{\"a\":", "[", "[\"\\", "{\"a\"}", "nul", "{\"a\":[}"] {
            let _ = line_and_column(text, "a[0].b");
        }
    }
}
