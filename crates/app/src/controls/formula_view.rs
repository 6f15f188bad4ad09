//! Equations in MathML Core, built element by element.

use crate::dom::document;
use web_sys::{Document, Element};
use whorl_core::formula::{Formula, Symbol};
use whorl_core::working::Working;

const MATHML: &str = "http://www.w3.org/1998/Math/MathML";

/// `target = formula`, `= with values`, `= result`: one `<math>` element of three aligned rows.
pub(super) fn working_element(working: &Working) -> Option<Element> {
    let maker = Maker { document: document() };
    let math = maker.element("math", &[])?;
    let label = format!("{}; {}; {}", working.equation(), working.substituted(), working.outcome());
    math.set_attribute("aria-label", &label).ok()?;
    let row = |left: Option<Element>, right: Element| {
        let left = maker.element("mtd", &left.into_iter().collect::<Vec<_>>())?;
        let equals = maker.token("mo", "=")?;
        // Without a left neighbor it would be taken for a prefix and lose its spacing.
        equals.set_attribute("form", "infix").ok()?;
        let right = maker.element("mtd", &[equals, right])?;
        left.set_attribute("style", "text-align: right; padding: 0 0.1em 0.35em 0").ok()?;
        right.set_attribute("style", "text-align: left; padding: 0 0 0.35em 0").ok()?;
        maker.element("mtr", &[left, right])
    };
    let table = maker.element(
        "mtable",
        &[
            row(Some(maker.symbol(working.target)?), maker.formula(&working.formula)?)?,
            row(None, maker.formula(&working.formula.substituted(&working.bindings))?)?,
            row(None, maker.quantity(&working.shown)?)?,
        ],
    )?;
    // A table's cells start small again unless told otherwise.
    table.set_attribute("displaystyle", "true").ok()?;
    math.append_child(&table).ok()?;
    Some(math)
}

struct Maker {
    document: Document,
}

impl Maker {
    fn element(&self, name: &str, children: &[Element]) -> Option<Element> {
        let element = self.document.create_element_ns(Some(MATHML), name).ok()?;
        for child in children {
            element.append_child(child).ok()?;
        }
        Some(element)
    }

    fn token(&self, name: &str, text: &str) -> Option<Element> {
        let element = self.element(name, &[])?;
        element.set_text_content(Some(text));
        Some(element)
    }

    fn symbol(&self, symbol: Symbol) -> Option<Element> {
        let letter = self.token("mi", symbol.letter)?;
        if symbol.subscript.is_empty() {
            return Some(letter);
        }
        // One letter is itself a symbol (italic); a word is a label (upright).
        let subscript = self.token("mi", symbol.subscript)?;
        self.element("msub", &[letter, subscript])
    }

    /// Digits and unit, spaced and never broken.
    fn quantity(&self, text: &str) -> Option<Element> {
        // Not `mtext`, which counts as space: an operator beside it would lose its own spacing.
        self.token("mn", text)
    }

    fn bracketed(&self, formula: &Formula, strength: u8) -> Option<Element> {
        let inner = self.formula(formula)?;
        if !formula.needs_brackets(strength) {
            return Some(inner);
        }
        self.element("mrow", &[self.token("mo", "(")?, inner, self.token("mo", ")")?])
    }

    fn between(&self, left: Element, operator: &str, right: Element) -> Option<Element> {
        self.element("mrow", &[left, self.token("mo", operator)?, right])
    }

    fn formula(&self, formula: &Formula) -> Option<Element> {
        match formula {
            Formula::Symbol(symbol) => self.symbol(*symbol),
            Formula::Whole(whole) => self.token("mn", &whole.to_string()),
            Formula::Value { text, .. } => self.quantity(text),
            Formula::Sum(left, right) => {
                self.between(self.bracketed(left, 0)?, "+", self.bracketed(right, 0)?)
            }
            Formula::Difference(left, right) => {
                self.between(self.bracketed(left, 0)?, "\u{2212}", self.bracketed(right, 1)?)
            }
            Formula::Product(left, right) => {
                // Symbols side by side read as a product; numbers need the dot.
                let symbolic = |side: &Formula| !matches!(side, Formula::Value { .. } | Formula::Whole(_));
                let dot = if symbolic(right) && (symbolic(left) || matches!(**left, Formula::Whole(_))) {
                    "\u{2062}"
                } else {
                    "·"
                };
                self.between(self.bracketed(left, 2)?, dot, self.bracketed(right, 2)?)
            }
            Formula::Quotient(numerator, denominator) => {
                self.element("mfrac", &[self.formula(numerator)?, self.formula(denominator)?])
            }
            Formula::Square(inner) => {
                self.element("msup", &[self.bracketed(inner, 4)?, self.token("mn", "2")?])
            }
            Formula::Root(inner) => self.element("msqrt", &[self.formula(inner)?]),
            Formula::Negative(inner) => {
                self.element("mrow", &[self.token("mo", "\u{2212}")?, self.bracketed(inner, 2)?])
            }
        }
    }
}
