//! The generated half of the corpus: every right answer rewritten by identities is accepted; spoiled it
//! is refused, with feedback on the units when, and only when, they no longer fit.

use crate::answers::hand_written;
use crate::arithmetic::{Choices, Tried, tried};
use crate::identities::{Spoiling, rewritten, spoiled};
use crate::tree::{PLAIN, STYLES, Style, Tree};
use crate::turntable;
use std::collections::{BTreeMap, BTreeSet};
use whorl_derivation::derivation::{Derivation, ExpressionTask, Form, Step, Task};
use whorl_derivation::judge::{RungKind, judge};
use whorl_derivation::reading::{MOST_CHARACTERS, read};
use whorl_derivation::symbols::{SymbolId, Symbols};

/// Of each kind.
const LEAST: usize = 300;

/// One side, or two.
#[derive(Clone)]
struct Sides(Vec<Tree>);

/// A right answer that was written by hand.
struct Right<'a> {
    step: &'a Step,
    task: &'a ExpressionTask,
    sides: Sides,
}

fn right_answers(derivation: &Derivation) -> Vec<Right<'_>> {
    let mut all = Vec::new();
    for answers in hand_written() {
        let step = derivation.step(&answers.step).unwrap();
        let Task::Expression(task) = &step.task else { continue };
        for answer in &answers.right {
            let reading = read(answer, &derivation.symbols, &task.readable).unwrap();
            all.push(Right { step, task, sides: Sides(reading.answer.sides().map(Tree::of).collect()) });
        }
    }
    all
}

impl Sides {
    fn written(&self, style: Style, symbols: &Symbols) -> String {
        let name = |index: usize| symbols.shown(SymbolId(index));
        self.0.iter().map(|side| style.written(side, &name)).collect::<Vec<_>>().join(" = ")
    }

    /// The sides that may change: not the one that is the target alone, which has to stay.
    fn free(&self, target: usize) -> Vec<usize> {
        (0..self.0.len()).filter(|index| self.0[*index] != Tree::Symbol(target)).collect()
    }
}

#[test]
fn every_right_answer_rewritten_by_identities_is_accepted() {
    let derivation = turntable();
    let mut made = BTreeSet::new();
    let mut steps = BTreeSet::new();
    let mut deviations = Vec::new();
    let mut n_too_long = 0;
    for (index, right) in right_answers(&derivation).iter().enumerate() {
        let uses: Vec<usize> = right.task.uses.iter().map(|id| id.0).collect();
        for round in 0..3_u64 {
            let mut choices = Choices(round * 10_000 + u64::try_from(index).unwrap());
            let mut sides = right.sides.clone();
            let free = sides.free(right.task.target.0);
            let side = *choices.of(&free);
            let n_times = 1 + choices.below(4);
            let mut names = Vec::new();
            sides.0[side] = rewritten(&sides.0[side], n_times, &uses, &mut choices, &mut names);
            let typed = sides.written(*choices.of(&STYLES), &derivation.symbols);
            if typed.chars().count() > MOST_CHARACTERS {
                n_too_long += 1;
                continue;
            }
            let judgement = judge(&derivation, right.step, &typed);
            if !judgement.accepted {
                let said = judgement.to_json(&derivation);
                deviations.push(format!("{}: {typed}: by {names:?}: {}", right.step.id, said["text"]));
            }
            made.insert((right.step.id.clone(), typed));
            steps.insert(right.step.id.clone());
        }
    }
    println!("{} right answers made for {} steps, {n_too_long} too long", made.len(), steps.len());
    assert!(deviations.is_empty(), "{} refused:\n{}", deviations.len(), deviations.join("\n"));
    assert!(made.len() >= LEAST, "only {} right answers", made.len());
    assert_eq!(steps.len(), 13);
}

#[test]
fn every_right_answer_spoiled_is_refused_and_told_of_its_units_only_when_they_do_not_fit() {
    let derivation = turntable();
    let mut counts: BTreeMap<(Spoiling, bool), usize> = BTreeMap::new();
    let mut kinds: BTreeMap<&str, usize> = BTreeMap::new();
    let mut made = BTreeSet::new();
    let mut n_still_right = 0;
    let mut deviations = Vec::new();
    for (index, right) in right_answers(&derivation).iter().enumerate() {
        let readable: Vec<usize> = right.task.readable.iter().map(|id| id.0).collect();
        for (round, how) in (0_u64..).zip(Spoiling::ALL) {
            let mut choices = Choices(round * 10_000 + u64::try_from(index).unwrap());
            let mut sides = right.sides.clone();
            let free = sides.free(right.task.target.0);
            let side = *choices.of(&free);
            let Some(wrong) = spoiled(&sides.0[side], how, &readable, &mut choices) else { continue };
            sides.0[side] = wrong;
            if !is_wrong(right.task, &sides) {
                n_still_right += 1;
                continue;
            }
            let typed = sides.written(PLAIN, &derivation.symbols);
            if !made.insert((right.step.id.clone(), typed.clone())) {
                continue;
            }
            let units_fit = units_fit(&derivation.symbols, right.task, &sides);
            *counts.entry((how, units_fit)).or_default() += 1;
            let judgement = judge(&derivation, right.step, &typed);
            let first = judgement.rungs.first().unwrap();
            *kinds.entry(first.kind.key()).or_default() += 1;
            let fitting = !judgement.accepted && fits(first.kind, units_fit, right.task, &sides);
            let said = first.text.shown(&derivation.symbols);
            if !fitting || said.is_empty() {
                let step = &right.step.id;
                let kind = first.kind.key();
                deviations.push(format!("{step}: {typed}: units fit: {units_fit}; {kind}: {said}"));
            }
        }
    }
    let n_made: usize = counts.values().sum();
    println!("{n_made} wrong answers made, {n_still_right} left out: not surely wrong");
    println!("by (spoiling, units fit): {counts:?}\nby first feedback: {kinds:?}");
    assert!(deviations.is_empty(), "{} deviations:\n{}", deviations.len(), deviations.join("\n"));
    assert!(n_made >= LEAST, "only {n_made} wrong answers");
    for units_fit in [false, true] {
        let of_kind: usize = Spoiling::ALL.iter().filter_map(|how| counts.get(&(*how, units_fit))).sum();
        assert!(of_kind >= LEAST / 3, "{counts:?}");
    }
}

/// Whether the first feedback is of a kind that goes with a wrong answer whose units fit, or do not.
fn fits(kind: RungKind, units_fit: bool, task: &ExpressionTask, sides: &Sides) -> bool {
    // Answers whose form is to be mended before anything else can be said.
    let only_a_name = sides.0 == [Tree::Symbol(task.target.0)];
    let nothing_said = sides.0.len() == 2 && tried(&sides.0[0], &sides.0[1]) == Tried::Agree;
    if only_a_name || nothing_said {
        return kind == RungKind::Form;
    }
    // A value where an equation is asked for: told so, unless it is a mistake that is recognized.
    if task.form == Form::Relation && sides.0.len() == 1 {
        return kind == RungKind::Form
            || kind == if units_fit { RungKind::Slip } else { RungKind::Dimension };
    }
    if !units_fit {
        return kind == RungKind::Dimension;
    }
    let drops_out = sides.0.iter().all(|side| side.contains(task.target.0));
    let has_target = sides.0.iter().any(|side| side.contains(task.target.0));
    // An equation has to speak of the target; a value of it cannot.
    let misplaced_target = has_target == (sides.0.len() == 1);
    if misplaced_target {
        return matches!(kind, RungKind::Form | RungKind::Slip | RungKind::Symbol);
    }
    match kind {
        RungKind::Form => drops_out,
        RungKind::Slip | RungKind::Symbol | RungKind::Limit | RungKind::Number | RungKind::Hint => true,
        _ => false,
    }
}

/// Whether the answer is wrong for certain: with the right value put in for the target, and with what
/// earlier steps found, the sides differ somewhere.
fn is_wrong(task: &ExpressionTask, sides: &Sides) -> bool {
    let known: Vec<(usize, Tree)> = task.known.iter().map(|(id, found)| (id.0, Tree::of(found))).collect();
    let value = Tree::of(&task.answer);
    let target = |index: usize| (index == task.target.0).then(|| value.clone());
    let free = |tree: &Tree| put_in(&tree.replaced(&target), &known);
    let (left, right) = match sides.0.as_slice() {
        [only] => (free(&value), free(only)),
        [left, right] => (free(left), free(right)),
        _ => unreachable!("an answer has one side or two"),
    };
    tried(&left, &right) == Tried::Different
}

/// With what is known in place of symbols; each may use what stands before it.
fn put_in(tree: &Tree, known: &[(usize, Tree)]) -> Tree {
    let Some(((symbol, definition), before)) = known.split_last() else { return tree.clone() };
    put_in(&tree.replaced(&|index| (index == *symbol).then(|| definition.clone())), before)
}

/// What an expression is a quantity of.
#[derive(Clone, Copy, PartialEq)]
enum Unit {
    /// Zero, which is zero of anything.
    Any,
    /// Powers of kilogram, meter and second.
    Of([i32; 3]),
}

/// Whether all that is added or set equal is of the same kind.
fn units_fit(symbols: &Symbols, task: &ExpressionTask, sides: &Sides) -> bool {
    let unit = |tree: &Tree| unit_of(symbols, tree);
    let (left, right) = match sides.0.as_slice() {
        [only] => (unit(&Tree::Symbol(task.target.0)), unit(only)),
        [left, right] => (unit(left), unit(right)),
        _ => unreachable!("an answer has one side or two"),
    };
    left.zip(right).and_then(|(left, right)| shared(left, right)).is_some()
}

/// What two things are that are added or set equal; `None` where they are of different kinds.
fn shared(left: Unit, right: Unit) -> Option<Unit> {
    match (left, right) {
        (Unit::Any, other) | (other, Unit::Any) => Some(other),
        (left, right) => (left == right).then_some(left),
    }
}

/// `None` where the units do not fit together.
fn unit_of(symbols: &Symbols, tree: &Tree) -> Option<Unit> {
    let both =
        |left: &Tree, right: &Tree, sign: i32| match (unit_of(symbols, left)?, unit_of(symbols, right)?) {
            (Unit::Of(left), Unit::Of(right)) => {
                Some(Unit::Of([0, 1, 2].map(|base| left[base] + sign * right[base])))
            }
            _ => Some(Unit::Any),
        };
    match tree {
        Tree::Whole(0) => Some(Unit::Any),
        Tree::Whole(_) => Some(Unit::Of([0; 3])),
        Tree::Symbol(index) => {
            let found = symbols.get(SymbolId(*index)).unwrap().dimension;
            Some(Unit::Of([found.kilogram, found.meter, found.second]))
        }
        Tree::Negative(inner) => unit_of(symbols, inner),
        Tree::Sum(left, right) | Tree::Difference(left, right) => {
            shared(unit_of(symbols, left)?, unit_of(symbols, right)?)
        }
        Tree::Product(left, right) => both(left, right, 1),
        Tree::Quotient(left, right) => both(left, right, -1),
        Tree::Power(base, power) => Some(match unit_of(symbols, base)? {
            Unit::Any => Unit::Any,
            Unit::Of(own) => Unit::Of(own.map(|own| own * power)),
        }),
    }
}

#[test]
fn the_units_of_every_answer_in_the_derivation_fit() {
    let derivation = turntable();
    for step in &derivation.steps {
        let Task::Expression(task) = &step.task else { continue };
        let sides = Sides(vec![Tree::of(&task.answer)]);
        assert!(units_fit(&derivation.symbols, task, &sides), "{}", step.id);
        assert!(!is_wrong(task, &sides), "{}", step.id);
        let twice = Tree::Product(Box::new(Tree::Whole(2)), Box::new(Tree::of(&task.answer)));
        assert!(is_wrong(task, &Sides(vec![twice])), "{}", step.id);
    }
}
