//! The words that stand on the page until the program has loaded.

/// Takes them away.
pub(crate) fn remove() {
    let document = web_sys::window().and_then(|window| window.document());
    if let Some(skeleton) = document.and_then(|document| document.get_element_by_id("loading")) {
        skeleton.remove();
    }
}
