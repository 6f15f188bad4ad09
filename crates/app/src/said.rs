//! What is said aloud by itself, and when.

use crate::dom::{Content, El, el, watch};
use leptos::prelude::*;
use std::cell::Cell;
use std::time::Duration;

/// How long typing must rest before what follows from it is said.
const REST: Duration = Duration::from_millis(900);
/// Without text for so long, a live region says the same text again.
const SILENCE: Duration = Duration::from_millis(80);

impl El {
    /// A status: what follows from typing, shown and said once the typing rests, so that no key is commented on. What
    /// no longer holds goes at once.
    pub(crate) fn live_status(self, text: impl Fn() -> String + 'static) -> Self {
        let content = move || {
            let text = text();
            if text.is_empty() { Vec::new() } else { vec![el("span").with(text)] }
        };
        self.live_rested(content)
    }

    /// The same with more than words.
    pub(crate) fn live_rested(self, content: impl Fn() -> Vec<El> + 'static) -> Self {
        self.attr("role", "status").live_rested_boxed(Box::new(content))
    }

    #[inline(never)]
    fn live_rested_boxed(self, content: Box<dyn Fn() -> Vec<El>>) -> Self {
        let element = self.node().clone();
        let waiting = Cell::new(None::<TimeoutHandle>);
        let first = Cell::new(true);
        watch(move || {
            let content = content();
            let content_is_empty = content.is_empty();
            if let Some(earlier) = waiting.take() {
                earlier.clear();
            }
            let element = element.clone();
            let show = move || {
                let text = content.iter().filter_map(|one| one.node().text_content()).collect::<String>();
                if element.text_content().as_ref() != Some(&text) {
                    element.set_text_content(None);
                    content.put_into(&element);
                }
            };
            if first.replace(false) || content_is_empty {
                show();
            } else {
                waiting.set(set_timeout_with_handle(show, REST).ok());
            }
        });
        self
    }

    /// What the last action came to; said again when it comes to the same once more.
    pub(crate) fn live_news(self, text: impl Fn() -> String + 'static) -> Self {
        let element = self.node().clone();
        watch(move || {
            let text = text();
            element.set_text_content(None);
            let element = element.clone();
            set_timeout(move || element.set_text_content(Some(&text)), SILENCE);
        });
        self.attr("role", "status")
    }
}
