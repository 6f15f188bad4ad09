//! How much room text takes, without asking a browser.
//!
//! Widths are estimates for an ordinary sans-serif face, a little on the wide side: measuring would make
//! the browser lay the page out again for every label.

/// Estimated width of `text` at a type size, in the unit of `size`.
pub(super) fn width_of(text: &str, size: f64) -> f64 {
    size * text.chars().map(em_of).sum::<f64>()
}

fn em_of(letter: char) -> f64 {
    match letter {
        'i' | 'j' | 'l' | 'I' | '|' | '.' | ',' | ':' | ';' | '\'' | '·' | '’' => 0.3,
        ' ' | 'f' | 't' | 'r' | '(' | ')' | '/' | '-' => 0.38,
        '⁰'..='⁹' | '⁻' | '¹' | '²' | '³' => 0.4,
        'm' | 'w' | 'M' | 'W' | '—' | '…' => 0.9,
        '\u{2212}' | '+' | '=' | '×' | '–' => 0.65,
        _ if letter.is_uppercase() => 0.68,
        _ if letter.is_ascii() => 0.61,
        _ => 0.64,
    }
}

/// `text` cut to `width`, with an ellipsis where something is missing.
pub(super) fn shorten(text: &str, width: f64, size: f64) -> String {
    if width_of(text, size) <= width {
        return text.to_owned();
    }
    let mut left = width - width_of("…", size);
    let mut kept = String::new();
    for letter in text.chars() {
        left -= size * em_of(letter);
        if left < 0.0 {
            break;
        }
        kept.push(letter);
    }
    kept.truncate(kept.trim_end().len());
    kept.push('…');
    kept
}

/// `text` in at most `most` lines of `width`, broken at spaces; the last line is shortened if it must.
pub(super) fn wrap(text: &str, width: f64, size: f64, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let full = lines.len() >= most;
        match lines.last_mut() {
            Some(line) if full || width_of(line, size) + width_of(word, size) + 0.38 * size <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.iter().map(|line| shorten(line, width, size)).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_caption_breaks_at_spaces_and_is_shortened_only_at_the_end() {
        // Seven letters of about 0.6 em fit into 45 pixels at size 10.
        assert_eq!(wrap("angular speed", 45.0, 10.0, 2), ["angular", "speed"]);
        assert_eq!(wrap("speed", 45.0, 10.0, 2), ["speed"]);
        let lines = wrap("angular speed of the drum", 45.0, 10.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines[1].starts_with("speed") && lines[1].ends_with('…'), "{lines:?}");
    }

    proptest! {
        #[test]
        fn no_line_is_wider_than_asked(text in "\\PC{0,60}", width in 20.0..200.0_f64) {
            for line in wrap(&text, width, 12.0, 2) {
                prop_assert!(width_of(&line, 12.0) <= width + 1e-9, "{line}");
            }
        }
    }
}
