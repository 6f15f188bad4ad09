//! When and what is written: soon after a change, and of the readings only what is new.

use super::Keeper;
use super::database::{About, New, NotKept, Piece, Slot};
use crate::browser::{later, stopped};
use crate::keep::ANY;
use crate::state::{Keeping, keeping, set_keeping};
use leptos::prelude::*;
use std::collections::VecDeque;
use std::sync::Arc;
use std::time::Duration;
use whorl_core::lab::Lab;
use whorl_core::lab_file::{self, readings_text, save_in_pieces};
use whorl_core::readings::Readings;

/// A change is written once typing has rested so long…
const REST: Duration = Duration::from_millis(150);
/// … or at the latest after this, in milliseconds.
const LONGEST_MS: f64 = 400.0;

/// A lab as it is to be written.
struct Wish {
    slot: Slot,
    state: Lab,
    unsaved: bool,
    address: String,
}

/// What is to be written, and what has been written of the lab that was written last.
#[derive(Default)]
pub(super) struct Writer {
    pending: Option<TimeoutHandle>,
    /// When the first change was made that is not written.
    since_ms: Option<f64>,
    /// Whether something is being written now.
    busy: bool,
    /// What comes next, each lab once, as it stood last.
    wishes: VecDeque<Wish>,
    /// Which lab was written last.
    slot: Option<Slot>,
    /// Its readings that stand in the database, with their keys.
    readings: Vec<(Readings, String)>,
    record: Option<(Arc<str>, String)>,
    /// How many keys have been given.
    keys: u32,
}

impl Writer {
    fn wish(&mut self, wish: Wish) {
        self.wishes.retain(|earlier| earlier.slot != wish.slot);
        self.wishes.push_back(wish);
    }

    /// Nothing is known to stand in the database.
    fn forget(&mut self) {
        self.readings.clear();
        self.record = None;
        self.slot = None;
    }

    fn next_key(&mut self, slot: &str) -> String {
        self.keys += 1;
        format!("{slot}/{}", self.keys)
    }

    /// A lab in pieces, and those of them that are to be written for the first time.
    fn pieces(&mut self, lab: &Lab, slot: &Slot) -> (Vec<Piece>, Vec<New>) {
        if self.slot.as_ref() != Some(slot) {
            self.forget();
            self.keys = 0;
            self.slot = Some(slot.clone());
        }
        let slot = slot.0.as_str();
        let mut new = Vec::new();
        let pieces = save_in_pieces(lab).into_iter().map(|piece| match piece {
            lab_file::Piece::Text(text) => Piece::Text(text),
            lab_file::Piece::Readings(readings) => {
                let known = self.readings.iter().find(|(known, _)| known.is_same(readings));
                if let Some((_, key)) = known {
                    return Piece::Readings(key.clone());
                }
                let key = self.next_key(slot);
                new.push((key.clone(), readings_text(readings)));
                self.readings.push((readings.clone(), key.clone()));
                Piece::Readings(key)
            }
            lab_file::Piece::Record(text) => {
                let known = self.record.as_ref().filter(|(known, _)| Arc::ptr_eq(known, text));
                if let Some((_, key)) = known {
                    return Piece::Readings(key.clone());
                }
                let key = self.next_key(slot);
                new.push((key.clone(), text.to_string()));
                self.record = Some((Arc::clone(text), key.clone()));
                Piece::Readings(key)
            }
        });
        let pieces = pieces.collect();
        (pieces, new)
    }
}

impl Keeper {
    /// Writes the lab once typing rests.
    pub(super) fn write_soon(&'static self) {
        let now = js_sys::Date::now();
        let late = self.writer.try_update_value(|writer| {
            if let Some(pending) = writer.pending.take() {
                pending.clear();
            }
            now - *writer.since_ms.get_or_insert(now) >= LONGEST_MS
        });
        if late == Some(true) {
            self.write_now();
            return;
        }
        let pending = set_timeout_with_handle(move || self.write_now(), REST).ok();
        self.writer.update_value(|writer| writer.pending = pending);
    }

    /// Writes the lab as it stands.
    pub(super) fn write_now(&'static self) {
        self.write_present(self.lab.unsaved_once());
    }

    /// Writes the last state that was seen; `unsaved` says whether it holds changes that are in no file.
    pub(super) fn write_present(&'static self, unsaved: bool) {
        self.make_copy();
        // A lab that another tab has is its own to write.
        let elsewhere = self.trouble.get_untracked() == Some(NotKept::Elsewhere);
        if elsewhere || untrack(keeping) == Keeping::Kept {
            return;
        }
        let state = self.history.with_untracked(|history| history.present().clone());
        self.write_state(state, unsaved);
    }

    /// Renews the copy that the panel offers should the program stop.
    fn make_copy(&'static self) {
        let text = self.history.with_untracked(|history| {
            let state = history.present();
            if state.is_blank() { String::new() } else { lab_file::save(state) }
        });
        stopped::keep_ready(text);
    }

    /// Writes this lab in the given state, behind what is being written.
    fn write_state(&'static self, state: Lab, unsaved: bool) {
        if state.is_blank() {
            return;
        }
        let wish =
            Wish { slot: self.slot.get_untracked(), state, unsaved, address: self.begun_by.get_untracked() };
        let idle = self.writer.try_update_value(|writer| {
            writer.since_ms = None;
            writer.wish(wish);
            !writer.busy
        });
        if idle == Some(true) {
            later(self.work());
        }
    }

    /// Writes, and comes back when nothing is left that can be written.
    pub(super) async fn settle(&'static self) {
        self.write_now();
        if self.labs.with_untracked(Option::is_none) {
            return;
        }
        self.work().await;
        while self.writer.with_value(|writer| writer.busy || !writer.wishes.is_empty()) {
            pause(Duration::from_millis(10)).await;
        }
    }

    /// Writes one wish after another. Never two at once: what the second leaves out must stand there.
    async fn work(&'static self) {
        let Some(labs) = self.labs.get_untracked() else { return };
        loop {
            let next = self.writer.try_update_value(|writer| {
                let wish = if writer.busy { None } else { writer.wishes.pop_front() }?;
                writer.busy = true;
                let (pieces, new) = writer.pieces(&wish.state, &wish.slot);
                Some((wish, pieces, new))
            });
            let Some(Some((wish, pieces, new))) = next else { return };
            let about = About {
                address: wish.address.clone(),
                slot: wish.slot.clone(),
                owner: self.owner.get_value(),
                changed_ms: js_sys::Date::now(),
                title: wish.state.title.clone(),
                runs: wish.state.runs().len(),
                unsaved: wish.unsaved,
            };
            let written = labs.write(&about, &pieces, &new).await;
            self.writer.update_value(|writer| {
                writer.busy = false;
                if written.is_err() {
                    writer.forget();
                }
            });
            self.written(&wish, written);
        }
    }

    /// What came of writing.
    fn written(&'static self, wish: &Wish, outcome: Result<(), NotKept>) {
        if self.slot.get_untracked() != wish.slot {
            return;
        }
        match outcome {
            Ok(()) => {
                self.trouble.set(None);
                stopped::keep(ANY, "1");
                let newest = self.history.with_untracked(|history| *history.present() == wish.state);
                set_keeping(if newest { Keeping::Kept } else { Keeping::Behind });
                self.listed.update(|count| *count += 1);
            }
            Err(NotKept::Elsewhere) => self.lost(),
            Err(problem) => self.fails(problem),
        }
    }
}

/// Some time.
async fn pause(time: Duration) {
    let waited = js_sys::Promise::new(&mut |resolve, _| {
        set_timeout(move || drop(resolve.call0(&wasm_bindgen::JsValue::UNDEFINED)), time);
    });
    let _ = wasm_bindgen_futures::JsFuture::from(waited).await;
}
