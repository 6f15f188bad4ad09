//! Files that can be read in more than one way.

use super::corpus::{Case, read_as};
use super::truth::{loose_ends, questions, runs_differ, words};
use whorl_core::readings::{Choices, Understood};

pub(crate) fn complaints(case: &Case) -> Vec<String> {
    let understood = match read_as(&case.bytes, "") {
        Ok(understood) => understood,
        Err(errors) => return vec![format!("refused: {}", words(&errors))],
    };
    let mut told = loose_ends(&understood);
    if understood.layout.questions.is_empty() {
        told.push("does not ask".to_owned());
    }
    for answer in case.truth["answers"].as_array().unwrap() {
        let choice = answer["choice"].as_str().unwrap();
        if !offers(&understood, choice) {
            told.push(format!("“{choice}” is not among the answers: {}", questions(&understood)));
        }
        let said = format!("{choice};{}", answer["also"].as_str().unwrap());
        told.extend(
            after(case, &said, &answer["runs"]).into_iter().map(|what| format!("after {said} {what}")),
        );
    }
    told
}

/// Whether an answer says this, alone or with more.
fn offers(understood: &Understood, choice: &str) -> bool {
    let mut answers = understood.layout.questions.iter().flat_map(|question| &question.answers);
    answers.any(|answer| {
        let mut said = Choices::default();
        answer.choices.iter().for_each(|&each| said.set(each));
        said.to_text().split(';').any(|part| part == choice)
    })
}

fn after(case: &Case, choice: &str, runs: &serde_json::Value) -> Vec<String> {
    match read_as(&case.bytes, choice) {
        Err(errors) => vec![format!("refused: {}", words(&errors))],
        Ok(answered) => {
            let mut told = runs_differ(&answered.runs, runs);
            if !answered.layout.questions.is_empty() {
                told.push(format!("asks again: {}", questions(&answered)));
            }
            told
        }
    }
}
