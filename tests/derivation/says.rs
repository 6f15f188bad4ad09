//! Equations: which say the same of a symbol and which do not.

use crate::arithmetic::{Choices, Tried, tried};
use crate::identities::rewritten;
use crate::runner;
use crate::tree::{N_SYMBOLS, Tree, boxed, trees};
use proptest::prelude::*;
use std::cell::Cell;
use whorl_derivation::identity::{Verdict, says_that};
use whorl_derivation::symbols::SymbolId;

const CASES: u32 = 360;
/// Cases that have to be decided, of those.
const LEAST: u32 = 256;
/// The symbol that equations are about; those of [`trees`] come before it.
const TARGET: usize = N_SYMBOLS;

fn target() -> Tree {
    Tree::Symbol(TARGET)
}

fn sum(a: &Tree, b: &Tree) -> Tree {
    Tree::Sum(boxed(a), boxed(b))
}

fn difference(a: &Tree, b: &Tree) -> Tree {
    Tree::Difference(boxed(a), boxed(b))
}

fn product(a: &Tree, b: &Tree) -> Tree {
    Tree::Product(boxed(a), boxed(b))
}

fn quotient(a: &Tree, b: &Tree) -> Tree {
    Tree::Quotient(boxed(a), boxed(b))
}

fn square(a: &Tree) -> Tree {
    Tree::Power(boxed(a), 2)
}

/// Whether the equation says of the target that it is `value`.
fn verdict(left: &Tree, right: &Tree, value: &Tree) -> Verdict {
    let (left, right) = (left.expression(), right.expression());
    says_that((&left, &right), SymbolId(TARGET), &value.expression(), &[])
}

/// Makes equations from a value and two more expressions, none of them zero, and asks for the verdict.
fn asked(
    make: impl Fn(&Tree, &Tree, &Tree) -> (Tree, Tree),
    expected: impl Fn(Verdict) -> bool,
    rewriting: bool,
) {
    let decided = Cell::new(0);
    let symbols: Vec<usize> = (0..N_SYMBOLS).collect();
    let cases = (trees(), trees(), trees(), any::<u64>());
    let outcome = runner(CASES).run(&cases, |(value, factor, term, seed)| {
        prop_assume!(value.is_something() && factor.is_something() && term.is_something());
        let (mut left, mut right) = make(&value, &factor, &term);
        if rewriting {
            let mut choices = Choices(seed);
            left = rewritten(&left, 2, &symbols, &mut choices, &mut Vec::new());
            right = rewritten(&right, 2, &symbols, &mut choices, &mut Vec::new());
        }
        match verdict(&left, &right, &value) {
            Verdict::TooLarge => {}
            found => {
                prop_assert!(expected(found), "{:?} for {:?} = {:?}", found, left, right);
                decided.set(decided.get() + 1);
            }
        }
        Ok(())
    });
    outcome.unwrap();
    println!("{} decided of {CASES}", decided.get());
    assert!(decided.get() >= LEAST, "only {} were decided", decided.get());
}

fn the_same(verdict: Verdict) -> bool {
    verdict == Verdict::Equal
}

#[test]
fn an_equation_multiplied_by_a_factor_without_the_target_says_the_same() {
    asked(|value, factor, _| (product(&target(), factor), product(factor, value)), the_same, true);
    asked(|value, factor, _| (quotient(value, factor), quotient(&target(), factor)), the_same, true);
}

#[test]
fn an_equation_with_something_added_on_both_sides_says_the_same() {
    asked(|value, _, term| (sum(&target(), term), sum(term, value)), the_same, true);
    let both = |value: &Tree, factor: &Tree, term: &Tree| {
        (difference(&product(&target(), factor), term), difference(&product(value, factor), term))
    };
    asked(both, the_same, true);
}

#[test]
fn an_equation_of_reciprocals_says_the_same() {
    asked(|value, factor, _| (quotient(factor, &target()), quotient(factor, value)), the_same, true);
}

#[test]
fn an_equation_multiplied_by_a_factor_with_the_target_does_not_say_the_same() {
    let different = |verdict| verdict != Verdict::Equal;
    let by_itself = |value: &Tree, _: &Tree, _: &Tree| {
        let left = product(&target(), &target());
        (left, product(value, &target()))
    };
    asked(by_itself, different, false);
    let by_a_sum = |value: &Tree, factor: &Tree, _: &Tree| {
        let more = sum(&target(), factor);
        (product(&target(), &more), product(value, &more))
    };
    asked(by_a_sum, different, true);
}

#[test]
fn a_squared_equation_does_not_say_the_same() {
    let squared = |value: &Tree, _: &Tree, _: &Tree| (square(&target()), square(value));
    asked(squared, |verdict| verdict != Verdict::Equal, false);
    let squared = |value: &Tree, _: &Tree, term: &Tree| {
        let both = |side: &Tree| square(&sum(side, term));
        (both(&target()), both(value))
    };
    asked(squared, |verdict| verdict != Verdict::Equal, false);
}

#[test]
fn two_sides_that_are_the_same_say_nothing_of_the_target() {
    let different = |verdict| verdict != Verdict::Equal;
    asked(|_, _, _| (target(), target()), different, false);
    asked(|_, _, _| (target(), target()), different, true);
    asked(|_, factor, _| (product(&target(), factor), product(factor, &target())), different, true);
    asked(|_, _, term| (sum(&target(), term), sum(term, &target())), different, true);
    asked(|value, factor, _| (product(value, factor), product(factor, value)), different, true);
}

#[test]
fn an_equation_with_another_solution_does_not_say_the_same() {
    let decided = Cell::new(0);
    let outcome = runner(CASES).run(&(trees(), trees(), trees()), |(value, factor, other)| {
        prop_assume!(value.is_something() && factor.is_something() && other.is_something());
        // Only where the test's own arithmetic is sure that they differ.
        if tried(&value, &other) != Tried::Different {
            return Ok(());
        }
        let (left, right) = (product(&factor, &target()), product(&factor, &other));
        match verdict(&left, &right, &value) {
            Verdict::TooLarge => {}
            found => {
                prop_assert_eq!(found, Verdict::Different);
                decided.set(decided.get() + 1);
            }
        }
        Ok(())
    });
    outcome.unwrap();
    assert!(decided.get() >= LEAST, "only {} were decided", decided.get());
}
