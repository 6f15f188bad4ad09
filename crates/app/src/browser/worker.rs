//! Propagating distributions in a second thread, so that the page stays quick meanwhile.
//!
//! The thread runs the page's own program: `worker.js` loads the same two files again (from the browser's
//! store), `main` finds no window and calls [`serve`]. Messages are texts:
//!
//! | from | text |
//! | --- | --- |
//! | worker | empty: ready for a model |
//! | page | a model ([`Model::to_text`]) |
//! | worker | `TRIALS SHARE`, ten times a second |
//! | worker | an outcome ([`Outcome::to_text`]), once; or `?` when the model is none |
//!
//! Browsers that know no module workers (Firefox before 114) report an error, as do frames that forbid them.

use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent, Worker, WorkerOptions, WorkerType};
use whorl_core::monte_carlo::{Model, Outcome, SEED, Simulation};

/// Milliseconds between two words of progress.
const PAUSE: f64 = 100.0;

const NO_MODEL: &str = "?";

/// What to do when a simulation says something.
pub(crate) struct Listener {
    /// Trials so far, and about which part of the work that is, from 0 to 1.
    pub(crate) progress: Box<dyn Fn(usize, f64)>,
    /// It is done.
    pub(crate) done: Box<dyn Fn(Outcome)>,
    /// It cannot be done; a message for the user.
    pub(crate) failed: Box<dyn Fn(String)>,
}

/// A simulation at work. It ends at once when this is dropped, and nothing more is heard of it.
pub(crate) struct Running {
    worker: Worker,
    /// What the worker's events call.
    _heard: Closure<dyn FnMut(MessageEvent)>,
    _failed: Closure<dyn FnMut()>,
}

impl Drop for Running {
    fn drop(&mut self) {
        self.worker.set_onmessage(None);
        self.worker.terminate();
    }
}

/// Starts a simulation of a model in its text form; `None`, once the listener has heard why, when the
/// browser refuses.
pub(crate) fn start(model: String, listener: Listener) -> Option<Running> {
    let refused = "The browser cannot compute in a second thread here. A newer browser, or the page in a window of its own, can.";
    let Some(worker) = address().and_then(|address| {
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        Worker::new_with_options(&address, &options).ok()
    }) else {
        (listener.failed)(refused.to_owned());
        return None;
    };
    let listener = Rc::new(listener);
    let model = RefCell::new(Some(model));
    let (to, told) = (worker.clone(), Rc::clone(&listener));
    let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let Some(text) = event.data().as_string() else { return };
        if text.is_empty() {
            if let Some(model) = model.take() {
                let _ = to.post_message(&model.into());
            }
        } else if let Some((trials, share)) = progress(&text) {
            (told.progress)(trials, share);
        } else if let Some(outcome) = Outcome::from_text(&text) {
            (told.done)(outcome);
        } else {
            (told.failed)("The simulation could not read the lab.".to_owned());
        }
    });
    let failed = Closure::<dyn FnMut()>::new(move || (listener.failed)(refused.to_owned()));
    worker.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    worker.set_onerror(Some(failed.as_ref().unchecked_ref()));
    Some(Running { worker, _heard: heard, _failed: failed })
}

/// Where the worker's script is, with the names that the page's own files have.
fn address() -> Option<String> {
    let document = web_sys::window()?.document()?;
    let file = |link: &str| document.query_selector(link).ok()??.get_attribute("href");
    let (js, wasm) = (file("link[rel=modulepreload]")?, file("link[rel=preload][as=fetch]")?);
    Some(format!("worker.js?js={js}&wasm={wasm}"))
}

fn progress(text: &str) -> Option<(usize, f64)> {
    let (trials, share) = text.split_once(' ')?;
    Some((trials.parse().ok()?, share.parse().ok()?))
}

/// The other side: waits for a model and simulates it.
pub(crate) fn serve() {
    let scope: DedicatedWorkerGlobalScope = js_sys::global().unchecked_into();
    let to = scope.clone();
    let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let text = event.data().as_string().unwrap_or_default();
        let say = |text: &str| {
            let _ = to.post_message(&text.into());
        };
        match Model::from_text(&text) {
            Some(model) => simulate(&model, &say),
            None => say(NO_MODEL),
        }
    });
    scope.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    // It is needed as long as the thread lives.
    heard.forget();
    let _ = scope.post_message(&"".into());
}

fn simulate(model: &Model, say: &dyn Fn(&str)) {
    let mut simulation = Simulation::new(model, SEED);
    let mut said = js_sys::Date::now();
    loop {
        let progress = simulation.block();
        if progress.done {
            break;
        }
        let now = js_sys::Date::now();
        if now - said >= PAUSE {
            said = now;
            say(&format!("{} {}", progress.trials, progress.share));
        }
    }
    say(&simulation.outcome().to_text());
}
