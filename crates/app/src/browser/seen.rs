//! Noticing that something has come into view.

use crate::dom::El;
use leptos::prelude::*;
use std::rc::Rc;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{IntersectionObserver, IntersectionObserverEntry, IntersectionObserverInit};

/// How far out of view something counts as in view: what is scrolled to stands there already.
const NEAR: &str = "50%";

/// Whether the element is in view or near it; where the browser cannot tell, it is.
pub(crate) fn near_view(element: &El) -> RwSignal<bool> {
    let near = RwSignal::new(false);
    let look = move |entries: js_sys::Array| {
        if let Some(entry) = entries.iter().last() {
            // The element may be gone meanwhile, and the signal with it.
            let _ = near.try_set(entry.unchecked_into::<IntersectionObserverEntry>().is_intersecting());
        }
    };
    let heard = Closure::<dyn FnMut(js_sys::Array)>::new(look).into_js_value();
    let options = IntersectionObserverInit::new();
    options.set_root_margin(NEAR);
    match IntersectionObserver::new_with_options(heard.unchecked_ref(), &options) {
        Ok(observer) => observer.observe(element.node()),
        Err(_) => near.set(true),
    }
    near
}

/// Calls `seen` when the element first comes into view, or at once where the browser cannot tell.
pub(crate) fn once_seen(element: &El, seen: impl Fn() + 'static) {
    let seen = Rc::new(seen);
    let told = Rc::clone(&seen);
    let look = move |entries: js_sys::Array, observer: IntersectionObserver| {
        let in_view = |entry: JsValue| entry.unchecked_into::<IntersectionObserverEntry>().is_intersecting();
        if entries.iter().any(in_view) {
            observer.disconnect();
            told();
        }
    };
    // Handed to the browser, which frees it together with the observer.
    let heard = Closure::<dyn FnMut(js_sys::Array, IntersectionObserver)>::new(look).into_js_value();
    match IntersectionObserver::new(heard.unchecked_ref()) {
        Ok(observer) => observer.observe(element.node()),
        Err(_) => seen(),
    }
}
