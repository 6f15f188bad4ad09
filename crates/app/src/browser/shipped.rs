//! Files that come with the page but are fetched only when someone asks for them: a first visit does
//! not pay for them.

use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;

/// The example lab.
pub(crate) const EXAMPLE_LAB: &str = "samples/banding-wheel.json";

/// The text of such a file.
///
/// The error is a message for the user; `what` names the file in it.
pub(crate) async fn fetch(address: &str, what: &str) -> Result<String, String> {
    let failed = |reason: String| {
        format!("The {what} could not be fetched ({reason}). Check the connection and try again.")
    };
    let window = web_sys::window().ok_or_else(|| failed("no window".to_owned()))?;
    let response = JsFuture::from(window.fetch_with_str(address))
        .await
        .map_err(|_| failed("no answer".to_owned()))?
        .dyn_into::<web_sys::Response>()
        .map_err(|_| failed("no answer".to_owned()))?;
    if !response.ok() {
        return Err(failed(format!("the server says {}", response.status())));
    }
    let text = response.text().map_err(|_| failed("no text".to_owned()))?;
    let text = JsFuture::from(text).await.map_err(|_| failed("broken off".to_owned()))?;
    text.as_string().ok_or_else(|| failed("no text".to_owned()))
}
