//! The labs kept in this browser, to be opened or removed.

use super::database::{About, NotKept};
use super::{Asked, KEPT, Kept, titled, when};
use crate::browser::later;
use crate::controls::hint;
use crate::dom::{El, el};
use crate::focus;
use leptos::prelude::*;
use whorl_words::kept as words;

/// The list.
pub(crate) fn shelf() -> Vec<El> {
    let Some(kept) = KEPT.get() else { return Vec::new() };
    let place = el("div");
    let node = place.node().clone();
    let list = RwSignal::new(Vec::<(About, bool)>::new());
    let said = RwSignal::new(String::new());
    crate::dom::watch(move || {
        kept.listed.track();
        kept.slot.track();
        let node = node.clone();
        if let Some(labs) = kept.labs.get() {
            later(async move {
                if let Ok(found) = labs.list().await {
                    let open = kept.slot.get_untracked();
                    let found = found.into_iter().map(|about| {
                        let is_open = about.slot == open;
                        (about, is_open)
                    });
                    focus::hold_in(&node, ".shelf-disclosure > summary", move || {
                        let _ = list.try_set(found.collect());
                    });
                }
            });
        }
    });
    let rows = move || {
        let list = list.get();
        if list.is_empty() {
            let refused = kept.trouble.get() == Some(NotKept::Refused);
            return vec![hint(if refused { words::shelf_refused() } else { words::shelf_empty() })];
        }
        let others = list.iter().any(|(_, is_open)| !is_open);
        let rows = list.into_iter().map(|(about, is_open)| row(kept, about, is_open, said));
        let mut all = vec![el("ul.shelf").with(rows.collect::<Vec<_>>())];
        all.extend(others.then(|| remove_all(kept, said)));
        all
    };
    vec![hint(words::shelf_purpose()), place.live(rows), el("p").live_status(move || said.get())]
}

fn row(kept: Kept, about: About, is_open: bool, said: RwSignal<String>) -> El {
    let when = when(about.changed_ms);
    let title = titled(&about.title).to_owned();
    let entry = el("li").with(el("span").with(words::shelf_item(&title, &about.runs, &when)));
    if is_open {
        return entry.with(" ").with(el("strong").with(words::shelf_open_now()));
    }
    let button = |words: &str, named: &str| {
        el("button.quiet").attr("type", "button").attr("aria-label", named).with(words)
    };
    let to_open = about.clone();
    let open = move || later(kept.open(to_open.clone(), Asked::Here));
    let named = title.clone();
    let remove = move || {
        if !confirmed(&words::really(&named)) {
            return;
        }
        let (slot, removed) = (about.slot.clone(), words::removed(&named));
        later(async move {
            kept.remove(vec![slot]).await;
            said.set(removed);
        });
    };
    entry
        .with(button(words::open(), &words::open_named(&title, &when)).on_click(open))
        .with(button(words::remove(), &words::remove_named(&title, &when)).on_click(remove))
}

fn remove_all(kept: Kept, said: RwSignal<String>) -> El {
    let remove = move || {
        if !confirmed(words::really_all()) {
            return;
        }
        later(async move {
            let Some(labs) = kept.labs.get_untracked() else { return };
            let open = kept.slot.get_untracked();
            let list = labs.list().await.unwrap_or_default();
            let others = list.into_iter().map(|about| about.slot).filter(|slot| *slot != open);
            kept.remove(others.collect()).await;
            said.set(words::removed_all().to_owned());
        });
    };
    el("button.quiet").attr("type", "button").with(words::remove_all()).on_click(remove)
}

fn confirmed(question: &str) -> bool {
    window().confirm_with_message(question).unwrap_or(false)
}
