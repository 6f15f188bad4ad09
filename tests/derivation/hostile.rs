//! Input that no student means: anything at all is answered, in words, in bounded time, without a panic.

use crate::{runner, turntable};
use proptest::prelude::*;
use std::cell::Cell;
use std::time::Duration;
use whorl_derivation::derivation::{Derivation, Step, Task};
use whorl_derivation::judge::{Judgement, RungKind, judge};
use whorl_derivation::reading::{Gap, MOST_CHARACTERS, MOST_NESTING, ReadingErrorKind, read};

const CASES: u32 = 1000;

/// What every judgement has to be, whatever was typed.
fn check(derivation: &Derivation, step: &Step, typed: &str, judgement: &Judgement) {
    let n_characters = typed.chars().count();
    assert!(!judgement.rungs.is_empty(), "{typed:?}");
    for rung in &judgement.rungs {
        assert!(!rung.text.shown(&derivation.symbols).trim().is_empty(), "{typed:?}: {:?}", rung.kind);
        if let Some(span) = &rung.span {
            assert!(span.start <= span.end && span.end <= n_characters, "{typed:?}: {span:?}");
        }
    }
    let first = judgement.rungs[0].kind;
    assert_eq!(judgement.accepted, first == RungKind::Meaning, "{}: {typed:?}", step.id);
    let report = judgement.to_json(derivation);
    assert!(report["text"].is_string() && report["kind"].is_string(), "{typed:?}");
}

/// Judges strings of a kind at one step, or at all; how many could be read as algebra.
fn fuzzed(only: Option<&str>, strings: impl Strategy<Value = String>) -> u32 {
    let derivation = turntable();
    let n_read = Cell::new(0);
    let is_wanted = |index: &usize| only.is_none_or(|only| derivation.steps[*index].id == only);
    let steps: Vec<usize> = (0..derivation.steps.len()).filter(is_wanted).collect();
    let outcome = runner(CASES).run(&(strings, prop::sample::select(steps)), |(typed, step)| {
        let step = &derivation.steps[step];
        let judgement = judge(&derivation, step, &typed);
        check(&derivation, step, &typed, &judgement);
        if judgement.answer.is_some() {
            n_read.set(n_read.get() + 1);
        }
        Ok(())
    });
    outcome.unwrap();
    n_read.get()
}

#[test]
fn any_text_is_answered() {
    fuzzed(None, any::<String>());
    fuzzed(None, "\\PC{0,40}");
    fuzzed(None, prop::collection::vec(any::<char>(), 0..600).prop_map(String::from_iter));
}

#[test]
fn any_string_of_what_answers_are_made_of_is_answered() {
    let pieces = [
        "m", "g", "a", "T", "R", "a_t", "alpha", "α", "tau_s", "τ_f", "I", "I_p", "_", "x", "2", "0", "0.5",
        ".", ",", "½", "²", "⁻¹", "^", "^2", "**", "^(-1)", "+", "-", "−", "*", "·", "/", "=", "(", ")", "[",
        "]", "{", "}", " ", "sqrt", "\u{301}", "₂", "ₛ",
    ];
    let piece = || prop::sample::select(pieces.to_vec());
    let of = |pieces: Vec<&str>| pieces.concat();
    let n_read = fuzzed(None, prop::collection::vec(piece(), 0..12).prop_map(of));
    fuzzed(None, prop::collection::vec(piece(), 0..300).prop_map(of));
    // Answers that differ from a right one in a few characters.
    let (right, at) = ("I = m*R^2*(g - a)/a - R/a", 0..25_usize);
    let near = prop::collection::vec((at, piece()), 1..4).prop_map(move |changes| {
        let mut characters: Vec<String> = right.chars().map(String::from).collect();
        for (place, piece) in changes {
            if let Some(character) = characters.get_mut(place) {
                piece.clone_into(character);
            }
        }
        characters.concat()
    });
    let n_read_near = fuzzed(Some("single-run"), near);
    println!("{n_read} and {n_read_near} of {CASES} could be read");
    // Else only the reading would have been tried.
    assert!(n_read_near >= CASES / 10, "hardly any could be read");
}

/// The tension step and what is said first there.
fn first_said(typed: &str) -> (Derivation, Judgement, Option<ReadingErrorKind>) {
    let derivation = turntable();
    let step = derivation.step("tension").unwrap();
    let judgement = judge(&derivation, step, typed);
    check(&derivation, step, typed, &judgement);
    let Task::Expression(task) = &step.task else { panic!("it is answered in algebra") };
    let error = read(typed, &derivation.symbols, &task.readable).err().map(|error| error.kind);
    (derivation, judgement, error)
}

#[track_caller]
fn refused_with(typed: &str, kind: &ReadingErrorKind) {
    let (derivation, judgement, error) = first_said(typed);
    assert!(!judgement.accepted);
    assert_eq!(error.as_ref(), Some(kind));
    assert_eq!(judgement.rungs[0].kind, RungKind::Reading);
    assert_eq!(judgement.rungs[0].text.shown(&derivation.symbols), kind.to_string());
}

#[test]
fn what_is_far_too_long_is_refused_with_the_number_of_characters_that_are_read() {
    for typed in far_too_long() {
        refused_with(&typed, &ReadingErrorKind::TooLong);
    }
    let said = ReadingErrorKind::TooLong.to_string();
    assert!(said.contains(&MOST_CHARACTERS.to_string()), "{said}");
}

fn far_too_long() -> Vec<String> {
    vec![
        "m".repeat(100_000),
        "m*(g-a)+".repeat(12_500),
        "€".repeat(100_000),
        " ".repeat(100_000),
        "9".repeat(100_000),
        "(".repeat(10_000),
        format!("{}m{}", "(".repeat(10_000), ")".repeat(10_000)),
        "[({".repeat(10_000),
        ")".repeat(10_000),
        "a+".repeat(10_000),
        "a^".repeat(10_000),
        "a^2".repeat(10_000),
        "-".repeat(10_000),
        "=".repeat(10_000),
        "1/".repeat(10_000),
    ]
}

#[test]
fn one_character_more_than_is_read_is_refused_and_the_longest_answer_is_judged() {
    let padded = format!("m*(g - {}a)", " ".repeat(MOST_CHARACTERS - 9));
    assert_eq!(padded.chars().count(), MOST_CHARACTERS);
    assert!(first_said(&padded).1.accepted);
    refused_with(&format!("{padded} "), &ReadingErrorKind::TooLong);
}

#[test]
fn brackets_are_read_as_deep_as_is_said_and_no_deeper() {
    let nested = |depth: usize| format!("{}m*(g-a){}", "(".repeat(depth), ")".repeat(depth));
    assert!(first_said(&nested(MOST_NESTING - 1)).1.accepted);
    refused_with(&nested(MOST_NESTING), &ReadingErrorKind::TooDeep);
    refused_with(&nested(MOST_NESTING + 1), &ReadingErrorKind::TooDeep);
    refused_with(&"(".repeat(MOST_CHARACTERS), &ReadingErrorKind::TooDeep);
    refused_with(&"(".repeat(MOST_NESTING), &ReadingErrorKind::Missing(Gap::Inside));
    let said = ReadingErrorKind::TooDeep.to_string();
    assert!(said.contains(&MOST_NESTING.to_string()), "{said}");
}

#[test]
fn chains_of_signs_and_powers_that_are_short_enough_to_be_read_are_answered() {
    // An even number of minus signs is none.
    assert!(first_said(&format!("{}m*(g-a)", "-".repeat(392))).1.accepted);
    assert!(!first_said(&format!("{}m*(g-a)", "-".repeat(391))).1.accepted);
    refused_with(&"a^".repeat(200), &ReadingErrorKind::Power);
    refused_with(&"a^2".repeat(133), &ReadingErrorKind::TooLarge);
    refused_with(&format!("a{}", "^2".repeat(100)), &ReadingErrorKind::PowerOfPower);
    refused_with(&"a+".repeat(200), &ReadingErrorKind::Missing(Gap::After("+")));
    refused_with(&"-".repeat(399), &ReadingErrorKind::Missing(Gap::After("−")));
}

/// Time is needed here, and here only: every other part of the project takes no clock.
#[expect(clippy::disallowed_types, reason = "this test runs on a computer, never in the browser")]
fn shortest(derivation: &Derivation, typed: &str) -> Duration {
    let step = derivation.step("single-run").unwrap();
    let once = |_| {
        let start = std::time::Instant::now();
        let judgement = judge(derivation, step, typed);
        let took = start.elapsed();
        assert!(!judgement.rungs.is_empty());
        took
    };
    // What else the computer does only makes a try longer.
    (0..8).map(once).min().unwrap()
}

#[test]
fn an_answer_far_too_long_takes_no_longer_than_one_of_usual_length() {
    let derivation = turntable();
    // Forty characters, wrong, so that slips, limits and numbers are tried too.
    let usual = "m*R^2*(g - a)/a - 2*tau_f*R/a + m*R*R/2 ";
    assert_eq!(usual.chars().count(), 40);
    let usual_time = shortest(&derivation, usual);
    println!("40 characters: {usual_time:?}");
    for typed in far_too_long() {
        let time = shortest(&derivation, &typed);
        let start: String = typed.chars().take(8).collect();
        println!("{} characters, {start}…: {time:?}", typed.chars().count());
        // At most 401 characters are looked at, ten times as many, and none of them is judged.
        assert!(time <= 10 * usual_time, "{start}… takes {time:?}, a usual answer {usual_time:?}");
    }
}

#[test]
fn time_does_not_run_away_with_the_length() {
    let derivation = turntable();
    let pieces = [
        "(m+g+a+R+tau_f)^12*",
        "(m+R)*(g+a)*(R+tau_f)*",
        "(m/R+g/a+R/m+a/g)^3/",
        "1/(1+m)+1/(1+R)+",
        "((1+a)^12)^3*((1-a)^12)^2*",
        "a/(m+",
        "a+",
        "R*",
        "-",
    ];
    for piece in pieces {
        let times = [100, 200, MOST_CHARACTERS].map(|length| {
            // With every bracket closed, and no more of them than are read.
            let n_open = if piece.ends_with("(m+") { MOST_NESTING * length / MOST_CHARACTERS } else { 0 };
            let n_pieces = if n_open > 0 { n_open } else { (length - 1) / piece.len() };
            let typed = format!("{}m{}", piece.repeat(n_pieces), ")".repeat(n_open));
            shortest(&derivation, &typed)
        });
        println!("{piece}: 100, 200, {MOST_CHARACTERS} characters: {times:?}");
        // A sum of n fractions has about n²/4 terms when it is multiplied out, found in n steps: n³, eight
        // times as long at twice the length, and as much again for whatever else the computer does. What
        // doubles with every further piece would take thousands of times as long.
        for pair in times.windows(2) {
            let factor = pair[1].as_secs_f64() / pair[0].as_secs_f64();
            assert!(factor <= 64.0, "{piece}: {factor:.1} times as long at twice the length: {times:?}");
        }
    }
}
