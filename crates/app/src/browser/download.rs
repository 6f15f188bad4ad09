//! Taking text out of the page: as a file, into the clipboard.

use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, BlobPropertyBag, HtmlAnchorElement, Url};

/// A link to `text` as a file; it lives until the page is left.
pub(crate) fn link_to(text: &str, media_type: &str) -> Option<String> {
    let options = BlobPropertyBag::new();
    options.set_type(media_type);
    let parts = js_sys::Array::of1(&JsValue::from_str(text));
    let blob = Blob::new_with_str_sequence_and_options(&parts, &options).ok()?;
    Url::create_object_url_with_blob(&blob).ok()
}

/// Hands `text` to the browser as a download named `name`; `None` when the browser refuses.
pub(crate) fn save(text: &str, name: &str, media_type: &str) -> Option<()> {
    save_link(link_to(text, media_type)?, name)
}

/// The same for bytes that the browser made.
pub(crate) fn save_blob(blob: &Blob, name: &str) -> Option<()> {
    save_link(Url::create_object_url_with_blob(blob).ok()?, name)
}

fn save_link(link: String, name: &str) -> Option<()> {
    let document = web_sys::window()?.document()?;
    let anchor: HtmlAnchorElement = document.create_element("a").ok()?.dyn_into().ok()?;
    anchor.set_href(&link);
    anchor.set_download(name);
    anchor.click();
    // The browser needs the link for as long as it writes; a minute is ample.
    leptos::prelude::set_timeout(
        move || {
            let _ = Url::revoke_object_url(&link);
        },
        std::time::Duration::from_mins(1),
    );
    Some(())
}

/// Whether the browser took a text into its clipboard.
pub(crate) async fn copy(text: &str) -> bool {
    let navigator = leptos::prelude::window().navigator();
    // On a page that is not safe there is no clipboard at all.
    let has = js_sys::Reflect::get(&navigator, &"clipboard".into()).is_ok_and(|found| found.is_object());
    has && wasm_bindgen_futures::JsFuture::from(navigator.clipboard().write_text(text)).await.is_ok()
}
