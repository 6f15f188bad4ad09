//! Opening a lab that names files of readings, in the second thread, which knows how to read them.
//!
//! | from | message |
//! | --- | --- |
//! | worker | empty text: ready |
//! | page | `{name, text, files}`: the lab file and `[name, file]` pairs |
//! | worker | `{lab}`: its text with all readings in it; or `{problem}`: a message for the user |

use super::worker::{greet, open};
use js_sys::{Array, Object, Promise, Reflect};
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{File, MessageEvent};
use whorl_words as words;

/// The lab's text with all readings in it; the error is a message for the user.
pub(crate) async fn with_readings(name: &str, text: &str, files: &[File]) -> Result<String, String> {
    let message = Object::new();
    let put = |to: &Object, field: &str, value: &JsValue| {
        let _ = Reflect::set(to, &field.into(), value);
    };
    let pairs: Array = files.iter().map(|file| Array::of2(&file.name().into(), file)).collect();
    put(&message, "name", &name.into());
    put(&message, "text", &text.into());
    put(&message, "files", &pairs);
    let worker = open().ok_or_else(words::page::no_second_thread)?;
    let to = worker.clone();
    let mut begin = move |done: js_sys::Function, failed: js_sys::Function| {
        let (thread, message) = (to.clone(), message.clone());
        let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            if event.data().is_string() {
                greet(&thread);
                let _ = thread.post_message(&message);
            } else {
                let _ = done.call1(&JsValue::NULL, &event.data());
            }
        });
        to.set_onmessage(Some(heard.as_ref().unchecked_ref()));
        to.set_onerror(Some(&failed));
        // It goes with the thread, whose only work this is.
        heard.forget();
    };
    let answer = JsFuture::from(Promise::new(&mut begin)).await;
    worker.terminate();
    let answer = answer.map_err(|_| words::page::no_second_thread())?;
    let field = |name: &str| Reflect::get(&answer, &name.into()).ok().and_then(|value| value.as_string());
    field("lab").ok_or_else(|| field("problem").unwrap_or_default())
}
