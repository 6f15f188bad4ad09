//! Light or dark, as the device is set; always light on paper.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use whorl_charts::Palette;

/// The theme now.
#[derive(Clone, Copy)]
pub(crate) struct Theme {
    dark: RwSignal<bool>,
    on_paper: RwSignal<bool>,
}

impl Theme {
    /// Follows the device's setting for as long as the page is open.
    pub(crate) fn of_device() -> Self {
        Self { dark: followed("(prefers-color-scheme: dark)"), on_paper: followed("print") }
    }

    /// Whether the page is being printed.
    pub(crate) fn on_paper(self) -> bool {
        self.on_paper.get()
    }

    /// The charts' colors in this theme.
    pub(crate) fn palette(self) -> Palette {
        if self.dark.get() && !self.on_paper.get() { Palette::DARK } else { Palette::LIGHT }
    }
}

/// Whether a media query holds, now and later.
fn followed(query: &str) -> RwSignal<bool> {
    let query = window().match_media(query).ok().flatten();
    let holds = RwSignal::new(query.as_ref().is_some_and(web_sys::MediaQueryList::matches));
    if let Some(query) = query {
        let listened = query.clone();
        let changed = Closure::<dyn Fn()>::new(move || holds.set(listened.matches()));
        let _ = query.add_event_listener_with_callback("change", changed.as_ref().unchecked_ref());
        changed.forget();
    }
    holds
}
