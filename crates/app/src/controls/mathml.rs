//! Pieces of MathML Core.

use crate::dom::{El, math};

/// `<mi>`, `<mn>` or `<mo>` with its text.
pub(super) fn token(tag: &'static str, text: &str) -> El {
    math(tag).with(text)
}

/// Pieces side by side.
pub(super) fn row(pieces: Vec<El>) -> El {
    math("mrow").with(pieces)
}

/// A letter with its subscript.
pub(super) fn symbol(letter: &str, subscript: &str) -> El {
    let letter = token("mi", letter);
    if subscript.is_empty() {
        return letter;
    }
    // A label is upright, be it one letter or a word (ISO 80000-1, 7.1.2, from memory); a single letter would else be
    // set in italics, as a quantity is.
    let label = token("mi", subscript);
    let upright = subscript.len() == 1 && subscript != "a" && subscript != "D";
    math("msub").with(letter).with(if upright { label.attr("mathvariant", "normal") } else { label })
}

/// The expression, in brackets if need be.
pub(super) fn bracketed(inner: El, brackets: bool) -> El {
    if brackets { row(vec![token("mo", "("), inner, token("mo", ")")]) } else { inner }
}

/// A fraction.
pub(super) fn fraction(above: El, below: El) -> El {
    math("mfrac").with(above).with(below)
}

/// A power.
pub(super) fn power(base: El, exponent: El) -> El {
    math("msup").with(base).with(exponent)
}

/// The whole formula, large fractions included, with its linear text as its name.
pub(super) fn formula(content: El, name: &str) -> El {
    math("math").attr("aria-label", name).with(content)
}
