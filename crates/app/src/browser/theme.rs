//! Light or dark, as the device is set.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use whorl_charts::Palette;

/// The charts' palette, following the device's setting while the page is open.
pub(crate) fn palette() -> RwSignal<Palette> {
    let query = web_sys::window().and_then(|window| window.match_media("(prefers-color-scheme: dark)").ok().flatten());
    let choose = |dark: bool| if dark { Palette::DARK } else { Palette::LIGHT };
    let palette = RwSignal::new(choose(query.as_ref().is_some_and(web_sys::MediaQueryList::matches)));
    if let Some(query) = query {
        let listened = query.clone();
        let changed = Closure::<dyn Fn()>::new(move || palette.set(choose(listened.matches())));
        let _ = query.add_event_listener_with_callback("change", changed.as_ref().unchecked_ref());
        // The page has one theme for as long as it lives.
        changed.forget();
    }
    palette
}
