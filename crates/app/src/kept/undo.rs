//! Taking changes back and doing them again: keys and buttons.

use super::Keeper;
use crate::dom::{El, el};
use leptos::prelude::*;
use whorl_core::history::{Changed, History};
use whorl_core::lab::Lab;
use whorl_words as words;

impl Keeper {
    pub(super) fn key(&'static self, event: &web_sys::KeyboardEvent) {
        if !(event.ctrl_key() || event.meta_key()) || event.alt_key() || event.default_prevented() {
            return;
        }
        let key = event.key().to_ascii_lowercase();
        let redo = match (key.as_str(), event.shift_key()) {
            ("z", false) => false,
            ("z", true) | ("y", false) => true,
            _ => return,
        };
        event.prevent_default();
        self.step(redo);
    }

    /// Takes the last change back, or does it again.
    fn step(&'static self, redo: bool) {
        let crossing =
            self.history.with_untracked(|history| if redo { history.to_redo() } else { history.to_undo() });
        let another = crossing == Some(Changed::OtherLab);
        if another {
            self.write_now();
            self.begin_slot();
        }
        let mut taken = None;
        self.history.update(|history| {
            let before = history.present().clone();
            let step = if redo { history.redo() } else { history.undo() };
            taken = step.map(|(state, change)| (before, state.clone(), change));
        });
        let Some((before, state, change)) = taken else { return };
        self.lab.restore(state, another || must_be_built_anew(&before, &self.history));
        self.opened.set_value(self.lab.opened_once());
        self.falls_behind();
        self.write_soon();
        let what = change.words();
        self.done.set(if redo { words::kept::redone(&what) } else { words::kept::undone(&what) });
    }

    pub(super) fn buttons(&'static self) -> El {
        let button = |redo: bool| {
            let to =
                move || self.history.with(|history| if redo { history.to_redo() } else { history.to_undo() });
            let (short, named): (_, fn(&dyn std::fmt::Display) -> String) = if redo {
                (words::kept::redo(), |what| words::kept::redo_named(what))
            } else {
                (words::kept::undo(), |what| words::kept::undo_named(what))
            };
            el("button.quiet")
                .attr("type", "button")
                .attr("title", words::kept::keys())
                .live_text(move || to().map_or_else(|| short.to_owned(), |change| named(&change.words())))
                .live_unavailable(move || to().is_none())
                .on_click(move || self.step(redo))
        };
        el("div.lab-actions")
            .attr("role", "group")
            .attr("aria-label", words::kept::group())
            .with(button(false))
            .with(button(true))
            .with(el("span.hint").live_status(move || self.done.get()))
    }
}

/// Whether the stations must be built anew for what was taken back: these keep a session of their own.
fn must_be_built_anew(before: &Lab, history: &RwSignal<History<Lab, Changed>, LocalStorage>) -> bool {
    history.with_untracked(|history| {
        let after = history.present();
        before.bench != after.bench
            || before.forecasts != after.forecasts
            || before.prelab.derivation != after.prelab.derivation
            || before.is_recorded() != after.is_recorded()
            || before.assignment() != after.assignment()
    })
}
