//! Which databases the browser holds for this page's origin.

use js_sys::{Array, Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// Whether there is one whose name begins so (Indexed Database API 3.0, W3C, `databases()`); `false` where the browser
/// does not say.
pub(crate) async fn one_is_named(beginning: &str) -> bool {
    let Some(list) = asked() else { return false };
    let Ok(list) = JsFuture::from(list).await else { return false };
    let name = |one: JsValue| Reflect::get(&one, &"name".into()).ok()?.as_string();
    Array::from(&list).iter().filter_map(name).any(|name| name.starts_with(beginning))
}

fn asked() -> Option<Promise> {
    // A document without an origin, as in a sandbox, has none. Asked there, Chromium rejects a promise that nobody
    // has, and the page's own errors could not be told from that.
    if Reflect::get(&js_sys::global(), &"origin".into()).ok()?.as_string()? == "null" {
        return None;
    }
    // It throws where storage is refused.
    let factory = Reflect::get(&js_sys::global(), &"indexedDB".into()).ok()?;
    let databases: Function = Reflect::get(&factory, &"databases".into()).ok()?.dyn_into().ok()?;
    databases.call0(&factory).ok()?.dyn_into().ok()
}
