//! The pre-lab at a glance, for the teacher: on screen and on paper.

use crate::controls::{answer_view, disclosure, scrolled};
use crate::dom::{El, document, el};
use crate::prelab::PrelabState;
use leptos::prelude::*;
use std::sync::Arc;
use whorl_core::prelab::StepRecord;
use whorl_derivation::derivation::{Derivation, Step, Task};
use whorl_words as words;

/// A disclosure with a row per step, and a way to print it. While it is closed, no key pays for it.
pub(super) fn summary(prelab: PrelabState, derivation: &Arc<Derivation>) -> El {
    let derivation = Arc::clone(derivation);
    let heading = el("summary").with(words::prelab::summary());
    disclosure("details.prelab-summary", heading, move || {
        let name = el("p.on-paper").with(words::prelab::name());
        vec![name, table(prelab, &derivation), print_button()]
    })
}

fn table(prelab: PrelabState, derivation: &Arc<Derivation>) -> El {
    let derivation = Arc::clone(derivation);
    let rows = move || derivation.steps.iter().map(|step| row(prelab, &derivation, step)).collect();
    let head = [
        words::prelab::column_step(),
        words::prelab::column_answer(),
        words::prelab::column_checks(),
        words::prelab::column_hints(),
        words::prelab::column_time(),
    ];
    let table = el("table.summary")
        .with(el("caption").with(words::prelab::summary_caption()))
        .with(
            el("thead")
                .with(el("tr").with(head.map(|name| el("th").attr("scope", "col").with(name)).to_vec())),
        )
        .with(el("tbody").live(rows));
    scrolled(words::prelab::summary_table(), table)
}

fn print_button() -> El {
    let print = || {
        if let Some(body) = document().body() {
            // The style sheet for paper then shows the summary alone.
            let _ = body.class_list().add_1("print-prelab");
            let _ = window().print();
            let _ = body.class_list().remove_1("print-prelab");
        }
    };
    el("button").attr("type", "button").with(words::prelab::print()).on_click(print)
}

fn row(prelab: PrelabState, derivation: &Derivation, step: &Step) -> El {
    let record = prelab.read(|record| record.step(&step.id).cloned()).unwrap_or_default();
    let cell = |text: String| el("td").with(text);
    let answer = match (&record.accepted, prelab.accepted_answer(derivation, step)) {
        (None, _) => {
            el("td").with(if step.optional { words::prelab::left_out() } else { words::prelab::to_do() })
        }
        (Some(_), Some(answer)) => el("td").with(answer_view(&answer, &derivation.symbols)),
        (Some(_), None) => el("td").with(match step.task {
            Task::Diagram(_) => words::prelab::diagram_accepted(),
            _ => words::prelab::all_answered(),
        }),
    };
    let hints = match (record.hints, record.worked) {
        (hints, true) => words::prelab::hints_and_worked(&hints),
        (hints, false) => hints.to_string(),
    };
    el("tr")
        .with(el("th").attr("scope", "row").with(step.title.clone()))
        .with(answer)
        .with(cell(record.attempts.to_string()))
        .with(cell(hints))
        .with(cell(time(&record)))
}

fn time(record: &StepRecord) -> String {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "never negative; days at most"
    )]
    let seconds = record.seconds.round() as u64;
    format!("{} min {:02} s", seconds / 60, seconds % 60)
}
