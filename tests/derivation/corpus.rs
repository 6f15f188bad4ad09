//! The hand-written corpus: every right answer is accepted, every wrong one gets what a good tutor
//! would say first.

use crate::answers::{Corpus, StepAnswers, WrongAnswer, corpora};
use std::collections::{BTreeMap, BTreeSet};
use whorl_derivation::derivation::{Derivation, ExpressionTask, Slip, Task};
use whorl_derivation::expression::Expression;
use whorl_derivation::identity::{Definitions, Verdict, compare};
use whorl_derivation::judge::{RungKind, judge};
use whorl_derivation::reading::{ReadingErrorKind, read};

/// Algebra alone: what is chosen or drawn comes on top.
const LEAST: usize = 300;

fn task_of<'a>(derivation: &'a Derivation, step: &str) -> Option<&'a ExpressionTask> {
    match &derivation.step(step).unwrap().task {
        Task::Expression(task) => Some(task),
        _ => None,
    }
}

/// What `deviations` finds in the answers to each step.
fn in_each_step(deviations: impl Fn(&Derivation, &StepAnswers) -> Vec<String>) -> Vec<String> {
    let in_corpus = |corpus: &Corpus| -> Vec<String> {
        corpus.steps.iter().flat_map(|answers| deviations(&corpus.derivation, answers)).collect()
    };
    corpora().iter().flat_map(in_corpus).collect()
}

#[track_caller]
fn none(deviations: &[String]) {
    assert!(deviations.is_empty(), "{} deviations:\n{}", deviations.len(), deviations.join("\n"));
}

#[test]
fn every_right_answer_is_accepted_and_told_what_it_means_and_nothing_else() {
    none(&in_each_step(|derivation, answers| {
        let step = derivation.step(&answers.step).unwrap();
        let deviation = |answer: &String| {
            let judgement = judge(derivation, step, answer);
            let kinds: Vec<RungKind> = judgement.rungs.iter().map(|rung| rung.kind).collect();
            let good = judgement.accepted && kinds == [RungKind::Meaning];
            let said = judgement.to_json(derivation);
            (!good).then(|| format!("{}: {answer}: {}: {}", step.id, said["kind"], said["text"]))
        };
        answers.right.iter().filter_map(deviation).collect()
    }));
}

#[test]
fn every_wrong_answer_is_refused_with_the_right_kind_of_feedback() {
    none(&in_each_step(|derivation, answers| {
        answers.wrong.iter().filter_map(|wrong| deviation(derivation, &answers.step, wrong)).collect()
    }));
}

fn deviation(derivation: &Derivation, step: &str, wrong: &WrongAnswer) -> Option<String> {
    let judgement = judge(derivation, derivation.step(step).unwrap(), &wrong.answer);
    let first = judgement.rungs.first().unwrap();
    // Where several mistakes are recognized (in a choice or a drawing), the first one told counts.
    let slip = judgement.rungs.iter().find_map(|rung| rung.slip.clone());
    let said = first.text.shown(&derivation.symbols);
    let good = !judgement.accepted
        && first.kind.key() == wrong.kind
        && slip == wrong.slip
        && wrong.says.as_deref().is_none_or(|words| said.contains(words))
        && judgement.rungs.iter().all(|rung| !rung.text.shown(&derivation.symbols).is_empty());
    let found = format!("{}, slip {slip:?}: {said}", first.kind.key());
    let expected = format!("{}, slip {:?}, with {:?}", wrong.kind, wrong.slip, wrong.says);
    (!good).then(|| {
        let verdict = if judgement.accepted { "accepted" } else { "refused" };
        format!("{step}: {}: expected {expected}; {verdict} with {found}", wrong.answer)
    })
}

#[test]
fn every_typing_error_is_the_one_that_was_made() {
    none(&in_each_step(|derivation, answers| {
        let mut deviations = Vec::new();
        for wrong in answers.wrong.iter().filter(|wrong| wrong.typing.is_some()) {
            let task = task_of(derivation, &answers.step).unwrap();
            let found = match read(&wrong.answer, &derivation.symbols, &task.readable) {
                Ok(_) => "none",
                Err(error) => name_of(&error.kind),
            };
            if Some(found) != wrong.typing.as_deref() {
                deviations
                    .push(format!("{}: {}: {:?}, found {found}", answers.step, wrong.answer, wrong.typing));
            }
        }
        deviations
    }));
}

fn name_of(kind: &ReadingErrorKind) -> &'static str {
    match kind {
        ReadingErrorKind::Empty => "Empty",
        ReadingErrorKind::TooLong => "TooLong",
        ReadingErrorKind::TooDeep => "TooDeep",
        ReadingErrorKind::TooLarge => "TooLarge",
        ReadingErrorKind::Character(_) => "Character",
        ReadingErrorKind::Stop => "Stop",
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
    let made: BTreeSet<String> = corpora()
        .into_iter()
        .flat_map(|corpus| corpus.steps)
        .flat_map(|answers| answers.wrong)
        .filter_map(|wrong| wrong.typing)
        .collect();
    assert_eq!(made.len(), 20, "{made:?}");
}

#[test]
fn every_mistake_of_a_derivation_is_made_twice_in_different_spelling() {
    none(&in_each_step(|derivation, answers| {
        let Some(task) = task_of(derivation, &answers.step) else { return Vec::new() };
        let mut rare = Vec::new();
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
        rare
    }));
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
    let (mut n_right, mut n_wrong) = (0, 0);
    for Corpus { derivation, steps: corpus } in corpora() {
        let steps: BTreeSet<&str> = derivation.steps.iter().map(|step| step.id.as_str()).collect();
        let answered: BTreeSet<&str> = corpus.iter().map(|answers| answers.step.as_str()).collect();
        assert_eq!(steps, answered);
        let mut right = BTreeSet::new();
        let mut wrong = BTreeSet::new();
        for answers in corpus.iter().filter(|answers| task_of(&derivation, &answers.step).is_some()) {
            for answer in &answers.right {
                let new = right.insert((&answers.step, answer));
                assert!(new, "{}: {answer} stands there twice", answers.step);
            }
            for item in &answers.wrong {
                let new = wrong.insert((&answers.step, &item.answer));
                assert!(new, "{}: {} stands there twice", answers.step, item.answer);
            }
        }
        assert!(right.is_disjoint(&wrong));
        println!("{}: {} right and {} wrong answers in algebra", derivation.id, right.len(), wrong.len());
        n_right += right.len();
        n_wrong += wrong.len();
    }
    assert!(n_right >= LEAST, "only {n_right} right answers");
    assert!(n_wrong >= LEAST, "only {n_wrong} wrong answers");
}
