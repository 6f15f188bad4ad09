//! Formulas: the working's and the student's own, as one kind of tree, and that in MathML Core.

use crate::element::{Element, math};
use whorl_core::formula::{Formula, Place, Symbol};
use whorl_derivation::expression::{Answer, Expression, Factor, Kind};
use whorl_derivation::symbols::Symbols;

/// A formula, with its text in one line for who does not see it.
#[derive(Clone, Debug, PartialEq)]
pub struct Math {
    pub(crate) tree: Element,
    pub(crate) spoken: String,
}

impl Math {
    /// A symbol.
    pub fn symbol(symbol: Symbol) -> Self {
        let tree = letter(symbol.letter, symbol.shown_subscript());
        Self { tree, spoken: symbol.to_string() }
    }

    /// `target = formula`.
    pub fn equation(target: Symbol, formula: &Formula) -> Self {
        let left = letter(target.letter, target.shown_subscript());
        let tree = row(vec![left, token("mo", "="), of_formula(formula)]);
        Self { tree, spoken: format!("{target} = {formula}") }
    }

    /// What a student entered.
    pub fn answer(answer: &Answer, symbols: &Symbols) -> Self {
        let mut pieces = Vec::new();
        for side in answer.sides() {
            if !pieces.is_empty() {
                pieces.push(token("mo", "="));
            }
            pieces.push(of_expression(side, symbols));
        }
        Self { tree: row(pieces), spoken: answer.shown(symbols) }
    }
}

fn token(tag: &'static str, text: &str) -> Element {
    math(tag).text(text)
}

fn row(pieces: Vec<Element>) -> Element {
    math("mrow").with_all(pieces)
}

fn letter(letter: &str, subscript: &str) -> Element {
    let letter = token("mi", letter);
    if subscript.is_empty() {
        return letter;
    }
    // A label is upright (ISO 80000-1, 7.1.2, from memory); of one letter it would be set in italics, as a quantity is.
    let label = token("mi", subscript);
    let upright = subscript.len() == 1 && subscript != "a" && subscript != "D";
    math("msub").with(letter).with(if upright { label.attribute("mathvariant", "normal") } else { label })
}

fn bracketed(inner: Element, brackets: bool) -> Element {
    if brackets { row(vec![token("mo", "("), inner, token("mo", ")")]) } else { inner }
}

fn of_formula(formula: &Formula) -> Element {
    let inside =
        |formula: &Formula, place: Place| bracketed(of_formula(formula), formula.needs_brackets(place));
    let between =
        |left: Element, operator: &str, right: Element| row(vec![left, token("mo", operator), right]);
    match formula {
        Formula::Symbol(own) => letter(own.letter, own.shown_subscript()),
        Formula::Whole(whole) => token("mn", &whole.to_string()),
        Formula::Value { text, .. } => token("mn", text),
        Formula::Sum(left, right) => between(inside(left, Place::First), "+", inside(right, Place::Added)),
        Formula::Difference(left, right) => {
            between(inside(left, Place::First), "\u{2212}", inside(right, Place::Taken))
        }
        Formula::Product(left, right) => {
            let times = if Formula::needs_no_dot(left, right) { "\u{2062}" } else { "·" };
            between(inside(left, Place::Factor), times, inside(right, Place::Factor))
        }
        Formula::Quotient(above, below) => math("mfrac").with(of_formula(above)).with(of_formula(below)),
        Formula::Square(inner) => math("msup").with(inside(inner, Place::Power)).with(token("mn", "2")),
        Formula::Root(inner) => math("msqrt").with(of_formula(inner)),
        Formula::Negative(inner) => row(vec![token("mo", "\u{2212}"), inside(inner, Place::Factor)]),
    }
}

fn of_expression(expression: &Expression, symbols: &Symbols) -> Element {
    let inside = |expression: &Expression, strength: u8| {
        bracketed(of_expression(expression, symbols), expression.needs_brackets(strength))
    };
    match &expression.kind {
        Kind::Number(number) => token("mn", &whorl_words::with_mark(&number.to_string())),
        Kind::Symbol(id) => {
            let shown = symbols.get(*id);
            letter(shown.map_or("", |own| &own.letter), shown.map_or("", |own| &own.subscript))
        }
        Kind::Sum(terms) => {
            let mut pieces = Vec::new();
            for term in terms {
                match (term.negative, pieces.is_empty()) {
                    (true, true) => pieces.push(token("mo", "\u{2212}").attribute("form", "prefix")),
                    (true, false) => pieces.push(token("mo", "\u{2212}")),
                    (false, true) => {}
                    (false, false) => pieces.push(token("mo", "+")),
                }
                pieces.push(inside(&term.value, 1));
            }
            row(pieces)
        }
        Kind::Product(factors) => product(factors, symbols, &inside),
        Kind::Power(base, exponent) => {
            let exponent = exponent.to_string().replace('-', "\u{2212}");
            math("msup").with(inside(base, 3)).with(token("mn", &exponent))
        }
    }
}

/// From left to right: what was multiplied so far goes above the line when something divides it.
fn product(factors: &[Factor], symbols: &Symbols, inside: &dyn Fn(&Expression, u8) -> Element) -> Element {
    let mut so_far: Vec<Element> = Vec::new();
    let mut alone = None;
    for factor in factors {
        if factor.divides {
            // A lone sum needs no brackets above a fraction line.
            let above = match alone.take() {
                Some(only) => of_expression(only, symbols),
                None => row(std::mem::take(&mut so_far)),
            };
            so_far = vec![math("mfrac").with(above).with(of_expression(&factor.value, symbols))];
            continue;
        }
        alone = so_far.is_empty().then_some(&factor.value);
        if !so_far.is_empty() {
            let number = matches!(factor.value.kind, Kind::Number(_));
            so_far.push(token("mo", if number { "·" } else { "\u{2062}" }));
        }
        so_far.push(inside(&factor.value, 2));
    }
    row(so_far)
}
