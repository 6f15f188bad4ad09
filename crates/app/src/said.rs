//! What is said aloud by itself, and when.

use crate::dom::{El, el, watch};
use leptos::prelude::*;
use std::cell::{Cell, RefCell};
use std::time::Duration;

/// How long typing must rest before what follows from it is said.
const REST: Duration = Duration::from_millis(900);
/// How long it stays for screen readers to take up.
const HEARD: Duration = Duration::from_millis(1500);
/// Without text for so long, a live region says the same text again.
const SILENCE: Duration = Duration::from_millis(80);

thread_local! {
    static VOICE: El = el("p.visually-hidden").attr("role", "status");
    static SILENCING: Cell<Option<TimeoutHandle>> = const { Cell::new(None) };
}

/// What says things once typing rests. It must stand on the page before it speaks.
pub(crate) fn voice() -> El {
    VOICE.with(Clone::clone)
}

/// Says a text, in place of what was said before.
fn say(text: &str) {
    let voice = voice().node().clone();
    voice.set_text_content(Some(text));
    let silence = set_timeout_with_handle(move || voice.set_text_content(None), HEARD).ok();
    if let Some(earlier) = SILENCING.replace(silence) {
        earlier.clear();
    }
}

/// Says what stands in one place, once it has stood for a while: no key is commented on.
#[derive(Default)]
struct Patient {
    /// Nothing is said of what stands there from the beginning.
    last: RefCell<Option<String>>,
    waiting: Cell<Option<TimeoutHandle>>,
}

impl Patient {
    fn hear(&self, text: &str) {
        let before = self.last.replace(Some(text.to_owned()));
        if before.as_deref() == Some(text) {
            return;
        }
        if let Some(earlier) = self.waiting.take() {
            earlier.clear();
        }
        if before.is_some() && !text.is_empty() {
            let text = text.to_owned();
            self.waiting.set(set_timeout_with_handle(move || say(&text), REST).ok());
        }
    }
}

impl El {
    /// What follows from typing: seen at once, said once the typing rests.
    pub(crate) fn live_status(self, text: impl Fn() -> String + 'static) -> Self {
        let patient = Patient::default();
        self.live_text(move || {
            let text = text();
            patient.hear(&text);
            text
        })
    }

    /// The same with more than words.
    pub(crate) fn live_rested(self, content: impl Fn() -> Vec<El> + 'static) -> Self {
        let patient = Patient::default();
        self.live(move || {
            let content = content();
            patient.hear(&content.iter().filter_map(|one| one.node().text_content()).collect::<String>());
            content
        })
    }

    /// What the last action came to; said again when it comes to the same once more.
    pub(crate) fn live_news(self, text: impl Fn() -> String + 'static) -> Self {
        let element = self.node().clone();
        watch(move || {
            let text = text();
            if text.is_empty() || element.text_content().as_ref() != Some(&text) {
                element.set_text_content(Some(&text));
                return;
            }
            // Not empty: what is empty is hidden, and what is hidden says nothing anew.
            element.set_text_content(Some("\u{a0}"));
            let element = element.clone();
            set_timeout(move || element.set_text_content(Some(&text)), SILENCE);
        });
        self.attr("role", "status")
    }
}
