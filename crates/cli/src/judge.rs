//! `whorl judge`: what the pre-lab says to an answer.

use crate::read_text;
use serde_json::{Value, json};
use std::path::Path;
use whorl_derivation::derivation::{Derivation, Step, Task};
use whorl_derivation::file;
use whorl_derivation::judge::judge;

/// What is to be judged.
pub(crate) struct Request<'a> {
    derivation: &'a str,
    answers: Answers<'a>,
}

enum Answers<'a> {
    /// None: list the steps.
    None,
    /// Step and answer.
    One(&'a str, &'a str),
    /// A file of them.
    File(&'a str),
}

impl<'a> Request<'a> {
    /// From the words behind `judge`; `None` when they make no call.
    pub(crate) fn from_words(words: &[&'a str]) -> Option<Self> {
        let (derivation, answers) = match *words {
            ["--derivation", derivation] => (derivation, Answers::None),
            ["--derivation", derivation, "--step", step, answer]
            | ["--step", step, "--derivation", derivation, answer] => {
                (derivation, Answers::One(step, answer))
            }
            ["--derivation", derivation, "--answers", answers] => (derivation, Answers::File(answers)),
            _ => return None,
        };
        Some(Self { derivation, answers })
    }

    /// The output as JSON.
    pub(crate) fn answer(&self) -> Result<String, String> {
        let text = read_text(Path::new(self.derivation), "save the derivation as UTF-8")?;
        let derivation = file::open(&text).map_err(|problem| format!("{}: {problem}", self.derivation))?;
        let output = match self.answers {
            Answers::None => overview(&derivation),
            Answers::One(step, answer) => one(&derivation, step, answer)?,
            Answers::File(path) => many(&derivation, path)?,
        };
        Ok(format!("{output:#}\n"))
    }
}

fn overview(derivation: &Derivation) -> Value {
    let step = |step: &Step| {
        let kind = match &step.task {
            Task::Expression(_) => "expression",
            Task::Choice(_) => "choice",
            Task::Diagram(_) => "diagram",
        };
        json!({"id": step.id, "title": step.title, "kind": kind, "optional": step.optional})
    };
    let steps: Vec<Value> = derivation.steps.iter().map(step).collect();
    json!({"derivation": derivation.id, "title": derivation.title, "steps": steps})
}

fn one(derivation: &Derivation, id: &str, answer: &str) -> Result<Value, String> {
    let step = derivation.step(id).ok_or_else(|| {
        let all: Vec<&str> = derivation.steps.iter().map(|step| step.id.as_str()).collect();
        format!("there is no step “{id}”; the steps are {}", all.join(", "))
    })?;
    let mut output = judge(derivation, step, answer).to_json(derivation);
    if let Some(fields) = output.as_object_mut() {
        fields.insert("step".to_owned(), json!(id));
    }
    Ok(output)
}

fn many(derivation: &Derivation, path: &str) -> Result<Value, String> {
    let text = read_text(Path::new(path), "save the answers as UTF-8")?;
    let document: Value = serde_json::from_str(&text).map_err(|error| format!("{path}: {error}"))?;
    let items = document.as_array().ok_or_else(|| format!("{path}: expected a list in [ ]"))?;
    let judged = |(index, item): (usize, &Value)| {
        let text = |name: &str| {
            let found = item.get(name).and_then(Value::as_str);
            found.ok_or_else(|| format!("{path}, at [{index}].{name}: expected text in quotes"))
        };
        one(derivation, text("step")?, text("answer")?)
            .map_err(|problem| format!("{path}, at [{index}]: {problem}"))
    };
    items.iter().enumerate().map(judged).collect::<Result<Vec<_>, _>>().map(Value::Array)
}
