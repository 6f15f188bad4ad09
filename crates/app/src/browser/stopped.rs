//! What happens should the program stop: a plain panel, and a rescue copy of the lab.
//!
//! After a panic no Rust runs again on this page, so the panel is static HTML that only needs to be
//! shown. The rescue copy is the lab's text as of the last change, kept ready in memory and put behind the panel's
//! link. What the browser keeps (`kept/`) comes back with the page.

use super::download;
use std::cell::{Cell, RefCell};
use wasm_bindgen::JsCast;
use web_sys::Storage;

thread_local! {
    static STOPPED: Cell<bool> = const { Cell::new(false) };
    static RESCUE_COPY: RefCell<String> = const { RefCell::new(String::new()) };
}

/// Sees to it that a panic shows the panel.
pub(crate) fn install() {
    std::panic::set_hook(Box::new(|info| {
        STOPPED.set(true);
        log(&info.to_string());
        // Borrowed for reading only, and not at all if the panic came while it was being written.
        let copy = RESCUE_COPY.with(|copy| copy.try_borrow().map(|copy| copy.clone()).unwrap_or_default());
        show_panel(&copy);
    }));
}

/// Whether a panic has come: the browser still calls what listens to it.
pub(crate) fn has_stopped() -> bool {
    STOPPED.get()
}

/// Keeps `text` as what a panic would rescue.
pub(crate) fn keep_ready(text: String) {
    RESCUE_COPY.with(|copy| {
        if let Ok(mut copy) = copy.try_borrow_mut() {
            *copy = text;
        }
    });
}

/// Storage throws in private windows and in some frames; then there is none.
fn storage() -> Option<Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}

fn show_panel(copy: &str) -> Option<()> {
    let document = web_sys::window()?.document()?;
    let panel = document.get_element_by_id("stopped")?;
    panel.remove_attribute("hidden").ok()?;
    if !copy.is_empty() {
        let link = document.get_element_by_id("rescue-copy")?;
        link.set_attribute("href", &download::link_to(copy, "application/json")?).ok()?;
        link.remove_attribute("hidden").ok()?;
    }
    // The keyboard goes where the eye does, and nowhere else.
    let parts = document.body()?.children();
    for part in (0..parts.length()).filter_map(|index| parts.item(index)) {
        if !part.is_same_node(Some(&panel)) {
            let _ = part.set_attribute("inert", "");
        }
    }
    panel.dyn_ref::<web_sys::HtmlElement>()?.focus().ok()
}

fn log(message: &str) {
    // Through the global object: the console's own binding would be one more web-sys feature.
    let console = js_sys::Reflect::get(&js_sys::global(), &"console".into()).ok();
    let error = console.as_ref().and_then(|console| js_sys::Reflect::get(console, &"error".into()).ok());
    if let Some(error) = error.and_then(|error| error.dyn_into::<js_sys::Function>().ok()) {
        let _ = error.call1(&wasm_bindgen::JsValue::UNDEFINED, &message.into());
    }
}

/// What was kept under a name; `None` where nothing was, or the browser has no storage for us.
pub(crate) fn kept(key: &str) -> Option<String> {
    storage()?.get_item(key).ok().flatten()
}

/// Keeps a text under a name, where the browser lets us.
pub(crate) fn keep(key: &str, text: &str) {
    if let Some(storage) = storage() {
        let _ = storage.set_item(key, text);
    }
}
