//! Files that come with the page but are fetched only when someone asks for them: a first visit does
//! not pay for them.

use crate::controls::About;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use whorl_words as words;

/// The example lab.
pub(crate) const EXAMPLE_LAB: &str = "samples/banding-wheel.json";

/// The text of such a file.
///
/// The error is a message for the user, which `failed` makes of the reason.
pub(crate) async fn fetch(address: &str, failed: About) -> Result<String, String> {
    let window = web_sys::window().ok_or_else(|| failed(&words::page::no_window()))?;
    let response = JsFuture::from(window.fetch_with_str(address))
        .await
        .map_err(|_| failed(&words::page::no_answer()))?
        .dyn_into::<web_sys::Response>()
        .map_err(|_| failed(&words::page::no_answer()))?;
    if !response.ok() {
        return Err(failed(&words::page::server_says(&response.status())));
    }
    let text = response.text().map_err(|_| failed(&words::page::no_text()))?;
    let text = JsFuture::from(text).await.map_err(|_| failed(&words::page::broken_off()))?;
    text.as_string().ok_or_else(|| failed(&words::page::no_text()))
}
