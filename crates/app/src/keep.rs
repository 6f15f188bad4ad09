//! Keeping the lab: the part that does so is loaded at the first change, or at once where it has something to say.

use crate::browser::{databases, later, stopped};
use crate::dom::{El, document, el, watch};
use crate::page::names_something;
use crate::parts::{self, Part};
use crate::state::{Keeping, LabState, keeping, set_keeping};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use whorl_core::lab::Lab;

/// Under this name the browser remembers that something is kept.
pub(crate) const ANY: &str = "whorl-kept";

/// Where labs are kept: the name of the database begins so.
pub(crate) const DATABASE: &str = "whorl-labs";

/// The event that tells of a new version of the program (`web/offline-start.js`).
pub(crate) const NEW_VERSION: &str = "whorl-new-version";

/// Follows the lab from here on.
pub(crate) fn follow(lab: LabState) {
    let owner = Owner::current().unwrap_or_default();
    let begin = move || {
        let owner = owner.clone();
        later(async move {
            // Where it did not come, the next change tries again.
            let begun = || parts::kept().is_some() && untrack(keeping) != Keeping::NotBegun;
            if begun() {
                return;
            }
            let loaded = parts::load(Part::Kept).await;
            match parts::kept().filter(|_| loaded) {
                Some(_) if begun() => {}
                Some(part) => {
                    set_keeping(Keeping::Behind);
                    owner.with(|| (part.begin)(lab, Lab::default()));
                }
                None => {
                    set_keeping(Keeping::Fails);
                    if decides() {
                        let_follow();
                    }
                }
            }
        });
    };
    if stopped::kept(ANY).is_some() {
        begin();
    } else {
        // Browsers write that mark to the disk some seconds late; one that was killed before has lost it.
        let begin = begin.clone();
        later(async move {
            if databases::one_is_named(DATABASE).await {
                begin();
            }
        });
    }
    let told = begin.clone();
    let _ = window_event_listener_untyped(NEW_VERSION, move |_| told());
    watch(move || {
        lab.track();
        if !untrack(|| lab.is_blank()) {
            begin();
        }
    });
    let _ = window_event_listener(leptos::ev::keydown, |event| {
        if (event.ctrl_key() || event.meta_key()) && event.key() == "s" {
            event.prevent_default();
            if let Some(save) = document().get_element_by_id(SAVE) {
                save.unchecked_ref::<web_sys::HtmlElement>().click();
            }
        }
    });
}

/// Whether the part decides what the page's address leads to: to the lab that was begun with it, if that is kept.
pub(crate) fn decides() -> bool {
    stopped::kept(ANY).is_some() && names_something(&window().location().hash().unwrap_or_default())
}

/// The page's address leads to what it names.
pub(crate) fn let_follow() {
    if let Ok(event) = web_sys::Event::new("hashchange") {
        let _ = window().dispatch_event(&event);
    }
}

/// Id of the button that saves the lab as a file.
pub(crate) const SAVE: &str = "save-lab";

/// Where the part says what it has to say.
pub(crate) fn place() -> El {
    let begun = Memo::new(|_| keeping() != Keeping::NotBegun);
    el("div").live(move || {
        // Asked first: the part is not there before.
        let begun = begun.get();
        let part = parts::kept().filter(|_| begun);
        part.map(|part| untrack(|| (part.view)())).unwrap_or_default()
    })
}
