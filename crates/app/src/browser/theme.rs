//! Light or dark, as the device is set.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use whorl_charts::Palette;

/// The theme now.
#[derive(Clone, Copy)]
pub(crate) struct Theme {
    dark: RwSignal<bool>,
}

impl Theme {
    /// Follows the device's setting for as long as the page is open.
    pub(crate) fn of_device() -> Self {
        let query = web_sys::window()
            .and_then(|window| window.match_media("(prefers-color-scheme: dark)").ok().flatten());
        let dark = RwSignal::new(query.as_ref().is_some_and(web_sys::MediaQueryList::matches));
        if let Some(query) = query {
            let listened = query.clone();
            let changed = Closure::<dyn Fn()>::new(move || dark.set(listened.matches()));
            let _ = query.add_event_listener_with_callback("change", changed.as_ref().unchecked_ref());
            changed.forget();
        }
        Self { dark }
    }

    /// The charts' colors in this theme.
    pub(crate) fn palette(self) -> Palette {
        if self.dark.get() { Palette::DARK } else { Palette::LIGHT }
    }
}
