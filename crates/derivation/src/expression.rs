//! Expressions as trees: what a student's text was understood as.
//!
//! Sums and products are kept as flat lists, so the depth of a tree is bounded by the brackets
//! typed and nothing that walks it can run out of stack.

use crate::dimension::raised;
use crate::symbols::{SymbolId, Symbols};
use core::ops::Range;

/// Where in the text, in characters from 0.
pub type Span = Range<usize>;

/// An expression and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Expression {
    /// What it is.
    pub kind: Kind,
    /// Where it stands in the text that was read.
    pub span: Span,
}

/// The kinds of expression.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// A number.
    Number(Decimal),
    /// A symbol.
    Symbol(SymbolId),
    /// Terms added and subtracted. Never empty; a single term is a negative one.
    Sum(Vec<Term>),
    /// Factors multiplied and divided. Never empty; the first is never a divisor.
    Product(Vec<Factor>),
    /// A whole power.
    Power(Box<Expression>, i32),
}

/// A number as it was typed: `digits`·10^−`places`, exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Decimal {
    /// All digits, without the point.
    pub digits: u64,
    /// How many of them stand behind the point, at most [`Decimal::MOST_PLACES`].
    pub places: u32,
}

/// One term of a sum.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// Whether it is subtracted.
    pub negative: bool,
    /// The term.
    pub value: Expression,
}

/// One factor of a product.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// Whether it divides what stands before it.
    pub divides: bool,
    /// The factor.
    pub value: Expression,
}

/// What a student entered: one side or two.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// `m(g − a)`.
    Value(Expression),
    /// `T = m(g − a)`.
    Equation(Expression, Expression),
}

impl Decimal {
    /// So that 10^places fits beside the digits in 64 bits.
    pub const MOST_PLACES: u32 = 17;

    /// A whole number.
    pub fn whole(digits: u64) -> Self {
        Self { digits, places: 0 }
    }

    /// 10^places.
    pub fn scale(self) -> u64 {
        10_u64.pow(self.places.min(Self::MOST_PLACES))
    }

    /// The nearest floating-point number.
    pub fn value(self) -> f64 {
        self.digits as f64 / self.scale() as f64
    }
}

impl core::fmt::Display for Decimal {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let (whole, rest) = (self.digits / self.scale(), self.digits % self.scale());
        if self.places == 0 {
            write!(f, "{whole}")
        } else {
            write!(f, "{whole}.{rest:0places$}", places = self.places as usize)
        }
    }
}

impl Expression {
    /// An expression that stands nowhere in particular.
    pub fn new(kind: Kind) -> Self {
        Self { kind, span: 0..0 }
    }

    /// A whole number.
    pub fn whole(number: u64) -> Self {
        Self::new(Kind::Number(Decimal::whole(number)))
    }

    /// A symbol.
    pub fn symbol(id: SymbolId) -> Self {
        Self::new(Kind::Symbol(id))
    }

    /// Whether this is the symbol, alone.
    pub fn is_symbol(&self, id: SymbolId) -> bool {
        matches!(self.kind, Kind::Symbol(own) if own == id)
    }

    /// Whether the symbol occurs anywhere in it.
    pub fn contains(&self, id: SymbolId) -> bool {
        self.find(&|other| other == id).is_some()
    }

    /// The first symbol that `wanted` holds for, with its place.
    pub fn find(&self, wanted: &impl Fn(SymbolId) -> bool) -> Option<(SymbolId, Span)> {
        match &self.kind {
            Kind::Number(_) => None,
            Kind::Symbol(id) => wanted(*id).then(|| (*id, self.span.clone())),
            Kind::Sum(terms) => terms.iter().find_map(|term| term.value.find(wanted)),
            Kind::Product(factors) => factors.iter().find_map(|factor| factor.value.find(wanted)),
            Kind::Power(base, _) => base.find(wanted),
        }
    }

    /// The same expression with something else in place of some symbols.
    #[must_use]
    pub fn replaced(&self, by: &impl Fn(SymbolId) -> Option<Expression>) -> Self {
        let kind = match &self.kind {
            Kind::Number(number) => Kind::Number(*number),
            Kind::Symbol(id) => match by(*id) {
                Some(other) => return other,
                None => Kind::Symbol(*id),
            },
            Kind::Sum(terms) => Kind::Sum(
                terms
                    .iter()
                    .map(|term| Term { negative: term.negative, value: term.value.replaced(by) })
                    .collect(),
            ),
            Kind::Product(factors) => Kind::Product(
                factors
                    .iter()
                    .map(|factor| Factor { divides: factor.divides, value: factor.value.replaced(by) })
                    .collect(),
            ),
            Kind::Power(base, power) => Kind::Power(Box::new(base.replaced(by)), *power),
        };
        Self { kind, span: self.span.clone() }
    }

    /// The value with a number for every symbol; not finite where it divides by zero.
    pub fn evaluate(&self, value_of: &impl Fn(SymbolId) -> f64) -> f64 {
        match &self.kind {
            Kind::Number(number) => number.value(),
            Kind::Symbol(id) => value_of(*id),
            Kind::Sum(terms) => terms
                .iter()
                .map(|term| term.value.evaluate(value_of) * if term.negative { -1.0 } else { 1.0 })
                .sum(),
            Kind::Product(factors) => factors.iter().fold(1.0, |all, factor| {
                let value = factor.value.evaluate(value_of);
                if factor.divides { all / value } else { all * value }
            }),
            Kind::Power(base, power) => base.evaluate(value_of).powi(*power),
        }
    }

    /// How tightly it binds: what binds less than its surroundings goes in brackets.
    fn strength(&self) -> u8 {
        match &self.kind {
            Kind::Sum(_) => 0,
            Kind::Product(_) => 1,
            Kind::Power(..) => 2,
            Kind::Number(_) | Kind::Symbol(_) => 3,
        }
    }

    /// Whether brackets are needed where something that binds with `strength` (0 sum, 1 product,
    /// 2 power, 3 single) is expected.
    pub fn needs_brackets(&self, strength: u8) -> bool {
        self.strength() < strength
    }

    /// Linear text: `m·(g − a)/R`.
    pub fn shown(&self, symbols: &Symbols) -> String {
        let mut text = String::new();
        self.write(symbols, &mut text);
        text
    }

    fn write(&self, symbols: &Symbols, text: &mut String) {
        let inside = |expression: &Expression, strength: u8, text: &mut String| {
            let brackets = expression.needs_brackets(strength);
            text.push_str(if brackets { "(" } else { "" });
            expression.write(symbols, text);
            text.push_str(if brackets { ")" } else { "" });
        };
        match &self.kind {
            Kind::Number(number) => text.push_str(&whorl_words::with_mark(&number.to_string())),
            Kind::Symbol(id) => text.push_str(&symbols.shown(*id)),
            Kind::Sum(terms) => {
                for (index, term) in terms.iter().enumerate() {
                    text.push_str(match (index, term.negative) {
                        (0, false) => "",
                        (0, true) => "−",
                        (_, false) => " + ",
                        (_, true) => " − ",
                    });
                    inside(&term.value, 1, text);
                }
            }
            Kind::Product(factors) => {
                let start = text.len();
                for (index, factor) in factors.iter().enumerate() {
                    // What was divided so far is multiplied: said by brackets, since a/2·R is read both ways.
                    if !factor.divides
                        && index > 1
                        && factors.get(index - 1).is_some_and(|before| before.divides)
                    {
                        text.insert(start, '(');
                        text.push(')');
                    }
                    text.push_str(match (index, factor.divides) {
                        (0, _) => "",
                        (_, false) => "·",
                        (_, true) => "/",
                    });
                    // A product inside a product stood in brackets; only after a division do they matter.
                    inside(&factor.value, if index == 0 { 1 } else { 2 }, text);
                }
            }
            Kind::Power(base, power) => {
                inside(base, 3, text);
                text.push_str(&raised(*power));
            }
        }
    }
}

impl Answer {
    /// The sides, left first.
    pub fn sides(&self) -> impl Iterator<Item = &Expression> {
        let (left, right) = match self {
            Self::Value(value) => (None, value),
            Self::Equation(left, right) => (Some(left), right),
        };
        left.into_iter().chain(core::iter::once(right))
    }

    /// As an equation: a value alone is what the target is equal to.
    #[must_use]
    pub fn about(self, target: SymbolId) -> Self {
        match self {
            Self::Value(value) => Self::Equation(Expression::symbol(target), value),
            equation @ Self::Equation(..) => equation,
        }
    }

    /// Linear text: `T = m·(g − a)`.
    pub fn shown(&self, symbols: &Symbols) -> String {
        self.sides().map(|side| side.shown(symbols)).collect::<Vec<_>>().join(" = ")
    }
}
