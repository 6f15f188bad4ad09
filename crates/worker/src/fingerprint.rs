//! The fingerprint of a file, made by the browser: faster than any program in it could.

use crate::loading::bytes;
use js_sys::{ArrayBuffer, Uint8Array};
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, DedicatedWorkerGlobalScope};
use whorl_core::intake::{hexadecimal, sha256_hex};

/// SHA-256 of a file in hexadecimal digits; empty when it can no longer be read.
///
/// Browsers make it only for pages that came safely, by https or from the machine itself (W3C, Web Cryptography
/// API, 2017, section 6.2: secure contexts); for others it is made here.
pub(crate) async fn fingerprint(file: &Blob, scope: &DedicatedWorkerGlobalScope) -> String {
    match by_the_browser(file, scope).await {
        Some(digest) => hexadecimal(&digest),
        None => bytes(file).map(|bytes| sha256_hex(&bytes)).unwrap_or_default(),
    }
}

async fn by_the_browser(file: &Blob, scope: &DedicatedWorkerGlobalScope) -> Option<Vec<u8>> {
    let subtle = scope.crypto().ok()?.subtle();
    if subtle.is_undefined() {
        return None;
    }
    let bytes: ArrayBuffer = JsFuture::from(file.array_buffer()).await.ok()?.unchecked_into();
    let made = subtle.digest_with_str_and_buffer_source("SHA-256", &bytes).ok()?;
    Some(Uint8Array::new(&JsFuture::from(made).await.ok()?).to_vec())
}
