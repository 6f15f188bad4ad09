//! What a student derived: the accepted answers of the pre-lab.

use whorl_core::prelab::Prelab;
use whorl_derivation::derivation::{Derivation, Step, Task};
use whorl_derivation::expression::Answer;
use whorl_derivation::reading::read;

/// The accepted answers in algebra, in the order of the steps, each about its step's target.
pub fn accepted<'a>(prelab: &Prelab, derivation: &'a Derivation) -> Vec<(&'a Step, Answer)> {
    let answer = |step: &'a Step| {
        let Task::Expression(task) = &step.task else { return None };
        let text = prelab.step(&step.id)?.accepted.as_ref()?;
        let answer = read(text, &derivation.symbols, &task.readable).ok()?.answer;
        Some((step, answer.about(task.target)))
    };
    derivation.steps.iter().filter_map(answer).collect()
}
