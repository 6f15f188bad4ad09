//! The hand-written answers in `tests/answers`.

use crate::{turntable, two_masses};
use serde_json::Value;
use whorl_derivation::derivation::Derivation;

/// A derivation and the answers to all of its steps.
pub(crate) struct Corpus {
    pub(crate) derivation: Derivation,
    pub(crate) steps: Vec<StepAnswers>,
}

/// The answers to one step.
pub(crate) struct StepAnswers {
    pub(crate) step: String,
    pub(crate) right: Vec<String>,
    pub(crate) wrong: Vec<WrongAnswer>,
}

/// A wrong answer and what has to be said to it.
pub(crate) struct WrongAnswer {
    pub(crate) answer: String,
    /// The kind of feedback that comes first.
    pub(crate) kind: String,
    /// The mistake that has to be recognized.
    pub(crate) slip: Option<String>,
    /// The typing error that has to be found.
    pub(crate) typing: Option<String>,
    /// Words that have to occur in what is said first.
    pub(crate) says: Option<String>,
}

pub(crate) fn corpora() -> [Corpus; 2] {
    let two_masses =
        Corpus { derivation: two_masses(), steps: steps_in(include_str!("../answers/two-masses.json")) };
    [Corpus { derivation: turntable(), steps: hand_written() }, two_masses]
}

/// The answers to the steps of the main derivation.
pub(crate) fn hand_written() -> Vec<StepAnswers> {
    steps_in(include_str!("../answers/turntable.json"))
}

fn steps_in(text: &str) -> Vec<StepAnswers> {
    let document: Value = serde_json::from_str(text).unwrap();
    document["steps"].as_array().unwrap().iter().map(step_answers).collect()
}

fn step_answers(step: &Value) -> StepAnswers {
    StepAnswers {
        step: step["step"].as_str().unwrap().to_owned(),
        right: step["right"].as_array().unwrap().iter().map(entered).collect(),
        wrong: step["wrong"].as_array().unwrap().iter().map(wrong_answer).collect(),
    }
}

fn wrong_answer(item: &Value) -> WrongAnswer {
    let fields = item.as_object().unwrap();
    for name in fields.keys() {
        assert!(["answer", "kind", "slip", "typing", "says"].contains(&name.as_str()), "{item}");
    }
    let text = |name: &str| fields.get(name).map(|value| value.as_str().unwrap().to_owned());
    WrongAnswer {
        answer: entered(&fields["answer"]),
        kind: text("kind").unwrap(),
        slip: text("slip"),
        typing: text("typing"),
        says: text("says"),
    }
}

/// Algebra as it is typed; options and arrows as the JSON that they reach the judge in.
fn entered(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}
