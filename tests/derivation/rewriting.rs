//! Random expressions: rewritten by identities they are always judged equal, spoiled never.

use crate::arithmetic::{Choices, Tried, tried};
use crate::identities::{ALL, Spoiling, rewritten, spoiled};
use crate::runner;
use crate::tree::{N_SYMBOLS, STYLES, Tree, trees};
use proptest::prelude::*;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use whorl_derivation::dimension::Dimension;
use whorl_derivation::expression::{Answer, Expression};
use whorl_derivation::identity::{Verdict, compare};
use whorl_derivation::reading::{ReadingErrorKind, read};
use whorl_derivation::symbols::{Symbol, SymbolId, Symbols};

const CASES: u32 = 1000;
/// Cases that have to be decided, of those.
const LEAST: u32 = 900;

/// p, q, u, v, w: letters that mean nothing.
fn symbols() -> Symbols {
    let symbol = |key: &str| Symbol {
        key: key.to_owned(),
        letter: key.to_owned(),
        subscript: String::new(),
        also: Vec::new(),
        means: String::new(),
        dimension: Dimension::ONE,
        unit: String::new(),
        value: 1.0,
    };
    Symbols::new(["p", "q", "u", "v", "w"].map(symbol).to_vec())
}

fn read_value(text: &str, symbols: &Symbols) -> Result<Expression, ReadingErrorKind> {
    let all: Vec<SymbolId> = symbols.ids().collect();
    match read(text, symbols, &all).map_err(|error| error.kind)?.answer {
        Answer::Value(value) => Ok(value),
        Answer::Equation(..) => panic!("{text} has no “=”"),
    }
}

/// Counts up.
fn count(cell: &Cell<u32>) {
    cell.set(cell.get() + 1);
}

#[test]
fn an_expression_rewritten_by_identities_is_always_judged_equal() {
    let (decided, too_large) = (Cell::new(0), Cell::new(0));
    let used: RefCell<BTreeMap<&str, u32>> = RefCell::default();
    let all_symbols: Vec<usize> = (0..N_SYMBOLS).collect();
    let outcome = runner(CASES).run(&(trees(), any::<u64>(), 1..6_u32), |(tree, seed, n_times)| {
        prop_assume!(tree.is_something());
        let mut names = Vec::new();
        let other = rewritten(&tree, n_times, &all_symbols, &mut Choices(seed), &mut names);
        // A fault in an identity written here would be no fault of the judge.
        prop_assert_ne!(tried(&tree, &other), Tried::Different, "{:?} is no identity", names);
        match compare(&tree.expression(), &other.expression(), &[]) {
            Verdict::TooLarge => count(&too_large),
            verdict => {
                prop_assert_eq!(verdict, Verdict::Equal, "by {:?}", names);
                count(&decided);
                for name in names {
                    *used.borrow_mut().entry(name).or_default() += 1;
                }
            }
        }
        Ok(())
    });
    println!("{} rewritten, {} of them too large to decide", decided.get(), too_large.get());
    outcome.unwrap();
    assert!(decided.get() >= LEAST, "only {} were decided", decided.get());
    let used = used.into_inner();
    let rare: Vec<_> = ALL.iter().filter(|name| used.get(*name).copied().unwrap_or(0) < 5).collect();
    println!("{used:?}");
    assert!(rare.is_empty(), "hardly ever used: {rare:?} in {used:?}");
}

#[test]
fn a_spoiled_expression_is_never_judged_equal() {
    let counts: RefCell<BTreeMap<Spoiling, u32>> = RefCell::default();
    let (unknown, agree, too_large) = (Cell::new(0), Cell::new(0), Cell::new(0));
    let all_symbols: Vec<usize> = (0..N_SYMBOLS).collect();
    let way = prop::sample::select(Spoiling::ALL.to_vec());
    let outcome = runner(2 * CASES).run(&(trees(), any::<u64>(), way), |(tree, seed, how)| {
        let Some(other) = spoiled(&tree, how, &all_symbols, &mut Choices(seed)) else { return Ok(()) };
        match tried(&tree, &other) {
            Tried::Unknown => count(&unknown),
            Tried::Agree => count(&agree),
            Tried::Different => match compare(&tree.expression(), &other.expression(), &[]) {
                Verdict::TooLarge => count(&too_large),
                verdict => {
                    prop_assert_eq!(verdict, Verdict::Different, "{:?} of {:?}", how, other);
                    *counts.borrow_mut().entry(how).or_default() += 1;
                }
            },
        }
        Ok(())
    });
    let counts = counts.into_inner();
    let (unknown, agree, too_large) = (unknown.get(), agree.get(), too_large.get());
    println!("spoiled {counts:?}, {agree} the same after all, {unknown} unknown, {too_large} too large");
    outcome.unwrap();
    assert!(counts.values().sum::<u32>() >= LEAST, "only {counts:?}");
    assert!(Spoiling::ALL.iter().all(|how| counts.get(how).copied().unwrap_or(0) >= 50), "{counts:?}");
    assert!(too_large < CASES / 20, "{too_large} were too large to decide");
}

#[test]
fn what_is_shown_is_read_again_as_the_same_expression() {
    let symbols = symbols();
    let (decided, too_long) = (Cell::new(0), Cell::new(0));
    let outcome = runner(CASES).run(&trees(), |tree| {
        let expression = tree.expression();
        let shown = expression.shown(&symbols);
        let back = match read_value(&shown, &symbols) {
            Ok(back) => back,
            Err(ReadingErrorKind::TooLong | ReadingErrorKind::TooLarge) => {
                count(&too_long);
                return Ok(());
            }
            Err(error) => return Err(TestCaseError::fail(format!("{shown}: {error}"))),
        };
        prop_assert_ne!(tried(&tree, &Tree::of(&back)), Tried::Different, "{}", shown);
        if tree.is_something() {
            match compare(&expression, &back, &[]) {
                Verdict::TooLarge => count(&too_long),
                verdict => {
                    prop_assert_eq!(verdict, Verdict::Equal, "{}", shown);
                    count(&decided);
                }
            }
        }
        Ok(())
    });
    println!("{} shown and read again, {} too long or too large", decided.get(), too_long.get());
    outcome.unwrap();
    assert!(decided.get() >= LEAST, "only {} were decided", decided.get());
}

#[test]
fn what_is_typed_in_any_style_is_read_as_the_same_expression() {
    let symbols = symbols();
    let name = |index: usize| symbols.shown(SymbolId(index));
    let decided = Cell::new(0);
    let outcome = runner(CASES).run(&(trees(), prop::sample::select(STYLES.to_vec())), |(tree, style)| {
        let typed = style.written(&tree, &name);
        let back = match read_value(&typed, &symbols) {
            Ok(back) => back,
            Err(ReadingErrorKind::TooLong | ReadingErrorKind::TooLarge) => return Ok(()),
            Err(error) => return Err(TestCaseError::fail(format!("{typed}: {error}"))),
        };
        let meant = style.written(&Tree::of(&back), &name);
        prop_assert_ne!(tried(&tree, &Tree::of(&back)), Tried::Different, "{} read as {}", typed, meant);
        if tree.is_something() {
            match compare(&tree.expression(), &back, &[]) {
                Verdict::TooLarge => {}
                verdict => {
                    prop_assert_eq!(verdict, Verdict::Equal, "{} read as {}", typed, meant);
                    count(&decided);
                }
            }
        }
        Ok(())
    });
    outcome.unwrap();
    assert!(decided.get() >= LEAST, "only {} were decided", decided.get());
}
