//! One step: what is asked, what was found before, the answer, what is said to it.

use super::ladder::{self, Ladder};
use super::{algebra, choice, diagram};
use crate::controls::{disclosure, displayed, prose};
use crate::dom::{El, el};
use crate::prelab::PrelabState;
use leptos::prelude::*;
use std::rc::Rc;
use std::sync::Arc;
use whorl_derivation::derivation::{Derivation, Step, Task};
use whorl_derivation::judge::{arrows, judge, write_arrows};
use whorl_words as words;

/// A step of a derivation that is open.
#[derive(Clone)]
pub(super) struct OpenStep {
    pub(super) prelab: PrelabState,
    pub(super) derivation: Arc<Derivation>,
    index: usize,
}

impl OpenStep {
    pub(super) fn step(&self) -> &Step {
        // Never out of range: made from the derivation's own steps, of which there is at least one.
        self.derivation.steps.get(self.index).unwrap_or_else(|| ladder::first(&self.derivation))
    }

    /// Judges what was entered and keeps the record.
    pub(super) fn check(&self, entered: &str, ladder: Ladder) {
        let judgement = judge(&self.derivation, self.step(), entered);
        self.prelab.change(self.step(), |record| {
            if record.accepted.is_none() {
                record.attempts += 1;
            }
            if judgement.accepted {
                record.accepted = Some(entered.to_owned());
            }
        });
        ladder.show(judgement, entered);
    }
}

/// The step as a disclosure: nothing is built before it is opened.
pub(super) fn step(prelab: PrelabState, derivation: &Arc<Derivation>, index: usize) -> El {
    let open = OpenStep { prelab, derivation: Arc::clone(derivation), index };
    let (title, id, optional) = (open.step().title.clone(), open.step().id.clone(), open.step().optional);
    let (done, told) = (open.clone(), open.clone());
    let state = move || match (done.prelab.is_done(done.step()), optional) {
        (true, _) => words::prelab::done(),
        (false, true) => words::prelab::deeper(),
        (false, false) => words::prelab::to_do(),
    };
    let summary = el("summary")
        .live_class("done", move || told.prelab.is_done(told.step()))
        .with(el("span.title").with(format!("{}. {title}", index + 1)))
        .with(" ")
        .with(el("span.state").live_text(move || state().to_owned()));
    let content = move || {
        open.prelab.start_clock();
        untrack(|| content(&open))
    };
    el("li").attr("id", &format!("step-{id}")).with(disclosure("details.step", summary, content))
}

fn content(open: &OpenStep) -> Vec<El> {
    let symbols = &open.derivation.symbols;
    let ladder = Ladder::new();
    let mut parts = vec![prose("p.ask", &open.step().ask, symbols)];
    let before = open.clone();
    let found = move || {
        let found = before.prelab.found_before(&before.derivation, &before.step().id);
        let view = |answer| el("li").with(displayed(answer, &before.derivation.symbols));
        if found.is_empty() {
            return Vec::new();
        }
        vec![
            el("p.hint").with(words::prelab::found_so_far()),
            el("ul.found").with(found.iter().map(view).collect::<Vec<_>>()),
        ]
    };
    if matches!(open.step().task, Task::Expression(_)) {
        parts.push(el("div").live(found));
    }
    parts.push(match &open.step().task {
        Task::Expression(_) => algebra::entry(open, ladder),
        Task::Choice(questions) => choice::questions(open, questions, ladder),
        Task::Diagram(task) => {
            let task = Rc::new(task.clone());
            let (shown, to_write) = (Rc::clone(&task), Rc::clone(&task));
            let (now, changed, checked) = (open.clone(), open.clone(), open.clone());
            let placed = move || arrows(&shown, &now.prelab.entered(now.step())).unwrap_or_default();
            let on_change = move |arrows: Vec<_>| {
                ladder.clear_if_accepted();
                let entered = write_arrows(&to_write, &arrows);
                changed.prelab.change(changed.step(), |record| record.entered = entered);
            };
            el("div.diagram-task")
                .with(diagram::diagram(task, placed, on_change))
                .with(check_button(&checked, ladder))
        }
    });
    parts.push(ladder::view(open, ladder));
    parts
}

/// “Check”, for tasks that are no form.
pub(super) fn check_button(open: &OpenStep, ladder: Ladder) -> El {
    let open = open.clone();
    let check = move || open.check(&untrack(|| open.prelab.entered(open.step())), ladder);
    el("button.main").attr("type", "button").with(words::prelab::check()).on_click(check)
}
