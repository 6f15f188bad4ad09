//! “Show the working”: how a result came about, and behind it, link by link, all that it came from, back to the
//! readings; with the student's own expressions where there are any.

use crate::browser::{download, later};
use crate::controls::{disclosure, hint, steps_view};
use crate::dom::{El, el};
use crate::focus::focus;
use crate::own_words::in_own;
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::working::{Link, Results, Subject};
use whorl_words as words;

/// A disclosure with the working of a subject; nothing is built before it is opened. `of` says of which result.
pub(super) fn working(lab: LabState, of: &str, subject: impl Fn() -> Option<Subject> + Copy + 'static) -> El {
    let summary =
        el("summary").with(words::controls::show_working()).with(el("span.of").with(format!(" {of}")));
    disclosure("details.working", summary, move || {
        vec![parts::place(Part::Details, move || {
            let part = parts::details()?;
            let shown = move || subject().map(|subject| (part.working)(lab, subject)).unwrap_or_default();
            Some(vec![el("div").live(shown)])
        })]
    })
}

/// The working of a subject, with the buttons that copy it.
pub(crate) fn opened(lab: LabState, subject: Subject) -> Vec<El> {
    let mut content = content(lab, subject);
    content.push(copies(lab, subject));
    content
}

/// A value as a button that opens the working of its card.
pub(super) fn worked(value: El) -> El {
    let button = el("button.worked").attr("type", "button").attr("title", words::chain_view::open_working());
    let from = button.node().clone();
    button.with(value).on_click(move || {
        let card = from.closest(".station section.card, .station .one-run, .station").ok().flatten();
        let details = card.and_then(|card| card.query_selector("details.working").ok().flatten());
        if let Some(details) = details {
            let _ = details.set_attribute("open", "");
            if let Ok(Some(summary)) = details.query_selector("summary") {
                focus(&summary);
            }
        }
    })
}

fn with_results<T>(lab: LabState, reader: impl FnOnce(Results<'_>) -> T) -> T {
    lab.read(|entered| {
        lab.apparatus.with(|apparatus| {
            lab.runs.with(|runs| {
                lab.lines.with(|lines| {
                    lab.objects.with(|objects| {
                        reader(Results {
                            lab: entered,
                            apparatus: apparatus.as_ref().ok(),
                            runs,
                            lines,
                            objects,
                        })
                    })
                })
            })
        })
    })
}

/// The steps of a link, and a disclosure for each link before it.
fn content(lab: LabState, subject: Subject) -> Vec<El> {
    let Some(Link { steps, from, .. }) = with_results(lab, |results| results.link(subject)) else {
        return Vec::new();
    };
    let mut content = Vec::new();
    if steps.is_empty() {
        content.push(hint(words::chain_view::nothing_before()));
    } else {
        content.push(steps_view(&in_own(lab, steps)));
    }
    if !from.is_empty() {
        let links: Vec<El> = from.into_iter().filter_map(|subject| before(lab, subject)).collect();
        content.push(el("p.from").with(words::chain_view::where_from()));
        content.push(el("ul.from").with(links));
    }
    content
}

fn before(lab: LabState, subject: Subject) -> Option<El> {
    let link = with_results(lab, |results| results.link(subject))?;
    let summary =
        el("summary").with(el("span").with(link.title)).with(": ").with(el("span.value").with(link.value));
    Some(el("li").with(disclosure("details.link", summary, move || content(lab, subject))))
}

/// Buttons that copy the working as text; where the browser refuses, the text to be copied by hand.
fn copies(lab: LabState, subject: Subject) -> El {
    let (done, by_hand) = (RwSignal::new(""), RwSignal::new(String::new()));
    let copy = move |text: String| {
        later(async move {
            if download::copy(&text).await {
                done.set(words::chain_view::copied());
                by_hand.set(String::new());
            } else {
                done.set(words::chain_view::not_copied());
                by_hand.set(text);
            }
        });
    };
    let own = move |steps| untrack(|| in_own(lab, steps));
    let this = move || copy(untrack(|| with_results(lab, |results| results.text_of(subject, &own))));
    let all = move || copy(untrack(|| with_results(lab, |results| results.text(subject, &own))));
    let button = |words: &str| el("button").attr("type", "button").with(words);
    el("div.copies")
        .with(button(words::chain_view::copy_text()).on_click(this))
        .with(button(words::chain_view::copy_chain()).on_click(all))
        .with(el("span.hint").attr("role", "status").live_text(move || done.get().to_owned()))
        .with(
            el("textarea")
                .attr("readonly", "")
                .attr("rows", "8")
                .attr("aria-label", words::chain_view::copy_text())
                .live_flag("hidden", move || by_hand.with(String::is_empty))
                .live_value(move || by_hand.get()),
        )
}
