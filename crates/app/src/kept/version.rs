//! A new version of the program: it waits until it is asked for (`web/offline-start.js`, `web/offline.js`).

use crate::keep::NEW_VERSION;
use js_sys::Reflect;
use leptos::prelude::*;
use web_sys::CustomEvent;

/// Whether a new version waits; follows its coming.
pub(super) fn waits() -> RwSignal<bool> {
    let came_before = Reflect::get(&window(), &"whorlNewVersion".into()).is_ok_and(|came| came.is_truthy());
    let waits = RwSignal::new(came_before);
    let _ = window_event_listener_untyped(NEW_VERSION, move |_| waits.set(true));
    waits
}

/// Changes to it: the page is loaded anew.
pub(super) fn change() {
    if let Ok(event) = CustomEvent::new("whorl-change-version") {
        let _ = window().dispatch_event(&event);
    }
}
