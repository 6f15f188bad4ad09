//! What the students wrote: their notes, and their conclusions.

use super::Sheet;
use crate::document::{Block, Section};
use crate::plain::text;
use whorl_core::hand_in::{HandIn, Prompt};
use whorl_words as words;

/// The lab's notes; `None` without any.
pub(super) fn notes(sheet: Sheet<'_>) -> Option<Section> {
    let notes = text(&sheet.lab.notes);
    (!notes.is_empty()).then(|| Section {
        heading: words::report_sheet::notes().to_owned(),
        blocks: vec![Block::Paragraph(notes)],
    })
}

pub(super) fn section(added: &HandIn) -> Section {
    let answer = |prompt: Prompt| {
        let answer = text(added.conclusion(prompt));
        Block::Answer {
            question: prompt.words().to_owned(),
            answer: if answer.is_empty() { words::report_sheet::no_answer().to_owned() } else { answer },
        }
    };
    Section {
        heading: words::report_sheet::conclusions().to_owned(),
        blocks: Prompt::ALL.into_iter().map(answer).collect(),
    }
}
