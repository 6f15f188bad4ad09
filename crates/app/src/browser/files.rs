//! Reading files that were picked or dropped.

use wasm_bindgen_futures::JsFuture;
use web_sys::{File, FileList};

/// A file's name and bytes, or why it could not be read.
pub(crate) struct PickedFile {
    pub(crate) name: String,
    pub(crate) bytes: Result<Vec<u8>, String>,
}

/// The files in a list, in its order.
pub(crate) fn listed(list: Option<FileList>) -> Vec<File> {
    let Some(list) = list else { return Vec::new() };
    (0..list.length()).filter_map(|index| list.get(index)).collect()
}

/// Reads every file whole; one that cannot be read does not stop the others. A file above `limit`
/// bytes is not loaded at all.
pub(crate) async fn read_all(files: Vec<File>, limit: usize) -> Vec<PickedFile> {
    let mut picked = Vec::with_capacity(files.len());
    for file in files {
        let name = file.name();
        let bytes = if file.size() > limit as f64 {
            Err(format!(
                "the file is too large ({:.1} MB; the limit is {:.1} MB). Cut it to the run itself, or log more slowly",
                file.size() / 1e6,
                limit as f64 / 1e6
            ))
        } else {
            match JsFuture::from(file.array_buffer()).await {
                Ok(buffer) => Ok(js_sys::Uint8Array::new(&buffer).to_vec()),
                Err(_) => {
                    Err("the browser could not read this file; is it still there? Pick it again".to_owned())
                }
            }
        };
        picked.push(PickedFile { name, bytes });
    }
    picked
}
