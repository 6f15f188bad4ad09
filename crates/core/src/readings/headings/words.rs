//! Text → words that can be compared: without case, accents and typographic variants.

/// Letters that stand for others: many → one. Both cases are listed, so no table of all cases is needed.
const FOLDED: [(&str, &str); 31] = [
    ("ÀÁÂÃÄÅàáâãäåĀāĂăĄąª", "a"),
    ("Ææ", "ae"),
    ("ÇçĆćČč", "c"),
    ("Ďď", "d"),
    ("ÈÉÊËèéêëĒēĘęĚě", "e"),
    ("Ğğ", "g"),
    ("ÌÍÎÏìíîïĪīİı", "i"),
    ("Łł", "l"),
    ("ÑñŃńŇň", "n"),
    ("ÒÓÔÕÖØòóôõöøŌōŐő", "o"),
    ("Œœ", "oe"),
    ("Řř", "r"),
    ("ŚśŠšŞş", "s"),
    ("ßẞ", "ss"),
    ("Ťť", "t"),
    ("ÙÚÛÜùúûüŪūŮůŰű", "u"),
    ("ÝýÿŸ", "y"),
    ("ŹźŻżŽž", "z"),
    ("µ", "μ"),
    ("ϕ", "φ"),
    ("ϑ", "θ"),
    ("∆", "δ"),
    ("ς", "σ"),
    ("º˚", "°"),
    ("⋅∙•", "·"),
    ("∕⁄", "/"),
    ("−‐‑‒–—―", "-"),
    ("№", "#"),
    ("\u{a0}\u{1680}\u{2000}\u{2001}\u{2002}\u{2003}\u{2004}\u{2005}\u{2006}\u{2007}", " "),
    ("\u{2008}\u{2009}\u{200a}\u{202f}\u{205f}\u{3000}\t\r\n", " "),
    ("\u{200b}\u{200c}\u{200d}\u{2060}\u{feff}", ""),
];

/// `Höhe` → `hohe`, `Δt` → `δt`, `ｔ` → `t`; what is not known stays.
pub(crate) fn fold(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for c in text.chars() {
        fold_char(c, &mut folded);
    }
    folded
}

fn fold_char(c: char, into: &mut String) {
    let shifted = |by: i64| char::from_u32(u32::try_from(i64::from(u32::from(c)) + by).unwrap_or(0));
    let plain = match c {
        '\t' | '\r' | '\n' => Some(' '),
        '\0'..='\x7f' => Some(c.to_ascii_lowercase()),
        'Α'..='Ω' => shifted(0x20),
        '₀'..='₉' => shifted(0x30 - 0x2080),
        // Full-width forms of ASCII.
        '！'..='～' => shifted(-0xfee0).map(|plain| plain.to_ascii_lowercase()),
        // Accents written as characters of their own.
        '\u{300}'..='\u{36f}' => return,
        _ => None,
    };
    if let Some(plain) = plain {
        into.push(plain);
        return;
    }
    match FOLDED.iter().find(|(many, _)| many.contains(c)) {
        Some((_, one)) => into.push_str(one),
        None => into.push(c),
    }
}

/// A word, a number or a sign such as `#` in a text.
#[derive(Debug)]
pub(super) struct Word<'a> {
    /// As written.
    pub(super) text: &'a str,
    pub(super) folded: String,
    /// Where it starts, in bytes.
    pub(super) start: usize,
}

impl Word<'_> {
    pub(super) fn end(&self) -> usize {
        self.start + self.text.len()
    }

    /// Whether it is made of digits.
    pub(super) fn is_number(&self) -> bool {
        self.folded.bytes().all(|byte| byte.is_ascii_digit())
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Letter,
    Digit,
    Sign,
    Between,
    /// Changes the letter before it, or nothing.
    Mark,
}

fn kind(c: char) -> Kind {
    let mut folded = String::new();
    fold_char(c, &mut folded);
    match folded.chars().next() {
        None => Kind::Mark,
        Some('0'..='9') => Kind::Digit,
        Some('#' | '±' | '√') => Kind::Sign,
        Some('a'..='z' | 'μ') => Kind::Letter,
        // Punctuation, signs and arrows beyond ASCII; what else is there are letters.
        Some('\0'..='\u{bf}' | '×' | '÷' | '\u{2000}'..='\u{2bff}' | '\u{3000}'..='\u{303f}') => {
            Kind::Between
        }
        Some(_) => Kind::Letter,
    }
}

/// Longer texts, in bytes, are no headings: their rest is not looked at.
pub(super) const LONGEST: usize = 160;

/// The first [`LONGEST`] bytes of a text, or all of it.
pub(super) fn beginning(text: &str) -> &str {
    text.get(..text.floor_char_boundary(LONGEST)).unwrap_or(text)
}

/// The words of a text. Digits are apart from letters, and so is a capital after a small letter:
/// `gateTime2` has three.
pub(super) fn words(text: &str) -> Vec<Word<'_>> {
    let mut words = Vec::new();
    let mut start = 0;
    let mut last = Kind::Between;
    let mut after_small = false;
    let mut end = |from: usize, to: usize, kind: Kind| {
        if let Some(part) = text.get(from..to).filter(|part| !part.is_empty() && kind != Kind::Between) {
            words.push(Word { text: part, folded: fold(part), start: from });
        }
    };
    for (at, c) in text.char_indices() {
        let kind = kind(c);
        let hump = after_small && c.is_ascii_uppercase();
        after_small = c.is_ascii_lowercase();
        if kind == Kind::Mark || (kind == last && !hump && kind != Kind::Sign) {
            continue;
        }
        end(start, at, last);
        (start, last) = (at, kind);
    }
    end(start, text.len(), last);
    words
}

/// Whether a folded word is as a pattern says: `zeit`, or with a star for anything before or after.
fn fits(pattern: &str, word: &str) -> bool {
    match (pattern.strip_prefix('*'), pattern.strip_suffix('*')) {
        (None, None) => pattern == word,
        (None, Some(start)) => word.starts_with(start),
        (Some(end), None) => word.ends_with(end),
        (Some(inner), Some(_)) => word.contains(inner.trim_end_matches('*')),
    }
}

/// The patterns of a list, which stand between spaces.
pub(super) fn listed(patterns: &str) -> impl Iterator<Item = &str> {
    patterns.as_bytes().split(|&byte| byte == b' ').filter(|part| !part.is_empty()).scan(0, |from, part| {
        // Several spaces may stand between two.
        let rest = patterns.get(*from..)?;
        let start = *from + rest.len() - rest.trim_start_matches(' ').len();
        *from = start + part.len();
        patterns.get(start..*from)
    })
}

/// Whether one of the patterns, between spaces, fits a folded word.
pub(super) fn one_of(patterns: &str, word: &str) -> bool {
    let first = word.bytes().next();
    // Most patterns begin with another letter, and no more of them need be looked at.
    listed(patterns).any(|pattern| {
        let begins = pattern.bytes().next();
        (begins == first || begins == Some(b'*')) && fits(pattern, word)
    })
}

/// Whether one of the patterns, between spaces, is among the words; `angular_vel*` is two in a row.
pub(super) fn among(patterns: &str, words: &[Word<'_>]) -> bool {
    listed(patterns).any(|pattern| (0..words.len()).any(|from| begins_at(pattern, words, from)))
}

/// Whether a pattern fits the words from one of them on.
pub(super) fn begins_at(pattern: &str, words: &[Word<'_>], from: usize) -> bool {
    let mut rest = words.iter().skip(from);
    pattern.split('_').all(|part| rest.next().is_some_and(|word| fits(part, &word.folded)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_accents_and_variants_are_folded() {
        for (text, folded) in [
            ("HÖHE", "hohe"),
            ("Größe", "grosse"),
            ("déplacement", "deplacement"),
            ("posicio\u{301}n", "posicion"),
            ("ΔT", "δt"),
            ("∆t", "δt"),
            ("Ω", "ω"),
            ("ϕ", "φ"),
            ("ｔｉｍｅ　（ｓ）", "time (s)"),
            ("µs", "μs"),
            ("v₁", "v1"),
            ("m−1", "m-1"),
            ("\u{feff}t", "t"),
            ("速度", "速度"),
        ] {
            assert_eq!(fold(text), folded, "{text}");
        }
    }

    #[test]
    fn words_end_at_digits_humps_and_signs() {
        let split = |text| words(text).into_iter().map(|word| word.folded).collect::<Vec<_>>().join(" ");
        assert_eq!(split("gateTime2"), "gate time 2");
        assert_eq!(split("v_1 (m·s⁻²)"), "v 1 m s");
        assert_eq!(split("essai n° 2"), "essai n 2");
        assert_eq!(split("#3 ±ω"), "# 3 ± ω");
        assert_eq!(split("Ho\u{308}he"), "hohe");
        assert_eq!(split(" … "), "");
    }

    #[test]
    fn stars_stand_for_anything() {
        assert!(one_of("a veloc* *zeit *geschw*", "winkelgeschwindigkeit"));
        assert!(one_of("a veloc* *zeit *geschw*", "fallzeit"));
        assert!(!one_of("a veloc* *zeit *geschw*", "av"));
        assert!(among("angular_vel*", &words("the angular velocity")));
        assert!(!among("angular_vel*", &words("velocity, angular")));
    }
}
