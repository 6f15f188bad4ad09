//! A student's algebra, and sentences with algebra in them, set in MathML Core.

use super::mathml::{bracketed, formula, fraction, power, row, symbol, token};
use crate::dom::{El, el};
use whorl_derivation::expression::{Answer, Expression, Factor, Kind};
use whorl_derivation::prose::{Piece, Prose};
use whorl_derivation::symbols::{SymbolId, Symbols};

/// An answer as a formula.
pub(crate) fn answer_view(answer: &Answer, symbols: &Symbols) -> El {
    let mut pieces = Vec::new();
    for side in answer.sides() {
        if !pieces.is_empty() {
            pieces.push(token("mo", "="));
        }
        pieces.push(tree(side, symbols));
    }
    formula(row(pieces), &answer.shown(symbols))
}

/// A symbol as a formula.
pub(crate) fn symbol_view(id: SymbolId, symbols: &Symbols) -> El {
    answer_view(&Answer::Value(Expression::symbol(id)), symbols)
}

/// An answer as a formula on a line of its own: fractions in full size.
pub(crate) fn displayed(answer: &Answer, symbols: &Symbols) -> El {
    answer_view(answer, symbols).attr("displaystyle", "true")
}

/// A sentence: its words and formulas in one element.
pub(crate) fn prose(tag: &'static str, prose: &Prose, symbols: &Symbols) -> El {
    let mut sentence = el(tag);
    let mut pieces = prose.0.iter().peekable();
    let mut rest_of_words = 0;
    while let Some(piece) = pieces.next() {
        match piece {
            Piece::Words(words) => {
                sentence = sentence.with(words.get(rest_of_words..).unwrap_or_default());
                rest_of_words = 0;
            }
            Piece::Math(answer) => {
                let mut math = el("span.inline-math").with(answer_view(answer, symbols));
                rest_of_words = 0;
                // A line may break behind a formula, but not before the full stop that follows.
                if let Some(Piece::Words(words)) = pieces.peek() {
                    let stops = words.find(|c: char| !matches!(c, '.' | ',' | ';' | ':' | '?' | '!' | ')'));
                    rest_of_words = stops.unwrap_or(words.len());
                    math = math.with(words.get(..rest_of_words).unwrap_or_default());
                }
                sentence = sentence.with(math);
            }
        }
    }
    sentence
}

/// 0 sum, 1 product, 2 power, 3 single.
fn inside(expression: &Expression, strength: u8, symbols: &Symbols) -> El {
    bracketed(tree(expression, symbols), expression.needs_brackets(strength))
}

fn tree(expression: &Expression, symbols: &Symbols) -> El {
    match &expression.kind {
        Kind::Number(number) => token("mn", &whorl_words::with_mark(&number.to_string())),
        Kind::Symbol(id) => {
            let shown = symbols.get(*id);
            symbol(shown.map_or("", |own| &own.letter), shown.map_or("", |own| &own.subscript))
        }
        Kind::Sum(terms) => {
            let mut pieces = Vec::new();
            for term in terms {
                if term.negative {
                    let minus = token("mo", "\u{2212}");
                    pieces.push(if pieces.is_empty() { minus.attr("form", "prefix") } else { minus });
                } else if !pieces.is_empty() {
                    pieces.push(token("mo", "+"));
                }
                pieces.push(inside(&term.value, 1, symbols));
            }
            row(pieces)
        }
        Kind::Product(factors) => product(factors, symbols),
        Kind::Power(base, exponent) => {
            let exponent = exponent.to_string().replace('-', "\u{2212}");
            power(inside(base, 3, symbols), token("mn", &exponent))
        }
    }
}

/// From left to right: what was multiplied so far goes above the line when something divides it.
fn product(factors: &[Factor], symbols: &Symbols) -> El {
    let mut so_far: Vec<El> = Vec::new();
    let mut alone = None;
    for factor in factors {
        if factor.divides {
            // A lone sum needs no brackets above a fraction line.
            let above =
                alone.take().map_or_else(|| row(std::mem::take(&mut so_far)), |only| tree(only, symbols));
            so_far = vec![fraction(above, tree(&factor.value, symbols))];
            continue;
        }
        alone = so_far.is_empty().then_some(&factor.value);
        if !so_far.is_empty() {
            // Symbols side by side read as a product; a number behind something needs the dot.
            let number = matches!(factor.value.kind, Kind::Number(_));
            so_far.push(token("mo", if number { "·" } else { "\u{2062}" }));
        }
        so_far.push(inside(&factor.value, 2, symbols));
    }
    row(so_far)
}
