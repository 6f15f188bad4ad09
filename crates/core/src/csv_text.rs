//! Text in the cells of a CSV table: quoted as RFC 4180 asks, and guarded against being taken for a formula.
//!
//! A spreadsheet runs what begins like a formula, quoted or not. OWASP's Application Security Verification
//! Standard 5.0 (1.2.10) asks for an apostrophe before `=`, `+`, `-`, `@`, tab and NUL at the start of a
//! cell; line ends are common practice, no source. An apostrophe itself is guarded too, so that the guard
//! can be taken off again without losing anything.

/// What the guard is put before.
const GUARDED: [char; 9] = ['=', '+', '-', '@', '\t', '\r', '\n', '\0', '\''];

/// A cell's text without the guard that [`push_cell`] put before it; any other text as it is.
pub fn unguard(cell: &str) -> &str {
    cell.strip_prefix('\'').filter(|rest| rest.starts_with(GUARDED)).unwrap_or(cell)
}

/// Appends text as one cell of a row, guarded, and quoted where a reader might mistake it.
#[inline(never)]
pub fn push_cell(row: &mut String, text: &str) {
    let guard = text.starts_with(GUARDED);
    let quote = !is_plain(text);
    if quote {
        row.push('"');
    }
    if guard {
        row.push('\'');
    }
    for c in text.chars() {
        if c == '"' {
            row.push('"');
        }
        row.push(c);
    }
    if quote {
        row.push('"');
    }
}

/// Whether text needs no quotes: beside what RFC 4180 quotes, other delimiters, spaces that a reader might
/// trim, and beginnings that might be taken for a remark are quoted.
fn is_plain(text: &str) -> bool {
    let first = text.bytes().next().unwrap_or(b'0');
    (first.is_ascii_alphanumeric() || !first.is_ascii())
        && !text.ends_with(' ')
        && !text.contains(['"', ',', ';', '|', '\t', '\r', '\n'])
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cell(text: &str) -> String {
        let mut row = String::new();
        push_cell(&mut row, text);
        row
    }

    #[test]
    fn what_begins_like_a_formula_is_guarded() {
        for (text, written) in [
            ("ring, 150 g", "\"ring, 150 g\""),
            ("the \"new\" ring", "\"the \"\"new\"\" ring\""),
            ("=HYPERLINK(\"x\")", "\"'=HYPERLINK(\"\"x\"\")\""),
            ("+1", "\"'+1\""),
            ("-2", "\"'-2\""),
            ("@x", "\"'@x\""),
            ("'x", "\"''x\""),
            ("two\nlines", "\"two\nlines\""),
            ("#3", "\"#3\""),
            ("ring=1", "ring=1"),
            ("Übung", "Übung"),
            ("", ""),
        ] {
            assert_eq!(cell(text), written);
        }
    }

    #[test]
    fn only_a_guard_is_taken_off() {
        for (cell, text) in [("'=1", "=1"), ("''", "'"), ("'tis", "'tis"), ("'", "'"), ("=1", "=1"), ("", "")]
        {
            assert_eq!(unguard(cell), text);
        }
    }

    proptest! {
        #[test]
        fn a_guard_comes_off_and_leaves_the_text(text in "[-=+@'\t\r\n\0\",a]{0,4}\\PC{0,5}") {
            let row = cell(&text);
            let inner = row.strip_prefix('"').and_then(|row| row.strip_suffix('"'));
            let inner = inner.map_or_else(|| row.clone(), |inner| inner.replace("\"\"", "\""));
            prop_assert_eq!(unguard(&inner), text);
            prop_assert!(!inner.starts_with(['=', '+', '-', '@', '\t', '\r']));
        }
    }
}
