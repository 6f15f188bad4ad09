//! What an answer is a quantity of, and where its units do not fit.

use super::{Rung, RungKind};
use crate::derivation::{Derivation, ExpressionTask};
use crate::dimension::Dimension;
use crate::expression::{Answer, Decimal, Expression, Kind};
use crate::prose::{HOLES, Prose};
use crate::symbols::{Symbol, Symbols};
use whorl_words as words;

/// Two things of different dimension that are added or set equal.
struct Misfit<'a> {
    one: (&'a Expression, Dimension),
    other: (&'a Expression, Dimension),
}

/// The dimension of an expression. `None`: it is zero, which is zero of anything.
fn dimension<'a>(expression: &'a Expression, symbols: &Symbols) -> Result<Option<Dimension>, Misfit<'a>> {
    Ok(match &expression.kind {
        Kind::Number(Decimal { digits: 0, .. }) => None,
        Kind::Number(_) => Some(Dimension::ONE),
        Kind::Symbol(id) => symbols.get(*id).map(|symbol| symbol.dimension),
        Kind::Sum(terms) => {
            let mut first: Option<(&Expression, Dimension)> = None;
            for term in terms {
                let Some(own) = dimension(&term.value, symbols)? else { continue };
                match first {
                    Some((one, of_one)) if of_one != own => {
                        return Err(Misfit { one: (one, of_one), other: (&term.value, own) });
                    }
                    Some(_) => {}
                    None => first = Some((&term.value, own)),
                }
            }
            first.map(|(_, dimension)| dimension)
        }
        Kind::Product(factors) => {
            let mut all = Some(Dimension::ONE);
            for factor in factors {
                let own = dimension(&factor.value, symbols)?;
                all = match (all, own) {
                    (Some(all), Some(own)) if factor.divides => Some(all / own),
                    (Some(all), Some(own)) => Some(all * own),
                    _ => None,
                };
            }
            all
        }
        Kind::Power(base, power) => dimension(base, symbols)?.map(|base| base.power(*power)),
    })
}

/// What an expression is, in words: `a force (N)`; `None` where its units do not fit together or it
/// is zero.
pub fn quantity_of(derivation: &Derivation, expression: &Expression) -> Option<String> {
    dimension(expression, &derivation.symbols).ok().flatten().map(|found| derivation.quantity(found))
}

/// A complaint, where the units do not fit.
pub(super) fn complaint(derivation: &Derivation, task: &ExpressionTask, answer: &Answer) -> Option<Rung> {
    let symbols = &derivation.symbols;
    let target = symbols.get(task.target).map(|symbol| symbol.dimension);
    let name = |dimension: Dimension| derivation.quantity(dimension);
    let math = |expression: &Expression| Prose::of(Answer::Value(expression.clone()));
    let [first, second, ..] = HOLES;
    let sides: Vec<&Expression> = answer.sides().collect();
    let mut found = Vec::new();
    for side in &sides {
        match dimension(side, symbols) {
            Ok(dimension) => found.push(dimension),
            Err(Misfit { one: (one, of_one), other: (other, of_other) }) => {
                let text = words::algebra::unlike_added(&first, &name(of_one), &second, &name(of_other));
                let text = Prose::filled(&text, &[math(one), math(other)]);
                let rung = Rung::new(RungKind::Dimension, with_number_hint(text, derivation, side));
                return Some(rung.at(other.span.clone()));
            }
        }
    }
    match (answer, found.as_slice()) {
        (Answer::Equation(left, right), [Some(of_left), Some(of_right)]) if of_left != of_right => {
            // Told from the side that is the target, which is what it ought to be.
            let (of_left, of_right) = (name(*of_left), name(*of_right));
            let (told, text) = if right.is_symbol(task.target) {
                (left, words::algebra::left_unlike_right(&of_left, &of_right))
            } else {
                (right, words::algebra::right_unlike_left(&of_right, &of_left))
            };
            let text = with_number_hint(Prose::words(text), derivation, told);
            Some(Rung::new(RungKind::Dimension, text).at(told.span.clone()))
        }
        (Answer::Value(value), [Some(of_value)]) if Some(*of_value) != target => {
            let of_target = target.map(name).unwrap_or_default();
            let text = words::algebra::answer_unlike_target(&name(*of_value), &first, &of_target);
            let text = Prose::filled(&text, &[Prose::symbol(task.target)]);
            let text = with_number_hint(text, derivation, value);
            Some(Rung::new(RungKind::Dimension, text).at(value.span.clone()))
        }
        _ => None,
    }
}

/// A number such as 9.81 has most likely been put in for a symbol that has a unit.
fn with_number_hint(text: Prose, derivation: &Derivation, side: &Expression) -> Prose {
    let near = |number: f64| {
        let close = |symbol: &&Symbol| {
            symbol.dimension != Dimension::ONE && (number / symbol.value - 1.0).abs() < 0.03 && number > 3.0
        };
        derivation.symbols.ids().filter_map(|id| derivation.symbols.get(id)).find(close).map(Symbol::shown)
    };
    let mut numbers = Vec::new();
    decimals(side, &mut numbers);
    match numbers.into_iter().find_map(|number| Some((number, near(number.value())?))) {
        Some((number, symbol)) => {
            let number = words::with_mark(&number.to_string());
            text.and(" ").and(words::algebra::bare_number(&number, &symbol))
        }
        None => text,
    }
}

/// All numbers in an expression.
fn decimals(expression: &Expression, found: &mut Vec<Decimal>) {
    match &expression.kind {
        Kind::Number(number) => found.push(*number),
        Kind::Symbol(_) => {}
        Kind::Sum(terms) => terms.iter().for_each(|term| decimals(&term.value, found)),
        Kind::Product(factors) => factors.iter().for_each(|factor| decimals(&factor.value, found)),
        Kind::Power(base, _) => decimals(base, found),
    }
}

/// The unit of an expression; empty where its units do not fit together.
pub(super) fn unit_of(derivation: &Derivation, expression: &Expression) -> String {
    let found = dimension(expression, &derivation.symbols).ok().flatten();
    found.map(|found| derivation.unit(found)).unwrap_or_default()
}
