//! The hand-written corpus: every right answer is accepted, every wrong one gets what a good tutor
//! would say first.

use crate::answers::{StepAnswers, WrongAnswer, hand_written};
use crate::turntable;
use std::collections::{BTreeMap, BTreeSet};
use whorl_derivation::derivation::{Derivation, ExpressionTask, Slip, Task};
use whorl_derivation::expression::Expression;
use whorl_derivation::identity::{Definitions, Verdict, compare};
use whorl_derivation::judge::judge;
use whorl_derivation::reading::{ReadingErrorKind, read};

/// Algebra alone: what is chosen or drawn comes on top.
const LEAST: usize = 190;

fn is_algebra(derivation: &Derivation, answers: &StepAnswers) -> bool {
    task_of(derivation, &answers.step).is_some()
}

fn task_of<'a>(derivation: &'a Derivation, step: &str) -> Option<&'a ExpressionTask> {
    match &derivation.step(step).unwrap().task {
        Task::Expression(task) => Some(task),
        _ => None,
    }
}

#[track_caller]
fn none(deviations: &[String]) {
    assert!(deviations.is_empty(), "{} deviations:\n{}", deviations.len(), deviations.join("\n"));
}

#[test]
fn every_right_answer_is_accepted() {
    let derivation = turntable();
    let mut deviations = Vec::new();
    for answers in hand_written() {
        let step = derivation.step(&answers.step).unwrap();
        for answer in &answers.right {
            let judgement = judge(&derivation, step, answer);
            if !judgement.accepted {
                let said = judgement.to_json(&derivation);
                deviations.push(format!("{}: {answer}: {}: {}", step.id, said["kind"], said["text"]));
            }
        }
    }
    none(&deviations);
}

#[test]
fn every_wrong_answer_is_refused_with_the_right_kind_of_feedback() {
    let derivation = turntable();
    let mut deviations = Vec::new();
    for answers in hand_written() {
        for wrong in &answers.wrong {
            deviations.extend(deviation(&derivation, &answers.step, wrong));
        }
    }
    none(&deviations);
}

fn deviation(derivation: &Derivation, step: &str, wrong: &WrongAnswer) -> Option<String> {
    let judgement = judge(derivation, derivation.step(step).unwrap(), &wrong.answer);
    let first = judgement.rungs.first().unwrap();
    // Where several mistakes are recognized (in a choice or a drawing), the first one told counts.
    let slip = judgement.rungs.iter().find_map(|rung| rung.slip.clone());
    let good = !judgement.accepted && first.kind.key() == wrong.kind && slip == wrong.slip;
    let said = first.text.shown(&derivation.symbols);
    let found = format!("{}, slip {slip:?}: {said}", first.kind.key());
    let expected = format!("{}, slip {:?}", wrong.kind, wrong.slip);
    (!good || said.is_empty()).then(|| {
        let verdict = if judgement.accepted { "accepted" } else { "refused" };
        format!("{step}: {}: expected {expected}; {verdict} with {found}", wrong.answer)
    })
}

#[test]
fn every_typing_error_is_the_one_that_was_made() {
    let derivation = turntable();
    let mut deviations = Vec::new();
    for answers in hand_written() {
        for wrong in answers.wrong.iter().filter(|wrong| wrong.typing.is_some()) {
            let task = task_of(&derivation, &answers.step).unwrap();
            let found = match read(&wrong.answer, &derivation.symbols, &task.readable) {
                Ok(_) => "none",
                Err(error) => name_of(&error.kind),
            };
            if Some(found) != wrong.typing.as_deref() {
                deviations
                    .push(format!("{}: {}: {:?}, found {found}", answers.step, wrong.answer, wrong.typing));
            }
        }
    }
    none(&deviations);
}

fn name_of(kind: &ReadingErrorKind) -> &'static str {
    match kind {
        ReadingErrorKind::Empty => "Empty",
        ReadingErrorKind::TooLong => "TooLong",
        ReadingErrorKind::TooDeep => "TooDeep",
        ReadingErrorKind::TooLarge => "TooLarge",
        ReadingErrorKind::Character(_) => "Character",
        ReadingErrorKind::Comparison(_) => "Comparison",
        ReadingErrorKind::Unknown { .. } => "Unknown",
        ReadingErrorKind::Function(_) => "Function",
        ReadingErrorKind::LetterAsTimes => "LetterAsTimes",
        ReadingErrorKind::Missing(_) => "Missing",
        ReadingErrorKind::Unclosed(_) => "Unclosed",
        ReadingErrorKind::Unopened(_) => "Unopened",
        ReadingErrorKind::Mismatched { .. } => "Mismatched",
        ReadingErrorKind::SecondEquals => "SecondEquals",
        ReadingErrorKind::NumberAfter => "NumberAfter",
        ReadingErrorKind::TwoPoints => "TwoPoints",
        ReadingErrorKind::NumberTooLong => "NumberTooLong",
        ReadingErrorKind::Power => "Power",
        ReadingErrorKind::PowerOfPower => "PowerOfPower",
        _ => "a kind of typing error that no answer makes",
    }
}

#[test]
fn every_kind_of_typing_error_is_made() {
    let made: BTreeSet<String> = hand_written()
        .into_iter()
        .flat_map(|answers| answers.wrong)
        .filter_map(|wrong| wrong.typing)
        .collect();
    assert_eq!(made.len(), 19, "{made:?}");
}

#[test]
fn every_mistake_of_the_derivation_is_made_twice_in_different_spelling() {
    let derivation = turntable();
    let mut rare = Vec::new();
    for answers in hand_written() {
        let Some(task) = task_of(&derivation, &answers.step) else { continue };
        let mut made: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        for wrong in &answers.wrong {
            if let Some(slip) = &wrong.slip {
                made.entry(slip).or_default().insert(&wrong.answer);
            }
        }
        for (index, slip) in task.slips.iter().enumerate() {
            let n_made = made.get(slip.id.as_str()).map_or(0, BTreeSet::len);
            if n_made < 2 && can_be_recognized(task, slip, &task.slips[..index]) {
                rare.push(format!("{}: {} is made {n_made} times", answers.step, slip.id));
            }
        }
    }
    none(&rare);
}

/// Whether some answer of the slip can be typed in this step and is not recognized as an earlier one.
fn can_be_recognized(task: &ExpressionTask, slip: &Slip, earlier: &[Slip]) -> bool {
    let known: Vec<_> = task.known.iter().map(|(id, definition)| (*id, definition)).collect();
    let known: &Definitions<'_> = &known;
    let taken = |answer: &Expression| {
        let mut others = earlier.iter().flat_map(|other| &other.answers);
        others.any(|other| compare(answer, other, known) == Verdict::Equal)
    };
    let typed = |answer: &Expression| answer.find(&|id| !task.readable.contains(&id)).is_none();
    slip.answers.iter().any(|answer| typed(answer) && !taken(answer))
}

#[test]
fn every_step_is_answered_and_no_answer_is_counted_twice() {
    let derivation = turntable();
    let corpus = hand_written();
    let steps: BTreeSet<&str> = derivation.steps.iter().map(|step| step.id.as_str()).collect();
    let answered: BTreeSet<&str> = corpus.iter().map(|answers| answers.step.as_str()).collect();
    assert_eq!(steps, answered);
    let mut right = BTreeSet::new();
    let mut wrong = BTreeSet::new();
    for answers in corpus.iter().filter(|answers| is_algebra(&derivation, answers)) {
        for answer in &answers.right {
            assert!(right.insert((&answers.step, answer)), "{}: {answer} stands there twice", answers.step);
        }
        for item in &answers.wrong {
            let new = wrong.insert((&answers.step, &item.answer));
            assert!(new, "{}: {} stands there twice", answers.step, item.answer);
        }
    }
    assert!(right.is_disjoint(&wrong));
    println!("{} right and {} wrong answers in algebra, written by hand", right.len(), wrong.len());
    assert!(right.len() >= LEAST, "only {} right answers", right.len());
    assert!(wrong.len() >= LEAST, "only {} wrong answers", wrong.len());
}
