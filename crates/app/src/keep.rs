//! Keeping the lab: the part that does so is loaded at the first change, or at once where it has something to say.

use crate::browser::{databases, later, stopped};
use crate::dom::{El, document, el, watch};
use crate::page::names_something;
use crate::parts::{self, Part};
use crate::state::{Keeping, LabState, keeping, set_keeping};
use leptos::prelude::*;
use std::cell::Cell;
use wasm_bindgen::JsCast;
use whorl_core::lab::Lab;

/// Under this name the browser remembers that something is kept.
pub(crate) const ANY: &str = "whorl-kept";

/// Where labs are kept: the name of the database begins so.
pub(crate) const DATABASE: &str = "whorl-labs";

/// The event that tells of a new version of the program (`web/offline-start.js`).
pub(crate) const NEW_VERSION: &str = "whorl-new-version";

thread_local! {
    /// Whether what the address names at the start waits for what is kept.
    static HOLDS_ADDRESS: Cell<bool> = const { Cell::new(false) };
}

/// Follows the lab from here on.
pub(crate) fn follow(lab: LabState) {
    let named = names_something(&window().location().hash().unwrap_or_default());
    HOLDS_ADDRESS.set(stopped::kept(ANY).is_some() && named);
    // Another address is followed by the page.
    let _ = window_event_listener(leptos::ev::hashchange, |_| HOLDS_ADDRESS.set(false));
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
                    release_address();
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

/// Whether the page's address is still to be followed: the part decides first whether the lab that was begun with it is
/// kept.
pub(crate) fn holds_address() -> bool {
    HOLDS_ADDRESS.get()
}

/// Lets the page's address lead to what it names, unless it has done so already: that would open it a second time,
/// over what was begun since.
pub(crate) fn release_address() {
    if HOLDS_ADDRESS.replace(false) {
        follow_address();
    }
}

/// The page's address leads to what it names, once more if need be.
pub(crate) fn follow_address() {
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
