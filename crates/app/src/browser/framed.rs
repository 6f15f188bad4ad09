//! The page inside a frame of a course page: it tells how high it is, so that the frame can grow. The messages are
//! described in DEVELOPERS.md; none is heard.

use crate::dom::document;
use js_sys::{Object, Reflect};
use leptos::prelude::window;
use std::cell::Cell;
use wasm_bindgen::prelude::*;

/// Smaller changes of the height are not told, in CSS pixels.
const STEP: f64 = 8.0;

/// Whether the page stands in a frame.
pub(crate) fn is_framed() -> bool {
    let own = window();
    own.parent().ok().flatten().is_some_and(|parent| parent != own)
}

/// Tells the height from now on.
pub(crate) fn tell_height() {
    let Some(root) = document().document_element() else { return };
    let told = Cell::new(0.0_f64);
    let measured = root.clone();
    let tell = Closure::<dyn Fn()>::new(move || {
        let height = measured.get_bounding_client_rect().height().ceil();
        if (height - told.get()).abs() >= STEP {
            told.set(height);
            send(height);
        }
    });
    if let Ok(observer) = web_sys::ResizeObserver::new(tell.as_ref().unchecked_ref()) {
        observer.observe(&root);
    }
    // As long as the page.
    tell.forget();
}

/// There is no secret in it, so every parent may hear it.
fn send(px: f64) {
    let message = Object::new();
    for (name, value) in [("type", "whorl-height".into()), ("version", 1.into()), ("px", px.into())] {
        let _ = Reflect::set(&message, &JsValue::from_str(name), &value);
    }
    if let Ok(Some(parent)) = window().parent() {
        let _ = parent.post_message(&message, "*");
    }
}
