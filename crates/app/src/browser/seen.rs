//! Noticing that something has come into view.

use crate::dom::El;
use std::rc::Rc;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{IntersectionObserver, IntersectionObserverEntry};

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
