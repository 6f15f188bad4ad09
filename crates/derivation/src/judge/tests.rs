//! What is said to answers. Many more, against the derivations that come with Whorl, stand in
//! tests/derivation.

use super::*;
use crate::file;

const SMALL: &str = r#"{
  "format": "whorl-derivation", "version": 1, "id": "small", "title": "A small one",
  "about": "For the tests.",
  "quantities": [{"name": "a force", "unit": "N"}, {"name": "a mass", "unit": "kg"}],
  "symbols": [
    {"symbol": "m", "means": "mass", "unit": "kg", "value": 0.05},
    {"symbol": "g", "means": "free fall", "unit": "m/s^2", "value": 9.81},
    {"symbol": "a", "means": "acceleration", "unit": "m/s^2", "value": 0.4},
    {"symbol": "T", "means": "tension", "unit": "N", "value": 0.47},
    {"symbol": "R", "means": "radius", "unit": "m", "value": 0.02},
    {"symbol": "tau", "means": "torque", "unit": "N*m", "value": 0.0094}
  ],
  "slips": [{"id": "upward", "replace": {"a": "-a"}, "say": "Check the sign of $a$."}],
  "steps": [
    {"id": "tension", "title": "Tension", "ask": "Solve for $T$.", "meaning": "Less than the weight.",
     "hints": ["One.", "Two."], "worked": "$T = m g - m a$",
     "expression": {"target": "T", "answer": "m g - m a", "uses": ["m", "g", "a"],
       "slips": [{"id": "weight", "answers": ["m g"], "say": "That is the weight."}],
       "limits": [{"say": "Let $a$ go to 0", "symbol": "a", "to": "zero", "should": "m g"}],
       "balance": {"left": "m g - T", "left_words": "the resultant", "right": "m a", "right_words": "$m a$"}}},
    {"id": "torque", "title": "Torque", "ask": "Write $tau$.", "meaning": "Force times arm.",
     "expression": {"target": "tau", "answer": "R T", "uses": ["R", "T", "m", "g", "a"]}},
    {"id": "why", "title": "Why", "ask": "Choose.", "meaning": "Yes.",
     "choice": [
       {"id": "one", "ask": "First?", "options": [
         {"id": "yes", "say": "yes", "right": true}, {"id": "no", "say": "no", "feedback": "Think of $T$."}]},
       {"id": "two", "ask": "Second?", "options": [
         {"id": "up", "say": "up", "feedback": "Down."}, {"id": "down", "say": "down", "right": true}]}]},
    {"id": "draw", "title": "Draw", "ask": "Draw it.", "meaning": "Good.",
     "diagram": {
       "scene": {"told": "A block.", "shapes": [{"shape": "rectangle", "x": 40, "y": 40, "width": 20, "height": 20}]},
       "forces": [{"id": "weight", "name": "weight"}, {"id": "pull", "name": "pull"},
                  {"id": "motion", "name": "force of motion", "invented": "No body makes it."}],
       "places": [{"id": "middle", "name": "the middle", "x": 50, "y": 50}, {"id": "top", "name": "the top", "x": 50, "y": 40}],
       "needed": [
         {"force": "weight", "direction": "down", "at": ["middle"], "missing": "No weight?", "wrong_direction": "Which way?", "wrong_place": "From where?"},
         {"force": "pull", "direction": "up", "at": ["top"], "missing": "What holds it?", "wrong_direction": "Pull!", "wrong_place": "Where is it tied?"}],
       "lengths": [{"shorter": "pull", "longer": "weight", "say": "It speeds up downward."}]}}
  ]
}"#;

/// Accepted, and the kinds of all rungs.
fn judged(step: &str, entered: &str) -> (bool, Vec<&'static str>, String) {
    let derivation = file::open(SMALL).unwrap();
    let judgement = judge(&derivation, derivation.step(step).unwrap(), entered);
    let kinds = judgement.rungs.iter().map(|rung| rung.kind.key()).collect();
    (judgement.accepted, kinds, judgement.rungs[0].text.shown(&derivation.symbols))
}

#[track_caller]
fn says(step: &str, entered: &str, kinds: &[&str], text: &str) {
    let (accepted, found, first) = judged(step, entered);
    assert_eq!(
        (accepted, found.as_slice(), first.as_str()),
        (kinds == ["meaning"], kinds, text),
        "{entered}"
    );
}

#[test]
fn the_ladder_goes_from_the_least_telling_to_the_most() {
    says("tension", "T = m(g-a)", &["meaning"], "Less than the weight.");
    says("tension", "m g", &["slip", "number", "hint", "hint", "worked"], "That is the weight.");
    says(
        "tension",
        "T = m g + R",
        &["dimension", "symbol", "hint", "hint", "worked"],
        "m·g is a force (N), but R is something in m. Only quantities of the same kind can be added or subtracted.",
    );
    says("tension", "m(g + a)", &["slip", "number", "hint", "hint", "worked"], "Check the sign of a.");
    says(
        "tension",
        "m a",
        &["limit", "number", "hint", "hint", "worked"],
        "Let a go to 0: your T tends to 0. What should it be? ",
    );
    says(
        "tension",
        "m g - m a/2",
        &["number", "hint", "hint", "worked"],
        "With m = 0.05 kg, g = 9.81 m/s², a = 0.4 m/s² your T comes to 0.481 N. Then the resultant is 0.0100 N, but m·a is 0.0200 N. The two have to be equal.",
    );
    says(
        "tension",
        "m g - T = m a",
        &["form", "hint", "hint", "worked"],
        "This is right. Now solve it for T: it should stand alone on the left and not occur on the right.",
    );
    says(
        "tension",
        "T = T",
        &["form", "hint", "hint", "worked"],
        "Both sides are the same, so this is true whatever the values are and says nothing about T.",
    );
    let (accepted, kinds, _) = judged("tension", "m(g -");
    assert_eq!((accepted, kinds), (false, vec!["reading"]));
}

#[test]
fn what_was_found_before_may_be_put_in() {
    says("torque", "R T", &["meaning"], "Force times arm.");
    says("torque", "tau = m (g - a) R", &["meaning"], "Force times arm.");
    // No hint is given in the file: something is said all the same.
    let (accepted, kinds, _) = judged("torque", "R T/2");
    assert_eq!((accepted, kinds), (false, vec!["hint"]));
}

#[test]
fn a_division_that_was_meant_otherwise_is_asked_about() {
    let (accepted, kinds, text) = judged("torque", "R T m/1 m");
    // m/1·m is m², m/(1·m) is 1.
    assert!(!accepted);
    assert_eq!(kinds, ["reading"]);
    assert!(text.contains("If you mean R·T·m/(1·m)"), "{text}");
}

#[test]
fn choices_are_answered_one_by_one() {
    says("why", r#"{"one": "yes", "two": "down"}"#, &["meaning"], "Yes.");
    says("why", r#"{"one": "no", "two": "down"}"#, &["slip"], "Think of T.");
    says("why", r#"{"one": "no"}"#, &["form", "slip"], "Nothing is chosen yet for: Second?");
    says("why", r#"{"one": "maybe"}"#, &["reading"], "“one” has no option “maybe”; its options are yes, no.");
    says("why", "yes", &["reading"], "Expected the options chosen as {\"question\": \"option\"}.");
}

#[test]
fn diagrams_are_told_what_is_wrong() {
    let arrow = |force: &str, at: &str, direction: &str, length: u8| {
        format!(r#"{{"force":"{force}","at":"{at}","direction":"{direction}","length":{length}}}"#)
    };
    let weight = arrow("weight", "middle", "down", 4);
    let drawn = |arrows: &[&str]| format!("[{}]", arrows.join(","));
    says("draw", &drawn(&[&weight, &arrow("pull", "top", "up", 3)]), &["meaning"], "Good.");
    says("draw", &drawn(&[&weight, &arrow("pull", "top", "up", 4)]), &["slip"], "It speeds up downward.");
    says("draw", &drawn(&[&weight]), &["slip"], "What holds it?");
    says("draw", &drawn(&[&weight, &arrow("pull", "middle", "up", 3)]), &["slip"], "Where is it tied?");
    says("draw", &drawn(&[&weight, &arrow("pull", "top", "left", 3)]), &["slip"], "Pull!");
    says(
        "draw",
        &drawn(&[&arrow("motion", "top", "down", 3)]),
        &["slip", "slip", "slip"],
        "No body makes it.",
    );
    says("draw", "[]", &["form"], "There is no arrow yet. Choose a force and place it where it acts.");
    says(
        "draw",
        &drawn(&[&arrow("weight", "middle", "down", 9)]),
        &["reading"],
        "Arrow 1: expected a length from 1 to 5.",
    );
}

#[test]
fn what_is_entered_is_written_as_it_is_read() {
    let derivation = file::open(SMALL).unwrap();
    let Task::Diagram(task) = &derivation.step("draw").unwrap().task else { unreachable!("a diagram") };
    let placed = vec![Arrow { force: 1, place: 1, direction: Direction::UpRight, length: 5 }];
    assert_eq!(arrows(task, &write_arrows(task, &placed)), Ok(placed));
    let Task::Choice(questions) = &derivation.step("why").unwrap().task else { unreachable!("a choice") };
    let made = vec![None, Some(1)];
    assert_eq!(chosen(questions, &write_chosen(questions, &made)), Ok(made));
}

#[test]
fn mathematics_and_decimals_stand_where_the_language_has_them() {
    use whorl_words::{DecimalMark, Language, Translation, speak, table, use_decimal_mark};
    let spanish =
        table(Language::Spanish).map(|table| Translation::read(Language::Spanish, table.to_owned()));
    speak(spanish.map(Result::unwrap));
    use_decimal_mark(DecimalMark::Comma);
    let all = |step: &str, entered: &str| {
        let derivation = file::open(SMALL).unwrap();
        let judgement = judge(&derivation, derivation.step(step).unwrap(), entered);
        judgement.rungs.iter().map(|rung| rung.text.shown(&derivation.symbols)).collect::<Vec<_>>()
    };
    let said = all("tension", "m*g-0.5*m*a");
    assert!(
        said[0].starts_with("Con m = 0,05 kg, g = 9,81 m/s², a = 0,4 m/s², tu T resulta ser 0,481 N."),
        "{said:?}"
    );
    assert_eq!(all("tension", "m")[0], "Tu respuesta es a mass (kg); T es a force (N).");
}
