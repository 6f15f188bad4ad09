//! The second derivation, two masses on one pulley: what its file holds, and copies of it with one place
//! spoiled. Answers to its steps stand in `tests/answers/two-masses.json`.

use crate::two_masses;
use whorl_derivation::derivation::Task;
use whorl_derivation::file::open;

pub(crate) const FILE: &str = include_str!("../../web/derivations/two-masses.json");

/// What is said about a copy of the file in which `original`, where it first stands, is replaced.
#[track_caller]
fn spoiled(original: &str, by: &str, complaint: &str) {
    assert!(FILE.contains(original), "{original} does not occur");
    let found = open(&FILE.replacen(original, by, 1)).unwrap_err().to_string();
    assert!(found.starts_with(complaint), "{found}");
}

#[test]
fn the_file_opens_and_has_all_steps_in_order() {
    let derivation = two_masses();
    let steps: Vec<(&str, bool)> =
        derivation.steps.iter().map(|step| (step.id.as_str(), step.optional)).collect();
    assert_eq!(
        steps,
        [
            ("forces-heavier", false),
            ("forces-lighter", false),
            ("tension-heavier", false),
            ("tension-lighter", false),
            ("no-slip", false),
            ("torques-on-pulley", false),
            ("acceleration", false),
            ("two-tensions", false),
            ("massless-pulley", true),
            ("graph", false),
        ]
    );
}

#[test]
fn every_step_has_hints_and_every_algebra_step_is_worked_out() {
    for step in two_masses().steps {
        assert!(step.hints.len() >= 2, "{}", step.id);
        assert!(!step.meaning.is_empty(), "{}", step.id);
        if let Task::Expression(task) = &step.task {
            assert!(step.worked.is_some(), "{}", step.id);
            assert!(
                task.slips.len() >= 4 && !task.limits.is_empty() && task.balance.is_some(),
                "{}",
                step.id
            );
        }
    }
}

#[test]
fn the_usual_values_satisfy_every_result() {
    let derivation = two_masses();
    let usual = |id| derivation.symbols.get(id).unwrap().value;
    for step in derivation.steps.iter().filter(|step| !step.optional) {
        if let Task::Expression(task) = &step.task {
            let (found, expected) = (task.answer.evaluate(&usual), usual(task.target));
            assert!((found / expected - 1.0).abs() < 1e-12, "{}: {found} for {expected}", step.id);
        }
    }
}

#[test]
fn about_tells_how_to_stay_safe() {
    let derivation = two_masses();
    let about = derivation.about.shown(&derivation.symbols);
    for caution in ["land on something soft", "feet", "your instructor’s rules"] {
        assert!(about.contains(caution), "{about}");
    }
}

#[test]
fn a_misspelled_field_is_named_with_its_place() {
    spoiled("\"hints\"", "\"hint\"", "at steps[0].hint: there is no such field; known are id, title, ");
    spoiled("\"license\"", "\"licence\"", "at licence: there is no such field");
    spoiled("\"means\"", "\"meaning\"", "at symbols[0].meaning: there is no such field; known are symbol, ");
    spoiled("\"told\"", "\"text\"", "at steps[0].diagram.scene.text: there is no such field");
    spoiled("\"uses\"", "\"use\"", "at steps[2].expression.use: there is no such field");
    spoiled(
        "\"feedback\"",
        "\"say_back\"",
        "at steps[7].choice[0].options[1].say_back: there is no such field",
    );
}

#[test]
fn a_value_of_the_wrong_type_is_named_with_its_place() {
    spoiled("\"version\": 1", "\"version\": \"1\"", "at version: expected a whole number");
    spoiled("\"value\": 0.09", "\"value\": \"0.09\"", "at symbols[0].value: expected a number");
    spoiled("\"x1\": 50", "\"x1\": \"50\"", "at steps[0].diagram.scene.shapes[0].x1: expected a number");
    spoiled(
        "\"at\": [\"middle\"]",
        "\"at\": \"middle\"",
        "at steps[0].diagram.needed[0].at: expected a list",
    );
    spoiled("\"optional\": true", "\"optional\": 1", "at steps[8].optional: expected true or false");
    spoiled(
        "[1, 0.8]]",
        "[1, 1.8]]",
        "at steps[9].choice[0].options[0].sketch.curves[0][6]: expected [x, y]",
    );
}

#[test]
fn a_value_that_contradicts_the_physics_is_named_with_its_place() {
    // The answer's own value as a mistake, a limit it does not have, a balance it does not keep.
    spoiled(
        "\"answers\": [\"m_1*g\"]",
        "\"answers\": [\"m_1*g - a*m_1\"]",
        "at steps[2].expression.slips[0].answers[0]: this is the right answer",
    );
    spoiled(
        "\"should\": \"m_1*g\"",
        "\"should\": \"0\"",
        "at steps[2].expression.limits[0].should: the right answer does not tend to this",
    );
    spoiled(
        "\"right\": \"m_1*a\"",
        "\"right\": \"m_1*g\"",
        "at steps[2].expression.balance: the two sides are not equal",
    );
    spoiled(
        "\"uses\": [\"m_1\", \"g\", \"a\"]",
        "\"uses\": [\"m_1\", \"g\"]",
        "at steps[2].expression.uses: the answer contains a",
    );
}
