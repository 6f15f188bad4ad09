//! The program of the second thread: it reads files and propagates distributions, so that the page stays
//! quick meanwhile and need not carry what does it.
//!
//! It says an empty text when it is ready. A text it hears is a model to be simulated ([`simulating`]); an
//! object is a lab to be opened with the files it names ([`opening`]), a file to be read ([`reading`]), the wish that
//! it be quick when a file comes ([`rehearsal`]), or the language in which it is to answer ([`language`]). It works on
//! one at a time; the page ends it when it has enough.

mod fingerprint;
mod language;
mod loading;
mod opening;
mod pace;
mod reading;
mod rehearsal;
mod simulating;

use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::spawn_local;
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent};

fn main() {
    std::panic::set_hook(Box::new(|panic| {
        // The page hears it as the thread's error. No Rust runs here any more: the page starts another thread.
        wasm_bindgen::throw_str(&panic.to_string());
    }));
    let page: DedicatedWorkerGlobalScope = js_sys::global().unchecked_into();
    let scope = page.clone();
    let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let said = event.data();
        if language::is_told(&said) {
            language::speak(&said);
            return;
        }
        if rehearsal::is_wanted(&said) {
            spawn_local(rehearsal::rehearse(page.clone()));
            return;
        }
        rehearsal::end();
        match said.as_string() {
            Some(model) => simulating::simulate(&model, &page),
            None if opening::is_wanted(&said) => opening::open(&said, &page),
            None => spawn_local(reading::read(said, page.clone())),
        }
    });
    scope.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    // It is needed as long as the thread lives.
    heard.forget();
    // Nothing can be done here about a page that is gone, here and below.
    let _ = scope.post_message(&"".into());
}
