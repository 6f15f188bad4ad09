//! Reading files that were picked or dropped.

use wasm_bindgen_futures::JsFuture;
use web_sys::{File, FileList};
use whorl_words as words;

/// The files in a list, in its order.
pub(crate) fn listed(list: Option<FileList>) -> Vec<File> {
    let Some(list) = list else { return Vec::new() };
    (0..list.length()).filter_map(|index| list.get(index)).collect()
}

/// A whole file; one above `limit` bytes is not loaded at all. The error is a message for the user.
pub(crate) async fn read(file: &File, limit: usize) -> Result<Vec<u8>, String> {
    if file.size() > limit as f64 {
        let megabytes = |bytes: f64| words::number(bytes / 1e6, 1);
        return Err(words::page::file_too_large(&megabytes(file.size()), &megabytes(limit as f64)));
    }
    match JsFuture::from(file.array_buffer()).await {
        Ok(buffer) => Ok(js_sys::Uint8Array::new(&buffer).to_vec()),
        Err(_) => Err(words::page::file_unreadable().to_owned()),
    }
}
