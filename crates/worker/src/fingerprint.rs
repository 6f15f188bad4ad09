//! The fingerprint of a file, made by the browser: faster than any program in it could.

use js_sys::Uint8Array;
use wasm_bindgen_futures::JsFuture;
use web_sys::DedicatedWorkerGlobalScope;
use whorl_core::intake::{hexadecimal, sha256_hex};

/// SHA-256 of some bytes in hexadecimal digits.
///
/// Browsers make it only for pages that came safely, by https or from the machine itself (W3C, Web Cryptography
/// API, 2017, section 6.2: secure contexts); for others it is made here.
pub(crate) async fn fingerprint(bytes: &[u8], scope: &DedicatedWorkerGlobalScope) -> String {
    match by_the_browser(bytes, scope).await {
        Some(digest) => hexadecimal(&digest),
        None => sha256_hex(bytes),
    }
}

async fn by_the_browser(bytes: &[u8], scope: &DedicatedWorkerGlobalScope) -> Option<Vec<u8>> {
    let subtle = scope.crypto().ok()?.subtle();
    if subtle.is_undefined() {
        return None;
    }
    let made = subtle.digest_with_str_and_u8_array("SHA-256", bytes).ok()?;
    Some(Uint8Array::new(&JsFuture::from(made).await.ok()?).to_vec())
}
