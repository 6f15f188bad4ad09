//! Whether the lab is kept in the browser, and going back to an earlier state of it.

use super::LabState;
use leptos::prelude::*;
use std::cell::Cell;
use whorl_core::lab::Lab;

/// Whether the browser keeps the lab.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Keeping {
    /// The part that does so is not at work yet.
    NotBegun,
    /// It does not, or not any more.
    Fails,
    /// It is about to write the last changes.
    Behind,
    /// As it stands.
    Kept,
}

/// What the page remembers of its one lab beside the lab itself.
#[derive(Clone, Copy)]
struct Beside {
    /// Whether the part that keeps the lab is at work, whether it can, and whether it has kept the last change.
    keeping: RwSignal<bool>,
    able: RwSignal<bool>,
    kept: RwSignal<bool>,
    /// How often an earlier state was put back.
    restored: RwSignal<u32>,
}

thread_local! {
    static BESIDE: Cell<Option<Beside>> = const { Cell::new(None) };
}

/// Makes the signals, under the page's owner.
pub(super) fn begin() {
    let [keeping, able, kept] = [(); 3].map(|()| RwSignal::new(false));
    BESIDE.set(Some(Beside { keeping, able, kept, restored: RwSignal::new(0) }));
}

/// Whether the browser keeps the lab, followed.
pub(crate) fn keeping() -> Keeping {
    let Some(beside) = BESIDE.get().filter(|beside| beside.keeping.get()) else { return Keeping::NotBegun };
    match (beside.able.get(), beside.kept.get()) {
        (false, _) => Keeping::Fails,
        (true, false) => Keeping::Behind,
        (true, true) => Keeping::Kept,
    }
}

pub(crate) fn set_keeping(now: Keeping) {
    if let Some(beside) = BESIDE.get()
        && untrack(keeping) != now
    {
        beside.kept.set(now == Keeping::Kept);
        beside.able.set(now != Keeping::Fails);
        beside.keeping.set(now != Keeping::NotBegun);
    }
}

/// Counts how often an earlier state was put back: a field then shows what it held, whatever was typed since.
pub(crate) fn restored() -> u32 {
    BESIDE.get().map_or(0, |beside| beside.restored.get())
}

impl LabState {
    /// Follows every change.
    pub(crate) fn track(self) {
        self.lab.track();
        self.prelab.read(|_| ());
    }

    /// All that was entered, the pre-lab too; follows every change.
    pub(crate) fn snapshot(self) -> Lab {
        self.track();
        self.snapshot_once()
    }

    /// The same, once.
    pub(crate) fn snapshot_once(self) -> Lab {
        let mut lab = self.read_once(Clone::clone);
        lab.prelab = self.prelab.read_once(Clone::clone);
        lab
    }

    /// Puts an earlier state of this lab back, or of another one, for which the stations are built `anew`.
    pub(crate) fn restore(self, mut lab: Lab, anew: bool) {
        if anew {
            self.open(lab);
        } else {
            if let Some(beside) = BESIDE.get() {
                beside.restored.update(|count| *count += 1);
            }
            self.prelab.restore(std::mem::take(&mut lab.prelab));
            self.change_listed(|now| *now = lab);
        }
        self.unsaved.set(true);
    }

    /// Whether what was entered would be lost when another lab takes its place: what is still to be written is written
    /// then.
    pub(crate) fn would_be_replaced(self) -> bool {
        self.unsaved() && matches!(keeping(), Keeping::NotBegun | Keeping::Fails)
    }

    /// Whether what was entered would be lost with the page.
    pub(crate) fn would_be_lost(self) -> bool {
        self.unsaved() && keeping() != Keeping::Kept
    }
}
