//! The hand-written answers in `tests/answers/turntable.json`.

use serde_json::Value;

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
}

pub(crate) fn hand_written() -> Vec<StepAnswers> {
    let document: Value = serde_json::from_str(include_str!("../answers/turntable.json")).unwrap();
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
        assert!(["answer", "kind", "slip", "typing"].contains(&name.as_str()), "{item}");
    }
    let text = |name: &str| fields.get(name).map(|value| value.as_str().unwrap().to_owned());
    WrongAnswer {
        answer: entered(&fields["answer"]),
        kind: text("kind").unwrap(),
        slip: text("slip"),
        typing: text("typing"),
    }
}

/// Algebra as it is typed; options and arrows as the JSON that they reach the judge in.
fn entered(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}
