//! Fetching what the user named, from this page's server or any other that allows it.
//!
//! Nothing is sent along: no cookies, no word of where the page is. What comes is text, and is kept only up to a limit.

use js_sys::{Reflect, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    AbortController, AbortSignal, ReadableStreamDefaultReader, ReferrerPolicy, Request, RequestCredentials,
    RequestInit, Response, Url,
};
use whorl_core::library::may_be_fetched;
use whorl_words as words;

/// By which a host allows other pages to read what it sends (Fetch Standard, 3.3.4).
const ALLOWS: &str = "Access-Control-Allow-Origin";

/// An address that can be fetched.
#[derive(Clone)]
pub(crate) struct Address {
    /// The whole of it.
    pub(crate) whole: String,
    /// The file's name, as messages call it.
    pub(crate) file: String,
    /// The host, where it is not this page's own.
    pub(crate) host: Option<String>,
}

impl Address {
    /// An address as it was typed or stands in a list; a relative one leads on from `base`. The error is a message for
    /// the user.
    pub(crate) fn read(typed: &str, base: &str) -> Result<Self, String> {
        let wrong = || words::datasets::no_address().to_owned();
        let url = Some(typed).filter(|typed| may_be_fetched(typed));
        let url = url.and_then(|typed| Url::new_with_base(typed, base).ok()).ok_or_else(wrong)?;
        if !["http:", "https:"].contains(&&*url.protocol()) || !url.username().is_empty() {
            return Err(wrong());
        }
        let path = url.pathname();
        let file = path.rsplit('/').next().filter(|name| !name.is_empty()).unwrap_or(&path);
        let own = page().is_some_and(|page| page.origin() == url.origin());
        Ok(Self { whole: url.href(), file: file.to_owned(), host: (!own).then(|| url.host()) })
    }
}

/// This page's own address.
fn page() -> Option<Url> {
    Url::new(&here()).ok()
}

/// The same as text.
pub(crate) fn here() -> String {
    web_sys::window().and_then(|window| window.location().href().ok()).unwrap_or_default()
}

/// The address behind `#lab=` or `#library=`: as it is, or with its slashes and colons encoded.
pub(crate) fn named() -> Option<String> {
    let hash = web_sys::window()?.location().hash().ok()?;
    let named = hash.strip_prefix("#lab=").or_else(|| hash.strip_prefix("#library="))?;
    if named.contains('/') {
        return Some(named.to_owned());
    }
    js_sys::decode_uri_component(named).ok()?.as_string()
}

/// What can end a fetch early.
pub(crate) fn controller() -> Option<AbortController> {
    AbortController::new().ok()
}

/// What is at an address, and where it came from in the end. `progress` hears how many bytes have come, and of how
/// many where the host says so. The error is a message for the user.
pub(crate) async fn fetch(
    address: &Address,
    limit: usize,
    signal: Option<&AbortSignal>,
    progress: &dyn Fn(usize, Option<usize>),
) -> Result<(Vec<u8>, String), String> {
    let failed = || unreachable(address, signal);
    let settings = RequestInit::new();
    settings.set_credentials(RequestCredentials::Omit);
    settings.set_referrer_policy(ReferrerPolicy::NoReferrer);
    settings.set_signal(signal);
    let request = Request::new_with_str_and_init(&address.whole, &settings).map_err(|_| failed())?;
    let window = web_sys::window().ok_or_else(failed)?;
    let response: Response =
        JsFuture::from(window.fetch_with_request(&request)).await.map_err(|_| failed())?.unchecked_into();
    if !response.ok() {
        return Err(match &address.host {
            Some(host) => words::datasets::host_says(&address.file, host, &response.status()),
            None => words::datasets::server_says(&address.file, &response.status()),
        });
    }
    let announced = response.headers().get("content-length").ok().flatten();
    let announced = announced.and_then(|length| length.parse::<usize>().ok());
    let too_large = || {
        let megabytes = words::number(limit as f64 / 1e6, 1);
        words::datasets::too_large(&address.file, &megabytes)
    };
    let mut bytes = Vec::new();
    let Some(body) = response.body() else { return Ok((bytes, response.url())) };
    let reader: ReadableStreamDefaultReader = body.get_reader().unchecked_into();
    loop {
        let broken_off = || {
            if stopped(signal) {
                words::datasets::stopped().to_owned()
            } else {
                words::datasets::broken_off(&address.file)
            }
        };
        let piece = JsFuture::from(reader.read()).await.map_err(|_| broken_off())?;
        let Some(piece) = field(&piece, "value").filter(JsValue::is_object) else { break };
        let piece: Uint8Array = piece.unchecked_into();
        let came = bytes.len() + piece.length() as usize;
        if came > limit {
            // Whether the host hears of it does not matter.
            drop(reader.cancel());
            return Err(too_large());
        }
        bytes.extend(piece.to_vec());
        // What comes compressed is longer than announced.
        progress(came, announced.filter(|announced| came <= *announced));
    }
    Ok((bytes, response.url()))
}

fn field(of: &JsValue, name: &str) -> Option<JsValue> {
    Reflect::get(of, &name.into()).ok()
}

fn stopped(signal: Option<&AbortSignal>) -> bool {
    signal.is_some_and(AbortSignal::aborted)
}

/// The browser tells a page only that a fetch failed, not why.
fn unreachable(address: &Address, signal: Option<&AbortSignal>) -> String {
    let online = web_sys::window().is_some_and(|window| window.navigator().on_line());
    match &address.host {
        _ if stopped(signal) => words::datasets::stopped().to_owned(),
        _ if !online => words::datasets::offline().to_owned(),
        Some(host) => words::datasets::host_refuses(&address.file, host, &ALLOWS),
        None => words::datasets::server_silent(&address.file),
    }
}
