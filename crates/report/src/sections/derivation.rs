//! The derivation, in the student's own expressions.

use super::Sheet;
use crate::derived::accepted;
use crate::document::{Block, Section};
use crate::math::Math;
use whorl_words as words;

pub(super) fn section(sheet: Sheet<'_>) -> Section {
    let prelab = &sheet.lab.prelab;
    let mut blocks = Vec::new();
    match sheet.derivation.filter(|_| prelab.derivation.is_some()) {
        None => {
            let why = if prelab.derivation.is_some() {
                words::report_sheet::derivation_not_at_hand()
            } else {
                words::report_sheet::derivation_not_begun()
            };
            blocks.push(Block::Paragraph(why.to_owned()));
        }
        Some(derivation) => {
            let done = |step: &&whorl_derivation::derivation::Step| {
                prelab.step(&step.id).is_some_and(|record| record.accepted.is_some())
            };
            let asked = || derivation.steps.iter().filter(|step| !step.optional);
            blocks.push(Block::Paragraph(words::report_sheet::derived(
                &derivation.title,
                &asked().filter(done).count(),
                &asked().count(),
            )));
            let formulas: Vec<_> = accepted(prelab, derivation)
                .iter()
                .map(|(step, answer)| (step.title.clone(), Math::answer(answer, &derivation.symbols)))
                .collect();
            if !formulas.is_empty() {
                blocks.push(Block::Formulas(formulas));
            }
        }
    }
    Section { heading: words::report_sheet::derivation().to_owned(), blocks }
}
