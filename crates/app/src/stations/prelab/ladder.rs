//! What is said to an answer: one rung at a time.

use super::step::OpenStep;
use crate::controls::prose;
use crate::dom::{El, el};
use crate::focus::{focus, keep_in_window};
use leptos::prelude::*;
use std::sync::Arc;
use whorl_derivation::derivation::{Derivation, Step, Task};
use whorl_derivation::judge::{Judgement, Rung, RungKind};
use whorl_words as words;

/// What the last answer came to, and how much of it is shown.
#[derive(Clone, Copy)]
pub(super) struct Ladder {
    judged: RwSignal<Option<Arc<Judged>>>,
    shown: RwSignal<u32>,
}

struct Judged {
    judgement: Judgement,
    entered: String,
}

impl Ladder {
    pub(super) fn new() -> Self {
        Self { judged: RwSignal::new(None), shown: RwSignal::new(0) }
    }

    /// Shows what is to be said first. The same wrong answer once more goes one rung down, but not to
    /// help: that is asked for, and recorded.
    pub(super) fn show(self, judgement: Judgement, entered: &str) {
        let same = |judged: &Option<Arc<Judged>>| {
            judged.as_ref().is_some_and(|judged| judged.entered.trim() == entered.trim())
        };
        let again = self.judged.with_untracked(same) && !judgement.accepted;
        if !again {
            self.shown.set(1);
        } else if untrack(|| self.next()).is_some_and(|next| !next.is_help()) {
            self.shown.update(|shown| *shown += 1);
        }
        self.judged.set(Some(Arc::new(Judged { judgement, entered: entered.to_owned() })));
    }

    /// Forgets what was said: the answer is being changed.
    pub(super) fn clear_if_accepted(self) {
        let accepted = |judged: &Option<Arc<Judged>>| judged.as_ref().is_some_and(|j| j.judgement.accepted);
        if self.judged.with_untracked(accepted) {
            self.judged.set(None);
        }
    }

    fn n_shown(self) -> usize {
        usize::try_from(self.shown.get()).unwrap_or(usize::MAX)
    }

    fn next(self) -> Option<RungKind> {
        self.judged.with(|judged| {
            let rungs = &judged.as_ref()?.judgement.rungs;
            rungs.get(self.n_shown()).map(|rung| rung.kind)
        })
    }
}

/// The rungs shown, and the way to the next one.
pub(super) fn view(open: &OpenStep, ladder: Ladder) -> El {
    let (told, asked, next) = (open.clone(), open.clone(), open.clone());
    let rungs = move || {
        let Some(judged) = ladder.judged.get() else { return already(&told) };
        let rungs = judged.judgement.rungs.iter().take(ladder.n_shown());
        rungs.map(|rung| view_of(rung, &judged.entered, &told)).collect()
    };
    let said = el("div").attr("role", "status").attr("tabindex", "-1");
    let place = said.clone();
    let more = move || {
        let Some(kind) = ladder.next() else { return };
        if kind.is_help() {
            asked.prelab.change(asked.step(), |record| {
                if record.accepted.is_none() {
                    record.hints += u32::from(kind == RungKind::Hint);
                    record.worked |= kind == RungKind::Worked;
                }
            });
        }
        ladder.shown.update(|shown| *shown += 1);
        if untrack(|| ladder.next().is_none()) {
            // The button goes away with the last rung; the focus stays with what is said.
            focus(place.node());
        }
        // What is said pushes the button down.
        keep_in_window();
    };
    let words = move || match ladder.next() {
        Some(RungKind::Hint) => words::prelab::give_hint(),
        Some(RungKind::Worked) => words::prelab::show_step(),
        _ => words::prelab::tell_more(),
    };
    let on = move || {
        let open = ladder.judged.with(|judged| judged.as_ref().is_some_and(|j| j.judgement.accepted));
        if open { next_step(&next).into_iter().collect() } else { Vec::new() }
    };
    el("div.ladder")
        .with(said.live(rungs))
        .with(
            el("button")
                .attr("type", "button")
                .live_flag("hidden", move || ladder.next().is_none())
                .live_text(move || words().to_owned())
                .on_click(more),
        )
        .with(el("p").live(on))
}

/// What a step that was done before says when it is opened again, unless something else stands in it
/// by now.
fn already(open: &OpenStep) -> Vec<El> {
    let symbols = &open.derivation.symbols;
    let stands = open.prelab.read_once(|record| {
        record.step(&open.step().id).is_some_and(|own| own.accepted.as_ref() == Some(&own.entered))
    });
    if !stands {
        return Vec::new();
    }
    vec![el("div.rung.right").with(mark(words::prelab::accepted())).with(prose(
        "span",
        &open.step().meaning,
        symbols,
    ))]
}

fn mark(words: &str) -> El {
    el("strong").with(words).with(" ")
}

fn view_of(rung: &Rung, entered: &str, open: &OpenStep) -> El {
    let (class, words) = match rung.kind {
        RungKind::Meaning => ("rung right", words::prelab::accepted()),
        RungKind::Reading => ("rung", words::prelab::rung_reading()),
        RungKind::Form if matches!(open.step().task, Task::Expression(_)) => {
            ("rung", words::prelab::rung_form())
        }
        RungKind::Dimension => ("rung", words::prelab::rung_dimension()),
        RungKind::Form | RungKind::Slip => ("rung", words::prelab::not_yet()),
        RungKind::Symbol => ("rung", words::prelab::rung_symbol()),
        RungKind::Limit => ("rung", words::prelab::rung_limit()),
        RungKind::Number => ("rung", words::prelab::rung_number()),
        RungKind::Hint => ("rung help", words::prelab::rung_hint()),
        RungKind::Worked => ("rung help", words::prelab::rung_worked()),
    };
    let pointed = match (&rung.span, &rung.kind) {
        (Some(span), RungKind::Reading | RungKind::Dimension | RungKind::Symbol) => {
            Some(pointed(entered, span.start, span.end))
        }
        _ => None,
    };
    el("div")
        .attr("class", class)
        .with(mark(words))
        .with(prose("span", &rung.text, &open.derivation.symbols))
        .with(pointed)
}

/// The answer with the characters in question marked.
pub(super) fn pointed(entered: &str, from: usize, to: usize) -> El {
    let part = |from: usize, to: usize| -> String {
        entered.chars().skip(from).take(to.saturating_sub(from)).collect()
    };
    el("code.pointed").with(part(0, from)).with(el("mark").with(part(from, to))).with(part(to, usize::MAX))
}

/// A button to the next step that is to be done.
fn next_step(open: &OpenStep) -> Option<El> {
    let after = open.derivation.steps.iter().skip_while(|step| step.id != open.step().id).skip(1);
    let mut to_do = after.filter(|step| untrack(|| !open.prelab.is_done(step)));
    let next = to_do.next()?;
    let id = format!("step-{}", next.id);
    Some(el("button.main").attr("type", "button").with(words::prelab::go_on(&next.title)).on_click(
        move || {
            crate::dom::open_details(&id);
        },
    ))
}

/// The first step; a derivation always has one.
pub(super) fn first(derivation: &Derivation) -> &Step {
    match derivation.steps.as_slice() {
        [first, ..] => first,
        [] => unreachable!("a derivation without steps is refused when it is opened"),
    }
}
