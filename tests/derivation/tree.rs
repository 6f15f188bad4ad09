//! Expressions of the tests' own: built at random or from what was read, written in several styles.

use proptest::prelude::*;
use whorl_derivation::expression::{Decimal, Expression, Factor, Kind, Term};
use whorl_derivation::symbols::SymbolId;

/// An expression; every sum and product has two parts.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Tree {
    Whole(u64),
    /// The symbol of this index.
    Symbol(usize),
    Negative(Box<Tree>),
    Sum(Box<Tree>, Box<Tree>),
    Difference(Box<Tree>, Box<Tree>),
    Product(Box<Tree>, Box<Tree>),
    Quotient(Box<Tree>, Box<Tree>),
    Power(Box<Tree>, i32),
}

/// A boxed copy.
pub(crate) fn boxed(tree: &Tree) -> Box<Tree> {
    Box::new(tree.clone())
}

/// Symbols that random expressions are made of.
pub(crate) const N_SYMBOLS: usize = 5;

/// Random expressions, at most four operations inside each other (a square of a sum counts as one).
pub(crate) fn trees() -> impl Strategy<Value = Tree> {
    let leaf =
        || prop_oneof![3 => (0..N_SYMBOLS).prop_map(Tree::Symbol), 1 => (1..10_u64).prop_map(Tree::Whole)];
    (0..4).fold(leaf().boxed(), |inner, level| {
        // Fewer operations far inside, or all would be large.
        let weight = 1 + 2 * level;
        prop_oneof![2 => leaf(), weight => operations(inner)].boxed()
    })
}

fn operations(inner: BoxedStrategy<Tree>) -> impl Strategy<Value = Tree> {
    let inner = inner.prop_map(Box::new);
    let pair = (inner.clone(), inner.clone());
    let three = (inner.clone(), inner.clone(), inner.clone());
    let power = prop_oneof![Just(2), Just(3), Just(-1), Just(-2)];
    let square = |tree| Box::new(Tree::Power(tree, 2));
    prop_oneof![
        1 => inner.clone().prop_map(Tree::Negative),
        3 => pair.clone().prop_map(|(a, b)| Tree::Sum(a, b)),
        3 => pair.clone().prop_map(|(a, b)| Tree::Difference(a, b)),
        3 => pair.clone().prop_map(|(a, b)| Tree::Product(a, b)),
        3 => pair.clone().prop_map(|(a, b)| Tree::Quotient(a, b)),
        1 => (inner, power).prop_map(|(a, power)| Tree::Power(a, power)),
        1 => pair.clone().prop_map(move |(a, b)| *square(Box::new(Tree::Sum(a, b)))),
        1 => pair.prop_map(move |(a, b)| Tree::Difference(square(a), square(b))),
        1 => three.clone().prop_map(|(a, b, c)| Tree::Quotient(Box::new(Tree::Sum(a, b)), c)),
        1 => three.prop_map(|(a, b, c)| {
            Tree::Sum(Box::new(Tree::Product(a.clone(), b)), Box::new(Tree::Product(a, c)))
        }),
    ]
}

impl Tree {
    /// What an expression of the program says.
    pub(crate) fn of(expression: &Expression) -> Self {
        match &expression.kind {
            Kind::Number(number) if number.places == 0 => Self::Whole(number.digits),
            Kind::Number(number) => {
                let scale = 10_u64.pow(number.places);
                Self::Quotient(Box::new(Self::Whole(number.digits)), Box::new(Self::Whole(scale)))
            }
            Kind::Symbol(id) => Self::Symbol(id.0),
            Kind::Sum(terms) => {
                let mut terms = terms.iter();
                let first = terms.next().unwrap();
                let start = Self::of(&first.value);
                let start = if first.negative { Self::Negative(Box::new(start)) } else { start };
                terms.fold(start, |all, term| {
                    let (all, next) = (Box::new(all), Box::new(Self::of(&term.value)));
                    if term.negative { Self::Difference(all, next) } else { Self::Sum(all, next) }
                })
            }
            Kind::Product(factors) => {
                let mut factors = factors.iter();
                let first = factors.next().unwrap();
                assert!(!first.divides);
                factors.fold(Self::of(&first.value), |all, factor| {
                    let (all, next) = (Box::new(all), Box::new(Self::of(&factor.value)));
                    if factor.divides { Self::Quotient(all, next) } else { Self::Product(all, next) }
                })
            }
            Kind::Power(base, power) => Self::Power(Box::new(Self::of(base)), *power),
        }
    }

    /// As an expression of the program.
    pub(crate) fn expression(&self) -> Expression {
        let term = |negative: bool, tree: &Self| Term { negative, value: tree.expression() };
        let factor = |divides: bool, tree: &Self| Factor { divides, value: tree.expression() };
        Expression::new(match self {
            Self::Whole(number) => Kind::Number(Decimal::whole(*number)),
            Self::Symbol(index) => Kind::Symbol(SymbolId(*index)),
            Self::Negative(inner) => Kind::Sum(vec![term(true, inner)]),
            Self::Sum(left, right) => Kind::Sum(vec![term(false, left), term(false, right)]),
            Self::Difference(left, right) => Kind::Sum(vec![term(false, left), term(true, right)]),
            Self::Product(left, right) => Kind::Product(vec![factor(false, left), factor(false, right)]),
            Self::Quotient(left, right) => Kind::Product(vec![factor(false, left), factor(true, right)]),
            Self::Power(base, power) => Kind::Power(Box::new(base.expression()), *power),
        })
    }

    fn parts(&self) -> Vec<&Self> {
        match self {
            Self::Whole(_) | Self::Symbol(_) => Vec::new(),
            Self::Negative(inner) | Self::Power(inner, _) => vec![inner],
            Self::Sum(left, right)
            | Self::Difference(left, right)
            | Self::Product(left, right)
            | Self::Quotient(left, right) => vec![left, right],
        }
    }

    /// How many places there are in it: itself and all parts of parts.
    pub(crate) fn n_places(&self) -> usize {
        1 + self.parts().into_iter().map(Self::n_places).sum::<usize>()
    }

    /// With what stands at a place, counted from itself on, changed.
    pub(crate) fn changed_at(&self, place: usize, change: &mut dyn FnMut(&Self) -> Self) -> Self {
        if place == 0 {
            return change(self);
        }
        let parts = self.parts();
        let n_first = parts[0].n_places();
        let (first, second) = if place <= n_first { (place, None) } else { (0, Some(place - n_first)) };
        let mut part = |index: usize, at: Option<usize>| {
            Box::new(match at {
                Some(at) if at > 0 => parts[index].changed_at(at - 1, change),
                _ => parts[index].clone(),
            })
        };
        match self {
            Self::Whole(_) | Self::Symbol(_) => unreachable!("it has no parts"),
            Self::Negative(_) => Self::Negative(part(0, Some(first))),
            Self::Power(_, power) => Self::Power(part(0, Some(first)), *power),
            Self::Sum(..) => Self::Sum(part(0, Some(first)), part(1, second)),
            Self::Difference(..) => Self::Difference(part(0, Some(first)), part(1, second)),
            Self::Product(..) => Self::Product(part(0, Some(first)), part(1, second)),
            Self::Quotient(..) => Self::Quotient(part(0, Some(first)), part(1, second)),
        }
    }

    /// With other expressions in place of symbols.
    pub(crate) fn replaced(&self, by: &dyn Fn(usize) -> Option<Self>) -> Self {
        let part = |tree: &Self| Box::new(tree.replaced(by));
        match self {
            Self::Whole(number) => Self::Whole(*number),
            Self::Symbol(index) => by(*index).unwrap_or(Self::Symbol(*index)),
            Self::Negative(inner) => Self::Negative(part(inner)),
            Self::Sum(left, right) => Self::Sum(part(left), part(right)),
            Self::Difference(left, right) => Self::Difference(part(left), part(right)),
            Self::Product(left, right) => Self::Product(part(left), part(right)),
            Self::Quotient(left, right) => Self::Quotient(part(left), part(right)),
            Self::Power(base, power) => Self::Power(part(base), *power),
        }
    }

    pub(crate) fn contains(&self, symbol: usize) -> bool {
        *self == Self::Symbol(symbol) || self.parts().into_iter().any(|part| part.contains(symbol))
    }
}

/// How an expression is typed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Style {
    /// Between factors; a blank for nothing.
    pub(crate) times: &'static str,
    pub(crate) minus: &'static str,
    /// Powers above the line.
    pub(crate) raised: bool,
    /// Opening and closing bracket.
    pub(crate) brackets: (char, char),
}

pub(crate) const PLAIN: Style = Style { times: "*", minus: "-", raised: false, brackets: ('(', ')') };
pub(crate) const STYLES: [Style; 4] = [
    PLAIN,
    Style { times: "·", minus: "−", raised: true, brackets: ('(', ')') },
    Style { times: " ", minus: "-", raised: true, brackets: ('[', ']') },
    Style { times: "×", minus: "–", raised: false, brackets: ('{', '}') },
];

impl Style {
    pub(crate) fn written(self, tree: &Tree, name: &dyn Fn(usize) -> String) -> String {
        self.bound(tree, 0, name)
    }

    /// In brackets where it binds less than `strength`: 0 sum, 1 product, 2 power, 3 single.
    fn bound(self, tree: &Tree, strength: u8, name: &dyn Fn(usize) -> String) -> String {
        let inside = |tree: &Tree, strength: u8| self.bound(tree, strength, name);
        let (own, text) = match tree {
            Tree::Whole(number) => (3, number.to_string()),
            Tree::Symbol(index) => (3, name(*index)),
            Tree::Negative(inner) => (0, format!("{}{}", self.minus, inside(inner, 1))),
            Tree::Sum(left, right) => (0, format!("{} + {}", inside(left, 0), inside(right, 1))),
            Tree::Difference(left, right) => {
                (0, format!("{} {} {}", inside(left, 0), self.minus, inside(right, 1)))
            }
            Tree::Product(left, right) => {
                let right = inside(right, 2);
                // A number cannot follow without a sign.
                let times = if right.starts_with(|c: char| c.is_ascii_digit()) { "*" } else { self.times };
                (1, format!("{}{times}{right}", inside(left, 1)))
            }
            Tree::Quotient(left, right) => (1, format!("{}/{}", inside(left, 1), inside(right, 2))),
            Tree::Power(base, power) if self.raised => (2, format!("{}{}", inside(base, 3), above(*power))),
            Tree::Power(base, power) => (2, format!("{}^({power})", inside(base, 3))),
        };
        if own < strength { format!("{}{text}{}", self.brackets.0, self.brackets.1) } else { text }
    }
}

fn above(power: i32) -> String {
    let digits = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    let digit = |c: char| c.to_digit(10).map_or('⁻', |digit| digits[digit as usize]);
    power.to_string().chars().map(digit).collect()
}
