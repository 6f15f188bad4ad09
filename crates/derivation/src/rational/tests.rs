//! Multiplying out, solving, limits.

use super::*;
use crate::derivation::tests::symbols;
use crate::expression::Answer;
use crate::reading::read;

fn answer(text: &str) -> Answer {
    let symbols = symbols();
    let all: Vec<SymbolId> = symbols.ids().collect();
    read(text, &symbols, &all).unwrap().answer
}

fn value(text: &str) -> Expression {
    match answer(text) {
        Answer::Value(value) => value,
        Answer::Equation(..) => unreachable!("no equation here"),
    }
}

#[track_caller]
fn tends(text: &str, key: &str, goes: Goes, expected: &str) {
    let symbols = symbols();
    let shown = match Rational::of(&value(text)).unwrap().limit(symbols.find(key).unwrap(), goes) {
        Limit::Finite(found) => found.shown(&symbols),
        Limit::Unbounded => "unbounded".to_owned(),
    };
    assert_eq!(shown, expected, "{text} as {key} {goes:?}");
}

#[test]
fn limits_are_those_of_the_leading_terms() {
    tends("m(g - a)", "a", Goes::ToZero, "m·g");
    tends("m a", "a", Goes::ToZero, "0");
    tends("m g I/(I + m R^2)", "I", Goes::ToInfinity, "m·g");
    tends("I + tau_f/alpha", "alpha", Goes::ToInfinity, "I");
    tends("I + tau_f/alpha", "alpha", Goes::ToZero, "unbounded");
    tends("T/R", "R", Goes::ToZero, "unbounded");
    tends("a/R", "R", Goes::ToInfinity, "0");
    tends("9.81 m - m a", "a", Goes::ToZero, "9.81·m");
    tends("(m a + T)/(a - a^2)", "a", Goes::ToInfinity, "0");
    tends("(a - m)/(a + m)", "a", Goes::ToInfinity, "1");
    tends("-m T/(R + a)", "a", Goes::ToZero, "−m·T/R");
    tends("m g/2 + a", "a", Goes::ToZero, "m·g/2");
}

#[track_caller]
fn solves(equation: &str, key: &str, expected: Option<&str>) {
    let symbols = symbols();
    let Answer::Equation(left, right) = answer(equation) else { unreachable!("an equation") };
    let found = Rational::solved(&left, &right, symbols.find(key).unwrap());
    assert_eq!(found.map(|found| found.to_expression().shown(&symbols)).as_deref(), expected, "{equation}");
}

#[test]
fn equations_are_solved_for_what_occurs_to_the_first_power() {
    solves("m g - T = m a", "T", Some("m·g − m·a"));
    solves("a = alpha R", "alpha", Some("a/R"));
    solves("a/alpha = R", "alpha", Some("a/R"));
    solves("tau_s - tau_f = I alpha", "I", Some("(τ_s − τ_f)/α"));
    solves("alpha^2 = a", "alpha", None);
    solves("m g = m a", "T", None);
}

#[test]
fn what_has_no_value_or_gets_too_long_is_given_up() {
    assert_eq!(Rational::of(&value("m/(a - a)")), None);
    assert_eq!(Rational::of(&value("(m + g + a + T + R + I + alpha)^12")), None);
    assert_eq!(Rational::of(&value("(99999 m + a)^11")), None);
}
