//! Propagating distributions in a second thread.
//!
//! Messages are texts:
//!
//! | from | text |
//! | --- | --- |
//! | worker | empty: ready |
//! | page | a model ([`whorl_core::monte_carlo::Model::to_text`]) |
//! | worker | `TRIALS SHARE`, ten times a second |
//! | worker | an outcome ([`Outcome::to_text`]), once; or `?` when the model is none |

use super::worker::{greet, open};
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use web_sys::{MessageEvent, Worker};
use whorl_core::monte_carlo::Outcome;
use whorl_words as words;

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
    let Some(worker) = open() else {
        (listener.failed)(words::page::no_second_thread().to_owned());
        return None;
    };
    let listener = Rc::new(listener);
    let model = RefCell::new(Some(model));
    let (to, told) = (worker.clone(), Rc::clone(&listener));
    let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let Some(text) = event.data().as_string() else { return };
        if text.is_empty() {
            greet(&to);
            if let Some(model) = model.take() {
                let _ = to.post_message(&model.into());
            }
        } else if let Some((trials, share)) = progress(&text) {
            (told.progress)(trials, share);
        } else if let Some(outcome) = Outcome::from_text(&text) {
            (told.done)(outcome);
        } else {
            (told.failed)(words::simulation::unreadable().to_owned());
        }
    });
    let failed =
        Closure::<dyn FnMut()>::new(move || (listener.failed)(words::page::no_second_thread().to_owned()));
    worker.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    worker.set_onerror(Some(failed.as_ref().unchecked_ref()));
    Some(Running { worker, _heard: heard, _failed: failed })
}

fn progress(text: &str) -> Option<(usize, f64)> {
    let (trials, share) = text.split_once(' ')?;
    Some((trials.parse().ok()?, share.parse().ok()?))
}
