//! The place where an instructor sets work, in place of the notebook.

mod apparatus;
mod draft;
mod form;
mod handing;

use crate::browser::{later, sheet};
use crate::dom::{El, el};
use crate::focus;
use draft::Draft;
use leptos::prelude::*;
use std::cell::RefCell;
use whorl_core::assignment::Assignment;
use whorl_core::bench::BenchSettings;
use whorl_words as words;

/// Its heading.
const HEADING: &str = "setting-heading";

thread_local! {
    /// What was chosen, kept while the place is left or built anew in another language.
    static KEPT: RefCell<(Draft, BenchSettings)> = RefCell::default();
}

/// What is being chosen.
#[derive(Clone, Copy)]
struct Choices {
    draft: RwSignal<Draft>,
    bench: RwSignal<BenchSettings>,
    /// How often the choices came from elsewhere than their form.
    renewed: RwSignal<u32>,
    /// What they come to, or what keeps them from being set.
    outcome: Memo<Result<Assignment, String>>,
}

/// The place.
pub(super) fn place() -> Vec<El> {
    let (draft, bench) =
        KEPT.with_borrow(|(draft, bench)| (RwSignal::new(draft.clone()), RwSignal::new(bench.clone())));
    let outcome = Memo::new(move |_| draft.with(|draft| bench.with(|bench| draft.assignment(bench))));
    let choices = Choices { draft, bench, renewed: RwSignal::new(0), outcome };
    crate::dom::watch(move || {
        let chosen = (draft.get(), bench.get());
        KEPT.with_borrow_mut(|kept| *kept = chosen);
    });
    // The choices of the bench look as at its own place.
    later(async {
        sheet::load("later/replay.css").await;
    });
    focus::soon(HEADING);
    vec![
        el("section.setting")
            .attr("aria-labelledby", HEADING)
            .with(el("h2").attr("id", HEADING).attr("tabindex", "-1").with(words::assigning::heading()))
            .with(el("p").with(
                el("a").attr("href", "#").with(words::assigning::back()).on_click(|| focus::soon("set-work")),
            ))
            .with(el("p.purpose").with(words::assigning::purpose()))
            .with(el("p.aside").with(words::assigning::no_secrets()))
            .with(el("div.composing").live(move || {
                choices.renewed.track();
                untrack(|| form::fieldsets(choices))
            }))
            .with(handing::result(choices)),
    ]
}
