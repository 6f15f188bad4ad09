//! Reading files in a second thread, one after another.
//!
//! | from | message |
//! | --- | --- |
//! | worker | empty text: ready |
//! | page | `{id, file, name, choices, lab}`: a Blob, texts ([`Choices::to_text`], a lab file without runs) |
//! | worker | `{id, progress}`, at most ten times a second |
//! | worker | `{id, intake, columns}`: JSON, and for each of its runs `[times, values]` |
//! | worker | `{id, sha256}`: behind an intake without its fingerprint; empty when the file is gone |
//! | page | `{rehearse}`: a file may come soon |
//!
//! A worker that falls over one file, for want of memory, is replaced, and the next file goes on.

use super::worker::{greet, open};
use js_sys::{Array, Float64Array, Object, Reflect};
use std::cell::{Cell, RefCell};
use std::collections::VecDeque;
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use web_sys::{Blob, ErrorEvent, MessageEvent, Worker};
use whorl_core::intake::{Intake, from_json};
use whorl_core::lab::Lab;
use whorl_core::lab_file;
use whorl_core::readings::Choices;
use whorl_words as words;

/// A file to be read.
pub(crate) struct Job {
    /// By what the listener will know it.
    pub(crate) id: u32,
    /// The file's name.
    pub(crate) name: String,
    /// A picked file, or [`pasted`] text. It is not loaded before its turn comes.
    pub(crate) file: Blob,
    /// What the user says of it.
    pub(crate) choices: Choices,
}

/// What to do when the reading says something.
pub(crate) struct Listener {
    /// A file's id, and which part of it is read, from 0 to 1.
    pub(crate) progress: Box<dyn Fn(u32, f64)>,
    /// A file's id, and what came of it. A file that cannot be read has a layout that says why.
    pub(crate) done: Box<dyn Fn(u32, Intake)>,
    /// A file's id, and the fingerprint that its intake did not have yet.
    pub(crate) fingerprint: Box<dyn Fn(u32, String)>,
    /// Nothing can be read here; a message for the user. Files without an answer will get none.
    pub(crate) failed: Box<dyn Fn(String)>,
}

/// A reading at work, or waiting for more. It ends at once when this is dropped, and nothing more is
/// heard of it.
pub(crate) struct Reading(Rc<Desk>);

/// A job on its way.
struct Waiting {
    job: Job,
    lab: Rc<str>,
}

/// What the worker's events work with.
struct Desk {
    listener: Listener,
    waiting: RefCell<VecDeque<Waiting>>,
    /// Sent to the worker and not answered yet.
    at_work: RefCell<Option<Job>>,
    worker: RefCell<Option<Worker>>,
    ready: Cell<bool>,
    /// Said by the worker itself, once.
    events: RefCell<Option<Events>>,
}

struct Events {
    heard: Closure<dyn FnMut(MessageEvent)>,
    failed: Closure<dyn FnMut(ErrorEvent)>,
}

/// Begins to read files, which are looked at with a lab's apparatus and objects as they are now; `None`,
/// once the listener has heard why, when the browser refuses.
pub(crate) fn start(lab: &Lab, jobs: Vec<Job>, listener: Listener) -> Option<Reading> {
    let desk = Rc::new(Desk {
        listener,
        waiting: RefCell::default(),
        at_work: RefCell::default(),
        worker: RefCell::default(),
        ready: Cell::new(false),
        events: RefCell::default(),
    });
    let (hears, fails) = (Rc::downgrade(&desk), Rc::downgrade(&desk));
    desk.events.replace(Some(Events {
        heard: Closure::new(move |event: MessageEvent| {
            if let Some(desk) = hears.upgrade() {
                desk.hear(&event.data());
            }
        }),
        failed: Closure::new(move |event: ErrorEvent| {
            if let Some(desk) = fails.upgrade() {
                desk.fall(&event.message());
            }
        }),
    }));
    let reading = Reading(desk);
    reading.add(lab, jobs);
    let has_one = reading.0.worker.borrow().is_some();
    has_one.then_some(reading)
}

/// Text as if it were a file.
pub(crate) fn pasted(text: &str) -> Option<Blob> {
    Blob::new_with_str_sequence(&Array::of1(&text.into())).ok()
}

impl Reading {
    /// More files, to be read after those that wait.
    pub(crate) fn add(&self, lab: &Lab, jobs: Vec<Job>) {
        let lab: Rc<str> = lab_file::save_without_runs(lab).into();
        let mut waiting = self.0.waiting.borrow_mut();
        waiting.extend(jobs.into_iter().map(|job| Waiting { job, lab: Rc::clone(&lab) }));
        drop(waiting);
        if self.0.worker.borrow().is_none() {
            self.0.hire();
        }
        self.0.send();
    }

    /// Tells a worker that is there already in which language to answer from now on.
    pub(crate) fn speak_anew(&self) {
        if let Some(worker) = self.0.worker.borrow().as_ref().filter(|_| self.0.ready.get()) {
            greet(worker);
        }
    }
}

impl Drop for Reading {
    fn drop(&mut self) {
        self.0.dismiss();
    }
}

impl Desk {
    /// Has a new worker come.
    fn hire(&self) {
        let Some(worker) = open() else {
            self.give_up();
            return;
        };
        if let Some(events) = &*self.events.borrow() {
            worker.set_onmessage(Some(events.heard.as_ref().unchecked_ref()));
            worker.set_onerror(Some(events.failed.as_ref().unchecked_ref()));
        }
        self.worker.replace(Some(worker));
    }

    /// Ends the worker; nothing more is heard of it.
    fn dismiss(&self) {
        self.ready.set(false);
        if let Some(worker) = self.worker.take() {
            worker.set_onmessage(None);
            worker.set_onerror(None);
            worker.terminate();
        }
    }

    fn give_up(&self) {
        self.waiting.borrow_mut().clear();
        (self.listener.failed)(words::page::no_second_thread().to_owned());
    }

    /// Sends the next job to a worker that has none.
    fn send(&self) {
        if !self.ready.get() || self.at_work.borrow().is_some() {
            return;
        }
        let next = self.waiting.borrow_mut().pop_front();
        if let (Some(next), Some(worker)) = (next, &*self.worker.borrow()) {
            let message = Object::new();
            let put = |name: &str, value: &JsValue| {
                let _ = Reflect::set(&message, &name.into(), value);
            };
            put("id", &next.job.id.into());
            put("file", &next.job.file);
            put("name", &next.job.name.as_str().into());
            put("choices", &next.job.choices.to_text().into());
            put("lab", &(&*next.lab).into());
            let _ = worker.post_message(&message);
            self.at_work.replace(Some(next.job));
        }
    }

    /// Has a worker with nothing to do make itself ready for a file.
    fn rehearse(&self) {
        if let (None, Some(worker)) = (&*self.at_work.borrow(), &*self.worker.borrow()) {
            let message = Object::new();
            let _ = Reflect::set(&message, &"rehearse".into(), &true.into());
            let _ = worker.post_message(&message);
        }
    }

    fn hear(&self, said: &JsValue) {
        if said.is_string() {
            self.ready.set(true);
            if let Some(worker) = &*self.worker.borrow() {
                greet(worker);
            }
            self.send();
            self.rehearse();
            return;
        }
        let field = |name: &str| Reflect::get(said, &name.into()).unwrap_or_default();
        let Some(id) = self.at_work.borrow().as_ref().map(|job| job.id) else { return };
        if let Some(share) = field("progress").as_f64() {
            (self.listener.progress)(id, share);
            return;
        }
        let Some(job) = self.at_work.take() else { return };
        if let Some(sha256) = field("sha256").as_string() {
            self.send();
            match sha256.as_str() {
                "" => (self.listener.done)(id, unread(&job, words::tray::gone())),
                _ => (self.listener.fingerprint)(id, sha256),
            }
            return;
        }
        let columns: Vec<[Vec<f64>; 2]> =
            Array::from(&field("columns")).iter().map(|pair| two(&pair)).collect();
        let intake = from_json(&field("intake").as_string().unwrap_or_default(), &columns);
        let intake = intake.unwrap_or_else(|_| unread(&job, words::tray::other_version()));
        if intake.awaits_fingerprint() {
            self.at_work.replace(Some(job));
        } else {
            // The worker is busy again before the page begins to draw.
            self.send();
        }
        (self.listener.done)(id, intake);
    }

    /// The worker is broken.
    fn fall(&self, message: &str) {
        let was_ready = self.ready.get();
        self.dismiss();
        if !was_ready {
            self.give_up();
            return;
        }
        let job = self.at_work.take();
        if !self.waiting.borrow().is_empty() {
            self.hire();
        }
        if let Some(job) = job {
            let why =
                if message.contains(MISTAKE) { words::tray::our_mistake() } else { words::tray::no_memory() };
            (self.listener.done)(job.id, unread(&job, why));
        }
    }
}

const MISTAKE: &str = "panicked at";

fn two(pair: &JsValue) -> [Vec<f64>; 2] {
    let pair = Array::from(pair);
    [0, 1].map(|index| Float64Array::new(&pair.get(index)).to_vec())
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a size is not negative, and of one beyond all memory the greatest number is near enough"
)]
fn unread(job: &Job, why: &str) -> Intake {
    Intake::unread(job.name.clone(), job.file.size() as usize, why.to_owned())
}
