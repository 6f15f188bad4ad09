//! Opening a lab that names files of readings: `{name, text, files}` comes in, the files as `[name, file]`
//! pairs; `{lab}` goes out, the lab's text with all readings in it, or `{problem}`.

use crate::loading::bytes;
use crate::reading::object;
use js_sys::{Array, Reflect};
use wasm_bindgen::prelude::*;
use web_sys::{Blob, DedicatedWorkerGlobalScope};
use whorl_core::lab_file;
use whorl_words as said;

/// Whether a message asks for this.
pub(crate) fn is_wanted(message: &JsValue) -> bool {
    Reflect::has(message, &"files".into()).unwrap_or(false)
}

/// Opens the lab of a message and gives it back whole.
#[inline(never)]
pub(crate) fn open(message: &JsValue, page: &DedicatedWorkerGlobalScope) {
    let field = |name: &str| Reflect::get(message, &name.into()).unwrap_or_default();
    let words = |name: &str| field(name).as_string().unwrap_or_default();
    let files = Array::from(&field("files"));
    // The page knows files by their names alone, without folders.
    let mut read_file = |path: &lab_file::OpenedPath<'_>| {
        let wanted = path.as_str().rsplit('/').next().unwrap_or_default();
        let pairs = files.iter().map(|pair| Array::from(&pair));
        let found = pairs.into_iter().find(|pair| pair.get(0).as_string().as_deref() == Some(wanted));
        let found = found.ok_or_else(said::lab_file::not_picked)?;
        bytes(&found.get(1).unchecked_into::<Blob>())
    };
    let opened = lab_file::open(&words("text"), &mut read_file);
    let answer = match opened {
        Ok(lab) => object(&[("lab", &lab_file::save(&lab).into())]),
        Err(problem) => object(&[("problem", &problem.in_file(&words("name")).into())]),
    };
    let _ = page.post_message(&answer);
}
