//! Show the working: equation → values put in → result, for every number on the page.
//!
//! Each function takes a result of the chain and lays out how it came about. The trees are
//! evaluated in the tests and must give the number that the chain gave.

mod chain;
mod comparing;
mod fitting;
mod lines;
mod own_words;

pub use chain::{Link, Results, Subject};
pub use comparing::{comparison, object, part, prediction_sum};
pub use fitting::{acceleration, effective_radius, torque_point};
pub use lines::{expanded, line};
pub use own_words::in_own_words;

use crate::formula::{Binding, Formula, Symbol};
use crate::measured::shown::{DisplayUnit, show_number};
use crate::quantity::Quantity;

/// One calculation: target = formula, what its symbols stand for, and the result.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// One sentence: what is calculated and why so.
    pub words: &'static str,
    /// What is calculated.
    pub target: Symbol,
    /// The right-hand side.
    pub formula: Formula,
    /// What the symbols stand for.
    pub bindings: Vec<Binding>,
    /// The result in SI units.
    pub result: f64,
    /// The result as shown, with unit.
    pub shown: String,
}

impl Working {
    /// `target = formula`.
    pub fn equation(&self) -> String {
        format!("{} = {}", self.target, self.formula)
    }

    /// `target = formula with values`.
    pub fn substituted(&self) -> String {
        format!("{} = {}", self.target, self.formula.substituted(&self.bindings))
    }

    /// `target = result`.
    pub fn outcome(&self) -> String {
        format!("{} = {}", self.target, self.shown)
    }
}

/// Digits put into a calculation: enough that rounding them does not show in the result.
const WORKING_DIGITS: i32 = 6;

/// A value put in, in its SI unit.
fn bound<Q: Quantity>(symbol: Symbol, meaning: &'static str, value: Q) -> Binding {
    bound_number(symbol, meaning, value.si(), Q::UNIT)
}

/// A value put in, with a unit that has no type of its own.
fn bound_number(symbol: Symbol, meaning: &'static str, value: f64, unit: &'static str) -> Binding {
    Binding { symbol, meaning, value, text: number(value, unit) }
}

/// Digits with a power of ten where plain digits would be long.
fn number(value: f64, unit: &'static str) -> String {
    let magnitude = value.abs();
    let unit = DisplayUnit::prefixed(unit, 0);
    let unit = if magnitude != 0.0 && !(1e-2..1e5).contains(&magnitude) {
        DisplayUnit { factor: DisplayUnit::engineering(crate::quantity::Ratio(value)).factor, ..unit }
    } else {
        unit
    };
    show_number(value, unit, WORKING_DIGITS)
}

fn working(
    words: &'static str,
    target: Symbol,
    formula: Formula,
    bindings: Vec<Binding>,
    result: f64,
    unit: &'static str,
) -> Working {
    Working { words, target, formula, bindings, result, shown: number(result, unit) }
}

#[cfg(test)]
mod tests;
