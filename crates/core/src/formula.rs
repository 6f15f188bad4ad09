//! Equations as trees: written out with symbols, with numbers put in, and evaluated.
//!
//! One tree serves all three, so the number a student sees beside an equation is the number that
//! equation gives.

#[cfg(test)]
mod tests;

use core::ops::{Add, Div, Mul, Neg, Sub};
use whorl_words as words;

/// A quantity's symbol, for example τ with subscript f.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Symbol {
    /// The letter.
    pub letter: &'static str,
    /// The subscript, in English where it is a word; empty for none.
    pub subscript: &'static str,
}

/// A symbol without subscript.
pub const fn symbol(letter: &'static str) -> Symbol {
    Symbol { letter, subscript: "" }
}

/// A symbol with a subscript.
pub const fn symbol_of(letter: &'static str, subscript: &'static str) -> Symbol {
    Symbol { letter, subscript }
}

/// An expression.
#[derive(Clone, Debug, PartialEq)]
pub enum Formula {
    /// A quantity.
    Symbol(Symbol),
    /// A whole number, as in 2 or 12.
    Whole(u32),
    /// A value put in for a symbol, with its unit.
    Value {
        /// The number in SI units.
        value: f64,
        /// Digits and unit as shown.
        text: String,
    },
    /// Left + right.
    Sum(Box<Formula>, Box<Formula>),
    /// Left − right.
    Difference(Box<Formula>, Box<Formula>),
    /// Left · right.
    Product(Box<Formula>, Box<Formula>),
    /// Numerator over denominator.
    Quotient(Box<Formula>, Box<Formula>),
    /// The square.
    Square(Box<Formula>),
    /// The square root.
    Root(Box<Formula>),
    /// The negative.
    Negative(Box<Formula>),
}

/// Where an expression stands in another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// In front of + or −.
    First = 0,
    /// Behind +.
    Added = 1,
    /// Behind −.
    Taken = 2,
    /// A factor, or above a stroke.
    Factor = 3,
    /// Below a stroke.
    Below = 4,
    /// What is squared, or under a root.
    Power = 5,
}

/// What a symbol stands for in one calculation.
#[derive(Clone, Debug, PartialEq)]
pub struct Binding {
    /// The symbol.
    pub symbol: Symbol,
    /// What it is, in words.
    pub meaning: &'static str,
    /// Its value in SI units.
    pub value: f64,
    /// Its value as shown, with unit.
    pub text: String,
}

impl From<Symbol> for Formula {
    fn from(symbol: Symbol) -> Self {
        Self::Symbol(symbol)
    }
}

impl From<u32> for Formula {
    fn from(whole: u32) -> Self {
        Self::Whole(whole)
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $variant:ident) => {
        impl<F: Into<Formula>> $trait<F> for Formula {
            type Output = Formula;

            fn $method(self, other: F) -> Formula {
                Formula::$variant(Box::new(self), Box::new(other.into()))
            }
        }

        impl<F: Into<Formula>> $trait<F> for Symbol {
            type Output = Formula;

            fn $method(self, other: F) -> Formula {
                Formula::$variant(Box::new(self.into()), Box::new(other.into()))
            }
        }
    };
}

operator!(Add, add, Sum);
operator!(Sub, sub, Difference);
operator!(Mul, mul, Product);
operator!(Div, div, Quotient);

impl Neg for Formula {
    type Output = Self;

    fn neg(self) -> Self {
        Self::Negative(Box::new(self))
    }
}

impl Symbol {
    /// The symbol squared.
    pub fn squared(self) -> Formula {
        Formula::from(self).squared()
    }

    /// The subscript as it is shown: a word is one of the language spoken.
    pub fn shown_subscript(self) -> &'static str {
        match self.subscript {
            "object" => words::working::index_object(),
            "predicted" => words::working::index_predicted(),
            "loaded" => words::working::index_loaded(),
            "empty" => words::working::index_empty(),
            "random" => words::working::index_random(),
            "shared" => words::working::index_shared(),
            "scatter" => words::working::index_scatter(),
            "drag" => words::working::index_drag(),
            "drawn" => words::working::index_drawn(),
            "last" => words::working::index_last(),
            letters => letters,
        }
    }
}

impl Formula {
    /// The expression squared.
    #[must_use]
    pub fn squared(self) -> Self {
        Self::Square(Box::new(self))
    }

    /// The square root of the expression.
    #[must_use]
    pub fn root(self) -> Self {
        Self::Root(Box::new(self))
    }

    /// The same expression with values in place of the symbols bound.
    #[must_use]
    pub fn substituted(&self, bindings: &[Binding]) -> Self {
        self.map(&|symbol| match bindings.iter().find(|binding| binding.symbol == symbol) {
            Some(binding) => Self::Value { value: binding.value, text: binding.text.clone() },
            None => Self::Symbol(symbol),
        })
    }

    fn map(&self, leaf: &impl Fn(Symbol) -> Self) -> Self {
        let two = |left: &Self, right: &Self| (Box::new(left.map(leaf)), Box::new(right.map(leaf)));
        match self {
            Self::Symbol(symbol) => leaf(*symbol),
            Self::Whole(_) | Self::Value { .. } => self.clone(),
            Self::Sum(left, right) => {
                let (left, right) = two(left, right);
                Self::Sum(left, right)
            }
            Self::Difference(left, right) => {
                let (left, right) = two(left, right);
                Self::Difference(left, right)
            }
            Self::Product(left, right) => {
                let (left, right) = two(left, right);
                Self::Product(left, right)
            }
            Self::Quotient(left, right) => {
                let (left, right) = two(left, right);
                Self::Quotient(left, right)
            }
            Self::Square(inner) => Self::Square(Box::new(inner.map(leaf))),
            Self::Root(inner) => Self::Root(Box::new(inner.map(leaf))),
            Self::Negative(inner) => Self::Negative(Box::new(inner.map(leaf))),
        }
    }

    /// The value with the symbols bound; `None` while one is not.
    pub fn evaluate(&self, bindings: &[Binding]) -> Option<f64> {
        let value = |formula: &Self| formula.evaluate(bindings);
        Some(match self {
            Self::Symbol(symbol) => bindings.iter().find(|binding| binding.symbol == *symbol)?.value,
            Self::Whole(whole) => f64::from(*whole),
            Self::Value { value, .. } => *value,
            Self::Sum(left, right) => value(left)? + value(right)?,
            Self::Difference(left, right) => value(left)? - value(right)?,
            Self::Product(left, right) => value(left)? * value(right)?,
            Self::Quotient(left, right) => value(left)? / value(right)?,
            Self::Square(inner) => value(inner)?.powi(2),
            Self::Root(inner) => value(inner)?.sqrt(),
            Self::Negative(inner) => -value(inner)?,
        })
    }

    /// Whether the symbol occurs in it.
    pub fn contains(&self, symbol: Symbol) -> bool {
        match self {
            Self::Symbol(own) => *own == symbol,
            Self::Whole(_) | Self::Value { .. } => false,
            Self::Sum(left, right)
            | Self::Difference(left, right)
            | Self::Product(left, right)
            | Self::Quotient(left, right) => left.contains(symbol) || right.contains(symbol),
            Self::Square(inner) | Self::Root(inner) | Self::Negative(inner) => inner.contains(symbol),
        }
    }

    /// How tightly the expression binds; what binds less than its [`Place`] asks goes in brackets.
    fn binding_strength(&self) -> u8 {
        match self {
            // No sign stands behind another.
            Self::Negative(_) => 0,
            Self::Value { value, .. } if *value < 0.0 => 0,
            Self::Sum(..) | Self::Difference(..) => 1,
            // A number with its unit is one thing in a product, but its square needs brackets.
            Self::Product(..) | Self::Quotient(..) | Self::Value { .. } => 3,
            Self::Square(_) => 4,
            Self::Symbol(_) | Self::Whole(_) | Self::Root(_) => 5,
        }
    }

    /// Whether it needs brackets at a place.
    pub fn needs_brackets(&self, place: Place) -> bool {
        self.binding_strength() < place as u8
    }

    /// Whether the symbols and numbers of a product may stand side by side. Where two numbers would meet there is a
    /// dot, else 2 · 0.4 would be read as 20.4.
    pub fn needs_no_dot(left: &Self, right: &Self) -> bool {
        !right.begins_with_number() && !left.ends_with_value()
    }

    fn begins_with_number(&self) -> bool {
        match self {
            Self::Value { .. } | Self::Whole(_) => true,
            Self::Product(first, _) | Self::Quotient(first, _) => first.begins_with_number(),
            Self::Square(inner) => !inner.needs_brackets(Place::Power) && inner.begins_with_number(),
            _ => false,
        }
    }

    fn ends_with_value(&self) -> bool {
        match self {
            Self::Value { .. } => true,
            Self::Product(_, last) => last.ends_with_value(),
            _ => false,
        }
    }
}

impl core::fmt::Display for Symbol {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.letter)?;
        match self.shown_subscript() {
            "" => Ok(()),
            "1" => f.write_str("₁"),
            "2" => f.write_str("₂"),
            subscript => write!(f, "_{subscript}"),
        }
    }
}

impl core::fmt::Display for Formula {
    /// Linear text: `m·(g − a)·R_e`.
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let inside = |f: &mut core::fmt::Formatter<'_>, formula: &Self, place: Place| {
            if formula.needs_brackets(place) { write!(f, "({formula})") } else { write!(f, "{formula}") }
        };
        match self {
            Self::Symbol(symbol) => write!(f, "{symbol}"),
            Self::Whole(whole) => write!(f, "{whole}"),
            Self::Value { text, .. } => f.write_str(text),
            Self::Sum(left, right) => {
                inside(f, left, Place::First)?;
                f.write_str(" + ")?;
                inside(f, right, Place::Added)
            }
            Self::Difference(left, right) => {
                inside(f, left, Place::First)?;
                f.write_str(" − ")?;
                inside(f, right, Place::Taken)
            }
            Self::Product(left, right) => {
                inside(f, left, Place::Factor)?;
                f.write_str("·")?;
                inside(f, right, Place::Factor)
            }
            Self::Quotient(left, right) => {
                inside(f, left, Place::Factor)?;
                f.write_str("/")?;
                inside(f, right, Place::Below)
            }
            Self::Square(inner_formula) => {
                inside(f, inner_formula, Place::Power)?;
                f.write_str("²")
            }
            Self::Root(inner_formula) => {
                f.write_str("√")?;
                inside(f, inner_formula, Place::Power)
            }
            Self::Negative(inner_formula) => {
                f.write_str("−")?;
                inside(f, inner_formula, Place::Factor)
            }
        }
    }
}
